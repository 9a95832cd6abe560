// Package taken begins a shot from a picture: at its place, at its moment and, where it tells one, along its heading.
//
// The one hard idea: what a picture does not tell is taken from where any new shot begins, and each value is said with
// where it is from. A moment without an offset is no instant: it is a clock, and taken for that of the place.
package taken

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/zone"
)

// Picture is one that a shot can begin from.
type Picture struct {
	File  string // its path
	Tells *photo.Picture
}

// ErrNothing refuses a picture that tells neither where nor when.
var ErrNothing = errors.New("it tells neither its place nor its time: give it as the camera wrote it, or begin a shot with o in the workbench")

// Begins returns [ErrNothing] of a picture that no shot can begin from.
func (p *Picture) Begins() error {
	if p.Tells.LatDeg == nil && p.Tells.Clock.IsZero() {
		return ErrNothing
	}
	return nil
}

// Name is what the picture is called, without its folder.
func (p *Picture) Name() string { return field.Clean(filepath.Base(p.File), 60) }

// Here is what a new shot begins with where the picture does not tell it.
type Here struct {
	Start shot.Start   // its place may be nobody's: (0, 0) without a zone
	Lent  bool         // the place is none of the pilot's
	Now   time.Time    //
	Cards []*shot.Card // that lie open beside it: a declination is taken from a near one
}

// Shot is a card that was begun from a picture.
type Shot struct {
	Card    *shot.Card
	Said    string    // what is from the picture and what is not, in one line that may be cut: first what is to be done about it
	Taken   time.Time // zero where the picture does not tell
	Placed  bool      // the place is the picture's
	Instant bool      // the take-off is one, whatever the zone; else it is a clock's reading
}

// nearKm is how far a declination is good for: over so far it changes by some tenths of a degree (ours).
const nearKm = 50

// mostEast is how far the clocks of the easternmost zone are ahead of UTC (time zone database), and then some.
const mostEast = 15 * time.Hour

// Begin makes the card.
func Begin(p *Picture, here Here) (Shot, error) {
	t, start := p.Tells, here.Start
	out := Shot{Instant: t.HasOffset || t.Clock.IsZero(), Placed: t.LatDeg != nil}
	var asks, from, lacks []string // what is to be done first, what is from the picture, what is not
	at := place.Point{LatDeg: start.LatDeg, LonDeg: start.LonDeg}
	if out.Placed {
		at = place.Point{LatDeg: *t.LatDeg, LonDeg: *t.LonDeg}
		zone, chosen := zoneOf(at, t, here.Now)
		start.LatDeg, start.LonDeg, start.Zone = at.LatDeg, at.LonDeg, zone
		from = append(from, "place")
		if chosen {
			from = append(from, "zone "+zone+" by its offset "+t.Clock.Format("-07:00"))
		}
	} else {
		asks = append(asks, noPlace(here))
	}
	in, err := shot.LoadZone(start.Zone)
	if err != nil {
		in = time.UTC
	}
	if t.Clock.IsZero() {
		start.TakeOff = here.Now.Truncate(time.Minute)
		what := "no time: take-off is now"
		if next, ok := hours.NextLight(at.LatDeg, at.LonDeg, start.TakeOff); ok {
			start.TakeOff = next
			what = "no time: it is night, take-off at the next low sun, " + next.In(in).Format("2 Jan 15:04")
		}
		lacks = append(lacks, what)
	} else {
		out.Taken = t.At(in).Truncate(time.Minute)
		start.TakeOff = out.Taken
		what := "take-off " + out.Taken.In(in).Format("2 Jan 2006 15:04")
		switch {
		case t.HasOffset:
		case start.Zone == "":
			what += " by the clock there"
		default:
			what += " by the clock of " + start.Zone
		}
		from = append(from, what)
		ahead := time.Minute
		if !out.Placed && !t.HasOffset {
			ahead = mostEast // it may be a clock from far in the east
		}
		if out.Taken.Sub(here.Now) > ahead {
			asks = append(asks, "its time is yet to come: is the camera's clock right?")
		}
	}
	declination, corrected := "", (*float64)(nil)
	if t.HeadingDeg == nil {
		lacks = append(lacks, "no heading: it is north")
	} else {
		if t.MagneticNorth {
			declination, corrected = declinationNear(at, here.Cards)
		}
		heading, words := headingOf(t, corrected)
		start.Heading = heading
		from = append(from, words)
	}
	name := p.Name()
	start.Name = strings.TrimSuffix(name, filepath.Ext(name))
	out.Said = strings.Join(slices.Concat(asks, []string{"from " + name + ": " + strings.Join(from, ", ")}, lacks), "; ")
	out.Card, err = cardOf(start, name, from, declination)
	return out, err
}

