package shot

import (
	"math"

	"example.org/skywedge/plan/internal/angle"
)

// What changes the picture as much as so many degrees of heading: a degree of pitch, which brings the
// horizon and with it the sky into the frame, and a doubling of the height above the ground (ours).
const (
	pitchCounts  = 4
	heightCounts = 30
)

// Keys adds to a list those moments of a leg, by their number, at which the picture is worth a look: its ends, and as many
// more, evenly, that the camera turns by no more than perDeg between two; so many at most.
func Keys(list []int, ms []Moment, perDeg float64, most int) []int {
	var turn float64
	for i := 1; i < len(ms); i++ {
		a, b := &ms[i-1], &ms[i]
		turn += math.Abs(angle.Wrap180(b.HeadingDeg-a.HeadingDeg)) + pitchCounts*math.Abs(b.PitchDeg-a.PitchDeg)
		turn += heightCounts * math.Abs(math.Log2(max(b.AboveM, 1)/max(a.AboveM, 1)))
	}
	n := max(2, min(len(ms), most, 1+int(math.Ceil(turn/perDeg))))
	had := len(list)
	for i := range n {
		k := int(math.Round(float64(i) * float64(len(ms)-1) / float64(n-1)))
		if len(list) == had || k > list[len(list)-1] {
			list = append(list, k)
		}
	}
	return list
}
