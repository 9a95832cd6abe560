package light

import (
	"math"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// Hazier returns the weather so many classes hazier, or clearer with a negative number; between two
// classes a visibility keeps its place, and beyond the last ones it stays.
func Hazier(w shot.Weather, classes int) shot.Weather {
	list := sun.Hazes()
	n := len(list) - 1
	at := 0.0 // place in the list, clearest first
	for i := range n {
		a, b := list[i].VisibilityKm, list[i+1].VisibilityKm
		if w.VisibilityKm < a {
			at = float64(i) + min(1, math.Log(a/w.VisibilityKm)/math.Log(a/b))
		}
	}
	to := min(max(at+float64(classes), 0), float64(n))
	i := min(int(to), n-1)
	a, b := list[i].VisibilityKm, list[i+1].VisibilityKm
	w.VisibilityKm = a * math.Pow(b/a, to-float64(i))
	return w
}

// Cloudier returns the weather with so much more cloud, or less with a negative number.
func Cloudier(w shot.Weather, byPct float64) shot.Weather {
	w.CloudPct = min(100, max(0, w.CloudPct+byPct))
	return w
}