// zoneOf returns the zone of the nearest town, but of one of the others near where that alone keeps the offset which the
// picture has; chosen tells of that.
func zoneOf(at place.Point, t *photo.Picture, now time.Time) (name string, chosen bool) {
	when := t.Clock
	if when.IsZero() {
		when = now
	}
	near := zone.Nearest(at, when)
	if len(near) == 0 {
		return "", false
	}
	if t.HasOffset {
		_, s := t.Clock.Zone()
		for i, n := range near {
			if n.Offset == time.Duration(s)*time.Second {
				return n.Zone, i > 0
			}
		}
	}
	return near[0].Zone, false
}

func noPlace(here Here) string {
	switch {
	case here.Start.Zone == "":
		return "no place: Enter, then paste it"
	case here.Lent:
		return "no place, this is the demo's: Enter, then paste yours"
	}
	return "no place, this is the last one: Enter, then paste another"
}

// Ago says how long ago something was.
func Ago(d time.Duration) string {
	days := math.Round(d.Hours() / 24)
	switch {
	case d < 2*time.Minute:
		return "just now"
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f min ago", d.Minutes())
	case d < 36*time.Hour:
		return fmt.Sprintf("%.0f h ago", d.Hours())
	case days < 2*365:
		return fmt.Sprintf("%.0f days ago", days)
	}
	return fmt.Sprintf("%.0f years ago", days/365.25)
}

// headingOf writes the heading of a picture as a card has it, from true north where that can be known, to a whole degree:
// no compass in a camera is better.
func headingOf(t *photo.Picture, declination *float64) (text, words string) {
	whole := func(deg float64) string {
		return fmt.Sprintf("%.0f", math.Mod(math.Round(math.Mod(deg+720, 360)), 360))
	}
	text = whole(*t.HeadingDeg)
	switch {
	case !t.MagneticNorth:
		return text, "heading " + text + "°"
	case declination == nil:
		return text, "heading " + text + "° from magnetic north: add your declination"
	}
	true := whole(*t.HeadingDeg + *declination)
	return true, "heading " + true + "° (" + text + "° from magnetic north)"
}

// declinationNear returns the declination of a card whose take-off is near, as it is written there and as a number.
func declinationNear(at place.Point, cards []*shot.Card) (text string, deg *float64) {
	const path = "declination_deg"
	for _, c := range cards {
		if p, ok := c.Point(); !ok || p.KmTo(at) > nearKm {
			continue
		}
		if text := c.Doc.At(path).Text(); text != "" {
			if v, ok := c.Doc.SpecAt(path).Float(text); ok {
				return text, &v
			}
		}
	}
	return "", nil
}

// cardOf writes the card, with a note of where it is from.
func cardOf(start shot.Start, name string, from []string, declination string) (*shot.Card, error) {
	card, faults := shot.ReadCard(name, shot.NewCard(start))
	if card == nil || card.Doc == nil {
		return nil, faults
	}
	for _, c := range [][2]string{{"notes", "from " + name + ": " + strings.Join(from, ", ")}, {"declination_deg", declination}} {
		if c[1] == "" {
			continue
		}
		if next, _ := card.Set(c[0], c[1]); next != nil {
			card = next
		}
	}
	return card, nil
}
