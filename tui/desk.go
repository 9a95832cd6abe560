package tui

import (
	"bytes"
	"crypto/sha256"
	"path/filepath"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
)

// desk is a bag that lies open, with its history. Cards that are flown with it share it.
type desk struct {
	bag     *kit.Bag
	path    string         // its file; "" for one that is embedded: saving asks where
	snap    store.Snapshot // the file as it was read or written last
	saved   []byte         // the text as the file has it
	unsaved bool
	touched bool // changed in this run: its recovery file is ours
	looked  bool // an earlier run's recovery was looked for
	offered bool // it was found and not decided on

	history[*kit.Bag]
	changes int // numbers the changes of the bag and of its cards
}

func openDesk(bag *kit.Bag, path string) *desk {
	d := &desk{bag: bag, path: path}
	if bag == nil || bag.Doc == nil {
		return d
	}
	d.saved = bag.Doc.Bytes()
	if path != "" {
		d.snap = store.Snapshot{Path: path, Exists: true, Data: d.saved, Sum: sha256.Sum256(d.saved)}
	}
	return d
}

// name is the bag's for people.
func (d *desk) name() string {
	if d.path == "" {
		return "the bag"
	}
	return "the bag " + filepath.Base(d.path)
}

// keyed is the path that its recovery file goes by: for an embedded bag the same from any folder.
func (d *desk) keyed() string {
	if d.path != "" {
		return d.path
	}
	return demoPath(filepath.Base(d.bag.File))
}

func (d *desk) tick() int {
	d.changes++
	return d.changes
}

// put makes a bag the current one. The one before becomes a step of undo, unless the same field was
// changed a moment ago.
func (d *desk) put(b *kit.Bag, path string, now time.Time) {
	d.record(d.bag, path, now, d.tick)
	d.try(b)
}

// try shows a bag without a step of undo, while a field of it is being typed.
func (d *desk) try(b *kit.Bag) {
	d.bag, d.touched = b, true
	d.unsaved = !bytes.Equal(b.Doc.Bytes(), d.saved)
}

// settle ends typing: base was the bag before it.
func (d *desk) settle(base *kit.Bag) {
	if base != d.bag && !base.Doc.Equal(d.bag.Doc) {
		d.history.settle(base, d.tick)
	}
	d.lastPath = ""
}

// abandon goes back to the bag before typing; redo brings what was typed.
func (d *desk) abandon(base *kit.Bag) (kept bool) {
	typed := d.bag
	d.try(base)
	d.lastPath = ""
	if typed == base || typed.Doc.Equal(base.Doc) {
		return false
	}
	d.history.abandon(typed, d.tick)
	return true
}

// step goes back (−1) or forth (+1) in the history.
func (d *desk) step(dir int) {
	if b, ok := d.history.step(dir, d.bag); ok {
		d.try(b)
	}
}

// bagNext tells whether the next step of undo (−1) or redo (+1) is the bag's and not the card's: of the
// two the one that was changed last, or taken back last.
func (s *sheet) bagNext(dir int) bool {
	if s.desk == nil {
		return false
	}
	card, bag := s.next(dir), s.desk.next(dir)
	switch {
	case bag == 0:
		return false
	case card == 0:
		return true
	}
	return (bag > card) == (dir < 0)
}

// lay puts the bag of a desk under all cards that share it.
func (m *model) lay(d *desk) {
	for _, s := range m.sheets {
		if s.desk == d {
			s.bag = d.bag
		}
	}
	m.edits++
	m.calc.failed = ""
}

// putBag makes a bag the current one of the card on the screen.
func (m *model) putBag(b *kit.Bag, path string) {
	s := m.sheet()
	s.desk.put(b, path, m.opt.Now())
	s.future, s.lastPath = nil, ""
	m.lay(s.desk)
}
