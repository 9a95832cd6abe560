package plan

import (
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// lightLeft returns the minutes from take-off until the darkest moment of the leg with the least headroom would need
// more than the clean ISO at the slowest shutter that serves its purpose: that of the tolerance for a film, the slowest
// sharp one for a still, its length for a long exposure. It is 0 when it already does, +Inf when it does not within a day
// or while the light is still growing. Under broken cloud the darker state of the sun counts. What the frame asks for
// beyond the land is taken to stay, which near sunset is up to a stop too dark where there is sky in the frame:
// [analysis.lightLeftClosely] reads the frame again.
func (y *analysis) lightLeft(j *evaluation) float64 {
	z, l, r := y.darkest(j)
	return z.lightLeftBy(j, l, r, 0)
}

// lightLeftClosely returns the same with the frame read anew at the end that was found.
func (y *analysis) lightLeftClosely(j *evaluation) float64 {
	z, l, r := y.darkest(j)
	return z.lightLeftReread(j, l, r)
}

// lightLeftAsSet returns the same for the state of the sun alone that the leg is set for.
func (y *analysis) lightLeftAsSet(j *evaluation) float64 {
	d := y.deciding(j)
	return y.lightLeftReread(j, y.legs[d], j.legs[d].exposure.meter)
}

// darkest returns the leg that decides, and its reading in the darker state of the sun with the analysis that knows it.
func (y *analysis) darkest(j *evaluation) (*analysis, *legAnalysis, *legMeter) {
	d := y.deciding(j)
	l, x := y.legs[d], j.legs[d].exposure
	if o := x.other; o != nil && o.dark < x.meter.dark {
		return y.otherState(), l, o
	}
	return y, l, x.meter
}

// lightLeftReread looks for the end of the light twice more with the frame as it is at the end found before, and follows
// the three to where they go (Aitken's delta-squared process).
func (y *analysis) lightLeftReread(j *evaluation, l *legAnalysis, r *legMeter) float64 {
	if k := &r.left; !k.known || k.nNumber != j.nNumber || !k.takeOff.Equal(y.s.TakeOff) {
		*k = leftOf{true, y.s.TakeOff, j.nNumber, y.reread(j, l, r)}
	}
	return r.left.minutes
}

// leftOf is what was found of a leg behind a filter, for a flight that is worked out again.
type leftOf struct {
	known   bool
	takeOff time.Time
	nNumber float64
	minutes float64
}

func (y *analysis) reread(j *evaluation, l *legAnalysis, r *legMeter) float64 {
	var left [3]float64
	left[0] = y.lightLeftBy(j, l, r, 0)
	for i := range left {
		if left[i] == 0 || math.IsInf(left[i], 1) || i == len(left)-1 {
			left[2] = left[i]
			break
		}
		at := y.s.TakeOff.Add(time.Duration(left[i] * float64(time.Minute)))
		then := y.readAt(j.Way, l, &y.path[r.darkAt], at)
		left[i+1] = y.lightLeftBy(j, l, r, then-y.landAt(l, r, at)-(r.dark-y.landAt(l, r, y.path[r.darkAt].Time[r.darkTake])))
		if math.Abs(left[i+1]-left[i]) < 1.0/60 {
			return left[i+1]
		}
	}
	a, b := left[1]-left[0], left[2]-left[1]
	if share := b / a; share > -1 && share < 0.9 { // it comes to an end
		return max(0, left[2]+b*share/(1-share))
	}
	return left[2]
}

// readAt returns what a moment of a leg asks for behind a mounted filter at another time.
func (y *analysis) readAt(m mounting.Way, l *legAnalysis, at *shot.Moment, t time.Time) float64 {
	moment := at.Later(y.s, t.Sub(at.Time[0]))
	s, leg := *y.s, *l
	s.Takes = 1
	leg.from, leg.to = 0, 1
	leg.laidOutIn(y.ownMemory().spareLeg())
	leg.samples = append(leg.own.samples[:0], sample{})
	leg.own.samples = leg.samples
	z := &analysis{s: &s, path: []shot.Moment{moment}, shared: y.shared, memory: y.memory, rough: true, skyOnly: true, skySamples: y.skySamples, single: !y.brief}
	z.fillLight(&leg)
	z.fillSamples(&leg)
	z.readLight(&leg)
	return z.meterOf(&leg, m).dark
}

// landAt returns what the land of a leg's darkest moment asks for at a time.
func (y *analysis) landAt(l *legAnalysis, r *legMeter, t time.Time) float64 {
	at := &y.path[r.darkAt]
	air := light.AirAt(y.s, 0, l.Ground)
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

// leftAside works out beside the caller how long the light lasts for some flights, in their own glass and bare, so that it is
// known when it is asked for; it returns what waits for that.
func (y *analysis) leftAside(parts []plannedFlight) (wait func()) {
	type asked struct {
		z *analysis
		j *evaluation
	}
	var list []asked
	for i := range parts {
		z, j := parts[i].near, parts[i].evaluation
		list = append(list, asked{z, j})
		if j.Filter != nil {
			list = append(list, asked{z, z.bareAt(j.nNumber)})
		}
	}
	return y.aside(func(memory *memory) {
		for _, a := range list {
			z := *a.z
			z.memory = memory
			z.lightLeftClosely(a.j)
		}
	})
}

// bareAt judges the flight without a filter at an aperture, for its exposure alone.
func (y *analysis) bareAt(nNumber float64) *evaluation {
	return y.evaluateAt(mounting.Way{}, mounting.Way{}, &kit.Weights{}, nNumber, 0)
}

// lightLeftBy returns the minutes by one reading of the leg. What its frame asks for beyond the land grows by so many
// stops until the end.
func (y *analysis) lightLeftBy(j *evaluation, l *legAnalysis, r *legMeter, grows float64) float64 {
	over := r.dark - y.landAt(l, r, y.path[r.darkAt].Time[r.darkTake])
	ev := func(t time.Time) float64 { return y.landAt(l, r, t) + over }
	limit := exposure.LimitEV100(exposure.Settings{NNumber: j.nNumber, Seconds: max(l.Bounds.WantedS, l.Bounds.HighS), CompensationStops: l.Bounds.BiasStops}, j.Loss(), l.ISORange().Clean)
	start := y.s.TakeOff
	if ev(start) < limit {
		return 0
	}
	a, b := sun.At(start, y.s.LatDeg, y.s.LonDeg), sun.At(start.Add(10*time.Minute), y.s.LatDeg, y.s.LonDeg)
	within := 24 * time.Hour
	if b.GeometricDeg > a.GeometricDeg {
		if len(y.s.Skyline) == 0 {
			return math.Inf(1)
		}
		within = y.risesFor(start) // a sun that rises may go behind a peak
	}
	out, ok := exposure.RunOut(start, within, limit-grows, ev)
	if !ok {
		return math.Inf(1)
	}
	return out.Sub(start).Minutes()
}

// risesFor returns for how long the sun goes on rising, to ten minutes.
func (y *analysis) risesFor(from time.Time) time.Duration {
	d := time.Duration(0)
	for d < 24*time.Hour && y.sunRises(from.Add(d)) {
		d += 10 * time.Minute
	}
	return d
}
