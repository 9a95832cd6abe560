package piece

import "testing"

// A pile gives zero values that are apart from all else, and after a reset the same memory again, zero as before.
func TestPilesAreCutAgain(t *testing.T) {
	var p Pile[int]
	first := map[*int]bool{}
	for round := range 4 {
		var all, grown [][]int
		for n := range 40 {
			c := p.Cut((n*7)%23, 64)
			if len(c) != (n*7)%23 || cap(c) != len(c) {
				t.Fatalf("round %d: %d of %d", round, len(c), cap(c))
			}
			for i := range c {
				if c[i] != 0 {
					t.Fatalf("round %d, list %d: not zero", round, n)
				}
				c[i] = n + 1
				if round == 0 {
					first[&c[i]] = true
				} else if !first[&c[i]] {
					t.Fatalf("round %d, list %d: new memory", round, n)
				}
			}
			all, grown = append(all, c), append(grown, append(c, -1)) // copied where there is no room
		}
		for n, c := range all {
			for _, x := range c {
				if x != n+1 {
					t.Fatalf("round %d: list %d holds %d", round, n, x)
				}
			}
		}
		for n, c := range grown {
			if c[len(c)-1] != -1 {
				t.Fatalf("round %d: list %d grew into another", round, n)
			}
		}
		p.Reset()
	}
	if big := p.Cut(1000, 64); len(big) != 1000 {
		t.Error("what is longer than a piece is not given")
	}
	if a, b := p.One(4), p.One(4); a == b {
		t.Error("one value twice")
	}
}
