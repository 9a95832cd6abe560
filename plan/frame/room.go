package frame

import (
	"example.org/skywedge/plan/internal/piece"
	"example.org/skywedge/plan/water"
)

// Room is memory that frames are laid out in, many in a piece: a flight has hundreds of small lists that live and die
// together. A nil Room makes every list apart. One worker uses it at a time.
type Room struct {
	floats piece.Pile[float64]
	rays   piece.Pile[water.Stokes]
	lits   piece.Pile[Lit]
	once   []float64 // of no use when its user returns
}

// Reset takes back all that the room gave: nobody may look at it any more.
func (r *Room) Reset() {
	r.floats.Reset()
	r.rays.Reset()
	r.lits.Reset()
}

const (
	roomFloats = 4096 // in a piece
	roomRays   = 512
	roomLits   = 8
)

// Floats returns n numbers, whatever they are.
func (r *Room) Floats(n int) []float64 {
	if r == nil {
		return make([]float64, n)
	}
	return r.floats.Any(n, roomFloats)
}

func (r *Room) stokes(n int) []water.Stokes {
	if r == nil {
		return make([]water.Stokes, n)
	}
	return r.rays.Any(n, roomRays)
}

func (r *Room) lit() *Lit {
	if r == nil {
		return new(Lit)
	}
	return r.lits.One(roomLits)
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
