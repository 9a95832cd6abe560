package plan

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// hoursLeft returns the minutes from take-off until the light runs out as [analysis.lightLeft] does, and while the
// light still grows until it runs out after that, so that a morning can be compared with an afternoon. On an open
// horizon the light falls as long as the sun does, so that it need not be looked at every few minutes.
func (y *analysis) hoursLeft(j *evaluation) float64 {
	ev, limit := y.lightCourse(j)
	start := y.s.TakeOff
	from := start
	for hop := 0; y.sunRises(from); hop++ {
		if ev(from) < limit {
			return from.Sub(start).Minutes()
		}
		if hop == 24 {
			return math.Inf(1)
		}
		from = from.Add(time.Hour)
	}
	if ev(from) < limit {
		return from.Sub(start).Minutes()
	}
	scan, horizon := from, 24*time.Hour
	if len(y.s.Skyline) == 0 && limit > moonlightEV100 {
		horizon = 0
		for next := from.Add(time.Hour); !y.sunRises(scan); scan, next = next, next.Add(time.Hour) {
			if ev(next) < limit {
				horizon = time.Hour
				break
			}
		}
		if horizon == 0 { // the sun's lowest lies in the last two of these hours
			if scan = scan.Add(-2 * time.Hour); scan.Before(from) {
				scan = from
			}
			horizon = 2 * time.Hour
		}
	}
	out, ok := exposure.RunOut(scan, horizon, limit, ev)
	if !ok {
		return math.Inf(1)
	}
	return out.Sub(start).Minutes()
}

// moonlightEV100 is brighter than land under a full moon ever is, which comes and goes as it likes: EV -3 to -2
// (common practice, no source).
const moonlightEV100 = -1

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
		z := hourLight(y.s, shot.PathOfLeg(y.s, i, defaultPerLeg), y.opticsCache)
		z.skyOnly = true // what mirrors the sky is in the meter's light
		k := z.legs[i]
		k.blurWish, k.still, k.bounds = l.blurWish, l.still, l.bounds
		z.placeSamples(k, turnKeys(roughTurnDeg, roughMost)(k, z.path))
		z.readLight(k)
		headroom = min(headroom, z.exposureOf(i, k, j.mounted, j.nNumber, j.loss()).headroom)
	}
	return headroom
}
