package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// notes returns the lines that say what to expect of a leg with the call: its sky, its water, its light, its
// motion. Those that the pilot has to watch for are added to r.LookOut too.
func (y *analysis) notes(j *evaluation, i int, r *LegReport) []string {
	l, o := y.legs[i], j.legs[i].optics
	var list []string
	lookOut := func(text string) {
		list = append(list, text)
		r.LookOut = append(r.LookOut, text)
	}
	if j.Polarises() && o.sky && !(math.Abs(o.effect) < worthStops && o.worst < words.UnevenFrom) {
		list = append(list, fmt.Sprintf("%s sky, %s", words.Evenness(o.worst), words.EffectOnSky(o.effect)))
	}
	if j.Polarises() && o.sky && l.Purpose == shot.Video && o.swing > swingFrom {
		lookOut(driftLine(o.swing, ""))
	}
	if j.Polarises() && o.glares.OK && light.MirrorOf(l.Leg.Ground, l.Leg.Aim) == light.OpenWater {
		switch {
		case o.glare < -0.04:
			lookOut("the glare on the water gets stronger")
		case o.glare >= worthShare:
			list = append(list, "takes "+words.Fraction(o.glare)+" of the glare off the water")
		}
	}
	if text := y.expectMeter(j, i); text != "" {
		list = append(list, text)
	}
	switch text, tooMuch := y.driftNote(j, i); {
	case tooMuch:
		lookOut(text)
	case text != "":
		list = append(list, text)
	}
	for _, n := range y.lightNotes(j, l, r) {
		if n.lookOut {
			lookOut(n.text)
		} else {
			list = append(list, n.text)
		}
	}
	switch {
	case l.Purpose == shot.Long:
		return append(list, y.longNotes(l, r)...)
	case l.Purpose == shot.Still:
		return append(list, setting.StillNote(&y.s.Camera, r.SafeShutterS))
	}
	if motion := y.motionNote(l, r); r.Band == Fast || r.Band == Whip {
		lookOut(motion)
	} else {
		list = append(list, motion)
	}
	if l.StillsToo {
		list = append(list, setting.StillNote(&y.s.Camera, r.SafeShutterS), setting.StillTooNote(&y.s.Camera, &j.legs[i].exposure.still))
	}
	if lamps := y.lampNote(l, r); lamps != "" {
		list = append(list, lamps)
	}
	if r.Judder.OK && r.Judder.Min > motion.JudderAcceptable {
		lookOut("judders: more than a pan of 7 s a picture width at 24 a second does")
	}
	if lean := y.lean(l); lean > leanFromDeg {
		lookOut(fmt.Sprintf("the turn makes uprights lean by about %.0f°", lean))
	}
	if y.shimmers(l, r) {
		lookOut("at " + exposure.FormatShutter(r.Shutter.Min) + " with the sun high ahead, water shimmers and the propellers' shadow may band the picture")
	}
	return list
}

// strobesUnderDeg is the shutter angle under which a picture that moves strobes (ours).
const strobesUnderDeg = 60.0

// motionNote says how the motion of a film reads at the shutter that is set.
func (y *analysis) motionNote(l *legAnalysis, r *LegReport) string {
	set := exposure.FormatShutter(r.Shutter.Min)
	switch {
	case r.Band == Fast || r.Band == Whip:
		return y.remedy(l, r)
	case !r.BlurWanted:
		return "slow in the picture: any shutter will do"
	case l.Bounds.LowS > 0 && r.Shutter.Min < l.Bounds.LowS*math.Exp2(-setting.StepSlack):
		return "strobes at " + set + ": " + exposure.FormatShutter(l.Bounds.WantedS) + " would flow"
	case exposure.AngleDeg(l.FPS, r.Shutter.Min) < strobesUnderDeg:
		return "strobes at " + set + ", as the card asks"
	case r.Shutter.Min > l.Bounds.HighS*math.Exp2(setting.StepSlack):
		return "smears at " + set + ": " + exposure.FormatShutter(l.Bounds.WantedS) + " would flow"
	case r.SubjectStep.OK && motion.BandOf(r.Step.Max) != motion.Flowing:
		return "the subject stands still and the ground streaks behind it: keep " + set
	}
	return "flows at " + set
}

// remedy says what would calm a leg that is too fast.
func (y *analysis) remedy(l *legAnalysis, r *LegReport) string {
	word := "fast: it strobes at any shutter"
	if r.Band == Whip {
		word = "a whip: nothing can be followed"
	}
	fix := motion.RemedyFor(fastStep(r), l.SpeedMS, l.FPS, l.Mode.FPS)
	switch {
	case l.SpeedMS > 0 && fix.MaxSpeed >= 0.1:
		word += fmt.Sprintf("; at %.1f m/s it flows", math.Floor(10*fix.MaxSpeed)/10)
	case fix.Slowdown > 0 && fix.Slowdown < 1:
		word += fmt.Sprintf("; in %.0f s instead of %.0f it flows", math.Ceil(l.Seconds/fix.Slowdown), l.Seconds)
	}
	if fix.FPS > 0 {
		word += fmt.Sprintf("; or at %g frames a second", fix.FPS)
	}
	return word
}

// fastStep is the step that a fast leg's band goes by: the subject's where there is one.
func fastStep(r *LegReport) float64 {
	if r.SubjectStep.OK {
		return r.SubjectStep.Max
	}
	return r.Step.Max
}
