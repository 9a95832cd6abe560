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
