package shot

import (
	"math"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/sun"
)

// SunSide is where the light on the subject comes from, as the camera sees it.
type SunSide string

// The sides.
const (
	SideAny   SunSide = "any"
	SideFront SunSide = "front" // the sun stands behind the camera
	SideSide  SunSide = "side"  // beside it
	SideBack  SunSide = "back"  // before it
)

// Where the sides meet, in degrees between the camera's heading and the sun's azimuth (ours).
const (
	backToDeg    = 60
	frontFromDeg = 120
)

// SideOf returns the side that a sun stands on at an azimuth where the camera looks along a heading, both
// in degrees from true north. It is never [SideAny].
func SideOf(headingDeg, sunAzimuthDeg float64) SunSide {
	switch off := math.Abs(angle.Wrap180(sunAzimuthDeg - headingDeg)); {
	case off > frontFromDeg:
		return SideFront
	case off < backToDeg:
		return SideBack
	}
	return SideSide
}

// Want is the light that a shot is for.
type Want struct {
	SunHeightDeg [2]float64 // apparent altitude of the sun, lowest and highest, -90 to 90
	Side         SunSide
	Itself       bool // the sun itself is wanted: behind a ridge it is not there
}

// Classes of light by the sun's apparent altitude in degrees (ours): night, dusk or dawn, low sun, high sun.
var heightClasses = [4][2]float64{{-90, -6}, {-6, 2}, {2, 20}, {20, 90}}

// heightClass returns the range of the sun's altitude that the card's own take-off falls into.
func (s *Shot) heightClass() [2]float64 {
	alt := s.ownly().MiddleSun().AltitudeDeg
	for _, c := range heightClasses[:3] {
		// Night ends below its upper bound, dusk and low sun too: -6° is dusk, 20° is high.
		if alt < c[1] {
			return c
		}
	}
	return heightClasses[3]
}

// ownly is the shot at the card's own take-off.
func (s *Shot) ownly() *Shot {
	own := *s
	if !own.own.IsZero() {
		own.TakeOff = own.own
	}
	return &own
}

// MiddleSun returns where the sun stands in the middle of the first takes: at the mean of the instants half
// way through the first take of each leg, long legs counting for more.
func (s *Shot) MiddleSun() sun.Position {
	var sum, seconds float64
	for i, t := range s.Times().Legs {
		l := s.Legs[i].Seconds
		sum += l * (t.First.Sub(s.TakeOff).Seconds() + l/2)
		seconds += l
	}
	at := s.TakeOff
	if seconds > 0 {
		at = at.Add(time.Duration(sum / seconds * float64(time.Second)))
	}
	return sun.At(at, s.LatDeg, s.LonDeg)
}

// Wanted returns the light that the shot is for. Where the card does not say, that is light of the class
// that the card's own take-off has, on any side: a shot of a low sun is for a low sun, and one behind the ridge can do
// without. What [Shot.At] moves to another hour still wants the light of the card.
func (s *Shot) Wanted() Want {
	if s.Want != nil {
		w := *s.Want
		w.Itself = w.Side != SideAny && w.Side != "" || w.SunHeightDeg[0] >= 0
		return w
	}
	w := Want{SunHeightDeg: s.heightClass(), Side: SideAny}
	w.Itself = w.SunHeightDeg[0] >= 0 && !s.SunBehindSkyline(s.ownly().MiddleSun())
	return w
}

// DegreesOutside returns how far below or above the heights wanted the sun stands, 0 within them.
func (w Want) DegreesOutside(sunAltitudeDeg float64) float64 {
	return math.Max(0, math.Max(w.SunHeightDeg[0]-sunAltitudeDeg, sunAltitudeDeg-w.SunHeightDeg[1]))
}

// SideShare returns for how much of the legs' seconds the sun of the first takes stands on the side wanted,
// 0 to 1. The path is [Path] of these legs, at any hour; between two moments of a leg each counts for half
// of the time.
func (w Want) SideShare(legs []Leg, path []Moment) float64 {
	if w.Side == SideAny || w.Side == "" {
		return 1
	}
	var on, all float64
	count := func(m *Moment, seconds float64) {
		all += seconds
		if SideOf(m.HeadingDeg, m.Sun[0].AzimuthDeg) == w.Side {
			on += seconds
		}
	}
	for i := range path[:max(len(path)-1, 0)] {
		a, b := &path[i], &path[i+1]
		if a.Leg != b.Leg {
			continue
		}
		half := (b.Frac - a.Frac) * legs[a.Leg].Seconds / 2
		count(a, half)
		count(b, half)
	}
	if all == 0 {
		return 0
	}
	return on / all
}

// SideMet tells whether the sun stands on the side wanted for half of the legs' seconds, as
// [Want.SideShare] counts them.
func (w Want) SideMet(legs []Leg, path []Moment) bool {
	const rounding = 1e-9
	return w.SideShare(legs, path) >= 0.5-rounding
}

// What light that is not the light wanted costs (ours).
const (
	wantDegPerStop = 5
	wantSideStops  = 1
	wantMostStops  = 3
)

// Stops returns what it costs a flight that its light is not the light wanted, 0 to 3 stops: a stop for
// each 5° that the sun stands outside the heights wanted, a stop for a wrong side.
func (w Want) Stops(degreesOutside float64, sideMet bool) float64 {
	stops := math.Max(0, degreesOutside) / wantDegPerStop
	if !sideMet {
		stops += wantSideStops
	}
	return math.Min(stops, wantMostStops)
}

// want reads the light that the shot is for. A height that is left out needs the whole flight and is filled
// in at the end.
func (b *builder) want() {
	v := b.root.Get("want")
	if !v.Exists() {
		return
	}
	w := &Want{Side: SunSide(v.Get("sun_side").Word(string(SideAny)))}
	h := v.Get("sun_height_deg")
	w.SunHeightDeg[0], w.SunHeightDeg[1] = h.Pair(0)
	if w.SunHeightDeg[0] > w.SunHeightDeg[1] {
		b.fault(h, field.Quoted(h.Text()), "the lower height first: "+field.Figure(w.SunHeightDeg[1], 3)+" "+field.Figure(w.SunHeightDeg[0], 3))
	}
	b.shot.Want = w
}
