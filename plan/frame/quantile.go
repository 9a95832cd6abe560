package frame

import (
	"math"
	"slices"

	"example.org/skywedge/plan/internal/rank"
)

// quantile returns the two neighbouring values of x between which its quantile p falls by linear
// interpolation of the order statistics, at (n−1)p, and the weight of the upper one. x is reordered.
func quantile(x []float64, p float64) (lo, hi, weight float64) {
	n := len(x)
	at := float64(n-1) * p
	k := min(int(at), n-1)
	rank.Kth(x, k)
	lo = x[k]
	if k == n-1 {
		return lo, lo, 0
	}
	hi = x[k+1]
	for _, v := range x[k+2:] {
		hi = min(hi, v)
	}
	return lo, hi, at - float64(k)
}

// fewInTail is up to how many values in a tail are best kept in order while looking through all.
const fewInTail = 24

// tails returns the k smallest and the k largest values of x, each sorted upwards. It uses buf, and x stays as it is. k
// must be less than half of the count of x.
func tails(x []float64, k int, buf []float64) (low, high []float64) {
	if k > fewInTail {
		return longTails(x, k, buf)
	}
	if cap(buf) < 2*k {
		buf = make([]float64, 2*k)
	}
	low, high = buf[:k], buf[k:2*k]
	for i := range k {
		low[i], high[i] = math.Inf(1), math.Inf(-1)
	}
	for _, v := range x { // nearly all are neither
		if v < low[k-1] {
			i := k - 1
			for ; i > 0 && v < low[i-1]; i-- {
				low[i] = low[i-1]
			}
			low[i] = v
		}
		if v > high[0] {
			i := 0
			for ; i < k-1 && v > high[i+1]; i++ {
				high[i] = high[i+1]
			}
			high[i] = v
		}
	}
	return low, high
}

// longTails is the same for many values: bins of equal width find the few candidates, which costs a third of ordering x by
// selection.
func longTails(x []float64, k int, buf []float64) (low, high []float64) {
	const bins = 64
	lo, hi := x[0], x[0]
	for _, v := range x {
		lo, hi = min(lo, v), max(hi, v)
	}
	upTo, from := hi, lo // a sky without structure: all values are candidates
	if hi > lo {
		var count [bins]uint16
		scale := bins * (1 - 1e-9) / (hi - lo)
		for _, v := range x {
			count[uint((v-lo)*scale)%bins]++
		}
		// One bin more than is needed keeps rounding at the edges out of it.
		upTo = lo + float64(edge(count[:], k, func(i int) int { return i })+2)/scale
		from = hi - float64(edge(count[:], k, func(i int) int { return bins - 1 - i })+2)/scale
	}
	buf = buf[:0]
	for _, v := range x {
		if v <= upTo {
			buf = append(buf, v)
		}
	}
	n := len(buf)
	for _, v := range x {
		if v >= from {
			buf = append(buf, v)
		}
	}
	low, high = buf[:n], buf[n:]
	slices.Sort(low)
	slices.Sort(high)
	return low[:k], high[len(high)-k:]
}

// edge returns how many whole bins, in the order of at, hold fewer than k values.
func edge(count []uint16, k int, at func(int) int) int {
	sum := 0
	for i := range count {
		if sum += int(count[at(i)]); sum >= k {
			return i
		}
	}
	return len(count)
}
