package light

import (
	"math"

	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
)

// Edge is what parts the light between some lines of sight into pieces.
type Edge uint8

// The edges. A level one is met on the way up, one of a spot on every way.
const (
	NoEdge    Edge = iota
	LevelEdge      // the horizon, or the ridge
	SpotEdge       // the sun, or what it makes in water
)

// EdgeIn tells whether the light between four lines of sight, the corners of a rectangle of the frame, may have an
// edge in it, so that it cannot be told from a few lines between them. Where it says no, each of them meets the same
// (sky, land or the card's ridge), and what varies between them is no narrower than a quarter of their distance; it
// may say yes where there is none. It asks for no light.
func (sc *Scene) EdgeIn(corner *[4]r3.Vec, sun *Disc) Edge {
	mid := r3.Add(r3.Add(corner[0], corner[1]), r3.Add(corner[2], corner[3]))
	mid = r3.Scale(1/math.Sqrt(dot(mid, mid)), mid)
	low, high, cosR := 1.0, -1.0, 1.0 // cosR: of the cone about the middle that holds all of it
	for i := range corner {
		low, high, cosR = min(low, corner[i].Z), max(high, corner[i].Z), min(cosR, dot(mid, corner[i]))
	}
	// Between two lines at one altitude the straight way of the frame bends up above the level, down below it.
	bend := max(high, -low) * (1 - cosR)
	sinR := math.Sqrt(max(0, 1-cosR*cosR))
	near := func(d r3.Vec, cosEdge float64) bool {
		return dot(mid, d) >= cosR*cosEdge-sinR*math.Sqrt(max(0, 1-cosEdge*cosEdge))
	}
	if sc.SunSeen && near(sc.SunDir, sun.cosEdge) {
		return SpotEdge
	}
	if r := sc.ridge; r != nil && low-bend < r.highest && high+bend > -r.foot {
		least, most := r.between(corner)
		switch {
		case most == 0 || low-bend >= most: // beside it, or above
		case least > 0 && high+bend < least && low-bend > -r.foot: // all of it
			return NoEdge
		default:
			return LevelEdge
		}
	}
	dip := -sc.Distance.SinDip
	switch {
	case low-bend >= dip:
		return NoEdge
	case high+bend >= dip:
		return LevelEdge
	case sc.mirror == nil || !sc.SunSeen:
		return NoEdge
	case sc.surface.Sigma2 == 0:
		if near(r3.Vec{X: sc.SunDir.X, Y: sc.SunDir.Y, Z: -sc.SunDir.Z}, 1-water.SunSolidAngle/(2*math.Pi)) {
			return SpotEdge
		}
		return NoEdge
	}
	return sc.glitterIn(corner, sinR)
}

// glitterIn tells whether the sun's way over rough water is so narrow that it could pass between lines sinR from the
// middle of the corners. Across the sun's azimuth it is a bell curve, as wide as the slopes times the height of the facet's
// normal (see [water.Surface.GlintParts]).
func (sc *Scene) glitterIn(corner *[4]r3.Vec, sinR float64) Edge {
	left, right, low := math.Inf(1), math.Inf(-1), 1.0
	for i := range corner {
		d := &corner[i]
		across := d.X*sc.cosA - d.Y*sc.sinA
		left, right, low = min(left, across), max(right, across), min(low, -d.Z)
	}
	wide := math.Sqrt(sc.surface.Sigma2) * (sc.SunDir.Z + low)
	if left > 3*wide || right < -3*wide || wide > sinR {
		return NoEdge
	}
	return SpotEdge
}

// between returns the lowest and the highest sine of the skyline's altitude between four lines of sight, 0 where the
// horizon is open.
func (r *Skyline) between(corner *[4]r3.Vec) (least, most float64) {
	first := math.Atan2(corner[0].X, corner[0].Y)
	from, to := 0.0, 0.0
	for _, d := range corner[1:] {
		off := math.Remainder(math.Atan2(d.X, d.Y)-first, 2*math.Pi)
		from, to = min(from, off), max(to, off)
	}
	if to-from > math.Pi/2 { // about straight up or down every azimuth may be in it
		from, to = 0, 2*math.Pi
	}
	const places = len(r.sinAlt) - 1
	const scale = float64(places) / (2 * math.Pi)
	least = 1
	for i := int(math.Floor((first + from) * scale)); i <= int(math.Ceil((first+to)*scale)); i++ {
		top := r.sinAlt[(i%places+places)%places]
		least, most = min(least, top), max(most, top)
	}
	return least, most
}
