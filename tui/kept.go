package tui

import (
	"errors"
	"example.org/skywedge/tui/find"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// keptList is the list of the work that earlier windows kept and nobody decided on. It lies over the panes.
// What is in it stays on the disk until it is restored or discarded.
type keptList struct {
	known bool // it was looked for
	on    bool
	rows  []keptRow
	wrong []error // of what could not be read
	at    int
	top   int
}

// keptRow is one version of kept work.
type keptRow struct {
	store.Recovery
	version, versions int    // the newest is 1
	note              string // how the file is now, against what the edits began from
}

// keptListMsg brings the list; keptNotesMsg what there is to say of its rows, by their files.
type (
	keptListMsg struct {
		rows  []keptRow
		wrong []error
	}
	keptNotesMsg map[string]string
)

// findKept lists the kept work in the background: there may be much of it.
func (m *model) findKept() tea.Cmd {
	now := m.opt.Now()
	return guarded(m, func() tea.Msg {
		list, wrong := store.Recoveries(now)
		return keptListMsg{keptRows(list), wrong}
	})
}

// listKept lists it again.
func (m *model) listKept() tea.Cmd {
	m.say("")
	now := m.opt.Now()
	list, wrong := store.Recoveries(now)
	return m.takeKept(keptListMsg{keptRows(list), wrong}, true)
}

// keptRows numbers the versions of each document and leaves out what other windows work on.
func keptRows(list []store.Recovery) []keptRow {
	var rows []keptRow
	count := map[string]int{}
	for _, r := range list {
		if !r.Live {
			count[r.Path]++
			rows = append(rows, keptRow{Recovery: r, version: count[r.Path]})
		}
	}
	for i := range rows {
		rows[i].versions = count[rows[i].Path]
	}
	return rows
}

// takeKept shows the list where there is something in it.
func (m *model) takeKept(msg keptListMsg, asked bool) tea.Cmd {
	k := &m.kept
	k.rows, k.wrong, k.at, k.top, k.known = msg.rows, msg.wrong, 0, 0, true
	if len(k.rows) == 0 {
		defer m.offerTaken()
		k.on = false
		switch {
		case len(k.wrong) > 0:
			m.sayWrong(k.unread(), k.wrong[0])
		case asked:
			m.say("no kept work waits for a decision")
		}
		return nil
	}
	k.on = true
	rows := k.rows
	return guarded(m, func() tea.Msg {
		notes := keptNotesMsg{}
		for _, r := range rows {
			notes[r.File] = keptNote(r.Recovery)
		}
		return notes
	})
}

// keptNote says how a document's file stands to its kept work.
func keptNote(r store.Recovery) string {
	if where := fileless(r.Path); where != "" {
		return ""
	}
	st, err := os.Stat(r.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && r.Base != "":
		return "the file is gone"
	case errors.Is(err, fs.ErrNotExist):
		return "no file yet"
	case err != nil:
		return "the file cannot be read"
	case !st.Mode().IsRegular():
		return "not a plain file now"
	case r.DiskChanged():
		return "file changed since"
	}
	return ""
}

// fileless says what kept work is of that never had a file, "" where it had one.
func fileless(path string) string {
	switch filepath.Dir(path) {
	case filelessPath(demoFolder, ""):
		return "copy of the demo"
	case filelessPath(newFolder, ""):
		return "no file yet"
	}
	return ""
}

// name is what a row is called.
func (r *keptRow) name() string {
	if r.Name != "" {
		return r.Name
	}
	return filepath.Base(r.Path)
}

// when says when a row was kept.
func (r *keptRow) when(now time.Time) string {
	at := r.Saved.In(now.Location())
	switch {
	case at.Format(time.DateOnly) == now.Format(time.DateOnly):
		return "today " + at.Format("15:04")
	case at.Year() == now.Year():
		return at.Format("2 Jan 15:04")
	}
	return at.Format("2 Jan 2006")
}

// facts says what else there is to know of a row, the most important first.
func (r *keptRow) facts() []string {
	var list []string
	if r.note != "" {
		list = append(list, r.note)
	}
	if r.versions > 1 {
		list = append(list, fmt.Sprintf("version %d of %d", r.version, r.versions))
	}
	if r.Typing.Field != "" {
		list = append(list, "a field was being typed")
	}
	if where := fileless(r.Path); where != "" {
		return append(list, where)
	}
	return append(list, r.Path)
}

// key handles a key while the list is shown.
func (k *keptList) key(m *model, key string) tea.Cmd {
	if key == "!" {
		m.showWhole()
		return nil
	}
	m.say("")
	if m.screen.kind == panel.TooSmall && (key == "enter" || key == "d" || key == "x") {
		return nil // nobody sees what would be decided on
	}
	k.at = listKey(key, k.at, len(k.rows)-1)
	switch key {
	case "enter":
		m.restoreKept()
	case "d":
		m.showKeptDifference()
	case "x":
		m.askDiscardKept()
	case "esc":
		m.closeKept()
		if len(m.kept.rows) > 0 {
			m.say("kept work stays where it is; K lists it again")
		}
	case "q":
		return m.quit()
	case "ctrl+c":
		return m.interrupt()
	case "ctrl+z":
		return m.suspend()
	}
	k.at = max(0, min(k.at, len(k.rows)-1)) // a row may be gone
	return nil
}

// closeKept goes back to the panes, and opens the field that a restored document was left in.
func (m *model) closeKept() {
	m.kept.on = false
	m.resumeTyping()
	m.offerTaken()
}

// removeKept takes a row off the list.
func (m *model) removeKept(file string) {
	k := &m.kept
	var rows []store.Recovery
	notes := map[string]string{}
	for _, r := range k.rows {
		if notes[r.File] = r.note; r.File != file {
			rows = append(rows, r.Recovery)
		}
	}
	k.rows = keptRows(rows)
	for i := range k.rows {
		k.rows[i].note = notes[k.rows[i].File]
	}
	k.at = max(0, min(k.at, len(k.rows)-1))
	if len(k.rows) == 0 {
		m.closeKept()
	}
}

// askDiscardKept asks before kept work goes for good.
func (m *model) askDiscardKept() {
	r := m.kept.rows[m.kept.at]
	text := fmt.Sprintf("Discard the kept work on %s, from %s? It cannot be brought back.", r.name(), r.when(m.opt.Now()))
	m.ask = question{on: true, text: text, esc: "leave it", choices: []choice{{"y", "discard it", func(m *model) tea.Cmd {
		if err := r.Discard(); err != nil {
			m.sayWrong("", err)
			return nil
		}
		m.removeKept(r.File)
		m.say("discarded")
		return nil
	}}}}
}

// showKeptDifference lists the lines in which kept work differs from what is open, or from its file.
func (m *model) showKeptDifference() {
	r, err := m.kept.rows[m.kept.at].Read()
	if err != nil {
		m.sayWrong("", err)
		return
	}
	var is []byte
	if d := m.openAt(r); d != nil {
		is = d.bytes()
	} else if st, err := os.Stat(r.Path); err == nil && st.Mode().IsRegular() {
		if s, err := store.Read(r.Path); err == nil {
			is = s.Data
		}
	}
	lines := difference(is, r.Data)
	if r.Typing.Field != "" {
		lines = append(lines, "typed "+r.Typing.Field+": "+r.Typing.Text)
	}
	if len(lines) == 0 {
		lines = []string{"no line differs"}
	}
	m.list = find.Text("What the kept work changes", lines)
}

// unread says how much kept work could not be read.
func (k *keptList) unread() string {
	return count(len(k.wrong), "entry", "entries") + " could not be read"
}
