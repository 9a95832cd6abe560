package piece

import "testing"

// What is cut off is zero, apart from all else, and cannot grow into its neighbour.
func TestCutsAreApart(t *testing.T) {
	var p []int
	var all [][]int
	for n := range 40 {
		c := Cut(&p, n, 64)
		if len(c) != n || cap(c) != n {
			t.Fatalf("%d of %d", len(c), cap(c))
		}
		for i := range c {
			if c[i] != 0 {
				t.Fatal("not zero")
			}
			c[i] = n
		}
		all = append(all, append(c, -1)) // copies where there is no room
	}
	for n, c := range all {
		for _, x := range c[:n] {
			if x != n {
				t.Fatalf("list %d holds %d", n, x)
			}
		}
	}
	if a, b := One(&p, 4), One(&p, 4); a == b {
		t.Error("one value twice")
	}
}

// A pile gives zero values that are apart from all else, and after a reset the same memory again, zero as before.
func TestPilesAreCutAgain(t *testing.T) {
	var p Pile[int]
	first := map[*int]bool{}
	for round := range 4 {
		var all [][]int
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
			all = append(all, c)
		}
		for n, c := range all {
			for _, x := range c {
				if x != n+1 {
					t.Fatalf("round %d: list %d holds %d", round, n, x)
				}
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
