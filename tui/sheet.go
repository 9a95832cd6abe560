package tui

import (
	"bytes"
	"path/filepath"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
)

// joinWithin is how long repeats on one field count as one step of undo.
const joinWithin = time.Second

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

	past, future []version
	desk         *desk    // the bag it is flown with, shared with other cards
	opened       *kit.Bag // what that was read as
	lastPath     string
	lastAt       time.Time
}

// version is a card of the history. The change that leads on from it (or, to be redone, back to it) has a
// number, by which the changes of the card and of its bag are told in order.
type version struct {
	card *plan.Card
	n    int
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
	if path == "" || path != s.lastPath || now.Sub(s.lastAt) > joinWithin {
		s.past = append(s.past, version{s.card, s.tick()})
	}
	s.card, s.future, s.touched = c, nil, true
	s.lastPath, s.lastAt = path, now
	s.check()
}

// try shows a card without a step of undo, while its field is being typed.
func (s *sheet) try(c *plan.Card) { s.card, s.touched = c, true; s.check() }

// settle ends typing: base was the card before it.
func (s *sheet) settle(base *plan.Card) {
	if base != s.card && !base.Doc.Equal(s.card.Doc) {
		s.past, s.future = append(s.past, version{base, s.tick()}), nil
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
	s.future = []version{{typed, s.tick()}}
	return true
}

// step goes back (−1) or forth (+1) in the history.
func (s *sheet) step(dir int) bool {
	from, to := &s.past, &s.future
	if dir > 0 {
		from, to = to, from
	}
	n := len(*from)
	if n == 0 {
		return false
	}
	v := (*from)[n-1]
	*to = append(*to, version{s.card, v.n})
	s.card = v.card
	*from = (*from)[:n-1]
	s.lastPath = ""
	s.check()
	return true
}

func (s *sheet) check() {
	s.unsaved = s.card != nil && !bytes.Equal(s.card.Doc.Bytes(), s.saved)
}

// set gives the card with one field changed, or what is wrong with the text.
func (s *sheet) set(from *plan.Card, path, text string) (*plan.Card, field.Faults) {
	d, faults := from.Doc.Set(path, text)
	if d == nil || len(faults) > 0 {
		return nil, faults
	}
	return &plan.Card{Doc: d}, nil
}
