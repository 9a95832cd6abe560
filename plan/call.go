package plan

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// deciding returns the leg whose exposure is hardest to hold: of those that want blur the one with the
// least headroom, or of all.
func (y *analysis) deciding(j *evaluation) int {
	best, least, wants := 0, math.Inf(1), false
	for i, l := range y.legs {
		w, h := l.wantsBlur(), j.legs[i].exposure.headroom
		if w && !wants || w == wants && h < least {
			best, least, wants = i, h, w
		}
	}
	return best
}

// call writes the recommendation of a choice that was judged in this analysis.
func (y *analysis) call(c *ranking, j *evaluation, rough *analysis) Call {
	l, x := y.legs[0], j.legs[0].exposure
	shutter, iso := y.marked(l, &l.bounds, x.set, x.meter.set, j.nNumber, j.loss())
	call := Call{
		Filter: j.Name(), SettingStops: j.setting, HasRing: j.Polarises(),
		ShutterS: shutter, Aperture: j.nNumber,
		ISO: iso,
		WBK: y.whiteBalance(j, l),
	}
	if call.HasRing {
		call.RingDeg, call.PassAxisDeg = j.ring, j.passAxis()
	}
	if l.Purpose == shot.Video {
		call.ShutterAngleDeg = exposure.AngleDeg(l.FPS, shutter)
	}
	for _, l := range y.legs {
		call.BlurNeeded = call.BlurNeeded || l.wantsBlur()
	}
	call.RingHelp = ringHelp(j.filter, j.ring)
	call.Reasons = y.reasons(c, j, rough)
	return call
}

// daylightK is the white balance of a card that names none: it keeps an evening warm and a blue hour blue (ours).
const daylightK = 5500

// whiteBalance returns the colour temperature to lock on a leg: daylight against the filter's cast, or the light of the
// middle of the leg made grey, or what the card says.
func (y *analysis) whiteBalance(j *evaluation, l *legAnalysis) float64 {
	cast := 0.0
	if j.filter != nil {
		cast = j.filter.CastMired
	}
	switch wb := l.WhiteBalance; {
	case wb.Kind == shot.WBKelvin:
		return wb.Kelvin
	case wb.Kind != shot.WBNeutral:
		return exposure.WhiteBalanceK(daylightK, cast)
	}
	p := y.path[(l.from+l.to)/2].Sun[0]
	air := light.AirAt(y.s, 0, l.Ground)
	k := exposure.SceneK(p.AltitudeDeg, air.Cloud.Cover, air.Cloud.Shines() && !y.s.SunBehindSkyline(p))
	return exposure.WhiteBalanceK(k, cast)
}

// reasons returns what decided.
func (y *analysis) reasons(c *ranking, j *evaluation, rough *analysis) []string {
	list := []string{y.blurReason(j)}
	if !j.feasible() {
		list = append(list, "nothing allowed here is right: this would need "+j.shortfall())
	}
	for _, line := range y.lines(j) {
		if math.Abs(line.Stops) > wordFrom {
			list = append(list, line.Words)
		}
	}
	if j.Polarises() {
		list = append(list, "mark at "+kit.Clock(j.ring)+", facing the lens, is the best half-hour for the whole flight")
		if !y.s.RingAuto {
			list[len(list)-1] = "mark at " + kit.Clock(j.ring) + ", facing the lens, as the card asks"
		}
		for _, s := range []string{rough.conflict(j), rough.softer(j)} {
			if s != "" {
				list = append(list, s)
			}
		}
	}
	if c.free.mounted != j.mounted && (c.free.score < j.score-wordFrom || !j.feasible() && c.free.feasible()) {
		list = append(list, "left to itself the program would take "+c.free.title()+ringWords(c.free)+": "+better(j, c.free))
	}
	return list
}

func better(j, free *evaluation) string {
	if !j.feasible() && free.feasible() {
		return "it can be exposed"
	}
	return words.AboutStops(j.score-free.score) + " better in all"
}

func ringWords(j *evaluation) string {
	if !j.Polarises() {
		return ""
	}
	return ", mark at " + kit.Clock(j.ring)
}

// blurReason says whether blur is wanted and whether the exposure holds.
func (y *analysis) blurReason(j *evaluation) string {
	var video, stills int
	var wanting []int
	for i, l := range y.legs {
		switch {
		case l.Purpose == shot.Video:
			video++
			if l.wantsBlur() {
				wanting = append(wanting, i)
			}
		case l.Purpose == shot.Still:
			stills++
		}
	}
	d := y.deciding(j)
	l := y.legs[d]
	fits := j.penalty[penaltyShutter] < wordFrom && j.penalty[penaltyISO] < wordFrom
	shutter := exposure.FormatShutter(l.bounds.wanted)
	switch {
	case stills == len(y.legs):
		return "a still wants a fast shutter, and every stop of glass makes it slower"
	case l.Purpose == shot.Long:
		if !fits {
			return "a long exposure of " + shutter + " is wanted, and this comes nearest"
		}
		return "it gives the long exposure of " + shutter
	case video > 0 && len(wanting) == 0:
		return "no leg needs motion blur: the ground moves slowly in the picture, so any shutter will do"
	}
	which := " on every leg"
	if len(wanting) < len(y.legs) {
		which = y.legNames(wanting)
	}
	if fits {
		return fmt.Sprintf("blur is worth having%s, and this holds a shutter near %s at a clean ISO from the first take to the last", which, shutter)
	}
	return fmt.Sprintf("blur is worth having%s, and this comes nearest to %s", which, shutter)
}

