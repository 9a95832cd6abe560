// Package sheet makes a page of a shot or of a trip, to print or to carry on a phone, and the same as text.
//
// The one hard idea: what stands on a sheet is gathered once, as words in [Sheet], and set twice, as a page of HTML that
// needs nothing beside itself and as Markdown. So neither can say what the other does not, and neither computes.
// Whatever comes from a card, a bag or the name of a file is escaped where it is set and nowhere else: see page and md.
package sheet

import (
	"fmt"
	"strings"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/trip"
)

// Sheet is what stands on it.
type Sheet struct {
	Title string
	Bag   string // which one it was worked out with
	Days  []Day  // the trip as a whole; nil of a single shot
	Pack  []Row
	Shots []Shot
}

// Row is a figure with its name.
type Row struct{ Name, Value string }

// Day is the order of the shots of one date.
type Day struct {
	Headline string
	Stops    []Stop
	Proposed string   // what another order is better at; "" where none is
	Order    []string // that order, a line a shot
}

// Stop is a shot in the order of its day.
type Stop struct {
	Shot      int // its place in Sheet.Shots
	Way       string
	TakeOff   string
	Name      string
	Words     []string // until when, what is mounted, when it holds
	Conflicts []string
}

// Of gathers a sheet of cards that are all worked out. The title is a trip's; a single shot has its own name.
func Of(p *trip.Plan, title, bag string) (*Sheet, error) {
	s := &Sheet{Title: title, Bag: bag}
	for i := range p.Days {
		d := &p.Days[i]
		day := Day{Headline: d.Headline(p.Cards)}
		for k := range d.Stops {
			stop := &d.Stops[k]
			shot, err := shotOf(&p.Cards[stop.Card], stop)
			if err != nil {
				return nil, err
			}
			day.Stops = append(day.Stops, stopOf(&p.Cards[stop.Card], stop, len(s.Shots)))
			s.Shots = append(s.Shots, shot)
		}
		if d.Better(p.Cards) {
			day.Proposed, day.Order = d.ProposedWords(p.Cards), orderOf(p, d)
		}
		s.Days = append(s.Days, day)
	}
	if len(s.Shots) == 1 {
		s.Title, s.Days = s.Shots[0].Name, nil
		return s, nil
	}
	s.Pack = packOf(&p.Packing)
	return s, nil
}

func stopOf(c *trip.Card, s *trip.Stop, shot int) Stop {
	return Stop{
		Shot: shot, Way: s.Way(c), TakeOff: c.Shot.OnTheClock(s.TakeOff), Name: c.Shot.Name,
		Words:     []string{"until " + c.Shot.OnTheClock(s.Landing), c.Mounts(), s.BatteryWords(), c.WindowWords()},
		Conflicts: conflictsOf(s),
	}
}

func conflictsOf(s *trip.Stop) (list []string) {
	for _, x := range s.Conflicts {
		list = append(list, x.String())
	}
	return list
}

// orderOf is a better order of a day, with the take-offs that it moves.
func orderOf(p *trip.Plan, d *trip.Day) (list []string) {
	for i := range d.Order {
		m := &d.Order[i]
		c := &p.Cards[m.Card]
		line := c.Shot.OnTheClock(m.TakeOff) + " " + c.Shot.Name
		if t := c.Shot.TakeOff; !t.Equal(m.TakeOff) {
			line += " (now " + c.Shot.OnTheClock(t) + ")"
		}
		if way := m.Way(c); way != "" {
			line += ", before: " + way
		}
		list = append(list, line)
	}
	return list
}

func packOf(k *trip.Packing) []Row {
	batteries := fmt.Sprintf("%d", k.Batteries)
	if len(k.Unknown) > 0 {
		batteries += ", without those of " + strings.Join(k.Unknown, ", ") + ": not known"
	}
	list := []Row{{"Batteries", batteries}}
	for _, r := range []struct {
		name string
		list []string
	}{{"Filters", k.Used}, {"Spare", k.Spare}, {"Leave", k.Leave}} {
		if len(r.list) > 0 {
			list = append(list, Row{r.name, strings.Join(r.list, ", ")})
		}
	}
	for _, m := range k.Missing {
		list = append(list, Row{"Missing", "a density of " + exposure.FormatStops(m.Stops) + " would serve " + strings.Join(m.WouldServe, ", ")})
	}
	return list
}
