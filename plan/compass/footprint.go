package compass

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bearing is a direction as a pilot says it, both in degrees.
type Bearing struct{ AzimuthDeg, AltitudeDeg float64 }

// OnMap returns the bearing's place on the map of the sky.
func (b Bearing) OnMap() (x, y float64) {
	return onMap(sun.Direction(b.AzimuthDeg, b.AltitudeDeg))
}

// skyBearing returns the bearing of a unit vector in East-North-Up.
func skyBearing(d r3.Vec) Bearing {
	return Bearing{angle.Wrap360(math.Atan2(d.X, d.Y) * 180 / math.Pi), math.Asin(max(-1, min(1, d.Z))) * 180 / math.Pi}
}

// Footprint is the part of the sky that the frame covers at one end of a leg.
type Footprint struct {
	Leg    int
	End    bool    // of the leg's end; else of its start
	Centre Bearing // of the frame; below the horizon where the camera looks down
	// Outline goes round the sky in the frame clockwise as it appears, from its lower left corner: up
	// the left side, along the top, down the right side and back along the bottom, which is the horizon
	// where that is in the frame. Empty when the frame has no sky.
	Outline []Bearing
	Share   float64 // of the frame's area that is sky, 0..1
}

// edgePoints is how many steps each side of an outline has: straight lines of the picture are bent on a
// map.
const edgePoints = 16

// Footprints returns two for each leg, at its start and at its end, in the order of the legs.
func Footprints(r *plan.Report) []Footprint {
	list := make([]Footprint, 0, 2*len(r.Legs))
	for i := range r.Path {
		first := i == 0 || r.Path[i-1].Leg != r.Path[i].Leg
		last := i == len(r.Path)-1 || r.Path[i+1].Leg != r.Path[i].Leg
		if first || last {
			f := footprint(r.Shot, &r.Path[i])
			f.End = !first
			list = append(list, f)
		}
	}
	return list
}

// FootprintAt returns the one of a second of the flight.
func FootprintAt(r *plan.Report, second float64) Footprint {
	m := r.MomentAt(second)
	return footprint(r.Shot, &m)
}

func footprint(s *shot.Shot, m *shot.Moment) Footprint {
	l := &s.Legs[m.Leg]
	v := shot.NewView(s.Camera, l.Mode, l.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
	f := Footprint{Leg: m.Leg, Centre: Bearing{angle.Wrap360(m.HeadingDeg), m.PitchDeg}}
	// The camera never rolls: the horizon is a level line of the picture, and what is above it the sky.
	bottom := -1.0
	if rise := v.HalfHeight * v.Up.Z; rise > 1e-9 {
		bottom = max(bottom, -v.Forward.Z/rise)
	} else if v.Forward.Z < 0 {
		return f
	}
	if bottom >= 1 {
		return f
	}
	f.Share = (1 - bottom) / 2
	side := func(x0, y0, x1, y1 float64) {
		for i := range edgePoints {
			w := float64(i) / edgePoints
			b := skyBearing(v.Ray(x0+w*(x1-x0), y0+w*(y1-y0)))
			b.AltitudeDeg = max(b.AltitudeDeg, 0) // rounding at the horizon
			f.Outline = append(f.Outline, b)
		}
	}
	side(-1, bottom, -1, 1)
	side(-1, 1, 1, 1)
	side(1, 1, 1, bottom)
	side(1, bottom, -1, bottom)
	return f
}
