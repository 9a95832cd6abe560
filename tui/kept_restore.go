package tui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"

	"example.org/skywedge/tui/line"
)

// restoreKept makes the chosen kept work the current state of its document, which is opened where it is not.
func (m *model) restoreKept() {
	r, err := m.kept.rows[m.kept.at].Read()
	if err != nil {
		m.sayWrong("", err)
		return
	}
	d := m.openAt(r)
	if d == nil {
		if d, err = m.openFor(r); err != nil {
			m.sayWrong("", err)
			return
		}
	}
	m.goTo(d)
	if why := d.locked(); why != "" {
		m.say(why)
		return
	}
	if !d.restore(m, d, r) {
		return
	}
	m.say("restored; u goes back to the file")
	// The old one goes when this window has kept the work itself.
	if err := m.keepAll(); err != nil {
		m.sayWrong("restored; the kept version stays too", err)
	} else if err := r.Discard(); err != nil {
		m.sayWrong("restored", err)
	}
	said := m.news
	m.removeKept(r.File)
	m.news = said
}

// openAt returns the open document that kept work is of, nil when none is. Two new shots are never the same.
func (m *model) openAt(r store.Recovery) document {
	if filepath.Dir(r.Path) == filelessPath(newFolder, "") {
		return nil
	}
	for _, d := range m.documents() {
		if d.isKeptAs(r.Path) {
			return d
		}
	}
	return nil
}

// openFor opens the document that kept work is of.
func (m *model) openFor(r store.Recovery) (document, error) {
	isBag := r.Kind == bagPhrases.kind || r.Kind == "" && kit.IsBag(r.Data)
	src := Source{Path: r.Path}
	switch where := filepath.Dir(r.Path); {
	case where == filelessPath(newFolder, ""):
		src.Demo, src.New = true, true
		if m.hasCard(src.Path) {
			src.Path = m.freeShot()
		}
	case where == filelessPath(demoFolder, ""):
		src.Path, src.Demo = filepath.Base(r.Path), true
	default:
		data, err := readPlain(r.Path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		src.Data, src.New = data, err != nil
	}
	if isBag {
		return m.openKeptBag(src, r)
	}
	if src.Data == nil {
		src.Data = r.Data
	}
	o := m.addCard(src)
	if src.Demo || src.New {
		o.neverSaved()
	}
	return o, nil
}

// readPlain reads a file that is one: a pipe would be waited for.
func readPlain(path string) ([]byte, error) {
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return nil, &store.FileError{Reason: "not a plain file now", Path: path}
	}
	s, err := store.Read(path)
	return s.Data, err
}

// openKeptBag opens a bag with a new shot that is flown with it.
func (m *model) openKeptBag(src Source, r store.Recovery) (document, error) {
	bag, faults := kit.ReadBag(src.Path, src.Data)
	if src.Data == nil || len(faults) > 0 {
		if bag, faults = kit.ReadBag(src.Path, r.Data); len(faults) > 0 {
			return nil, errors.New(bagPhrases.keptWrong + "; it stays where it is: " + faults[0].Error())
		}
	}
	path := src.Path
	if src.Demo {
		path = ""
	}
	o := openBagAt(bag, path, true)
	if src.Data == nil || len(faults) > 0 {
		o.neverSaved()
	}
	data, _, _ := m.startHere(bag)
	m.addShot(m.freeShot(), data)
	m.cards[len(m.cards)-1].bag = o
	return o, nil
}

// neverSaved says that what the document holds stands in no file.
func (o *openDoc[T]) neverSaved() {
	o.saved = nil
	o.check()
}

// isKeptAs tells whether kept work under a path is the document's.
func (o *openDoc[T]) isKeptAs(path string) bool { return store.Same(o.key, path) }

// locked says why the document cannot be changed here, "" when it can.
func (o *openDoc[T]) locked() string { return o.readOnly }

// goTo shows a document: a card, or one that is flown with a bag.
func (m *model) goTo(d document) {
	for i, s := range m.cards {
		if document(s) == d || document(s.bag) == d {
			m.showCard(i)
			return
		}
	}
}

// resumeTyping opens the field that was being typed when the card on the screen, or its bag, was kept.
func (m *model) resumeTyping() {
	if m.edit.on || m.kept.on || m.ask.on {
		return
	}
	s := m.card()
	if t := s.typing; t.Field != "" {
		s.typing = store.Typing{}
		if s.current == nil || !m.goToField(t.Field) {
			m.say("a field was being typed: " + t.Field + ": " + t.Text)
			return
		}
		m.editHere()
		m.resume(t.Text)
		return
	}
	if t := s.bag.typing; t.Field != "" && m.MayEditBag() {
		s.bag.typing = store.Typing{}
		m.show(viewFilters)
		if m.views.filters.EditFieldOf(m, t.Field) {
			m.resume(t.Text)
		}
	}
}

// resume puts a text into the field that was opened.
func (m *model) resume(text string) {
	if m.edit.on {
		m.edit.line = line.New(text)
		m.edit.line.Fresh = false
		m.typed()
	}
}

// goToField moves the cursor of view 1 to a field of the card, unfolding what hides it.
func (m *model) goToField(path string) bool {
	m.show(viewShot)
	if rest, ok := strings.CutPrefix(path, "legs["); ok {
		num, key, _ := strings.Cut(rest, "].")
		leg, err := strconv.Atoi(num)
		if err != nil || leg < 0 || leg >= m.card().legs() {
			return false
		}
		m.leg, m.focus, m.cursor[paneLegs] = leg, paneLegs, leg
		for i, c := range legColumns {
			if c.key == key {
				m.col = i
				return true
			}
		}
		return m.goToRow(paneLegs, path, m.card().legs())
	}
	m.focus = paneShot
	return m.goToRow(paneShot, path, 0)
}

// goToRow finds a field among the lines of a pane's form, of which before stand above.
func (m *model) goToRow(pane int, path string, before int) bool {
	at := func() int {
		for i, r := range m.rows(pane) {
			if r.Path == path {
				return i
			}
		}
		return -1
	}
	i := at()
	if i < 0 {
		m.more[pane] = true
		i = at()
	}
	if i < 0 {
		return false
	}
	m.cursor[pane] = before + i
	return true
}
