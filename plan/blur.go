package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// judderCdM2 is the screen's luminance for the judder scale: that of a dim cinema, for which the
// handbook's slow pan is made. A brighter screen judders more.
const judderCdM2 = 2.5

// judder scores a step by the scale of Chapiro, Atkins & Daly 2019 where it is valid.
func (y *analysis) judder(l *legAnalysis, stepArcmin float64) Range {
	viewing := y.viewing()
	if stepArcmin <= 0 || l.FPS <= 0 {
		return Range{}
	}
	widthS := 60 * float64(viewing) / (stepArcmin * l.FPS) // the time in which the picture moves by its width
	score, valid := motion.Judder(l.FPS, judderCdM2, widthS)
	if !valid || viewing != motion.HD {
		return Range{}
	}
	return Range{score, score, true}
}

// viewing is how the video is watched.
func (y *analysis) viewing() motion.Viewing {
	if y.s.Settings.ViewingUHD {
		return motion.UHD
	}
	return motion.HD
}

// sharpness writes what a leg's stills or long exposures can hold.
func (y *analysis) sharpness(l *legAnalysis, g *legEvaluation, r *LegReport) {
	if l.Purpose == shot.Video && !l.StillsToo {
		return
	}
	r.SafeShutterS = l.Still.SafeS
	if l.Purpose != shot.Long {
		return
	}
	safe := motion.SlowestSafe(setting.LongLimitPx, l.Still.PxS, l.Still.FocalPx, l.Still.DepthM, l.Still.Steady)
	r.FramesToKeepOne = setting.FramesToKeepOne(l.Still.BlurPx(g.exposure.set.ShutterS), setting.LongLimitPx)
	if g.exposure.bright.Bright > 0 { // the glass there is leaves no more than this
		safe = min(safe, l.Bounds.WantedS*math.Exp2(-g.exposure.bright.Bright))
	}
	r.BurstFrames, r.BurstShutterS = setting.Burst(l.Bounds.WantedS, safe, exposure.ShuttersOf(y.s.Camera.FastestS, y.s.Camera.SlowestS, false))
}

// longNotes says what a long exposure wants.
func (y *analysis) longNotes(l *legAnalysis, r *LegReport) []string {
	var list []string
	switch n := r.FramesToKeepOne; {
	case n > setting.MostFrames:
		list = append(list, fmt.Sprintf("hover drift smears about %.0f pixels: no frame of %s will stand still here", r.BlurPx.Max, exposure.FormatShutter(r.Shutter.Max)))
	case n > 1:
		list = append(list, fmt.Sprintf("hover drift smears about %.0f pixels: shoot %d and keep the one that stood still", r.BlurPx.Max, n))
	default:
		list = append(list, "the hover is still enough for "+exposure.FormatShutter(r.Shutter.Max))
	}
	if r.BurstFrames > 0 {
		list = append(list, fmt.Sprintf("or average a burst: %d frames of %s spread over the same time", r.BurstFrames, exposure.FormatShutter(r.BurstShutterS)))
	}
	return list
}

// Where a rolling shutter's lean and a fast shutter's flicker are worth a word (ours).
const (
	leanFromDeg    = 1.0
	shimmerFasterS = 1.0 / 500
	shimmerSunDeg  = 30.0 // a sun this high shines through the propellers on the lens
	shimmerAheadOf = 75.0 // degrees between the heading and the sun
)

// shimmers tells whether a film leg's shutter is so fast, with a high sun ahead, that moving water and
// leaves glitter from frame to frame and the propellers' shadow bands the picture (common practice, no
// source).
func (y *analysis) shimmers(l *legAnalysis, r *LegReport) bool {
	m := &y.path[(l.from+l.to)/2]
	return l.Purpose == shot.Video && r.Shutter.OK && r.Shutter.Min < shimmerFasterS && m.Sun[0].AltitudeDeg > shimmerSunDeg &&
		y.sunOn(l, m) && math.Abs(sunRelative(m)) < shimmerAheadOf
}

// lean returns how far uprights lean in a picture that turns, in degrees.
func (y *analysis) lean(l *legAnalysis) float64 {
	c := y.camera(l)
	var most float64
	for i := range l.samples {
		m := &y.path[l.samples[i].moment]
		most = max(most, c.FocalPx*math.Abs(m.YawDegS)*math.Pi/180)
	}
	return motion.LeanDeg(motion.SkewPx(most, y.s.Camera.ReadoutMS), c.H)
}
