package plan

import (
	"math"

	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// When the meter and the drift of the light are worth a word (ours).
const (
	meterFrom    = 2.0 / 3 // stops that the camera's own meter is expected to be off
	driftFrom    = 0.5     // stops over a leg
	driftTooMuch = 2.0     // stops in one take, which no locked exposure serves
	hazyKm       = 15.0    // a haze that veils the land
	lowSunDeg    = 25.0    // a sun that brightens a frame by standing in or near it
	mostOfFrame  = 0.3     // the share of the frame from which a part of it drives the meter
)

// expectMeter says what the camera's own meter shows at the right exposure, and why, where that is not about nought:
// "expect the meter at +2⅓: snow".
func (y *analysis) expectMeter(j *evaluation, i int) string {
	r := j.legs[i].exposure.meter
	if math.Round(3*math.Abs(r.meterStops)) < 3*meterFrom-1e-9 {
		return ""
	}
	return "expect the meter at " + words.Signed(r.meterStops) + ": " + y.meterCause(j, i)
}

// meterCause names what drives the meter away from nought: the largest part of the frame that does.
func (y *analysis) meterCause(j *evaluation, i int) string {
	l, o := y.legs[i], j.legs[i].optics
	r := j.legs[i].exposure.meter
	if c := setting.Compensation(l.Leg.Leg); math.Abs(r.meterStops-c) < meterFrom && math.Abs(c) >= meterFrom {
		if c > 0 {
			return "the over-exposure asked for"
		}
		return "the under-exposure asked for"
	}
	m := &y.path[(l.from+l.to)/2]
	sky := float64(frame.SkyRows(y.view(l, m))) / frame.GridH
	land := 1-sky >= mostOfFrame
	if r.meterStops > 0 {
		switch {
		case land && l.Ground == shot.Snow:
			return "snow"
		case l.sunNear && m.Sun[0].AltitudeDeg < lowSunDeg:
			return "the low sun"
		case land && l.Ground == shot.Sand && sky < 0.5:
			return "bright sand"
		case sky > 0.05:
			return "the bright sky"
		case l.Ground == shot.Water && l.sunNear:
			return "the sun in the water"
		}
		if y.s.Light.VisibilityKm < hazyKm {
			return "the bright haze"
		}
		return "bright ground"
	}
	switch {
	case j.Polarises() && o.sky && o.effect <= -worthStops && sky >= mostOfFrame:
		return "the darkened sky"
	case !land:
		return "a deep sky"
	case l.Ground == shot.Water:
		return "dark water"
	case l.Ground == shot.Forest:
		return "dark trees"
	}
	return "dark ground"
}

// driftNote says how the light moves over a leg whose exposure is locked; plain tells that it moves too much.
func (y *analysis) driftNote(j *evaluation, i int) (text string, tooMuch bool) {
	l, r := y.legs[i], j.legs[i].exposure.meter
	n := l.to - l.from
	for take := range 2 {
		var g Range
		for k := range n {
			g.add(r.ev(k, take))
		}
		if g.span() > driftTooMuch {
			return "the light moves by " + words.AboutStops(g.span()) + " in a take: split the leg or ride the exposure", true
		}
	}
	drift := r.drift()
	if drift < driftFrom {
		return "", false
	}
	switch end := r.ev(n-1, 1) - r.ev(0, 0); {
	case end < -drift/2:
		return words.AboutStops(drift) + " darker by the end", false
	case end > drift/2:
		return words.AboutStops(drift) + " brighter by the end", false
	}
	return "the light moves by " + words.AboutStops(drift) + " on the way", false
}
