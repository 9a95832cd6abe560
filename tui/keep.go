package tui

import (
	"os"
	"path/filepath"
	"slices"

	"example.org/skywedge/plan/store"
)

// filelessPath is the name that the recovery of what has no file goes by: the same from any folder.
func filelessPath(folder, name string) string {
	dir, err := store.StateDir()
	if err != nil {
		dir = os.TempDir()
	}
	return filepath.Join(dir, folder, name)
}

// The folders of filelessPath. Nothing is ever written there.
const (
	demoFolder = "demo"
	newFolder  = "new"
)

// demoPath is that of a copy of the demo.
func demoPath(name string) string { return filelessPath(demoFolder, name) }

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

// unsaved returns the documents with unsaved work, a field that is being typed among it.
func (m *model) unsaved() []document {
	in, _ := m.typingIn()
	return slices.DeleteFunc(m.documents(), func(d document) bool { return !d.isUnsaved() && d != in })
}

// typingIn returns the document of which a field is being typed, and what stands there; nil when none is, or
// when nothing was typed yet.
func (m *model) typingIn() (document, store.Typing) {
	e := &m.edit
	if !e.on || e.line.Fresh {
		return nil, store.Typing{}
	}
	t := store.Typing{Field: e.row.Path, Text: e.line.String()}
	if e.row.InBag {
		if e.bag == nil || t.Text == e.bag.Doc.At(t.Field).Text() {
			return nil, store.Typing{}
		}
		return m.card().bag, t
	}
	if was, _ := e.base.Holds(t.Field); t.Text == was {
		return nil, store.Typing{}
	}
	return m.card(), t
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

// release lets other windows write what lies open here, and decide on what is kept.
func (m *model) release() {
	for _, d := range m.documents() {
		d.release()
	}
	m.keeper.close()
}

// keptMsg says that the keeper was at work.
type keptMsg struct{ err error }

// publish tells the keeper what there is to keep.
func (m *model) publish() {
	in, typing := m.typingIn()
	jobs := map[document]job{}
	for _, d := range m.documents() {
		var t store.Typing
		if d == in {
			t = typing
		}
		if j := d.job(t); j.doc != nil {
			jobs[d] = j
		}
	}
	m.keeper.publish(jobs, m.keepAfter)
}

// keepAll writes all recovery files before it returns.
func (m *model) keepAll() error {
	m.publish()
	return m.keeper.flush()
}

// notKeptFact stands on the screen while unsaved work cannot be kept.
const notKeptFact = "cannot be kept"

// keptFact says when unsaved work on what is on the screen was last kept, "" before it was.
func (m *model) keptFact() string {
	if m.notKept {
		return notKeptFact
	}
	s := m.card()
	at, ok := m.keeper.keptAt(s)
	if bag, of := m.keeper.keptAt(s.bag); of && bag.After(at) {
		at, ok = bag, true
	}
	if !ok {
		return ""
	}
	return "kept " + at.In(m.opt.Now().Location()).Format("15:04")
}
