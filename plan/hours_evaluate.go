package plan

import (
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// How closely an hour is looked at. The call is the same choice among all filters, rings and settings as
// [Solve] makes, and nothing is tried against it. With few legs it is made on the same moments too; with
// more of them on fewer, and on the first take alone (TestHoursAgreeWithSolve).
const (
	hourFewLegs = 4
	hourPerLeg  = 5
	hourTurnDeg = 60
	hourSky     = 40 // samples of the sky in a frame, at least
	// hourNightDeg is the sun's altitude below which an hour is not looked at: nautical twilight. There
	// is less than a hundredth of a lux then.
	hourNightDeg = sun.NauticalDeg
	// skyAtMost is by how many stops a frame may ask for less light than the land alone (ours).
	skyAtMost = 6
	// hourDuskDeg is the altitude below which it is asked first whether there is light enough at all.
	hourDuskDeg = -3
)

// hourPath returns the moments that an hour is judged on.
func hourPath(s *shot.Shot) []shot.Moment {
	if len(s.Legs) <= hourFewLegs {
		return shot.Path(s, defaultPerLeg)
	}
	return shot.Path(s, hourPerLeg)
}

// hourLight returns the analysis of an hour with nothing but its light.
func hourLight(s *shot.Shot, path []shot.Moment, kept *shared, mem *memory) *analysis {
	return newAnalysisKnowing(s, path, func([]int, []shot.Moment) []int { return nil }, kept, nil, mem)
}

// lookAround completes such an analysis with the motion and the sky in the frame.
func (y *analysis) lookAround() {
	s := y.s
	y.brief = true
	keys := turnKeys(roughTurnDeg, roughMost)
	if len(s.Legs) > hourFewLegs {
		keys, y.skySamples = turnKeys(hourTurnDeg, hourPerLeg), hourSky
		first := *s
		first.Takes = 1 // the light, which does change from take to take, is known already
		y.s = &first
	}
	for _, l := range y.legs {
		l.own.keys = keys(l.own.keys[:0], y.path[l.from:l.to])
		at := l.own.keys
		y.motion(l, at)
		l.Bounds = y.boundsOf(l)
		y.placeSamples(l, at)
		all := l.samples
		if len(s.Legs) > hourFewLegs {
			l.samples = y.fewRead(l)
		}
		y.readLight(l)
		l.samples = all
	}
	y.s = s
	clear(y.exposures) // those were made for the light on the land alone
}

// fewRead returns the samples that the meter reads of many legs: one where the camera keeps its direction and height,
// else three at most.
func (y *analysis) fewRead(l *legAnalysis) []sample {
	all := l.samples
	switch n := len(all); {
	case n == 0:
		return nil
	case y.steady(l):
		return all[:1:1]
	case n > 3:
		return []sample{all[0], all[n/2], all[n-1]}
	}
	return all
}

// steady tells that every frame of a leg is the same on one take, but for the sun.
func (y *analysis) steady(l *legAnalysis) bool {
	a, b := &y.path[l.from], &y.path[l.to-1]
	return l.Heading.By == 0 && !l.HeadingSun[0] && !l.HeadingSun[1] && a.PitchDeg == b.PitchDeg && a.AboveM == b.AboveM
}

// hourEvaluator judges hours one after the other. It keeps what does not depend on the hour.
type hourEvaluator struct {
	s    *shot.Shot
	bag  *kit.Bag
	want shot.Want // the light that the card is for
	*shared
	memory *memory
}

func newHourEvaluator(s *shot.Shot, bag *kit.Bag) *hourEvaluator {
	w := s.Wanted()
	if w.Side == "" {
		w.Side = shot.SideAny
	}
	return &hourEvaluator{s, bag, w, newShared(shot.Path(s, 1)[0].AboveM).alone(), new(memory)}
}

// hour judges the shot with one take-off; the zero time gives a skipped hour.
func (k *hourEvaluator) hour(takeOff time.Time) hours.Hour {
	h := hours.Hour{TakeOff: takeOff}
	for m := range h.Values {
		h.Values[m] = math.NaN()
	}
	if takeOff.IsZero() {
		return h
	}
	s, err := k.s.At(takeOff)
	if err != nil {
		h.State, h.Why = hours.Unfit, err.Error()
		sunAt(&h, k.s, takeOff.Add(shot.Seconds(k.s.TransitS/2)))
		return h
	}
	times := s.Times()
	sunAt(&h, s, times.Legs[0].First)
	var path []shot.Moment
	if k.want.Side != shot.SideAny {
		path = hourPath(s)
	}
	off := hours.OffWantOf(k.want, s, path)
	h.OffStops, h.OffWhy = off.Stops, off.Words(k.want)
	end := sun.At(times.Legs[len(times.Legs)-1].LastEnd, s.LatDeg, s.LonDeg)
	if max(h.Sun.GeometricDeg, end.GeometricDeg) < hourNightDeg {
		h.State = hours.Night
		return h
	}
	if path == nil {
		path = hourPath(s)
	}
	y := hourLight(s, path, k.shared, k.memory)
	defer func() {
		k.memory.forget()
		k.memory.takeBack()
	}()
	if min(h.Sun.GeometricDeg, end.GeometricDeg) < hourDuskDeg && y.tooDark(&h) {
		return h
	}
	y.lookAround()
	j := y.chooseForHour(k.bag)
	y.fillHour(&h, j)
	if len(s.Legs) > hourFewLegs {
		h.Values[hours.Headroom] = y.closeHeadroom(j)
	}
	return h
}

// sunAt fills in where the sun stands in an hour.
func sunAt(h *hours.Hour, s *shot.Shot, t time.Time) {
	h.Sun = sun.At(t, s.LatDeg, s.LonDeg)
	h.Behind = h.Sun.AltitudeDeg > 0 && s.SunBehindSkyline(h.Sun)
	h.Values[hours.Sun] = h.Sun.AltitudeDeg
}

// tooDark asks, by the light alone, whether the camera can expose a flight with nothing in front of it,
// and fills the hour in when it cannot.
func (y *analysis) tooDark(h *hours.Hour) bool {
	short, ev := math.Inf(1), math.Inf(1)
	for _, n := range setting.Apertures(&y.s.Camera) {
		var beyond float64
		for _, l := range y.legs {
			beyond = max(beyond, l.SetFor(&l.Bounds, y.meterOf(l, mounting.Way{}).dark, n, 0).Beyond)
			ev = min(ev, l.low)
		}
		short = min(short, beyond)
	}
	// A bright sky in the frame asks for less than the land, by some stops at most.
	if short -= skyAtMost; short <= setting.ExposureSlack {
		return false
	}
	h.Values[hours.Light] = ev
	h.State, h.Why = hours.Dark, "at least "+words.AboutStops(short)+" short without a filter"
	return true
}

// fillHour writes the measures of the choice of an hour.
func (y *analysis) fillHour(h *hours.Hour, j *evaluation) {
	v := &h.Values
	h.State = hours.Good
	if !j.feasible() {
		h.State, h.Why = hours.Dark, y.shortfall(j)
		if j.bright > j.beyond {
			h.State = hours.Bright
		}
	}
	h.Filter, h.SettingStops, h.HasRing, h.RingDeg = j.Name(), j.Setting, j.Polarises(), j.Ring
	if h.State == hours.Good {
		v[hours.Score] = j.score
	}
	var sky, strength, glare, haze mean
	light, headroom := math.Inf(1), math.Inf(1)
	for i, l := range y.legs {
		g := &j.legs[i]
		o := g.optics
		light = min(light, l.low)
		headroom = min(headroom, g.exposure.headroom)
		if o.sky {
			sky.add(-o.effect)
			strength.add(y.strengthOf(l))
			if u := v[hours.Unevenness]; math.IsNaN(u) || o.worst > u {
				v[hours.Unevenness] = o.worst
			}
		}
		if o.glares.OK {
			glare.add(o.glare)
		}
		if o.hazes.OK {
			haze.add(o.haze)
		}
	}
	v[hours.Strength] = strength.value()
	v[hours.Sky], v[hours.Glare], v[hours.Haze] = sky.value(), glare.value(), haze.value()
	v[hours.Light], v[hours.Headroom] = light, headroom
	v[hours.Left] = y.hoursLeft(j)
}

// strengthOf returns the mean strength over the samples of a leg that see enough sky.
func (y *analysis) strengthOf(l *legAnalysis) float64 {
	var m mean
	for i := range l.samples {
		if st := &l.samples[i]; st.Enough() {
			m.add(st.Frame.Strength(y.scratch()))
		}
	}
	return m.value()
}

// mean adds up.
type mean struct{ sum, n float64 }

func (m *mean) add(x float64) { m.sum, m.n = m.sum+x, m.n+1 }

// value is the mean, NaN of nothing.
func (m *mean) value() float64 {
	if m.n == 0 {
		return math.NaN()
	}
	return m.sum / m.n
}

// copy returns another evaluator with memory of its own, so that two can work at once.
func (k *hourEvaluator) copy() *hourEvaluator {
	z := *k
	z.memory = new(memory)
	return &z
}
