package plan

// quantile gives the two neighbouring values of x between which its quantile p falls, and the
// weight of the upper one. With linear set it counts as linear interpolation of the order
// statistics does, at (n−1)p; otherwise at np − ½ (Hazen 1914), which takes each value for the
// middle of its share and is free of bias when x is a thinned sample. x is reordered.
func quantile(x []float64, p float64, linear bool) (lo, hi, weight float64) {
	n := len(x)
	at := float64(n-1) * p
	if !linear {
		at = max(0, min(float64(n-1), float64(n)*p-0.5))
	}
	k := min(int(at), n-1)
	selectKth(x, k)
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

// selectKth reorders x so that x[k] is what it would be if x were sorted, with nothing larger
// before it and nothing smaller after it (Hoare's FIND, 1961).
func selectKth(x []float64, k int) {
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

// median3 gives the middle one of three values.
func median3(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
