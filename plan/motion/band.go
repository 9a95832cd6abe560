package motion

import "math"

// Viewing is how wide a picture stands in the viewer's eye, in degrees.
type Viewing float64

// The two viewing distances: the bands are anchored on HD.
const (
	HD  Viewing = 33.0 // a 16:9 screen at 3 picture heights
	UHD Viewing = 61.3 // at 1.5 picture heights
)

// StepArcmin returns how far the picture jumps from one frame to the next, in minutes of arc at the
// viewer's eye: 60·width·p/fps with the speed p in frame widths a second.
func (v Viewing) StepArcmin(speedPxS, widthPx, fps float64) float64 {
	return 60 * float64(v) * speedPxS / widthPx / fps
}

// Band is how image motion reads to a viewer.
type Band string

// The bands, by the step a frame: ours, anchored on one minute of arc as the eye's acuity and on the
// handbook rule that a pan takes 7 s a picture width at 24 frames a second (Burum, American
// Cinematographer Manual, cited by Chapiro, Atkins & Daly 2019), which is 11.8 minutes.
const (
	Calm    Band = "calm"    // below 2: any shutter, no filter is needed for blur
	Flowing Band = "flowing" // 2 to 12: a 180° shutter is worth it
	Fast    Band = "fast"    // 12 to 60: strobes whatever the shutter; slow down or raise the frame rate
	Whip    Band = "whip"    // 60 and above: no detail is followed
)

// The steps in minutes of arc at which the bands begin.
const (
	flowingFrom = 2.0
	fastFrom    = 12.0
	whipFrom    = 60.0
)

// BandOf returns the band of a step in minutes of arc.
func BandOf(stepArcmin float64) Band {
	switch {
	case stepArcmin < flowingFrom:
		return Calm
	case stepArcmin < fastFrom:
		return Flowing
	case stepArcmin < whipFrom:
		return Fast
	}
	return Whip
}

// Remedy is what brings a leg that is too fast to flowing: either one alone is enough.
type Remedy struct {
	Slowdown float64 // multiply every speed and turn of the leg by this, 0..1; 1 when nothing is needed
	MaxSpeed float64 // the leg's speed after that, in the unit that was given
	FPS      float64 // the slowest offered frame rate that is enough; 0 when none is
}

// RemedyFor returns what brings a step to the upper end of flowing. speed is the leg's own speed or
// rate of turn in any unit, offered the frame rates that the mode has, in any order.
func RemedyFor(stepArcmin, speed, fps float64, offered []float64) Remedy {
	if !(stepArcmin > fastFrom) {
		return Remedy{Slowdown: 1, MaxSpeed: speed, FPS: fps}
	}
	k := fastFrom / stepArcmin
	r := Remedy{Slowdown: k, MaxSpeed: speed * k}
	need := fps / k
	for _, f := range offered {
		if f >= need*(1-1e-9) && (r.FPS == 0 || f < r.FPS) {
			r.FPS = f
		}
	}
	return r
}

// JudderAcceptable is the upper acceptable score of [Judder]: a pan of 7 s a picture width at 24
// frames a second and 2.5 cd/m².
const JudderAcceptable = 5.108

// Judder returns the judder score of a pan: frame rate, screen luminance in cd/m² and seconds for one
// picture width (Chapiro, Atkins & Daly 2019, ACM Transactions on Graphics 38(4):142, polynomial
// fit). The fit holds for 24 to 120 frames a second, 2.5 to 40 cd/m² and 5 to 17 s; other values are
// clamped and valid is false. The same study found no significant effect of the shutter angle.
func Judder(fps, cdm2, widthS float64) (score float64, valid bool) {
	f, l, t := clamp(fps, 24, 120), clamp(cdm2, 2.5, 40), clamp(widthS, 5, 17)
	valid = f == fps && l == cdm2 && t == widthS
	a, b, c := 1/f, math.Log10(l), 1920/t
	score = 1620.37267080746*a*a + 86.8082906256909*a*b + 0.320448868447774*a*c -
		95.5544193256484*a - 0.318628091166034*b*b + 0.000763570204858091*b*c -
		0.476231268832550*b - 1.00998175043235e-5*c*c - 0.000937624477501956*c + 2.34848262897281
	return score, valid
}

func clamp(v, lo, hi float64) float64 { return math.Max(lo, math.Min(v, hi)) }
