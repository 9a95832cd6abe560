package frame

import (
	"example.org/skywedge/plan/internal/piece"
	"example.org/skywedge/plan/water"
)

// Room is memory that frames are laid out in, many in a piece: a flight has hundreds of small lists that live and die
// together. A nil Room makes every list apart. What it gave is never taken back, and one worker uses it at a time.
type Room struct {
	floats []float64
	rays   []water.Stokes
	lits   []Lit
	sheets []Answers
	once   []float64 // of no use when its user returns
}

const (
	roomFloats = 4096 // in a piece
	roomRays   = 512
	roomLits   = 8
	roomSheets = 32
)

// Floats returns n noughts.
func (r *Room) Floats(n int) []float64 {
	if r == nil {
		return make([]float64, n)
	}
	return piece.Cut(&r.floats, n, roomFloats)
}

func (r *Room) stokes(n int) []water.Stokes {
	if r == nil {
		return make([]water.Stokes, n)
	}
	return piece.Cut(&r.rays, n, roomRays)
}

func (r *Room) answers() *Answers {
	if r == nil {
		return new(Answers)
	}
	return piece.One(&r.sheets, roomSheets)
}

func (r *Room) lit() *Lit {
	if r == nil {
		return new(Lit)
	}
	return piece.One(&r.lits, roomLits)
}

// scratch returns an empty list with room for n.
func (r *Room) scratch(n int) []float64 {
	if r == nil {
		return make([]float64, 0, n)
	}
	if cap(r.once) < n {
		r.once = make([]float64, 0, 2*n)
	}
	return r.once[:0]
}
