package compass

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
)

// Spot is a place on the ground, in metres east and north of the take-off point.
type Spot struct{ East, North float64 }

// Overhead is one moment of a flight seen from above.
type Overhead struct {
	Spot
	UpM        float64 // above the take-off point
	HeadingDeg float64
	FlightS    float64
}

// LegAbove is a leg seen from above.
type LegAbove struct {
	Leg       int
	Points    []Overhead // in the order of the flight, two at least
	HasTarget bool
	Target    [2]Spot // where the subject is at the leg's start and at its end
}

// Above is the flight drawn from above.
type Above struct {
	Legs     []LegAbove
	Min, Max Spot // around the take-off point, the ways and the subjects
}

// FromAbove lays the flight out on the ground.
func FromAbove(r *plan.Report) *Above {
	a := new(Above)
	for i := range r.Path {
		m := &r.Path[i]
		if i == 0 || m.Leg != r.Path[i-1].Leg {
			a.Legs = append(a.Legs, LegAbove{Leg: m.Leg, HasTarget: r.Shot.Legs[m.Leg].Target != nil})
		}
		l := &a.Legs[len(a.Legs)-1]
		l.Points = append(l.Points, Overhead{a.around(m.Pos.X, m.Pos.Y), m.Pos.Z, m.HeadingDeg, m.FlightS})
		if l.HasTarget {
			at := a.around(m.Target.X, m.Target.Y)
			if len(l.Points) == 1 {
				l.Target[0] = at
			}
			l.Target[1] = at
		}
	}
	return a
}

// around widens the extents by a place and gives the place.
func (a *Above) around(east, north float64) Spot {
	a.Min.East, a.Max.East = min(a.Min.East, east), max(a.Max.East, east)
	a.Min.North, a.Max.North = min(a.Min.North, north), max(a.Max.North, north)
	return Spot{east, north}
}

// WidthM and HeightM give the size of the extents in metres.
func (a *Above) WidthM() float64 { return a.Max.East - a.Min.East }

// HeightM returns the size from south to north.
func (a *Above) HeightM() float64 { return a.Max.North - a.Min.North }

// HalfWidthDeg returns half the horizontal field of view on a leg, in degrees.
func HalfWidthDeg(r *plan.Report, leg int) float64 {
	l := &r.Shot.Legs[leg]
	w, _ := shot.HalfField(r.Shot.Camera, l.Mode, l.Purpose != shot.Video)
	return math.Atan(w) * 180 / math.Pi
}
