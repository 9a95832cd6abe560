package plan

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// hoursLeft returns the minutes from take-off until the light runs out as [analysis.lightLeft] does, and while the
// light still grows until it runs out after that, so that a morning can be compared with an afternoon. On an open
// horizon the light falls as long as the sun does, so that it need not be looked at every few minutes.
func (y *analysis) hoursLeft(j *evaluation) float64 {
	z, s := *y, *y.s
	z.s = &s
	for hop := 0; y.sunRises(s.TakeOff); hop++ {
		switch left := z.lightLeft(j); {
		case left < 60:
			return float64(60*hop) + left // not enough yet, or behind a peak again
		case hop == 24:
			return float64(60 * hop)
		}
		s.TakeOff = s.TakeOff.Add(time.Hour)
	}
	return s.TakeOff.Sub(y.s.TakeOff).Minutes() + z.lightLeftClosely(j)
}

// nearLeast is how far above the least a leg's headroom may lie for the leg to be looked at again, stops: a call's own
// is rarely another's than that of these (TestHoursAgreeWithSolve).
const nearLeast = 0.05

// closeHeadroom returns the headroom of a choice as a call has it: the legs with least are read again at all of their
// moments, on both takes, unless the land alone leaves them more than that, or all of their frames are alike.
func (y *analysis) closeHeadroom(j *evaluation) float64 {
	order := make([]int, len(y.legs))
	for i := range order {
		order[i] = i
	}
	rough := func(i int) float64 { return j.legs[i].exposure.headroom }
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(rough(a), rough(b)) })
	headroom := math.Inf(1)
	for _, i := range order {
		l, x := y.legs[i], j.legs[i].exposure
		if rough(i) > rough(order[0])+nearLeast {
			break
		}
		if y.steady(l) {
			headroom = min(headroom, rough(i))
			continue
		}
		if x.other == nil && rough(i)-(x.meter.dark-x.meter.ofLand().dark) > headroom {
			continue
		}
		z := hourLight(y.s, shot.PathOfLeg(y.s, i, defaultPerLeg), y.shared, y.ownMemory())
		z.skyOnly = true // what mirrors the sky is in the meter's light
		k := z.legs[i]
		k.BlurWish, k.Still, k.Bounds = l.BlurWish, l.Still, l.Bounds
		z.placeSamples(k, turnKeys(roughTurnDeg, roughMost)(nil, z.path))
		z.readLight(k)
		headroom = min(headroom, z.exposureOf(i, k, j.Way, j.nNumber, j.Loss()).headroom)
	}
	return headroom
}

// sunRises tells whether the sun comes up over the next minutes.
func (y *analysis) sunRises(t time.Time) bool {
	a, b := sun.At(t, y.s.LatDeg, y.s.LonDeg), sun.At(t.Add(10*time.Minute), y.s.LatDeg, y.s.LonDeg)
	return b.GeometricDeg > a.GeometricDeg
}
