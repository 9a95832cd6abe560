package taken

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/plan/place"
	"example.org/skywedge/sun"
)

// Light is a moment, and where the sun stands then.
type Light struct {
	At                      time.Time
	AltitudeDeg, AzimuthDeg float64
}

// Words says where the sun stands: "8° high at 262°".
func (l Light) Words() string {
	height, at := math.Round(l.AltitudeDeg), math.Mod(math.Round(l.AzimuthDeg), 360)
	switch {
	case height == 0: // or minus nought
		return fmt.Sprintf("on the horizon at %.0f°", at)
	case height < 0:
		return fmt.Sprintf("%.0f° under the horizon at %.0f°", -height, at)
	}
	return fmt.Sprintf("%.0f° high at %.0f°", height, at)
}

func lightAt(at time.Time, p place.Point) Light {
	s := sun.At(at, p.LatDeg, p.LonDeg)
	return Light{at, s.AltitudeDeg, s.AzimuthDeg}
}

// How alike the light of two days has to be (ours): the sun's declination to half of its disc, its bearing to a few.
const (
	sameDeclinationDeg = 0.25
	sameBearingDeg     = 1.5
	hairDeg            = 0.02 // by which the highest noon of a year may miss that of another
)

// Again returns the light of a moment, and when after now it comes again: the first time with the sun as high, rising or
// falling as then, and the first with the sun at the same place of the sky. Where the two are one there is one; at night, and
// where the sun does not come so high, there is none.
func Again(p place.Point, was, now time.Time) (then Light, out []Light) {
	then = lightAt(was, p)
	if then.AltitudeDeg < sun.CivilDeg {
		return then, nil
	}
	rising := rises(was, p)
	next, ok := asHigh(p, then.AltitudeDeg, rising, now)
	if ok {
		out = append(out, next)
		if math.Abs(math.Remainder(next.AzimuthDeg-then.AzimuthDeg, 360)) <= sameBearingDeg {
			return then, out
		}
	}
	// The sun passes the same place when its declination is the same. Nearest a solstice the first such day can be one on
	// which it stays a little lower all day: a later one is as good.
	want := declination(was, p)
	for day := 1; day <= 370; day++ {
		at := now.Add(time.Duration(day) * 24 * time.Hour)
		if math.Abs(declination(at, p)-want) > sameDeclinationDeg {
			continue
		}
		if same, ok := asHigh(p, then.AltitudeDeg-hairDeg, rising, at.Add(-12*time.Hour)); ok {
			out = append(out, same)
			break
		}
	}
	return then, out
}

func rises(at time.Time, p place.Point) bool {
	return lightAt(at.Add(time.Minute), p).AltitudeDeg > lightAt(at, p).AltitudeDeg
}

// asHigh returns when the sun passes an altitude, rising or falling, within a day of a moment, to the minute.
func asHigh(p place.Point, altitudeDeg float64, rising bool, from time.Time) (Light, bool) {
	const step = 10 * time.Minute
	over := func(t time.Time) bool { return (lightAt(t, p).AltitudeDeg >= altitudeDeg) == rising }
	before := over(from)
	for d := step; d <= 24*time.Hour+step; d += step {
		now := over(from.Add(d))
		if now && !before {
			lo, hi := from.Add(d-step), from.Add(d)
			for hi.Sub(lo) > time.Second {
				if mid := lo.Add(hi.Sub(lo) / 2); over(mid) {
					hi = mid
				} else {
					lo = mid
				}
			}
			return lightAt(hi.Round(time.Minute), p), true
		}
		before = now
	}
	return Light{}, false
}

// declination is the sun's, from where it stands: sin δ = sin φ sin h + cos φ cos h cos A.
func declination(at time.Time, p place.Point) float64 {
	s := sun.At(at, p.LatDeg, p.LonDeg)
	sinLat, cosLat := math.Sincos(p.LatDeg * math.Pi / 180)
	sinAlt, cosAlt := math.Sincos(s.GeometricDeg * math.Pi / 180)
	return 180 / math.Pi * math.Asin(max(-1, min(1, sinLat*sinAlt+cosLat*cosAlt*math.Cos(s.AzimuthDeg*math.Pi/180))))
}
