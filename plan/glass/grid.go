package glass

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/internal/once"
	"example.org/skywedge/plan/mounting"
	"gonum.org/v1/gonum/spatial/r3"
)

// How much is kept (ours): the largest flight that anybody brings, of 24 legs and 60 filters, needs half of it.
const (
	mostGrids   = 64      // up to 200 kB each, most of them 40
	mostPasses  = 1024    // some kB each
	mostCorners = 4096    // a number each
	mostAnswers = 2 << 20 // floats: 16 MB
)

// gridKey is a grid by its value.
type gridKey struct {
	halfW, halfH float64
	thin         int
}

func keyOf(g *frame.Grid) gridKey { return gridKey{g.HalfW, g.HalfH, g.Thin} }

var grids = once.Most[gridKey, *frame.Grid](mostGrids)

// Grid returns the samples of a lens, whose half field has the tangents halfW and halfH.
func Grid(halfW, halfH float64, thin int) *frame.Grid {
	return grids.Get(gridKey{halfW, halfH, thin}, func() *frame.Grid { return frame.NewGrid(halfW, halfH, thin) })
}

type passesKey struct {
	gridKey
	mount kit.Mount
}

var passing = once.Most[passesKey, []float64](mostPasses)

// Passes returns what a filter lets pass of plain light over a grid, against the middle of the frame: the longer way
// through its glass darkens the rim. Of a pair of sheets the answers say it, and of no glass there is nothing to say: nil.
func Passes(m mounting.Way, g *frame.Grid) []float64 {
	if m.Filter == nil || m.Kind() == kit.Variable {
		return nil
	}
	mount := m.Filter.Mount(0, m.Setting) // any ring, but always the same: it counts for a thousandth at most
	return passing.Get(passesKey{keyOf(g), mount}, func() []float64 {
		whole := 1 / mount.Answer(r3.Vec{Z: 1}).T
		return g.Passes(func(d r3.Vec) float64 { return whole * mount.Answer(d).T })
	})
}

type cornersKey struct {
	halfW, halfH float64
	mount        kit.Mount
	pair         bool
}

var corners = once.Most[cornersKey, float64](mostCorners)

// Corners returns how uneven a filter itself makes a frame of so large a field: its largest less its smallest loss, in stops.
func Corners(m mounting.Way, halfW, halfH float64) float64 {
	pair := m.Kind() == kit.Variable
	if !pair {
		m.Ring = 0 // the pattern of a pair alone turns with it
	}
	return corners.Get(cornersKey{halfW, halfH, m.Filter.Mount(m.Ring, m.Setting), pair}, func() float64 { return m.Spread(halfW, halfH) })
}

// Forget gives back all that is kept.
func Forget() {
	grids.Forget()
	passing.Forget()
	corners.Forget()
	known.forget()
}
