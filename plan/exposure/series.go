package exposure

import (
	"math"
	"slices"
	"sort"
)

// Step is one marked setting of a shutter, sensitivity or aperture.
type Step struct {
	Index int     // in third stops: 0 is 1 s, ISO 100, f/1
	Value float64 // the marked value: seconds, ISO or f-number; compute with this one
	Label string  // as the camera marks it: "1/50", "2 s", "100", "f/2.8"
}

// videoShutters are the marks of a stills camera and those that only video modes have.
var videoShutters = withExtra()

func withExtra() []Step {
	s := slices.Concat(shutterTable, videoExtra)
	slices.SortFunc(s, func(a, b Step) int {
		if a.Value < b.Value {
			return -1
		}
		return 1
	})
	return s
}

// slack, in stops, lets a limit that was rounded on its way (0.017 for 1/60) include the mark it
// means: a quarter of the way to the next mark.
const slack = 1.0 / 12

// between returns the steps of a series from low to high, both included; nothing when no mark lies
// between. It shares the series' memory, so that a search allocates nothing.
func between(series []Step, low, high float64) []Step {
	low, high = low*math.Exp2(-slack), high*math.Exp2(slack)
	i := sort.Search(len(series), func(i int) bool { return series[i].Value >= low })
	j := sort.Search(len(series), func(j int) bool { return series[j].Value > high })
	if i >= j {
		return nil
	}
	return series[i:j:j]
}

// ShuttersOf returns the exposure times that a camera can set, 1/8000 to 30 s at most, shortest first.
// A limit of zero is no limit. Video adds 1/48, 1/96, 1/120 and 1/240; for video pass no slower limit
// than one frame. The slice is the package's own: read it only.
func ShuttersOf(fastestS, slowestS float64, video bool) []Step {
	s := shutterTable
	if video {
		s = videoShutters
	}
	return between(s, fastestS, orInf(slowestS))
}

// ISOsOf returns the sensitivities from low to high that a camera can set, 50 to 102400 at most. A high
// of zero is no limit. The slice is the package's own: read it only.
func ISOsOf(low, high float64) []Step { return between(isoTable, low, orInf(high)) }

func orInf(v float64) float64 {
	if v == 0 {
		return math.Inf(1)
	}
	return v
}

// Nearest returns the step of a series that is nearest to a value in stops; the smaller one when two
// are as near. Values beyond the ends have the ends. An empty series or a value that is not above
// zero returns the zero Step.
func Nearest(series []Step, value float64) Step {
	if len(series) == 0 || !(value > 0) {
		return Step{}
	}
	i := sort.Search(len(series), func(i int) bool { return series[i].Value >= value })
	switch {
	case i == 0:
		return series[0]
	case i == len(series):
		return series[i-1]
	case value/series[i-1].Value <= series[i].Value/value:
		return series[i-1]
	}
	return series[i]
}

// withinFrame cuts a series after the last time that fits into a frame, without slack.
func withinFrame(series []Step, fps float64) []Step {
	frame := (1 + 1e-9) / fps
	return series[:sort.Search(len(series), func(i int) bool { return series[i].Value > frame })]
}

// AtMost returns the largest step that is not above a value: the slowest shutter that is fast enough.
// ok is false when the whole series lies above it.
func AtMost(series []Step, value float64) (s Step, ok bool) {
	value *= 1 + 1e-9
	i := sort.Search(len(series), func(i int) bool { return series[i].Value > value })
	if i == 0 {
		return Step{}, false
	}
	return series[i-1], true
}

// Extra tells one of the extra video shutters from a third-stop mark.
func Extra(s Step) bool { return !standard(s) }

// standard tells a third-stop mark from an extra that only borrows its index.
func standard(s Step) bool { return !slices.Contains(videoExtra, s) }

// Nudge moves n marks up or down a series from the mark nearest to a value, and stops at the ends.
func Nudge(series []Step, value float64, n int) Step {
	if len(series) == 0 {
		return Step{}
	}
	i := slices.Index(series, Nearest(series, value)) + n
	return series[max(0, min(i, len(series)-1))]
}

// NearestShutter returns the settable exposure time nearest to a time in seconds.
func NearestShutter(seconds, fastestS, slowestS float64, video bool) Step {
	return Nearest(ShuttersOf(fastestS, slowestS, video), seconds)
}

// NearestISO returns the settable sensitivity nearest to one, between a camera's lowest and highest.
func NearestISO(iso, low, high float64) Step { return Nearest(ISOsOf(low, high), iso) }

// NearestAperture returns the marked f-number, f/1 to f/16, nearest to one.
func NearestAperture(nNumber float64) Step { return Nearest(apertureTable, nNumber) }

// FitsFrames tells whether a shutter is a whole part of a frame.
func FitsFrames(s Step, fps float64) bool {
	parts := 1 / (s.Value * fps)
	return math.Abs(parts-math.Round(parts)) < 1e-6
}
