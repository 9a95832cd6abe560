// Package rank puts values in as much order as percentiles need.
//
// The one hard idea is that the value at a rank is found without sorting: whatever lies on the other
// side of a pivot need not be looked at again. That takes a quarter of the time for the few hundred
// samples of a frame.
package rank

// Kth reorders x so that x[k] is what it would be if x were sorted, with nothing larger
// before it and nothing smaller after it (Hoare's FIND, 1961).
func Kth(x []float64, k int) {
	lo, hi := 0, len(x)-1
	for lo < hi {
		pivot := median3(x[lo], x[(lo+hi)/2], x[hi])
		i, j := lo, hi
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for pivot < x[j] {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return
		}
	}
}

// median3 returns the middle one of three values.
func median3(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
