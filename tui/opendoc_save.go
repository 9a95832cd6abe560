package tui

import (
	"errors"
	"path/filepath"
	"strings"

	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/line"
	tea "github.com/charmbracelet/bubbletea"
)

// save writes the document to its file, and asks for one where it has none.
func (o *openDoc[T]) save(m *model) {
	switch {
	case o.kind.written(o.current) == nil:
		m.say(o.kind.phrases().unreadable + " and is left as it is")
	case o.readOnly != "":
		m.say(o.readOnly)
		o.askSaveAs(m)
	case o.fileless:
		o.askSaveAs(m)
	case !o.unsaved && !o.unwritten:
		m.say("nothing to save")
	default:
		o.saveOver(m, o.snap, false)
	}
}

// saveOver writes the document over a snapshot. A file that is no longer as it was is asked about, unless it
// is to be overwritten by force.
func (o *openDoc[T]) saveOver(m *model, snap store.Snapshot, force bool) {
	data := o.bytes()
	var err error
	if force {
		if err = store.Save(snap.Path, data, 0); err == nil {
			snap, err = store.Read(snap.Path)
		}
	} else {
		snap, err = snap.Save(data)
	}
	var changed *store.ChangedError
	switch {
	case errors.As(err, &changed):
		o.askConflict(m, changed)
		return
	case err != nil && snap.Path != o.file:
		o.askName(m, sentence(err.Error()), snap.Path)
		return
	case err != nil:
		m.sayWrong("not saved", err)
		return
	}
	o.moveTo(snap.Path)
	o.snap, o.saved, o.unwritten, o.savedStep = snap, data, false, len(o.past)
	o.check()
	o.kind.wrote()
	lead := o.kind.phrases().savedAs
	if n := o.kind.faults(m); n > 0 {
		lead = o.kind.phrases().saved + ", with " + count(n, "fault", "faults") + ": "
	}
	m.sayPath(lead, snap.Path)
	if err := m.keepAll(); err != nil { // takes away what was kept of it
		m.log(err.Error())
	}
	if f := m.afterSave; f != nil { // what waited for the save
		m.afterSave = nil
		m.next = f(m)
	}
}

// moveTo makes a path the document's file.
func (o *openDoc[T]) moveTo(path string) {
	if path == o.file && !o.fileless && o.readOnly == "" {
		return
	}
	o.release()
	o.file, o.key, o.fileless, o.unwritten, o.readOnly = path, path, false, false, ""
	o.exclusive = true
	if lock, err := store.Acquire(path); err == nil {
		o.lock = lock
	}
}

// isAt tells whether a path is that of the document's file.
func (o *openDoc[T]) isAt(path string) bool { return !o.fileless && store.Same(o.file, path) }

// askConflict asks what to do about a file that has changed since it was read.
func (o *openDoc[T]) askConflict(m *model, c *store.ChangedError) {
	do := func(f func(m *model)) func(*model) tea.Cmd {
		return func(m *model) tea.Cmd { f(m); return nil }
	}
	over := "write it again"
	if c.Now.Exists {
		over = "overwrite it (the old one stays as " + filepath.Base(c.Path) + "~)"
	}
	m.ask = question{on: true, text: c.Error() + ".", esc: "do nothing", choices: []choice{
		{"o", over, do(func(m *model) { o.saveOver(m, store.Snapshot{Path: c.Path}, true) })},
		{"w", "save under another name", do(o.askSaveAs)},
	}}
	if !c.Now.Exists {
		return // nothing to load
	}
	if _, wrong := o.kind.read(c.Path, c.Now.Data); wrong == "" {
		m.ask.choices = append(m.ask.choices, choice{"l", "load the file; u brings yours back", do(func(m *model) { o.reload(m, c.Now) })})
	}
}

// reload takes what another program wrote.
func (o *openDoc[T]) reload(m *model, now store.Snapshot) {
	doc, wrong := o.kind.read(now.Path, now.Data)
	if wrong != "" {
		m.say("the file " + wrong)
		return
	}
	o.moveTo(now.Path)
	o.snap, o.saved = now, now.Data
	o.put(doc, "", m.opt.Now())
	o.savedStep = len(o.past)
	o.kind.replaced(m, false)
}

// askSaveAs asks for a file's name.
func (o *openDoc[T]) askSaveAs(m *model) {
	o.askName(m, "", o.kind.suggest(m))
}

// askName asks for a file's name, again where the one before could not be taken.
func (o *openDoc[T]) askName(m *model, wrong, begin string) {
	if o.kind.written(o.current) == nil {
		return
	}
	text := o.kind.phrases().saveAs
	if wrong != "" {
		text = wrong + " " + text
	}
	m.ask = question{on: true, text: text, input: true, line: line.New(begin), esc: "do not save",
		enter: func(m *model, typed string) {
			typed = strings.TrimSpace(typed)
			if typed == "" {
				m.afterSave = nil
				return
			}
			path, wrong, again := saveName(typed, o.kind.suggest(m))
			if wrong == "" {
				again, wrong = typed, o.refuse(m, path)
			}
			switch {
			case wrong != "":
				o.askName(m, wrong, again)
			case o.isAt(path) && o.readOnly == "":
				o.saveOver(m, o.snap, false)
			default:
				o.kind.elsewhere(m, path, func() { o.saveOver(m, store.Unwritten(path), false) })
			}
		}}
}

// sentence makes a sentence of an error.
func sentence(text string) string {
	return words.Sentence(strings.TrimSuffix(text, ".")) + "."
}
