package plan

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/setting"
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
		list = append(list, over+l.Brighter(&y.s.Camera, shutter, iso)+"; "+under+l.Darker(&y.s.Camera, j.Filter == nil, shutter, iso))
	case !y.lamps(l):
		list = append(list, y.cannot(j))
	}
	if other := y.otherLine(j, d); other != "" {
		list = append(list, other)
	}
	return append(list, y.home(j, lightLeftMin, latestMin, times)...)
}

// otherLine says what to set when the sun changes its state under broken cloud, where that is not what is set anyway.
func (y *analysis) otherLine(j *evaluation, i int) string {
	l, x := y.legs[i], j.legs[i].exposure
	if x.other == nil {
		return ""
	}
	when := y.whenOther(l)
	switch {
	case x.otherDark.Beyond > setting.ExposureSlack:
		return when + " it cannot be exposed: " + l.Shortfall(&y.s.Camera, x.otherDark.Beyond)
	case x.otherBright.Bright > setting.ExposureSlack:
		return when + " it cannot be exposed: " + l.Shortfall(&y.s.Camera, -x.otherBright.Bright)
	}
	set := func(shutter, iso float64) string {
		return exposure.FormatShutter(shutter) + ", ISO " + exposure.FormatISO(iso)
	}
	text := set(l.Marked(&y.s.Camera, x.otherSet, x.other.set, j.nNumber, j.Loss()))
	if text == set(y.set(j, i)) {
		return ""
	}
	return when + ": " + text
}

// latestFromMin is how many minutes a later start may still be away to be worth a word (ours).
const latestFromMin = 180

// home says when the ridge hides the sun, until when the ISO stays clean, when to take off at the latest for that, and when to turn for home.
func (y *analysis) home(j *evaluation, lightLeftMin, latestMin float64, times shot.FlightTimes) []string {
	var list []string
	launch := y.launchMin()
	if ridge := y.s.SunTurnWords(y.s.TakeOff.Add(time.Duration(launch * float64(time.Minute)))); ridge != "" {
		list = append(list, ridge)
	}
	clock := y.s.ClockAt
	out, why := math.Inf(1), ""
	switch {
	case lightLeftMin <= launch:
		list = append(list, y.belowClean(j, launch))
	case !math.IsInf(lightLeftMin, 1):
		out, why = lightLeftMin, "when clean-ISO light ends"
		text := "clean-ISO light until " + clock(lightLeftMin)
		if j.Filter != nil {
			if bare := y.lightLeftClosely(y.bareAt(j.nNumber)); bare > lightLeftMin+1 && !math.IsInf(bare, 1) {
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
		return l.MeterTheLamps()
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
	if iso > l.ISORange().Clean*1.03 {
		return fmt.Sprintf("no clean-ISO light: ISO %s, %s over clean", exposure.FormatISO(iso), words.AboutStops(x.set.Noise))
	}
	return "no clean-ISO light to the last take: ISO is at its clean " + exposure.FormatISO(l.ISORange().Clean) + " now"
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
