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
var ErrNothing = errors.New("it tells neither its place nor its time, so no shot can begin from it; o in the workbench begins one")

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
	Said    string    // what is from the picture and what is not, in one line; what is to be done about it first
	Taken   time.Time // zero where the picture does not tell
	Placed  bool      // the place is the picture's
	Instant bool      // the take-off is one, whatever the zone; else it is a clock's reading
}

// nearKm is how far a declination is good for: over so far it changes by some tenths of a degree (ours).
const nearKm = 50

// Begin makes the card.
func Begin(p *Picture, here Here) (Shot, error) {
	t, start := p.Tells, here.Start
	out := Shot{Instant: t.HasOffset || t.Clock.IsZero(), Placed: t.LatDeg != nil}
	var from, lacks []string // what is from the picture, what is not
	age := ""
	at := place.Point{LatDeg: start.LatDeg, LonDeg: start.LonDeg}
	if out.Placed {
		at = place.Point{LatDeg: *t.LatDeg, LonDeg: *t.LonDeg}
		start.LatDeg, start.LonDeg, start.Zone = at.LatDeg, at.LonDeg, zoneOf(at, t, here.Now)
		from = append(from, "place")
	} else {
		lacks = append(lacks, noPlace(here))
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
		if !t.HasOffset {
			what += " by the clock of " + in.String()
		}
		from, age = append(from, what), ageWords(here.Now.Sub(out.Taken))
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
	out.Said = said(name, from, lacks, !out.Placed) + age
	out.Card, err = cardOf(start, name, from, declination)
	return out, err
}

// zoneOf returns the zone of the nearest town, but of one of the others near where that alone keeps the offset which the
// picture has.
func zoneOf(at place.Point, t *photo.Picture, now time.Time) string {
	when := t.Clock
	if when.IsZero() {
		when = now
	}
	near := zone.Nearest(at, when)
	if len(near) == 0 {
		return ""
	}
	if t.HasOffset {
		_, s := t.Clock.Zone()
		for _, n := range near {
			if n.Offset == time.Duration(s)*time.Second {
				return n.Zone
			}
		}
	}
	return near[0].Zone
}

func noPlace(here Here) string {
	switch {
	case here.Start.Zone == "":
		return "no place: Enter, then paste it"
	case here.Lent:
		return "no place, and this is the demo's: Enter, then paste it"
	}
	return "no place, and this is your last: Enter, then paste another"
}

// ageWords says how long ago a picture was taken, as the end of a line.
func ageWords(d time.Duration) string {
	if d < -time.Minute {
		return "; taken at a time that is yet to come: is the camera's clock right?"
	}
	return "; taken " + Ago(d)
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
		return text, "heading " + text + "° from magnetic north, not corrected: no declination is known here"
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

// said makes one line of what is from a picture and what is not. A place that is missing comes first: it is asked for.
func said(name string, from, lacks []string, asks bool) string {
	has, hasNot := strings.Join(from, ", "), strings.Join(lacks, ", ")
	switch {
	case asks:
		return name + " tells " + hasNot + "; from it: " + has
	case len(lacks) > 0:
		return "from " + name + ": " + has + "; it tells " + hasNot
	}
	return "from " + name + ": " + has
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
