package shot

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// A card cannot change: every edit gives a new one, whose document keeps the author's comments. Faults
// are what is wrong with the edit; the new card is nil then. A new card can still lack something, which
// [Card.Shot] finds: a slide its side, an orbit what it goes round.

// LegPath returns the path of a leg's field in the card's document, legs counted from 0; with key "" that
// of the leg.
func LegPath(leg int, key string) string {
	path := "legs[" + strconv.Itoa(leg) + "]"
	if key != "" {
		path += "." + key
	}
	return path
}

// legKey takes the path of a leg's field apart: "legs[2].speed_ms".
func legKey(path string) (leg int, key string, ok bool) {
	rest, ok := strings.CutPrefix(path, "legs[")
	number, key, dotted := strings.Cut(rest, "].")
	leg, err := strconv.Atoi(number)
	return leg, key, ok && dotted && err == nil
}

// legCount returns how many legs the card has.
func (c *Card) legCount() int { return c.Doc.At("legs").Len() }

// Set returns the card with one field as a person typed it; empty text brings the default back. What no
// longer means anything beside it goes in the same edit, and what is missing then is filled in: a leg with
// another move loses the fields that only the old one took and gets those that the new one needs, a purpose
// loses the shutters that do not fit it.
//
// Latitude and longitude take degrees and minutes too, which are written as a number; and each of the two takes a
// whole place in any notation of package place, which sets both.
func (c *Card) Set(path, text string) (*Card, field.Faults) {
	e := c.edit()
	if path == latPath || path == lonPath {
		e.setPlace(path, text)
	} else {
		e.set(path, text)
	}
	e.dropFor(path)
	return e.card()
}

// dropFor takes out what means nothing any more when the value at a path is a new one.
func (e *edit) dropFor(path string) {
	c := e.from
	if e.doc == c.Doc {
		return
	}
	leg, key, ok := legKey(path)
	switch {
	case ok && key == "move":
		from, to := Move(c.Doc.At(path).Text()), Move(e.doc.At(path).Text())
		e.dropFilled(leg, from, to)
		e.dropForMove(leg, from, to)
		e.fillForMove(leg, to)
	case ok && (key == "heading_deg" || key == "turns"):
		if turnsIn(c.Doc, leg) && !turnsIn(e.doc, leg) {
			e.clear(leg, "turn")
		}
	case ok && key == "course_deg":
		if !e.at(leg, key).Exists() && Move(e.at(leg, "move").Text()).drifts() {
			e.clear(leg, "speed_ms")
		}
	case ok && key == "purpose" || path == "purpose":
		e.dropShutters()
	}
}

// turnsIn tells whether a leg is written so that a way round means something.
func turnsIn(d *field.Doc, leg int) bool {
	return d.At(LegPath(leg, "turns")).Exists() || d.At(LegPath(leg, "heading_deg")).IsPair()
}

// InsertLeg returns the card with a new leg before index at (the count of legs: at the end): a hold of
// 10 s that looks where the leg before it ends, to be made into what it is.
func (c *Card) InsertLeg(at int) (*Card, field.Faults) {
	e := c.edit()
	e.insert(at, "{move: hold, heading_deg: "+c.headingAfter(at-1)+", seconds: 10}")
	return e.card()
}

// DuplicateLeg returns the card with a copy of a leg after it.
func (c *Card) DuplicateLeg(leg int) (*Card, field.Faults) {
	e := c.edit()
	e.mustHave(leg)
	e.insert(leg+1, c.Doc.At(LegPath(leg, "")).YAML())
	return e.card()
}

// RemoveLeg returns the card without a leg. What the log says of it stays, with a note.
func (c *Card) RemoveLeg(leg int) (*Card, field.Faults) {
	e := c.edit()
	e.mustHave(leg)
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Remove(LegPath(leg, "")) })
	e.dropShutters()
	e.renumber(func(i int) int {
		switch {
		case i == leg:
			return -1
		case i > leg:
			return i - 1
		}
		return i
	})
	return e.card()
}

// MoveLeg returns the card with a leg moved to another index; the legs between shift by one.
func (c *Card) MoveLeg(from, to int) (*Card, field.Faults) {
	e := c.edit()
	e.mustHave(from)
	e.mustHave(to)
	step := 1
	if to < from {
		step = -1
	}
	for i := from; i != to && e.faults == nil; i += step {
		e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Swap("legs", i, i+step) })
	}
	e.renumber(func(i int) int {
		switch {
		case i == from:
			return to
		case from < i && i <= to:
			return i - 1
		case to <= i && i < from:
			return i + 1
		}
		return i
	})
	return e.card()
}

// headingAfter returns the heading at a leg's end, true degrees to the whole one, or as it is written
// where it cannot be worked out; before the first leg its heading at the start.
func (c *Card) headingAfter(leg int) string {
	first := leg < 0
	leg = max(leg, 0)
	text, to := c.Doc.At(LegPath(leg, "heading_deg")).Texts()
	b := c.laid()
	if v := c.Doc.At(LegPath(leg, "")); leg < len(b.shot.Legs) && !b.unsound(v) {
		l := &b.shot.Legs[leg]
		deg := l.Heading.From
		if !first {
			deg += l.Heading.By
		}
		if !b.shot.TakeOff.IsZero() || l.HeadingSun == [2]bool{} {
			return field.Figure(angle.Wrap360(math.Round(deg)), 3)
		}
	}
	if !first {
		text = to
	}
	if _, err := parseHeading(text); err != nil {
		return "0"
	}
	return text
}

