package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// ladder says what to do in the air when the meter disagrees with the plan. The camera's own meter averages the frame,
// so what it is expected to show comes first, and the rest counts from there.
func (y *analysis) ladder(j *evaluation, lightLeftMin, latestMin float64, times shot.FlightTimes) []string {
	d := y.deciding(j)
	l := y.legs[d]
	var list []string
	over, under := "meter a stop over: ", "a stop under: "
	if text := y.expectMeter(j, d); text != "" {
		list = append(list, text+y.legName(d))
		over = "meter a stop over that: "
	}
	switch {
	case j.legs[d].exposure.feasible():
		shutter, iso := y.set(j, d)
		list = append(list, over+y.brighter(l, shutter, iso)+"; "+under+y.darker(j, l, shutter, iso))
	case !y.lamps(l):
		list = append(list, y.cannot(j))
	}
	if other := y.otherLine(j, d); other != "" {
		list = append(list, other)
	}
	return append(list, y.home(j, lightLeftMin, latestMin, times)...)
}

// brighter says what to set for a stop more light than planned: first the ISO down, then the shutter
// faster.
func (y *analysis) brighter(l *legAnalysis, shutterS, iso float64) string {
	base := l.isoRange().Base
	if iso >= 2*base*0.97 {
		return "ISO " + exposure.FormatISO(exposure.NearestISO(iso/2, 0, 0).Value)
	}
	c := y.s.Camera
	series := shuttersFor(l.Leg, c.FastestS, orInf(c.SlowestS))
	t := exposure.Nearest(series, shutterS/2)
	if len(series) == 0 || t.Value >= shutterS {
		return "close down or wait: the shutter is at its fastest"
	}
	return t.Label
}

// darker says what to set for a stop less light: first the shutter as slow as still looks right, then the ISO; and what
// to do when that is not enough.
func (y *analysis) darker(j *evaluation, l *legAnalysis, shutterS, iso float64) string {
	c, b := y.s.Camera, &l.bounds
	slow := min(2*shutterS, b.high*math.Exp2(StepSlack))
	if l.Purpose == shot.Video {
		slow = min(slow, 1.01/l.FPS)
	}
	limits := l.isoRange()
	series := shuttersFor(l.Leg, c.FastestS, orInf(c.SlowestS))
	text := ""
	if t, ok := exposure.AtMost(series, slow*1.03); ok && t.Value > shutterS*1.1 {
		if text = t.Label; math.Abs(math.Log2(t.Value/b.wanted)) < StepSlack {
			text = exposure.FormatShutter(b.wanted)
		}
		if last, ok := exposure.AtMost(series, b.high*1.03); ok && last.Value > 1.9*t.Value {
			text += ", down to " + last.Label
		}
	} else {
		if iso >= limits.Limit*0.97 {
			return "no more ISO: land"
		}
		iso = min(exposure.NearestISO(2*iso, 0, 0).Value, limits.Limit)
		text = "ISO " + exposure.FormatISO(iso)
	}
	switch {
	case iso < limits.Clean*0.97 && j.filter == nil: // with nothing to take off there is nothing to land for
		return text + ", then ISO to " + exposure.FormatISO(limits.Clean)
	case iso < limits.Clean*0.97:
		return text + ", then ISO to " + exposure.FormatISO(limits.Clean) + ", then land"
	case j.filter != nil:
		return text + ", then land"
	case iso < limits.Limit*0.97:
		return text + ", then noise: ISO to " + exposure.FormatISO(limits.Limit)
	}
	return text
}

// otherLine says what to set when the sun changes its state under broken cloud, where that is not what is set anyway.
func (y *analysis) otherLine(j *evaluation, i int) string {
	l, x := y.legs[i], j.legs[i].exposure
	if x.other == nil {
		return ""
	}
	when := y.whenOther(l)
	switch {
	case x.otherDark.beyond > ExposureSlack:
		return when + " it cannot be exposed: " + y.legShortfall(l, x.otherDark.beyond)
	case x.otherBright.bright > ExposureSlack:
		return when + " it cannot be exposed: " + y.legShortfall(l, -x.otherBright.bright)
	}
	set := func(shutter, iso float64) string {
		return exposure.FormatShutter(shutter) + ", ISO " + exposure.FormatISO(iso)
	}
	text := set(y.marked(l, &l.bounds, x.otherSet, x.other.set, j.nNumber, j.loss()))
	if text == set(y.set(j, i)) {
		return ""
	}
	return when + ": " + text
}

// latestFromMin is how many minutes a later start may still be away to be worth a word (ours).
const latestFromMin = 180

// home says until when the ISO stays clean, when to take off at the latest for that, and when to turn for home.
func (y *analysis) home(j *evaluation, lightLeftMin, latestMin float64, times shot.FlightTimes) []string {
	var list []string
	launch := y.launchMin()
	clock := y.s.ClockAt
	out, why := math.Inf(1), ""
	switch {
	case lightLeftMin <= launch:
		list = append(list, y.belowClean(j, launch))
	case !math.IsInf(lightLeftMin, 1):
		out, why = lightLeftMin, "when clean-ISO light ends"
		text := "clean-ISO light until " + clock(lightLeftMin)
		if j.filter != nil {
			if bare := y.lightLeftClosely(y.evaluateAt(mounted{}, mounted{}, &kit.Weights{}, j.nNumber, 0)); bare > lightLeftMin+1 && !math.IsInf(bare, 1) {
				text += ", bare until " + clock(bare)
			}
		}
		list = append(list, text)
		switch {
		case latestMin < 0:
			list = append(list, fmt.Sprintf("the last take outlasts that: take off by %s, or fly fewer takes", clock(launch+latestMin)))
		case latestMin < latestFromMin:
			list = append(list, "take off by "+clock(launch+latestMin)+" at the latest")
		}
	}
	if times.BatteryMin > 0 {
		if by := launch + times.BatteryMin - y.s.TransitS/120; by < out {
			out, why = max(0, by), "for the battery"
		}
	}
	if why == "" {
		return list
	}
	return append(list, "turn for home by "+clock(out)+", "+why)
}

// belowClean says what to do where the ISO is over clean from the start.
func (y *analysis) belowClean(j *evaluation, launchMin float64) string {
	d := y.deciding(j)
	l, x := y.legs[d], j.legs[d].exposure
	if y.lamps(l) {
		return meterTheLamps(l)
	}
	if set := y.lightLeftAsSet(j); set > launchMin {
		state, other := "in the sun", "under a cloud"
		if !y.shines(l) {
			state, other = other, state
		}
		until := ""
		if !math.IsInf(set, 1) {
			until = " until " + y.s.ClockAt(set)
		}
		return "clean-ISO light" + until + " " + state + "; " + other + " ISO is over clean"
	}
	_, iso := y.set(j, d)
	if iso > l.isoRange().Clean*1.03 {
		return fmt.Sprintf("no clean-ISO light: ISO %s, %s over clean", exposure.FormatISO(iso), words.AboutStops(x.set.noise))
	}
	return "no clean-ISO light to the last take: ISO is at its clean " + exposure.FormatISO(l.isoRange().Clean) + " now"
}

// meterTheLamps says what to do where lamps light the scene and there is no daylight left to reckon with.
func meterTheLamps(l *legAnalysis) string {
	return "lamps are not in the model: bare, " + exposure.FormatShutter(l.bounds.wanted) + ", meter the lamps"
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
