package walk

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Walk is the shot as it is carried to the take-off place: what to screw on, and leg by leg what to
// set, what to expect and when to look out.
type Walk []WalkFlight

// WalkFlight is what stays the same from take-off to landing.
type WalkFlight struct {
	Filter string  // "no filter" for bare
	Ring   string  // where the mark stands, on the clock; "" without a ring to set
	Change string  // what the landing before it is for; "" for the first
	WBK    float64 // white balance to lock, kelvin; 0 where its legs want different ones
	Legs   []WalkLeg
}

// WalkLeg is one leg in short words. Shutter, ISO and white balance are locked for it.
type WalkLeg struct {
	Leg      int // counted from 0
	Start    time.Time
	Move     string // what the aircraft does: name, true headings, how
	Name     string // the move, and what it is for where that is no video
	True     string // headings from true north: "330° to 60°"
	Magnetic string // the same from magnetic north; "" where the card has no declination
	How      string // heights, seconds, takes
	Shutter  string // that the camera has
	ISO      string // that the camera has
	WBK      float64
	Short    string // that it cannot be exposed, and by how much; "" where it can
	Meter    string // what the camera's own meter shows where that is off zero: "meter at +2⅓"; else ""
	Drift    string // how the light moves meanwhile: "⅔ stop darker by the end"; "" where nobody sees it
	Expect   []string
	LookOut  []string
}

// Of returns the shot leg by leg.
func Of(r *plan.Report) Walk {
	var w Walk
	for i := range r.Flights {
		f := &r.Flights[i]
		p := WalkFlight{Filter: words.FilterTitle(f.Filter, f.SettingStops), Change: f.Change}
		if f.HasRing {
			p.Ring = kit.Clock(f.RingDeg)
		}
		for _, leg := range f.Legs {
			if leg < len(r.Legs) {
				p.Legs = append(p.Legs, walkLeg(r, leg, f))
			}
		}
		other := func(l WalkLeg) bool { return l.WBK != p.Legs[0].WBK }
		if len(p.Legs) > 0 && !slices.ContainsFunc(p.Legs, other) {
			p.WBK = p.Legs[0].WBK
		}
		w = append(w, p)
	}
	return w
}

// expectMeter begins the note about what the meter will show.
const expectMeter = "expect the meter at "

func walkLeg(r *plan.Report, leg int, f *plan.Flight) WalkLeg {
	l, s := &r.Legs[leg], &r.Shot.Legs[leg]
	w := WalkLeg{Leg: leg, Name: nameWords(l), True: headingWords(l, s, 0), How: howWords(s, r.Shot.Takes), LookOut: slices.Clone(l.LookOut)}
	w.Move = w.Name + ", " + w.True + ", " + w.How
	if d := r.Shot.DeclinationDeg; d != nil {
		w.Magnetic = headingWords(l, s, *d)
	}
	meter := ""
	for _, n := range l.Notes {
		switch {
		case slices.Contains(l.LookOut, n):
		case strings.HasPrefix(n, expectMeter):
			meter = strings.TrimPrefix(n, "expect the ") // said with what is locked, and with its cause
		case strings.HasSuffix(n, " by the end"), strings.HasPrefix(n, "the light moves by "):
			// said as the drift
		default:
			w.Expect = append(w.Expect, n)
		}
	}
	first, last := -1, -1
	for i := range r.Path {
		if r.Path[i].Leg == leg {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first >= 0 {
		w.Start = r.Shot.Local(r.Path[first].Time[0])
	}
	w.Shutter, w.ISO = advice.Settable(r, l.Shutter, l.ISO, l.Purpose == shot.Video)
	w.WBK = l.WBK
	w.Short, w.Drift = advice.Short(r, leg), driftWords(r, leg)
	if w.Short == "" {
		if w.Meter = meterWords(l.MeterStops); strings.HasPrefix(meter, w.Meter+":") && w.Meter != "" {
			w.Meter = meter
		}
	}
	w.Expect = appendSaid(w.Expect, otherWords(r, leg))
	switch clean := isoOf(r, leg).Clean; {
	case w.Short != "": // says all there is to say of the light
	case l.ISO.OK && l.ISO.Max > clean*math.Exp2(setting.StepSlack):
		w.LookOut = append(w.LookOut, "noise: ISO is above its clean "+exposure.FormatISO(clean))
	case first >= 0:
		w.LookOut = appendSaid(w.LookOut, cleanWords(r, leg, f, &r.Path[first], &r.Path[last]))
	}
	w.LookOut = appendSaid(w.LookOut, splitWords(r, leg))
	if w.Short == "" {
		w.LookOut = append(w.LookOut, toneWords(l)...)
	}
	w.LookOut = appendSaid(w.LookOut, bandWords(r, leg))
	w.LookOut = append(w.LookOut, sunWords(r, leg)...)
	if l.Move.Blind() {
		w.LookOut = append(w.LookOut, "it flies where the camera does not look")
	}
	return w
}

// appendSaid appends a text where there is one.
func appendSaid(list []string, text string) []string {
	if text == "" {
		return list
	}
	return append(list, text)
}

// nameWords names the move of a leg.
func nameWords(l *plan.LegReport) string {
	if l.Purpose != shot.Video {
		return string(l.Move) + ", " + string(l.Purpose)
	}
	return string(l.Move)
}

// headingWords says where a leg's camera looks, from a north that lies so many degrees east of the true one.
func headingWords(l *plan.LegReport, s *shot.Leg, declinationDeg float64) string {
	at := func(deg float64) string {
		return fmt.Sprintf("%.0f°", angle.Wrap360(math.Round(angle.Wrap360(deg-declinationDeg))))
	}
	text := at(l.Heading[0])
	if math.Abs(s.Heading.By) >= 0.5 {
		text += " to " + at(l.Heading[1])
		switch { // the shorter way goes without saying
		case s.Heading.By >= 180:
			text += " clockwise"
		case s.Heading.By <= -180:
			text += " anticlockwise"
		}
	}
	return text
}

// howWords says how high, how long and how often a leg is flown.
func howWords(s *shot.Leg, takes int) string {
	from, to := fmt.Sprintf("%.0f", s.Height[0]), fmt.Sprintf("%.0f", s.Height[1])
	text := fmt.Sprintf("%s m up, %.0f s", words.FromTo(from, to), s.Seconds)
	if takes > 1 {
		text += fmt.Sprintf(", %d takes", takes)
	}
	return text
}
