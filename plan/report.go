package plan

import (
	"math"
	"slices"

	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// fill writes the report of a ranking: whole is that for the card as one flight, parts are the flights
// that it is flown in.
func (r *Report) fill(y *analysis, whole *ranking, parts []plannedFlight) {
	times := r.Shot.Times()
	leftKnown := y.leftAside(parts)
	r.FlightMin, r.Batteries = times.Minutes, times.Batteries
	if n := len(parts) - 1; n > 0 { // every flight goes out and home
		r.FlightMin += float64(n) * r.Shot.TransitS / 60
		r.Batteries = shot.BatteriesFor(r.FlightMin, r.Shot.TransitS/60, times.BatteryMin)
	}
	r.LightChangeStops = lightChange(r.Shot, times)
	r.Measures = make([]Measure, len(r.Path))
	r.LatestStartMin = math.Inf(1)
	for i := range parts {
		p := &parts[i]
		z, j := p.near, p.evaluation
		z.measures(j, r.Measures)
		for k := range z.legs {
			l := z.legReport(j, k)
			l.OwnBest = p.ownBest(p.legs[k], j, &p.c.weights)
			if own := ownNote(l.OwnBest, len(p.legs)); own != "" {
				l.Notes = append(l.Notes, own)
			}
			r.Legs = append(r.Legs, l)
		}
		f := p.flight()
		f.Set = z.call(p.c, j, p.analysis)
		r.Flights = append(r.Flights, f)
	}
	if len(parts) == 1 {
		r.candidates(y, parts[0].near, parts[0].evaluation, whole)
	} else { // what is left is to say how every filter would do without a landing
		r.candidates(y, y, whole.best, whole)
		r.Candidates[0].WhyNot = withoutLanding(parts, y, whole)
	}
	cautions := caution.Of(r.Shot, r.Path, len(parts)-1)
	leftKnown()
	for i := range parts {
		z, j, f := parts[i].near, parts[i].evaluation, &r.Flights[i]
		f.LightLeftMin = z.lightLeftClosely(j)
		latest := f.LightLeftMin - z.endMin()
		r.LatestStartMin = min(r.LatestStartMin, latest)
		f.Set.Ladder = z.ladder(j, f.LightLeftMin, latest, times)
	}
	r.Call, r.LightLeftMin = r.Flights[0].Set, r.Flights[0].LightLeftMin
	for i := range r.Legs {
		if own := r.ownOffsetNote(i); own != "" {
			r.Legs[i].Notes = append(r.Legs[i].Notes, own)
		}
	}
	r.Call.because(append(splitReasons(parts, y, whole), r.Call.ReasonsSigned...))
	r.Call.Cautions = withGlass(cautions, parts, r.Legs)
	for _, f := range r.Flights {
		r.Call.BlurNeeded = r.Call.BlurNeeded || f.Set.BlurNeeded
	}
}

// endMin returns the minutes from take-off to the end of the last take of the analysis's legs.
func (y *analysis) endMin() float64 {
	var end float64
	for _, l := range y.legs {
		if l.from < l.to {
			end = max(end, y.path[l.to-1].Time[1].Sub(y.s.TakeOff).Minutes())
		}
	}
	return end
}

// FlightOf returns the flight that a leg, counted from 0, is flown on; nil when there is none.
func (r *Report) FlightOf(leg int) *Flight {
	for i := range r.Flights {
		if slices.Contains(r.Flights[i].Legs, leg) {
			return &r.Flights[i]
		}
	}
	return nil
}

// candidates lists the call first and then all others, best first.
func (r *Report) candidates(rough, near *analysis, best *evaluation, c *ranking) {
	y := near
	add := func(j *evaluation) {
		words := worded{analysis: y, evaluation: j}
		k := Candidate{
			Filter: j.Name(), Kind: j.Kind(), SettingStops: j.Setting, HasRing: y.ringToSet(j), AsDensity: j.asDensity(), RingDeg: j.Ring,
			Score: j.score, Feasible: j.feasible(), Lines: words.lines(),
		}
		var swing float64
		for i := range j.legs {
			g := &j.legs[i]
			k.Effect.join(g.optics.effects)
			k.Unevenness.join(g.optics.unevenness)
			k.Headroom.add(g.exposure.headroom)
			k.Headroom.add(g.exposure.bright.Headroom)
			k.GlareCut.join(g.optics.glares)
			k.HazeCut.join(g.optics.hazes)
			if g.optics.sky {
				swing = max(swing, g.optics.swing)
				k.Swing = Range{swing, swing, true}
			}
			k.ISO.add(g.exposure.set.ISO)
			k.Shutter.add(g.exposure.set.ShutterS)
		}
		k.Reasons = texts(words.signed())
		if j != best {
			k.WhyNot = y.whyNot(j, best)
		}
		r.Candidates = append(r.Candidates, k)
	}
	add(best)
	y = rough
	for _, j := range c.ranked {
		if j.Way != best.Way {
			add(j)
		}
	}
}

// lightChange returns the change of the light on the ground from the first take's start to the last
// take's end.
func lightChange(s *shot.Shot, t shot.FlightTimes) float64 {
	first, last := t.Legs[0].First, t.Legs[len(t.Legs)-1].LastEnd
	air := light.AirAt(s, 0, s.Legs[0].Ground)
	a := light.OnGround(s, sun.At(first, s.LatDeg, s.LonDeg), sun.MoonAt(first, s.LatDeg, s.LonDeg), air)
	b := light.OnGround(s, sun.At(last, s.LatDeg, s.LonDeg), sun.MoonAt(last, s.LatDeg, s.LonDeg), air)
	return math.Log2(b.TotalLx / a.TotalLx)
}

// measures writes into list, which has a place for every moment of the path, the measures of the legs' moments
// under a filter. Of the two takes each measure is the worse: the weaker strength and effect, the less even
// sky, the darker light. Measures of the sky and of motion are known at the samples and interpolated between.
func (y *analysis) measures(j *evaluation, list []Measure) {
	for i, l := range y.legs {
		if l.from >= l.to {
			continue
		}
		g := &j.legs[i]
		shutter, iso := l.Marked(&y.s.Camera, g.exposure.set, g.exposure.meter.set, j.nNumber, j.Loss())
		sky := y.skyAlong(l, j)
		for k := l.from; k < l.to; k++ {
			m := &list[k]
			*m = sky[k-l.from]
			at := l.lightEV[k-l.from]
			m.LandEV, m.SkyEV = at[0].land, at[0].sky
			if at[1].land < at[0].land {
				m.LandEV, m.SkyEV = at[1].land, at[1].sky
			}
			ev := min(g.exposure.meter.ev(k-l.from, 0), g.exposure.meter.ev(k-l.from, 1))
			m.FrameEV = ev - j.Loss()
			m.ShutterS, m.ISO = shutter, iso
			m.HeadroomEV = l.SetFor(&l.Bounds, ev, j.nNumber, j.Loss()).Headroom
			m.BlurPx = y.blurOf(l, m.BlurPx, m.ShutterS) // skyAlong left the speed there
		}
	}
}

// blurOf returns how far the picture smears during an exposure, in pixels, for its speed in px/s. A still
// drifts besides.
func (y *analysis) blurOf(l *legAnalysis, pxS, shutterS float64) float64 {
	if l.Purpose == shot.Video {
		return pxS * shutterS
	}
	still := l.Still
	still.PxS = pxS
	return still.BlurPx(shutterS)
}

// skyAlong returns the sky's measures and the step at every moment of a leg, and the speed of the
// picture in the place of the blur.
func (y *analysis) skyAlong(l *legAnalysis, j *evaluation) []Measure {
	n := l.to - l.from
	mem := &y.ownMemory().measures
	out := mem.Cut(n, pieceOf*n)
	at := l.own.keys
	var known [2][]Measure
	sheet := glass.SheetOf(j.Way)
	for take := range y.takes() {
		known[take] = mem.Cut(len(at), pieceOf*n)
	}
	i, before := 0, 0 // the place of the sample among the moments, and of the one before it
	for s := range l.samples {
		st := &l.samples[s]
		if i = before; s > 0 && st.take == l.samples[s-1].take {
			i++
		} else if s > 0 {
			i = 0
		}
		for at[i] != st.moment-l.from { // the last take leaves some out
			i++
		}
		k := &known[st.take][i]
		k.StepArcmin, k.BlurPx = y.stepOf(l, st.speed), st.smears(l)
		if st.Enough() {
			k.Strength, k.SkyOK = st.strength, true
			if j.Polarises() {
				k.Effect, k.Unevenness = st.Frame.Effect(sheet.Answers(st.Grid, false, 0, st.SkySamples), y.scratch())
			}
		}
		if before < i {
			likeFirst(known[0], known[st.take], before, i)
		}
		before = i
	}
	for i := range out {
		out[i] = between(known[0], at, i)
		if y.takes() == 2 {
			last := between(known[1], at, i)
			switch m := &out[i]; {
			case !m.SkyOK:
				*m = last
			case last.SkyOK:
				m.Strength, m.Effect = min(m.Strength, last.Strength), max(m.Effect, last.Effect)
				m.Unevenness = max(m.Unevenness, last.Unevenness)
			}
		}
	}
	return out
}

// likeFirst fills in what was not looked at on the last take between two moments that were: it is as on the first one, but for
// what the two differ by on both sides of it.
func likeFirst(first, last []Measure, from, to int) {
	for i := from + 1; i < to; i++ {
		last[i] = first[i]
		w := float64(i-from) / float64(to-from)
		last[i].differ(&first[from], &last[from], 1-w)
		last[i].differ(&first[to], &last[to], w)
	}
}

// differ adds a part of what the sky's measures differ by from one to another.
func (m *Measure) differ(from, to *Measure, part float64) {
	if !m.SkyOK || !from.SkyOK || !to.SkyOK {
		return
	}
	m.Strength += part * (to.Strength - from.Strength)
	m.Effect += part * (to.Effect - from.Effect)
	m.Unevenness += part * (to.Unevenness - from.Unevenness)
}

// between interpolates the measures of a moment from the samples around it; where one of them has no
// sky to measure, the nearer one counts.
func between(known []Measure, at []int, i int) Measure {
	hi := 0
	for hi < len(at) && at[hi] < i {
		hi++
	}
	if hi == len(at) {
		return known[len(known)-1]
	}
	if hi == 0 || at[hi] == i {
		return known[hi]
	}
	a, b := known[hi-1], known[hi]
	w := float64(i-at[hi-1]) / float64(at[hi]-at[hi-1])
	mix := func(x, y float64) float64 { return x + w*(y-x) }
	m := Measure{StepArcmin: mix(a.StepArcmin, b.StepArcmin), BlurPx: mix(a.BlurPx, b.BlurPx), SkyOK: true}
	switch {
	case a.SkyOK && b.SkyOK:
		m.Strength, m.Effect, m.Unevenness = mix(a.Strength, b.Strength), mix(a.Effect, b.Effect), mix(a.Unevenness, b.Unevenness)
	case a.SkyOK && w < 0.5:
		m.Strength, m.Effect, m.Unevenness = a.Strength, a.Effect, a.Unevenness
	case b.SkyOK && w >= 0.5:
		m.Strength, m.Effect, m.Unevenness = b.Strength, b.Effect, b.Unevenness
	default:
		m.SkyOK = false
	}
	return m
}

// legReport writes what is known of a leg under a filter.
func (y *analysis) legReport(j *evaluation, i int) LegReport {
	l, g := y.legs[i], &j.legs[i]
	r := LegReport{Move: l.Move, Purpose: l.Purpose, BlurWanted: l.WantsBlur()}
	if l.from >= l.to {
		return r
	}
	first, last := &y.path[l.from], &y.path[l.to-1]
	r.FromS, r.ToS = first.FlightS, last.FlightS
	r.Heading = [2]float64{first.HeadingDeg, last.HeadingDeg}
	r.Pitch = [2]float64{first.PitchDeg, last.PitchDeg}
	r.SunRelative = [2]float64{sunRelative(first), sunRelative(last)}
	o := g.optics
	r.Effect, r.Unevenness, r.GlareCut, r.HazeCut = o.effects, o.unevenness, o.glares, o.hazes
	if o.sky {
		r.Swing = Range{o.swing, o.swing, true}
	}
	var pace setting.Pace
	for k := range l.samples {
		st := &l.samples[k]
		if st.Enough() {
			r.Strength.add(st.strength)
		}
		if l.Purpose == shot.Video {
			r.Step.add(y.stepOf(l, st.speed))
			if st.seen {
				r.SubjectStep.add(y.stepOf(l, st.subject))
			}
			pace.Add(y.stepOf(l, st.ground), y.stepOf(l, st.subject), st.seen)
		}
	}
	for _, at := range l.lightEV {
		for _, x := range at {
			r.LandEV.add(x.land)
			r.SkyEV.add(x.sky)
		}
	}
	x, meter := g.exposure, g.exposure.meter
	s, iso := l.Marked(&y.s.Camera, x.set, meter.set, j.nNumber, j.Loss())
	r.Shutter, r.ISO = Range{s, s, true}, Range{iso, iso, true}
	for k := range l.samples {
		r.BlurPx.add(y.blurOf(l, l.samples[k].smears(l), s))
	}
	r.FrameEV = Range{meter.dark - j.Loss(), meter.bright - j.Loss(), true}
	r.WBK = y.whiteBalance(j, l)
	r.MeterStops, r.Clipped, r.Buried, r.DriftStops = meter.meterStops, meter.clipped, meter.buried, meter.drift()
	r.Feasible, r.ShortStops, r.Headroom = x.feasible(), x.short, x.headroom
	r.SunShines = light.AirAt(y.s, 0, l.Ground).Cloud.Shines()
	if x.other != nil {
		s, iso := l.Marked(&y.s.Camera, x.otherSet, x.other.set, j.nNumber, j.Loss())
		o := &OtherState{FrameEV: Range{x.other.dark - j.Loss(), x.other.bright - j.Loss(), true}, ISO: iso, ShutterS: s}
		for _, at := range y.otherState().legs[i].lightEV {
			o.LandEV.add(at[0].land)
			o.LandEV.add(at[1].land)
		}
		switch {
		case x.otherDark.Beyond > setting.ExposureSlack:
			o.ShortStops = x.otherDark.Beyond
		case x.otherBright.Bright > setting.ExposureSlack:
			o.ShortStops = -x.otherBright.Bright
		}
		o.Feasible = o.ShortStops == 0
		o.Words = y.otherLine(j, i)
		r.Other = o
	}
	if l.Purpose == shot.Video {
		r.Band = MotionBand(pace.Band())
		r.Judder = y.judder(l, pace.Tracked())
	}
	y.sharpness(l, g, &r)
	r.Facing = y.facing(l, &y.path[(l.from+l.to)/2])
	r.Notes = y.notes(j, i, &r)
	return r
}

// sunRelative returns the sun's bearing from the heading, positive to the right.
func sunRelative(m *shot.Moment) float64 {
	return angle.Wrap180(m.Sun[0].AzimuthDeg - m.HeadingDeg)
}

// Ranked is one filter of the bag on this flight: at its best setting and ring, and at its others.
type Ranked struct {
	Candidate
	Others []Candidate // the same filter at its other settings, best first
}

// Ranking returns every filter of the bag and the bare lens once, best first. The call's own comes
// first, also where the card asks for it and others would do better. With several flights each filter
// is judged as if it had to serve them all.
func (r *Report) Ranking() []Ranked {
	var list []Ranked
	at := map[string]int{}
	for _, c := range r.Candidates {
		if i, ok := at[c.Filter]; ok {
			list[i].Others = append(list[i].Others, c)
			continue
		}
		at[c.Filter] = len(list)
		list = append(list, Ranked{Candidate: c})
	}
	return list
}
