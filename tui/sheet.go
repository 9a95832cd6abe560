package tui

import (
	"bytes"
	"path/filepath"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
)

// sheet is one open card with its history. A card cannot change, so a step of undo is the card as
// it was.
type sheet struct {
	src      Source
	bag      *kit.Bag
	card     *plan.Card // nil when the text cannot be read as a card at all
	faults   field.Faults
	saved    []byte // the text as the file has it
	readOnly string // why it cannot be saved here; "" when it can
	unsaved  bool
	touched  bool // changed in this run: its recovery file is ours
	looked   bool // an earlier run's recovery was looked for
	offered  bool // it was found and not decided on

	history[*plan.Card]
	desk   *desk    // the bag it is flown with, shared with other cards
	opened *kit.Bag // what that was read as
}

// tick numbers a change, and forgets what of the bag could be redone.
func (s *sheet) tick() int {
	if s.desk == nil {
		return 0
	}
	s.desk.future = nil
	return s.desk.tick()
}

func openSheet(src Source, bag *kit.Bag) *sheet {
	s := &sheet{src: src, bag: bag, saved: src.Data}
	if src.Bag != nil {
		s.bag = src.Bag
	}
	s.card, s.faults = plan.ReadCard(src.Path, src.Data)
	if s.card != nil && s.card.Doc == nil {
		s.card = nil
	}
	if src.Demo || src.New {
		s.saved = nil
		if s.card != nil {
			s.saved = s.card.Doc.Bytes()
		}
	}
	return s
}

// name gives the card's name, or the file's when it has none.
func (s *sheet) name() string {
	if s.card != nil {
		if n := s.card.Doc.At("name").Text(); n != "" {
			return n
		}
	}
	return filepath.Base(s.src.Path)
}

// text gives a field as written, "" when it is absent.
func (s *sheet) text(path string) string {
	if s.card == nil {
		return ""
	}
	return s.card.Doc.At(path).Text()
}

// legs gives the count of legs.
func (s *sheet) legs() int {
	if s.card == nil {
		return 0
	}
	return s.card.Doc.At("legs").Len()
}

// put makes a card the current one. The one before becomes a step of undo, unless the same field
// was changed a moment ago.
func (s *sheet) put(c *plan.Card, path string, now time.Time) {
	s.record(s.card, path, now, s.tick)
	s.try(c)
}

// try shows a card without a step of undo, while its field is being typed.
func (s *sheet) try(c *plan.Card) { s.card, s.touched = c, true; s.check() }

// settle ends typing: base was the card before it.
func (s *sheet) settle(base *plan.Card) {
	if base != s.card && !base.Doc.Equal(s.card.Doc) {
		s.history.settle(base, s.tick)
	}
	s.lastPath = ""
}

// abandon goes back to the card before typing; redo brings what was typed.
func (s *sheet) abandon(base *plan.Card) (kept bool) {
	typed := s.card
	s.try(base)
	s.lastPath = ""
	if typed == base || typed.Doc.Equal(base.Doc) {
		return false
	}
	s.history.abandon(typed, s.tick)
	return true
}

// step goes back (−1) or forth (+1) in the history.
func (s *sheet) step(dir int) bool {
	c, ok := s.history.step(dir, s.card)
	s.card = c
	s.check()
	return ok
}

func (s *sheet) check() {
	s.unsaved = s.card != nil && !bytes.Equal(s.card.Doc.Bytes(), s.saved)
}

// set gives the card with one field changed, or what is wrong with the text.
func (s *sheet) set(from *plan.Card, path, text string) (*plan.Card, field.Faults) {
	return from.Set(path, text)
}
