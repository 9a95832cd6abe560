package hours

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// OffWant is how the light of a flight differs from the light wanted.
type OffWant struct {
	sunDeg float64 // how far the sun stands above the heights wanted, degrees; negative below, 0 within
	side   bool    // it stands on the wrong side
	ridge  bool    // it stands behind the ridge
	Stops  float64 // what that costs, 0 to 3
}

// OffWantOf holds a flight's light against a light wanted.
func OffWantOf(w shot.Want, s *shot.Shot, path []shot.Moment) OffWant {
	at := s.MiddleSun()
	alt := at.AltitudeDeg
	o := OffWant{sunDeg: w.DegreesOutside(alt), side: !w.SideMet(s.Legs, path)}
	o.ridge = w.Itself && alt > 0 && s.SunBehindSkyline(at)
	o.Stops = w.Stops(o.sunDeg, !o.side && !o.ridge) // a sun that is not there lights no side
	if alt < w.SunHeightDeg[0] {
		o.sunDeg = -o.sunDeg
	}
	return o
}

// Words says what is off, "" for nothing.
func (o OffWant) Words(w shot.Want) string {
	var text string
	switch {
	case o.sunDeg > 0:
		text = "sun " + degrees(o.sunDeg) + " above the light wanted"
	case o.sunDeg < 0:
		text = "sun " + degrees(o.sunDeg) + " below the light wanted"
	}
	switch {
	case o.ridge:
		if text != "" {
			text += ", "
		}
		text += "the sun behind the ridge"
	case o.side:
		if text != "" {
			text += ", "
		}
		text += "not " + string(w.Side) + " light"
	}
	return text
}

// degrees writes a difference without its sign.
func degrees(x float64) string {
	if x = math.Abs(x); x < 0.95 {
		return "less than 1°"
	}
	return fmt.Sprintf("%.0f°", x)
}

// heights writes a range of the sun's altitude.
func heights(h [2]float64) string {
	switch {
	case h[0] <= -90:
		return "below " + wholeNumber(h[1]) + "°"
	case h[1] >= 90:
		return "from " + wholeNumber(h[0]) + "°"
	}
	return "at " + wholeNumber(h[0]) + "° to " + wholeNumber(h[1]) + "°"
}

// WantFits tells whether a shot has the light that its card asks for, and why. The path is [shot.Path] of the shot.
// A card that does not ask fits: it wants light as at its own take-off. What [shot.Shot.At] moved to another hour
// is held against the wish of the card.
func WantFits(s *shot.Shot, path []shot.Moment) (fits bool, why string) {
	if s.Want == nil {
		return true, "the card asks for no other light than that of its take-off"
	}
	w := s.Wanted()
	o := OffWantOf(w, s, path)
	asked := "the card asks for the sun " + heights(w.SunHeightDeg)
	if w.Side != shot.SideAny && w.Side != "" {
		asked += " and " + string(w.Side) + " light"
	}
	has := "it stands at " + wholeNumber(math.Round(s.MiddleSun().AltitudeDeg)) + "° in the middle of the first takes"
	if off := o.Words(w); off != "" {
		return false, off + ": " + asked + "; " + has
	}
	return true, asked + "; " + has
}

// lowLightDeg is the sun's altitude from which there is low light: under it dusk or dawn, as the classes of the
// light wanted have it.
const lowLightDeg = 2

// nightDeg is the sun's altitude below which a new shot waits for the light: the end of civil twilight.
const nightDeg = sun.CivilDeg

// NextLight returns when the light is usable next at a place, to the full minute: when the sun, which stands below
// civil twilight now, comes up to where low light begins. ok is false where it is not night now, and where the
// sun does not come up so far within a day.
func NextLight(latDeg, lonDeg float64, now time.Time) (at time.Time, ok bool) {
	low := func(t time.Time) bool { return sun.At(t, latDeg, lonDeg).AltitudeDeg >= lowLightDeg }
	if sun.At(now, latDeg, lonDeg).AltitudeDeg >= nightDeg {
		return time.Time{}, false
	}
	const scan = 10 * time.Minute
	for d := scan; d <= 24*time.Hour; d += scan {
		at := now.Add(d)
		if !low(at) {
			continue
		}
		for at = at.Add(-scan).Truncate(time.Minute); !low(at); {
			at = at.Add(time.Minute)
		}
		return at, true
	}
	return time.Time{}, false
}
