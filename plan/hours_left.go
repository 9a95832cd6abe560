package plan

import (
	"cmp"
	"math"
	"slices"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// hoursLeft returns the minutes from take-off until the light runs out as [analysis.lightLeft] does, and while the
// light still grows until it runs out after that, so that a morning can be compared with an afternoon. On an open
// horizon the light falls as long as the sun does, so that it need not be looked at every few minutes.
func (y *analysis) hoursLeft(j *evaluation) float64 {
	start := y.s.TakeOff
	if !y.sunRises(start) {
		return y.lightLeftClosely(j)
	}
	ev, limit := y.lightCourse(j)
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
const nearLeast = 0.1

// closeHeadroom returns the headroom of a choice as a call has it: the legs with least are read again at all of their
// moments, on both takes, unless the land alone leaves them more than that.
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

// sunRises tells whether the sun comes up over the next minutes.
func (y *analysis) sunRises(t time.Time) bool {
	a, b := sun.At(t, y.s.LatDeg, y.s.LonDeg), sun.At(t.Add(10*time.Minute), y.s.LatDeg, y.s.LonDeg)
	return b.GeometricDeg > a.GeometricDeg
}

// lightCourse returns what the deciding leg's darkest frame asks for at any time, and the least that is enough.
func (y *analysis) lightCourse(j *evaluation) (ev func(time.Time) float64, limit float64) {
	d := y.deciding(j)
	l, r := y.legs[d], j.legs[d].exposure.meter
	clean := l.Mode.ISO.Clean
	if l.Purpose != shot.Video {
		clean = l.stillISO.Clean
	}
	limit = exposure.LimitEV100(exposure.Settings{NNumber: j.nNumber, Seconds: max(l.bounds.wanted, l.bounds.high), CompensationStops: l.bounds.fullBias}, j.loss(), clean)
	if o := j.legs[d].exposure.other; o != nil && o.dark < r.dark {
		y, r = y.otherState(), o
	}
	at := &y.path[r.darkAt]
	air := light.AirAt(y.s, 0, l.Ground)
	land := func(t time.Time) float64 {
		p := sun.At(t, y.s.LatDeg, y.s.LonDeg)
		moon := light.NoMoon()
		if p.GeometricDeg < light.MoonFromDeg {
			moon = sun.MoonAt(t, y.s.LatDeg, y.s.LonDeg)
		}
		on := light.OnGround(y.s, p, moon, air)
		m := frame.Meter{Expose: l.Expose, UprightEV100: light.LandEV100(on, at.HeadingDeg, at.PitchDeg, air.Albedo),
			FlatEV100: exposure.EV100OfIlluminance(on.TotalLx, exposure.Flat)}
		return m.LandEV100()
	}
	over := r.dark - land(at.Time[r.darkTake])
	return func(t time.Time) float64 { return land(t) + over }, limit
}
