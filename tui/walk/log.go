package walk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/flown"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/panel"
)

// entry is a line of the card's log while it is asked for. The first answer writes it, so that nothing is lost if the hand is
// called away; what follows is set in it. Every answer is a step of undo.
type entry struct {
	leg   int
	at    int // its place in the log
	plan  shot.Flown
	r     *plan.Report
	said  []string // what it says by now
	typed bool     // the exposure was typed: it is no longer the plan's
}

// nearFlight is how far from its planned time a tick may be and still be of this flight (ours): a card can be walked through
// at home too.
const nearFlight = 3 * time.Hour

// log asks how the leg was that the walk is at, and writes the answers into the card.
func (v *View) log(b panel.Bench) {
	all := legs(v.list)
	if len(all) == 0 || b.Stale() || !b.MayEditCard() {
		return
	}
	l := leg(v.list, all[v.here(b)])
	r := b.Report()
	e := &entry{leg: l.Leg, plan: flown.Planned(r, l.Leg), r: r}
	e.plan.When = flown.When(r, l.Leg, b.Now())
	if t := v.done[b.CardKey()][l.Leg]; v.ticked(b, l) && t.at.Sub(l.Start).Abs() < nearFlight {
		e.plan.When = t.at.Truncate(time.Second)
	}
	move, _, _ := strings.Cut(l.Move, ",")
	answer := func(key, words, worked string) panel.Choice {
		return panel.Choice{Key: key, Words: words, Do: func(b panel.Bench) {
			line := e.plan
			line.Worked = worked
			ok := b.EditCard(func(c *shot.Card) (next *shot.Card, faults field.Faults) {
				next, e.at, faults = c.AddFlown(line)
				return next, faults
			})
			if ok {
				e.said = flown.Seen(&shot.Flown{Leg: e.leg, Worked: worked})
				e.verdicts(b)
			}
		}}
	}
	b.Ask(panel.Question{
		Text: fmt.Sprintf("Leg %d, %s: %s, %s. Did it work as planned?", l.Leg+1, move, v.list[all[v.here(b)].flight].Filter, setWords(&e.plan)),
		Choices: []panel.Choice{
			answer("y", "it worked", shot.WorkedYes), answer("p", "partly", shot.WorkedPartly), answer("x", "no", shot.WorkedNo),
		},
		Esc: "not now",
	})
}

// setWords says what the plan had set, without the aperture.
func setWords(f *shot.Flown) string {
	g := *f
	g.Aperture = 0
	return flown.Set(&g)
}

// verdicts asks for the sky and for the glare, where a polariser was to do something to them.
func (e *entry) verdicts(b panel.Bench) {
	r := e.r
	flight := r.FlightOf(e.leg)
	ring := flight != nil && flight.HasRing
	sky, glare := ring && r.Legs[e.leg].Effect.OK, ring && r.Legs[e.leg].GlareCut.OK
	last := e.more
	if glare {
		last = func(b panel.Bench) { e.verdict(b, "glare", "The filter on the glare, against the plan?", e.more) }
	}
	if sky {
		e.verdict(b, "sky", "The filter on the sky, against the plan?", last)
		return
	}
	last(b)
}

func (e *entry) verdict(b panel.Bench, key, text string, then func(b panel.Bench)) {
	answer := func(k, words, word string) panel.Choice {
		return panel.Choice{Key: k, Words: words, Do: func(b panel.Bench) { e.set(b, key+" "+word, key, word) }}
	}
	b.Ask(panel.Question{
		Text: text,
		Choices: []panel.Choice{
			answer("a", "as planned", shot.AsPlanned), answer("l", "it did less", shot.LessThan), answer("m", "it did more", shot.MoreThan),
		},
		Esc: "leave it out", Then: then,
	})
}