// laid works the legs out as far as the card alone allows, whatever else is wrong with it.
func (c *Card) laid() *builder {
	b := &builder{root: c.Doc.Root(), bag: &kit.Bag{}, table: c.Doc.Faults(), shot: &Shot{}}
	b.head(time.Time{})
	b.legs()
	return b
}

// edit is a chain of edits of a document; behind one that is refused nothing more is done.
type edit struct {
	from   *Card
	doc    *field.Doc
	faults field.Faults
}

func (c *Card) edit() *edit { return &edit{from: c, doc: c.Doc} }

func (e *edit) do(change func(*field.Doc) (*field.Doc, field.Faults)) {
	if e.faults != nil {
		return
	}
	if d, faults := change(e.doc); d == nil || len(faults) > 0 {
		e.faults = faults
	} else {
		e.doc = d
	}
}

func (e *edit) set(path, text string) {
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Set(path, text) })
}

func (e *edit) at(leg int, key string) field.Value { return e.doc.At(LegPath(leg, key)) }

func (e *edit) clear(leg int, key string) {
	if e.at(leg, key).Exists() {
		e.set(LegPath(leg, key), "")
	}
}

// insert puts a leg before an index; the log goes on naming the legs that it named.
func (e *edit) insert(at int, yaml string) {
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Insert("legs", at, yaml) })
	e.renumber(func(i int) int {
		if i >= at {
			return i + 1
		}
		return i
	})
}

// mustHave refuses a leg that is not there.
func (e *edit) mustHave(leg int) {
	if n := e.from.legCount(); e.faults == nil && (leg < 0 || leg >= n) {
		e.refuse("legs", "leg "+strconv.Itoa(leg+1), "a leg of this card, 1 to "+strconv.Itoa(n))
	}
}

func (e *edit) refuse(path, found, allowed string) {
	if e.faults == nil {
		e.faults = field.Faults{e.doc.At(path).Fault(found, allowed)}
	}
}

// card ends the chain.
func (e *edit) card() (*Card, field.Faults) {
	switch {
	case e.faults != nil:
		return nil, e.faults
	case e.doc == e.from.Doc:
		return e.from, nil
	}
	if f, bad := versionFault(e.doc); bad {
		return nil, field.Faults{f}
	}
	return &Card{Doc: e.doc}, nil
}

// legFieldKeys are the keys that a move may refuse, in an order in which they can go.
var legFieldKeys = []string{"turn", "turns", "heading_deg", "pitch_deg", "height_m", "to", "course_deg", "speed_ms", "target"}

// dropForMove takes out of a leg what its new move has no use for. A course goes with the move that it
// was the way of: it stays only between moves that go nowhere by themselves. Of what the new move keeps
// steady the leg's start stays.
func (e *edit) dropForMove(leg int, from, to Move) {
	if !from.drifts() || !to.drifts() {
		e.clear(leg, "course_deg")
	}
	for _, key := range legFieldKeys {
		switch to.uses(key) {
		case never, derived:
			e.clear(leg, key)
		case drifting:
			if !e.at(leg, "course_deg").Exists() {
				e.clear(leg, key)
			}
		case steady:
			if v := e.at(leg, key); v.IsPair() {
				start, _ := v.Texts()
				e.set(LegPath(leg, key), start)
			}
		}
	}
}

// dropShutters takes out the shutters that fitted a purpose until this edit and fit none now: a leg's own
// where its purpose is another one, the card's where no leg is left that it serves.
func (e *edit) dropShutters() {
	was, is := purposesOf(e.from.Doc), purposesOf(e.doc)
	for _, k := range shutterKeys {
		fits := func(p Purpose) bool { return slices.Contains(k.fits, p) }
		for leg := range is {
			if len(was) == len(is) && fits(was[leg]) && !fits(is[leg]) {
				e.clear(leg, k.key)
			}
		}
		if slices.ContainsFunc(was, fits) && !slices.ContainsFunc(is, fits) && e.doc.At(k.key).Exists() {
			e.set(k.key, "")
		}
	}
}

// purposesOf returns the purpose of each leg.
func purposesOf(d *field.Doc) []Purpose {
	card := d.At("purpose").Word(string(Video))
	all := make([]Purpose, d.At("legs").Len())
	for leg := range all {
		all[leg] = Purpose(d.At(LegPath(leg, "purpose")).Word(card))
	}
	return all
}

// removedLeg is what the log says before a line whose leg is no longer there.
const removedLeg = "of a leg taken out since"

// renumber lets the log name its legs by their new index; −1 for one that is gone.
func (e *edit) renumber(to func(leg int) int) {
	log := e.doc.At("flown")
	for i := range log.Len() {
		v := log.Index(i)
		was, err := strconv.Atoi(v.Get("leg").Text())
		if err != nil || e.faults != nil {
			continue
		}
		switch is := to(was - 1); {
		case is < 0:
			saw := removedLeg
			if text := v.Get("saw").Text(); text != "" {
				saw += "; " + text
			}
			e.set(v.Path()+".saw", saw)
			e.set(v.Path()+".leg", "")
		case is != was-1:
			e.set(v.Path()+".leg", strconv.Itoa(is+1))
		}
	}
}
