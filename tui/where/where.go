// Package where minds the place of a shot: it says a place back that was typed, keeps an eye on the zone beside it, and
// asks about what belonged to the place before.
//
// The one hard idea is that nothing follows a place by itself. A zone is a matter of law and not of distance, and a
// ridge may have been measured on purpose: so each is asked about, once, and every answer is a step of undo.
package where

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/zone"
	"example.org/skywedge/tui/panel"
)

// ZonePath is where a card has its zone.
const ZonePath = "place.zone"

// How far a shot moves before what was written for its place is doubted (ours): by farKm the declination differs by some
// tenths of a degree; by ridgeKm a ridge at 4 km that stands 10° high stands 8 or 13.
const (
	farKm   = 50
	ridgeKm = 1
)

// stand is how a zone stands to its place.
type stand struct {
	known bool
	at    time.Time
	in    *time.Location
	near  []zone.Near
	fits  bool
}

func standOf(card *shot.Card) (s stand) {
	p, placed := card.Point()
	if s.at, s.in, s.known = card.TakeOff(); !s.known || !placed {
		return stand{}
	}
	s.near = zone.Nearest(p, s.at)
	s.fits = zone.Fits(s.near, s.in, s.at)
	return s
}

// offset is that of the card's zone at take-off.
func (s *stand) offset() string { return zone.Sign(zone.OffsetOf(s.in, s.at)) }

// Zone is what the form knows of a card's zone. It is worked out once for each card, and cards do not change.
type Zone struct {
	of *shot.Card
	is stand
}

func (z *Zone) look(card *shot.Card) *stand {
	if z.of != card {
		z.of, z.is = card, stand{}
		if card != nil {
			z.is = standOf(card)
		}
	}
	return &z.is
}

// Label returns what the zone's line in the form is called: with its offset at take-off, and a mark where no place
// near keeps that.
func (z *Zone) Label(card *shot.Card) string {
	s := z.look(card)
	switch {
	case !s.known:
		return "zone"
	case s.fits:
		return "zone " + s.offset()
	}
	return "zone " + s.offset() + " !"
}

// Help says what is wrong with the zone and what mends it; "" where nothing is.
func (z *Zone) Help(card *shot.Card) string {
	s := z.look(card)
	if !s.known || s.fits {
		return ""
	}
	return fmt.Sprintf("no place near keeps %s; %s, the nearest, is at %s: Enter chooses the zone", s.offset(), s.near[0].Zone, zone.Sign(s.near[0].Offset))
}

// Doubted tells whether no place near keeps the zone's offset.
func (z *Zone) Doubted(card *shot.Card) bool { s := z.look(card); return s.known && !s.fits }

// Move is a place that was changed.
type Move struct {
	From, To *shot.Card
	Now      bool // take-off is still the moment at which the shot was begun: it stays that, in any zone
}

// Moved says a changed place back, and then asks for the zone where the old one does not fit, and about a declination
// and a skyline that were those of another place. Of latitude alone it only says where that is: the longitude is
// likely to follow.
func Moved(b panel.Bench, m Move) {
	from, before := m.From.Point()
	to, placed := m.To.Point()
	if !placed || before && from == to {
		return
	}
	said := "now at " + to.String()
	km := 0.0
	if before {
		if km = from.KmTo(to); km >= 1 {
			said += fmt.Sprintf(", %s away; u goes back", kilometres(km))
		}
	}
	b.Say(said)
	if before && from.LonDeg == to.LonDeg {
		return
	}
	rest := func(b panel.Bench) {
		askOld(b, m.To, km)
	}
	if s := standOf(m.To); s.known && !s.fits {
		b.Ask(zoneQuestion(m, &s, rest))
		return
	}
	rest(b)
}

// Choose asks for the zone. typed opens its field instead, for any other.
func Choose(b panel.Bench, m Move, typed func(b panel.Bench)) {
	s := standOf(m.To)
	if !s.known {
		typed(b)
		return
	}
	q := zoneQuestion(m, &s, func(panel.Bench) {})
	q.Choices = append(q.Choices, panel.Choice{Key: "t", Words: "type another", Do: typed})
	b.Ask(q)
}

// zoneQuestion offers the zones of the nearest places.
func zoneQuestion(m Move, s *stand, then func(b panel.Bench)) panel.Question {
	p, _ := m.To.Point()
	q := panel.Question{
		Text: fmt.Sprintf("%s is at %s at take-off, and no place near %v is. Which zone is it?", s.in, s.offset(), p),
		Esc:  "keep " + s.in.String(), Then: then,
	}
	for i, n := range s.near {
		q.Choices = append(q.Choices, panel.Choice{
			Key: fmt.Sprint(i + 1), Words: fmt.Sprintf("%s %s, %s away", zone.Sign(n.Offset), n.Zone, kilometres(n.Km)),
			Do: func(b panel.Bench) { setZone(b, m, s.at, n) },
		})
	}
	return q
}

// setZone writes a zone in one step of undo. Take-off keeps what the clock shows; that of a shot which was begun
// just now keeps its moment.
func setZone(b panel.Bench, m Move, at time.Time, n zone.Near) {
	changes := []panel.Change{{Path: ZonePath, Text: n.Zone}}
	clock := m.To.Doc.At("take_off").Text()
	if m.Now {
		clock = shot.FormatTakeOff(at, n.In)
		changes = append(changes, panel.Change{Path: "take_off", Text: clock})
	}
	if !b.SetCard(changes...) {
		return
	}
	said := "zone " + n.Zone
	if _, day, ok := strings.Cut(clock, "T"); ok && len(day) >= 5 {
		said += ": take-off is " + day[:5] + " on the clock there"
	}
	b.Say(said + "; u takes it back")
}

// old are the fields that hold for the place before only, what they are called, and how far off they are doubted.
var old = []struct {
	path, name string
	km         float64
}{{"declination_deg", "declination", farKm}, {"skyline", "skyline", ridgeKm}}

// askOld asks about what was written for the place before.
func askOld(b panel.Bench, card *shot.Card, km float64) {
	var drop []panel.Change
	var names []string
	for _, o := range old {
		if km > o.km && card.Doc.At(o.path).Exists() {
			drop, names = append(drop, panel.Change{Path: o.path}), append(names, o.name)
		}
	}
	if len(drop) == 0 {
		return
	}
	what, were, them := strings.Join(names, " and the "), "was that", "it"
	if len(drop) > 1 {
		were, them = "were those", "them"
	}
	b.Ask(panel.Question{
		Text: fmt.Sprintf("The %s %s of a place %s from here.", what, were, kilometres(km)),
		Esc:  "keep " + them,
		Choices: []panel.Choice{{Key: "d", Words: "drop " + them, Do: func(b panel.Bench) {
			if b.SetCard(drop...) {
				b.Say("without the " + what + " now; u takes it back")
			}
		}}},
	})
}

// kilometres says a distance as roughly as it is meant.
func kilometres(km float64) string {
	if km < 10 {
		return fmt.Sprintf("%.1f km", km)
	}
	return fmt.Sprintf("%.0f km", math.Round(km))
}