// more offers what is seldom worth a word.
func (e *entry) more(b panel.Bench) {
	ask := func(key, words, question string, take func(b panel.Bench, text string) bool) panel.Choice {
		var again func(b panel.Bench)
		again = func(b panel.Bench) {
			b.Ask(panel.Question{Text: question, Esc: "leave it out", Then: e.more, Enter: func(b panel.Bench, text string) {
				if text = strings.Join(strings.Fields(text), " "); text != "" && !take(b, text) {
					again(b) // what is wrong was said
					return
				}
				e.more(b)
			}})
		}
		return panel.Choice{Key: key, Words: words, Do: again}
	}
	b.Ask(panel.Question{
		Text: fmt.Sprintf("Leg %d is in the log: %s. Anything else?", e.leg+1, strings.Join(e.said, " · ")),
		Choices: []panel.Choice{
			ask("w", "what was seen, in one line", "What was seen?", func(b panel.Bench, text string) bool { return e.set(b, text, "saw", text) }),
			ask("s", "what was set, where not "+setWords(&e.plan), "Shutter and ISO, such as 1/50 200", e.setExposure),
			ask("f", "another filter was on the lens", "Which filter? none for bare", e.setFilter),
			ask("e", "it should have been brighter or darker", "Stops brighter, -1 for one darker, 0 if it was right", func(b panel.Bench, text string) bool {
				return e.set(b, "off by "+text, "off_stops", text)
			}),
			ask("m", "what the camera's meter showed", "The meter in stops, such as 0.7 or -1", func(b panel.Bench, text string) bool {
				return e.set(b, "meter at "+text, "meter_stops", text)
			}),
			{Key: "a", Words: "the camera chose the exposure", Do: func(b panel.Bench) {
				e.set(b, "the camera's own exposure", "auto_exposure", "true")
				e.more(b)
			}},
		},
		Esc: "that is all",
	})
}

// setExposure takes a shutter and an ISO, in either order, or one of them.
func (e *entry) setExposure(b panel.Bench, text string) bool {
	var pairs []string
	parts := strings.FieldsFunc(strings.ReplaceAll(strings.ToLower(text), "iso", " "), func(r rune) bool { return r == ' ' || r == ',' })
	for _, t := range parts {
		key := "iso"
		if x, err := strconv.ParseFloat(t, 64); strings.ContainsAny(t, "/s") || err == nil && x < 1 { // no ISO is below 1
			key = "shutter_s"
		}
		pairs = append(pairs, key, t)
	}
	if len(pairs) == 0 || !e.set(b, text, pairs...) {
		return false
	}
	e.typed = true
	return true
}

// setFilter takes another filter of the bag, or none, and what the plan would have set through that.
func (e *entry) setFilter(b panel.Bench, name string) bool {
	names := []string{words.Bare}
	for _, f := range e.r.Bag.Filters {
		names = append(names, f.Name)
	}
	if i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, name) }); i >= 0 {
		name = names[i]
	} else {
		b.Say("found " + field.Quoted(name) + "; allowed: none or a filter of the bag: " + field.Choice(name, names[1:]))
		return false
	}
	other := flown.With(e.plan, e.r, name)
	pairs := []string{"filter", name}
	for _, p := range []struct {
		key string
		v   *float64
	}{{"planned_ev100", other.PlannedEV100}, {"planned_meter_stops", other.PlannedMeter}, {"ring_deg", other.RingDeg}} {
		text := ""
		if p.v != nil {
			text = field.Figure(*p.v, 2)
		}
		pairs = append(pairs, p.key, text)
	}
	if !e.typed { // the plan had these for its own filter; what was set nobody has said
		pairs = append(pairs, "shutter_s", "", "iso", "")
	}
	own := ""
	if other.OffsetStops != 0 {
		own = field.Figure(other.OffsetStops, 2)
	}
	return e.set(b, name, append(pairs, "offset_stops", own, "confidence", other.Confidence)...)
}

// set sets fields of the line: a key and what was typed there, in turns. What was typed is taken as the form takes it.
func (e *entry) set(b panel.Bench, said string, pairs ...string) bool {
	ok := b.EditCard(func(c *shot.Card) (*shot.Card, field.Faults) {
		next := c
		for i := 0; i+1 < len(pairs); i += 2 {
			path := "flown[" + strconv.Itoa(e.at) + "]." + pairs[i]
			text := pairs[i+1]
			if spec := c.Doc.SpecAt(path); spec != nil {
				text, _ = spec.Plain(strings.TrimPrefix(text, "+"))
			}
			var faults field.Faults
			if next, faults = next.Set(path, text); next == nil {
				return nil, faults
			}
		}
		return next, nil
	})
	if ok {
		e.said = append(e.said, said)
	}
	return ok
}

// logWords says what the log's last line of a leg tells; "" where there is none.
func logWords(s *shot.Shot, leg int) string {
	for i := len(s.Flown) - 1; i >= 0; i-- {
		if f := &s.Flown[i]; f.Leg == leg {
			return join(" · ", append(flown.Seen(f), flown.Set(f))...)
		}
	}
	return ""
}
