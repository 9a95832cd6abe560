package setting

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
)

// StillMotion is how the picture of a still moves.
type StillMotion struct {
	PxS, FocalPx, DepthM float64 // px/s, px, m
	Steady               motion.Steadiness
	SafeS                float64 // the slowest exposure that stays sharp
}

// BlurPx returns the blur of a still at an exposure, in pixels.
func (s StillMotion) BlurPx(seconds float64) float64 {
	return motion.BlurPx(s.PxS, seconds, s.FocalPx, s.DepthM, s.Steady)
}

// Pace is how fast a leg's picture steps from frame to frame at most, in minutes of arc.
type Pace struct {
	Ground, Subject float64
	Seen            bool // there is a subject in the frame
}

func (p *Pace) Add(ground, subject float64, seen bool) {
	p.Ground = max(p.Ground, ground)
	if seen {
		p.Subject, p.Seen = max(p.Subject, subject), true
	}
}

// Band judges the subject first. The eye rests on a subject that hardly moves in the picture: the ground
// that rushes past behind it only has to streak, which the blur of the wanted shutter makes it do.
func (p *Pace) Band() motion.Band {
	ground := motion.BandOf(p.Ground)
	if !p.Seen {
		return ground
	}
	subject := motion.BandOf(p.Subject)
	if subject == motion.Calm && ground != motion.Calm {
		return motion.Flowing
	}
	return subject
}

// Decides is the step that the wish for blur goes by: the subject's where there is one, but for one that hardly moves
// before ground that does.
func (p *Pace) Decides() float64 {
	if !p.Seen || motion.BandOf(p.Subject) == motion.Calm && motion.BandOf(p.Ground) != motion.Calm {
		return p.Ground
	}
	return p.Subject
}

// Tracked is the step of what the eye follows: the subject's, or the ground's. A subject that stands still
// leaves nothing to judder.
func (p *Pace) Tracked() float64 {
	switch {
	case !p.Seen:
		return p.Ground
	case motion.BandOf(p.Subject) == motion.Calm:
		return 0
	}
	return p.Subject
}

// Long exposures (ours). What package motion says of a hover is taken for what nineteen frames in twenty
// stay under, and their blur for the length of a vector with two normal parts (Rayleigh).
const (
	LongLimitPx = motion.Loose // of drift that still passes for sharp in the land around blurred water
	keepChance  = 0.9          // to have one sharp frame
	MostFrames  = 99
	mostBurst   = 64
	leastBurst  = 8 // frames whose average looks like one exposure and not like so many ghosts
)

// FramesToKeepOne returns how many frames to shoot so that nine times in ten at least one is sharp, when
// nineteen frames in twenty blur by less than so many pixels: a frame is spoilt with exp(−3(limit/blur)²),
// because exp(−3) is one in twenty.
// It is mostFrames + 1 where even that many are too few.
func FramesToKeepOne(blurPx, limitPx float64) int {
	if blurPx <= 0 {
		return 1
	}
	x := limitPx / blurPx
	n := math.Ceil(-math.Log(1-keepChance) / (3 * x * x))
	if !(n <= MostFrames) {
		return MostFrames + 1
	}
	return max(1, int(n))
}

// Burst returns the short exposures that average to a long one: as long as a frame stays sharp, and enough
// of them.
func Burst(wantedS, safeS float64, series []exposure.Step) (frames int, shutterS float64) {
	t, ok := exposure.AtMost(series, min(safeS, wantedS/leastBurst))
	if !ok || t.Value <= 0 {
		return 0, 0
	}
	return min(mostBurst, int(math.Ceil(wantedS/t.Value-1e-9))), t.Value
}
