package picture

import (
	"math"

	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Places are the things of known distance and size in a frame, for its composition. All are drawn over the light
// that is there: they change none of it.
type Places struct {
	Ranges  []Range // nearest first, those whose ground is in the frame
	Subject Bar
	AcrossM float64 // how much level ground the frame is wide, where the camera looks down on it; else 0
	Behind  bool    // the sun would be in the frame, and the card's skyline hides it
}

// Range is a piece of ground at a distance, near both sides of the frame.
type Range struct {
	M float64 // over the ground, from below the aircraft
	Y float64 // of the ground there at RangeX to either side, −1..1 up
}

// RangeX is how far to the side the ranges are told, as a share of half the frame: beside the subject, which mostly
// stands in the middle (ours).
const RangeX = 0.86

var rangesM = [...]float64{50, 100, 200}

// Bar is the subject as an upright: where it stands on the ground and where it ends, −1..1 across and up.
type Bar struct {
	Foot, Top FramePoint // In: in the frame
	TallM     float64
	Taken     bool    // its height is not on the card: taken for a person's
	AwayM     float64 // over the ground
	In        bool    // a part of it is in the frame
}

const (
	personM    = 2.0   // what a subject without a height is drawn as, about a person (ours)
	steepDeg   = -45.0 // looking down more steeply, the frame's width on the ground says more than ranges (ours)
	nearlyFlat = 1e-6
)

// PlacesOf returns what stands in the frame of a view at a moment of a shot.
func PlacesOf(s *shot.Shot, m *shot.Moment, v shot.View, sc *light.Scene) Places {
	var p Places
	h := m.AboveM
	if m.PitchDeg <= steepDeg {
		p.AcrossM = 2 * v.HalfWidth * h / -v.Forward.Z
	} else {
		for _, d := range rangesM {
			if y, ok := groundY(v, h, d); ok {
				p.Ranges = append(p.Ranges, Range{M: d, Y: y})
			}
		}
	}
	if s.Legs[m.Leg].Target != nil {
		p.Subject = barOf(m, v)
	}
	_, _, in := v.Frames(sc.SunDir)
	p.Behind = in && sc.SunDir.Z > 0 && sc.BehindRidge(sc.SunDir)
	return p
}

// groundY returns the height in the frame of level ground h below the camera and d away over the ground, as far to
// the side as [RangeX]. It is not ok when that is outside of the frame.
func groundY(v shot.View, h, d float64) (y float64, ok bool) {
	level := math.Hypot(v.Forward.X, v.Forward.Y)
	if level < nearlyFlat {
		return 0, false
	}
	look := r3.Vec{X: v.Forward.X / level, Y: v.Forward.Y / level}
	at := func(bearing float64) (x, y float64, ok bool) {
		sin, cos := math.Sincos(bearing)
		return v.Project(r3.Add(r3.Add(r3.Scale(d*cos, look), r3.Scale(d*sin, v.Right)), r3.Vec{Z: -h}))
	}
	lo, hi := 0.0, math.Pi/2
	for range 40 {
		mid := (lo + hi) / 2
		if x, _, ok := at(mid); ok && x < RangeX {
			lo = mid
		} else {
			hi = mid
		}
	}
	x, y, ok := at(lo)
	return y, ok && math.Abs(x-RangeX) < 0.01 && math.Abs(y) <= 1
}

func barOf(m *shot.Moment, v shot.View) Bar {
	to := r3.Sub(m.Target, m.Pos)
	b := Bar{AwayM: math.Hypot(to.X, to.Y), TallM: m.Target.Z - (m.Pos.Z - m.AboveM)}
	if b.TallM < personM {
		b.TallM, b.Taken = personM, true
	}
	foot := r3.Vec{X: to.X, Y: to.Y, Z: -m.AboveM}
	top := r3.Add(foot, r3.Vec{Z: b.TallM})
	place := func(d r3.Vec) (p FramePoint, ahead bool) {
		p.X, p.Y, ahead = v.Project(d)
		p.In = ahead && math.Abs(p.X) <= 1 && math.Abs(p.Y) <= 1
		return p, ahead
	}
	var ahead [2]bool
	b.Foot, ahead[0] = place(foot)
	b.Top, ahead[1] = place(top)
	if ahead[0] && ahead[1] {
		b.In = math.Max(math.Abs(b.Foot.X), math.Abs(b.Top.X)) <= 1 && min(b.Foot.Y, b.Top.Y) <= 1 && max(b.Foot.Y, b.Top.Y) >= -1
	}
	return b
}

// Crest returns the row in which land begins in a column of the picture, where that is the card's skyline and not the
// horizon.
func (p *Picture) Crest(column int) (row int, ok bool) {
	end := int(math.Floor((1 - p.Horizon[column]) / 2 * float64(p.H))) // the horizon's own row
	for row < min(end, p.H) {
		if !p.Sky[row*p.W+column] {
			return row, true
		}
		row++
	}
	return 0, false
}

// Half is one half of a frame.
type Half uint8

// The halves.
const (
	LeftHalf Half = iota
	RightHalf
)

// TellingHalf returns the half of the frame in which what the filter takes differs most from place to place: where
// only one half can be shown, that one says more. The left one, unless the right one says clearly more.
func (p *Picture) TellingHalf() Half {
	var sum [2]float64
	mean := p.MeanLoss()
	for k, l := range p.Loss {
		sum[min(1, 2*(k%p.W)/p.W)] += math.Abs(l - mean)
	}
	const clearly, least = 1.1, 0.02 // ours
	if sum[1] > clearly*sum[0]+least*float64(len(p.Loss)) {
		return RightHalf
	}
	return LeftHalf
}
