package ridge

import (
	"math"
	"slices"
)

// How a line is thinned (ours). The card's points are joined by straight lines, across 90° at most.
const (
	thinDeg   = 0.1 // a thinned line may leave the full one by so much
	widestDeg = 60
	MostThin  = 360 // points that a card takes
)

// lowestDeg is the lowest altitude that a card takes; the sea seen from the highest summit lies 3° down.
const lowestDeg = -10

// Thin returns the line in as few points as leave it by no more than 0.1° anywhere, or by more where 360 would not do, and
// by how much it does. Bearings have one decimal, altitudes two, as a card is written.
func (l *Line) Thin() (points [][2]float64, worst float64) {
	full := make([]float64, count)
	for i, d := range l.Deg {
		full[i] = math.Round(100*max(lowestDeg, d)) / 100
	}
	tolerance := thinDeg - 0.005 // what rounding takes
	keep := thinned(full, tolerance)
	for len(keep) > MostThin {
		tolerance *= 1.1
		keep = thinned(full, tolerance)
	}
	for k, i := range keep {
		points = append(points, [2]float64{math.Round(10*float64(i)/perDegree) / 10, full[i]})
		next := keep[(k+1)%len(keep)]
		if next <= i {
			next += count
		}
		for j := i; j < next; j++ {
			worst = max(worst, math.Abs(between(full, i, next, j)-l.Deg[j%count]))
		}
	}
	return points, worst
}

// between returns the altitude at a step on the straight line between two others, which may lie beyond north.
func between(full []float64, from, to, at int) float64 {
	a, b := full[from%count], full[to%count]
	return a + (b-a)*float64(at-from)/float64(to-from)
}

// thinned halves the circle at its highest point, and each part where it leaves the straight line most, until none leaves
// it by more than the tolerance (Douglas & Peucker 1973, upright distances).
func thinned(full []float64, tolerance float64) []int {
	first := 0
	for i, d := range full {
		if d > full[first] {
			first = i
		}
	}
	keep := []int{first}
	var split func(from, to int)
	split = func(from, to int) {
		at, most := (from+to)/2, 0.0
		for i := from + 1; i < to; i++ {
			if d := math.Abs(between(full, from, to, i) - full[i%count]); d > most {
				at, most = i, d
			}
		}
		if most <= tolerance && to-from <= widestDeg*perDegree {
			return
		}
		if most <= tolerance {
			at = (from + to) / 2
		}
		split(from, at)
		keep = append(keep, at%count)
		split(at, to)
	}
	split(first, first+count)
	slices.Sort(keep)
	return keep
}
