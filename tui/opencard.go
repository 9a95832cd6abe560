package tui

import (
	"path/filepath"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui/panel"
)

// openCard is a card that lies open.
type openCard struct {
	openDoc[*shot.Card]
	wrong field.Faults // with the text as it was read
	bag   *openBag     // the bag it is flown with, shared with other cards
	begun string       // the take-off of a new shot when it was begun
	lent  store.Place  // the place it was opened with, where that is the demo's: nobody's own

	taken   *taken.Shot // what it was begun from, where that is a picture
	offered bool        // whether it is to be planned for another day was asked
}

// addCard opens a card with the bag that goes with it. A bag is opened once for all its cards; a card that
// is open in another window can be looked at.
func (m *model) addCard(src Source) *openCard {
	o := &openCard{bag: m.bagOf(src)}
	o.tick, o.exclusive = o.number, !(src.Demo && src.New) // a new shot is this window's alone
	o.file, o.fileless, o.unwritten = src.Path, src.Demo, src.New
	var c *shot.Card
	c, o.wrong = shot.ReadCard(src.Path, src.Data)
	if c != nil && c.Doc == nil {
		c = nil
	}
	o.open(o, c, src.Data)
	switch {
	case src.New:
		o.begun = o.text("take_off")
	case src.Demo:
		o.lent, _ = o.place()
	}
	m.cards = append(m.cards, o)
	return o
}

// card returns the one on the screen.
func (m *model) card() *openCard { return m.cards[m.at] }

// kit returns the bag as it is now, nil when there is none.
func (o *openCard) kit() *kit.Bag {
	if o.bag == nil {
		return nil
	}
	return o.bag.current
}

// number numbers a change, and forgets what of the bag could be redone.
func (o *openCard) number() int {
	o.bag.future = nil
	return o.bag.number()
}

// bagNext tells whether the next step of undo (−1) or redo (+1) is the bag's and not the card's: of the
// two the one that was changed last, or taken back last.
func (o *openCard) bagNext(dir int) bool {
	card, bag := o.next(dir), o.bag.next(dir)
	switch {
	case bag == 0:
		return false
	case card == 0:
		return true
	}
	return (bag > card) == (dir < 0)
}

// begunNow tells that the take-off of a new shot is still the moment at which it was begun.
func (o *openCard) begunNow() bool {
	return o.unwritten && o.begun != "" && o.text("take_off") == o.begun
}

// name returns the card's name, or the file's when it has none.
func (o *openCard) name() string {
	if n := o.text("name"); n != "" {
		return n
	}
	return filepath.Base(o.file)
}

func (o *openCard) title() string { return o.name() }

// text returns a field as written, "" when it is absent.
func (o *openCard) text(path string) string {
	if o.current == nil {
		return ""
	}
	return o.current.Doc.At(path).Text()
}

// legs returns the count of legs.
func (o *openCard) legs() int {
	if o.current == nil {
		return 0
	}
	return o.current.Doc.At("legs").Len()
}

// shown returns what stands in a field and whether it is not written there: what follows from other fields, the
// card's for all legs, or the default.
func (o *openCard) shown(r panel.Row) (text string, isDefault bool) {
	if o.current == nil {
		return r.Spec.Default, true
	}
	text, written := o.current.Holds(r.Path)
	if derived := o.current.Derived(r.Path); !written && derived != "" {
		return derived, true
	}
	return text, !written
}

// allowed says in a few words what may stand in a field.
func (o *openCard) allowed(r panel.Row) string {
	if len(r.Spec.Words) == 0 && !r.InBag && o.current != nil {
		if w := o.current.Choices(r.Path, o.kit()); len(w) > 0 {
			return strings.Join(w, ", ")
		}
	}
	return r.Spec.Allowed()
}

// What a card does in its own way.

func (o *openCard) written(c *shot.Card) *field.Doc {
	if c == nil {
		return nil
	}
	return c.Doc
}

func (o *openCard) read(file string, data []byte) (c *shot.Card, wrong string) {
	if c, _ = shot.ReadCard(file, data); c == nil || c.Doc == nil {
		return nil, "cannot be read as a card"
	}
	return c, ""
}

var cardPhrases = phrases{
	unreadable: "this file cannot be read as a card",
	saveAs:     "Save this card as",
	savedAs:    "saved as ",
	saved:      "saved",
	kind:       "card",
	keptWrong:  "the kept work cannot be read as a card",
}

func (o *openCard) phrases() *phrases { return &cardPhrases }

func (o *openCard) suggest(*model) string {
	switch {
	case o.fileless && o.unwritten:
		return fileName(o.name())
	case o.fileless:
		return filepath.Base(o.file)
	}
	return o.file
}

func (o *openCard) faults(m *model) int {
	_, faults := o.current.Shot(o.kit(), m.opt.Now())
	return faults.Count()
}

// wrote remembers the place of the card for the next new one.
func (o *openCard) wrote() {
	if p, ok := o.place(); ok && p != o.lent {
		_ = store.RememberPlace(p) // a convenience; the card itself is saved
	}
}

func (o *openCard) replaced(m *model, _ bool) { m.changed() }