// lightLeft returns the minutes from take-off until the darkest moment of the leg with the least headroom would need
// more than the clean ISO at the slowest shutter that still looks right: 0 when it already does, +Inf when it does not
// within a day or while the light is still growing. A still may go as slow as its safe shutter, a long exposure takes its
// length. What the frame asks for beyond the land is taken to stay: into a low sun it moves by a tenth of a stop while
// the sun sinks by 6°.
func (y *analysis) lightLeft(j *evaluation) float64 {
	ev, limit := y.lightCourse(j)
	start := y.s.TakeOff
	if ev(start) < limit {
		return 0
	}
	if y.sunRises(start) {
		return math.Inf(1)
	}
	out, ok := exposure.RunOut(start, 24*time.Hour, limit, ev)
	if !ok {
		return math.Inf(1)
	}
	return out.Sub(start).Minutes()
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

// ladder says what to do in the air when the meter disagrees with the plan.
func (y *analysis) ladder(j *evaluation, lightLeftMin, latestMin float64, times shot.FlightTimes) []string {
	l := y.legs[y.deciding(j)]
	b := &l.bounds
	e := l.expose(b, j.legs[y.deciding(j)].exposure.meter.set, j.nNumber, j.loss())
	shutter, iso := y.marked(l, b, e, j.legs[y.deciding(j)].exposure.meter.set, j.nNumber, j.loss())
	set := exposure.NearestISO(iso, l.Mode.ISO.Base, l.Mode.ISO.Limit).Value
	list := []string{
		"meter one stop over: " + y.brighter(l, b, shutter, set),
		"meter one stop under: " + y.darker(l, b, shutter, set),
	}
	clean, limit := l.Mode.ISO.Clean, l.Mode.ISO.Limit
	switch {
	case set < clean*0.97:
		list = append(list, "then ISO up to "+exposure.FormatISO(clean)+", then land")
	case set <= clean*1.03 || set >= limit:
		list = append(list, "then land: ISO is at its limit")
	default:
		list = append(list, "ISO is above its clean "+exposure.FormatISO(clean)+" already: up to "+exposure.FormatISO(limit)+" with noise, then land")
	}
	if cloud := y.cloudLine(l, b, j); cloud != "" {
		list = append(list, cloud)
	}
	return append(list, y.home(lightLeftMin, latestMin, times)...)
}

// brighter says what to set for a stop more light than planned: first the ISO down, then the shutter
// faster.
func (y *analysis) brighter(l *legAnalysis, b *bounds, shutterS, iso float64) string {
	base := l.Mode.ISO.Base
	if iso >= 2*base*0.97 {
		return "ISO " + exposure.FormatISO(exposure.NearestISO(iso/2, 0, 0).Value)
	}
	c := y.s.Camera
	series := exposure.ShuttersOf(c.FastestS, c.SlowestS, false)
	t := exposure.Nearest(series, shutterS/2)
	if len(series) == 0 || t.Value >= shutterS {
		return "close down or wait: the shutter is at its fastest"
	}
	return t.Label
}

// darker says what to set for a stop less light: first the shutter as slow as still looks right, then
// the ISO.
func (y *analysis) darker(l *legAnalysis, b *bounds, shutterS, iso float64) string {
	c := y.s.Camera
	slow := min(2*shutterS, b.high*math.Exp2(StepSlack))
	if l.Purpose == shot.Video {
		slow = min(slow, 1.01/l.FPS)
	}
	series := exposure.ShuttersOf(c.FastestS, c.SlowestS, false)
	if t, ok := exposure.AtMost(series, slow*1.03); ok && t.Value > shutterS*1.1 {
		return t.Label
	}
	up := exposure.NearestISO(2*iso, 0, 0).Value
	return "ISO " + exposure.FormatISO(min(up, l.Mode.ISO.Limit))
}

// latestFromMin is how many minutes a later start may still be away to be worth a word (ours).
const latestFromMin = 180

// home says when to take off at the latest, and when to turn for home: by the light or by the battery,
// whichever is first.
func (y *analysis) home(lightLeftMin, latestMin float64, times shot.FlightTimes) []string {
	var list []string
	out := math.Inf(1)
	why := ""
	launch := y.launchMin()
	switch {
	case lightLeftMin <= launch:
		list = append(list, "the light is already too low for a clean ISO at any shutter that looks right")
	case !math.IsInf(lightLeftMin, 1):
		out, why = lightLeftMin, "the light"
		switch {
		case latestMin < 0:
			list = append(list, fmt.Sprintf("the last take outlasts the light: take off by %s, or fly fewer takes", y.s.ClockAt(launch+latestMin)))
		case latestMin < latestFromMin:
			list = append(list, "take off by "+y.s.ClockAt(launch+latestMin)+" at the latest")
		}
	}
	if times.BatteryMin > 0 {
		if by := launch + times.BatteryMin - y.s.TransitS/120; by < out {
			out, why = max(0, by), "the battery"
		}
	}
	if why == "" {
		return list
	}
	return append(list, "turn for home by "+y.s.ClockAt(out)+", for "+why)
}

// launchMin returns the minutes from the card's take-off to that of the analysis's own flight: 0 for the first.
func (y *analysis) launchMin() float64 {
	for _, l := range y.legs {
		if l.from < l.to {
			return max(0, y.path[l.from].Time[0].Sub(y.s.TakeOff).Minutes()-y.s.TransitS/120)
		}
	}
	return 0
}
