// Package runs divides a row of legs into runs that are flown alike.
package runs

import "math"

// Split divides the legs, in their order, into runs with a landing between each two, so that the cost of the
// runs and the landings together is least. cost[m][k] is what the first k legs cost with candidate m, change
// what a landing costs. It returns the number of legs up to the end of each run; of plans that cost the same
// the one with fewer landings.
//
// It is solved by dynamic programming: the cheapest way to fly the first k legs is the cheapest way to fly the
// first i of them and then one run from i to k with its best candidate, for the best i.
func Split(cost [][]float64, change float64) (ends []int) {
	if len(cost) == 0 {
		return nil
	}
	n := len(cost[0]) - 1
	least, from := make([]float64, n+1), make([]int, n+1)
	for k := 1; k <= n; k++ {
		least[k] = math.Inf(1)
		for i := range k {
			run := math.Inf(1)
			for _, m := range cost {
				run = min(run, m[k]-m[i])
			}
			if i > 0 {
				run += change
			}
			if x := least[i] + run; x < least[k]-1e-9 {
				least[k], from[k] = x, i
			}
		}
	}
	for k := n; k > 0; k = from[k] {
		ends = append(ends, k)
	}
	for i, j := 0, len(ends)-1; i < j; i, j = i+1, j-1 {
		ends[i], ends[j] = ends[j], ends[i]
	}
	return ends
}
