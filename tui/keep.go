package tui

import (
	"os"
	"path/filepath"
	"slices"
	"time"

	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// keepAfter is how long after the last change unsaved work goes into a recovery file.
const keepAfter = 2 * time.Second

// filelessPath is the name that the recovery of what has no file goes by: the same from any folder.
func filelessPath(folder, name string) string {
	dir, err := store.StateDir()
	if err != nil {
		dir = os.TempDir()
	}
	return filepath.Join(dir, folder, name)
}

// demoPath is that of a copy of the demo.
func demoPath(name string) string { return filelessPath("demo", name) }

// documents returns all that lies open: the cards, then their bags.
func (m *model) documents() []document {
	var list []document
	for _, s := range m.cards {
		list = append(list, s)
	}
	for _, d := range m.bags() {
		list = append(list, d)
	}
	return list
}

// unsaved returns the documents with unsaved work.
func (m *model) unsaved() []document {
	return slices.DeleteFunc(m.documents(), func(d document) bool { return !d.isUnsaved() })
}

// save writes the card on the screen; its bag where that is what was changed.
func (m *model) save() {
	s := m.card()
	if s.bag.unsaved && (m.view == viewFilters || !s.unsaved && !s.unwritten) {
		s.bag.save(m)
		return
	}
	s.save(m)
}

// release lets other windows write what lies open here.
func (m *model) release() {
	for _, d := range m.documents() {
		d.release()
	}
}

// keepMsg asks to write the recovery file unless there were edits since.
type keepMsg struct{ edits int }

type keptMsg struct{ err error }

// laterKeep starts the wait for the recovery file after a change.
func (m *model) laterKeep() tea.Cmd {
	if m.edits == m.keptFor || m.keepAfter == 0 {
		return nil
	}
	m.keptFor = m.edits
	n := m.edits
	return tea.Tick(m.keepAfter, func(time.Time) tea.Msg { return keepMsg{n} })
}

// keep writes the recovery files of the card on the screen and of its bag, off the event loop.
func (m *model) keep() tea.Cmd {
	s := m.card()
	return tea.Batch(s.bag.keep(m), s.keep(m))
}

// keepAll writes all recovery files before it returns: for signals and panics.
func (m *model) keepAll() {
	for _, d := range m.documents() {
		d.keepNow(m.opt.Now())
	}
}

// forgetAll removes the recovery files on a clean quit.
func (m *model) forgetAll() {
	for _, d := range m.documents() {
		d.forget()
	}
}
