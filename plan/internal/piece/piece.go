// Package piece cuts short lists off long pieces of memory: hundreds of lists that live and die together then cost a few
// allocations. What was cut off is never given back, and one worker cuts at a time.
package piece

// Cut returns n zero values off a piece; where that is too short, off a new one of so many at least.
func Cut[T any](piece *[]T, n, size int) []T {
	if n > len(*piece) {
		*piece = make([]T, max(n, size))
	}
	cut := (*piece)[:n:n]
	*piece = (*piece)[n:]
	return cut
}

// One returns one zero value off a piece.
func One[T any](piece *[]T, size int) *T { return &Cut(piece, 1, size)[0] }
