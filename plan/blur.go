package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/shot"
)

// pace is how fast a leg's picture steps from frame to frame at most, in minutes of arc.
type pace struct {
	ground, subject float64
	seen            bool // there is a subject in the frame
}

func (p *pace) add(ground, subject float64, seen bool) {
	p.ground = max(p.ground, ground)
	if seen {
		p.subject, p.seen = max(p.subject, subject), true
	}
}

// band judges the subject first. The eye rests on a subject that hardly moves in the picture: the ground
// that rushes past behind it only has to streak, which the blur of the wanted shutter makes it do.
func (p *pace) band() motion.Band {
	ground := motion.BandOf(p.ground)
	if !p.seen {
		return ground
	}
	subject := motion.BandOf(p.subject)
	if subject == motion.Calm && ground != motion.Calm {
		return motion.Flowing
	}
	return subject
}

// decides is the step that the wish for blur goes by: the subject's where there is one, but for one that hardly moves
// before ground that does.
func (p *pace) decides() float64 {
	if !p.seen || motion.BandOf(p.subject) == motion.Calm && motion.BandOf(p.ground) != motion.Calm {
		return p.ground
	}
	return p.subject
}

// tracked is the step of what the eye follows: the subject's, or the ground's. A subject that stands still
// leaves nothing to judder.
func (p *pace) tracked() float64 {
	switch {
	case !p.seen:
		return p.ground
	case motion.BandOf(p.subject) == motion.Calm:
		return 0
	}
	return p.subject
}

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

// Long exposures (ours). What package motion says of a hover is taken for what nineteen frames in twenty
// stay under, and their blur for the length of a vector with two normal parts (Rayleigh).
const (
	longLimitPx = motion.Loose // of drift that still passes for sharp in the land around blurred water
	keepChance  = 0.9          // to have one sharp frame
	mostFrames  = 99
	mostBurst   = 64
	leastBurst  = 8 // frames whose average looks like one exposure and not like so many ghosts
)

// framesToKeepOne returns how many frames to shoot so that nine times in ten at least one is sharp, when
// nineteen frames in twenty blur by less than so many pixels: a frame is spoilt with exp(−3(limit/blur)²),
// because exp(−3) is one in twenty.
// It is mostFrames + 1 where even that many are too few.
func framesToKeepOne(blurPx, limitPx float64) int {
	if blurPx <= 0 {
		return 1
	}
	x := limitPx / blurPx
	n := math.Ceil(-math.Log(1-keepChance) / (3 * x * x))
	if !(n <= mostFrames) {
		return mostFrames + 1
	}
	return max(1, int(n))
}

// burst returns the short exposures that average to a long one: as long as a frame stays sharp, and enough
// of them.
func burst(wantedS, safeS float64, series []exposure.Step) (frames int, shutterS float64) {
	t, ok := exposure.AtMost(series, min(safeS, wantedS/leastBurst))
	if !ok || t.Value <= 0 {
		return 0, 0
	}
	return min(mostBurst, int(math.Ceil(wantedS/t.Value-1e-9))), t.Value
}

// sharpness writes what a leg's stills or long exposures can hold.
func (y *analysis) sharpness(l *legAnalysis, g *legEvaluation, r *LegReport) {
	if l.Purpose == shot.Video && !l.StillsToo {
		return
	}
	r.SafeShutterS = l.still.safeS
	if l.Purpose != shot.Long {
		return
	}
	safe := motion.SlowestSafe(longLimitPx, l.still.speed, l.still.focal, l.still.depth, l.still.steady)
	r.FramesToKeepOne = framesToKeepOne(l.still.blurPx(g.exposure.set.shutterS), longLimitPx)
	if g.exposure.bright.bright > 0 { // the glass there is leaves no more than this
		safe = min(safe, l.bounds.wanted*math.Exp2(-g.exposure.bright.bright))
	}
	r.BurstFrames, r.BurstShutterS = burst(l.bounds.wanted, safe, exposure.ShuttersOf(y.s.Camera.FastestS, y.s.Camera.SlowestS, false))
}

// longNotes says what a long exposure wants.
func (y *analysis) longNotes(l *legAnalysis, r *LegReport) []string {
	var list []string
	switch n := r.FramesToKeepOne; {
	case n > mostFrames:
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

// stillNote says how slow a still may be.
func (y *analysis) stillNote(l *legAnalysis, r *LegReport) string {
	c := y.s.Camera
	s, ok := exposure.AtMost(exposure.ShuttersOf(c.FastestS, c.SlowestS, false), r.SafeShutterS)
	switch {
	case math.IsInf(r.SafeShutterS, 1):
		return "a still is sharp at any shutter"
	case !ok:
		return "no shutter of this camera is fast enough for a sharp still: fly slower"
	}
	return "a still is sharp down to " + s.Label
}

// stillTooNote says what to set for a still on a film leg.
func (y *analysis) stillTooNote(l *legAnalysis, e *exposureSetting) string {
	c := y.s.Camera
	t := exposure.NearestShutter(e.shutterS, c.FastestS, c.SlowestS, false)
	text := "for a still here set " + t.Label + ", ISO " + exposure.FormatISO(exposure.NearestISO(e.iso, c.ISO.Base, c.ISO.Limit).Value)
	if e.blurred > 0.1 {
		text += ": it will blur"
	}
	return text
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
