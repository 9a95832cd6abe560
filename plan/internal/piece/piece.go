// Package piece cuts short lists off long pieces of memory: hundreds of lists that live and die together then cost a few
// allocations. One worker cuts at a time.
package piece

// Pile gives lists cut off pieces of memory, keeps the pieces, and cuts them again when all that was cut off is of no use any
// more. The zero value is ready.
type Pile[T any] struct {
	pieces [][]T
	at     int // which of them is cut from
	left   []T
	used   bool // before, so that what is cut off must be made zero
}

// Cut returns n zero values; where there is no room, off a new piece of so many at least.
func (p *Pile[T]) Cut(n, size int) []T {
	for n > len(p.left) {
		if p.at++; p.at >= len(p.pieces) {
			p.pieces = append(p.pieces, make([]T, max(n, size)))
			p.at = len(p.pieces) - 1
			fresh := p.pieces[p.at]
			p.left = fresh[n:]
			return fresh[:n:n]
		}
		p.left = p.pieces[p.at]
	}
	cut := p.left[:n:n]
	p.left = p.left[n:]
	if p.used {
		clear(cut)
	}
	return cut
}

// Any is the same but for what the values are: anything.
func (p *Pile[T]) Any(n, size int) []T {
	used := p.used
	p.used = false
	cut := p.Cut(n, size)
	p.used = used
	return cut
}

// One returns one zero value.
func (p *Pile[T]) One(size int) *T { return &p.Cut(1, size)[0] }

// Reset takes back all that was cut off: nobody may look at it any more.
func (p *Pile[T]) Reset() {
	p.at, p.used = 0, true
	if p.left = nil; len(p.pieces) > 0 {
		p.left = p.pieces[0]
	}
}
