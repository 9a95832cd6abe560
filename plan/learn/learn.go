// Package learn works out what the logs of flights teach: one's own offsets of a camera and of filters, and how far the words
// of the calls can be believed.
//
// The one hard idea: what was set says nothing about what would have been right. A pilot who does as told has no residual,
// whatever the light was. Only a meter that was read, an automatic exposure that was judged right, or a picture that was
// judged too dark or too bright is evidence; any other line is a repeat of the plan.
package learn

import (
	"math"
	"slices"
	"strings"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// When something is shown and when it is offered, and the least scatter that is believed (ours).
const (
	ShownFrom   = 3
	OfferedFrom = 6
	leastStops  = 0.25
	ErrorTimes  = 2.5
	leastSpread = 1.0 / 3
	farSpreads  = 3.0
	inUseSlack  = 0.05 // an offset that is used already is not offered again for less
)

// Of a normal scatter the standard deviation is the median absolute deviation over the third quartile of the normal
// distribution, .67449 (Hampel 1974, J. Am. Stat. Assoc. 69:383, from memory), and a median is √(π/2) times as uncertain as
// a mean (from memory).
const (
	madToSD    = 1.4826
	medianToSE = 1.2533
)

// Line is a line of some card's log.
type Line struct {
	Card string // its file
	Day  string // the date at the place; "" not known
	shot.Flown
}

// Offset is how far the light was from what was planned, in stops: positive, there was more of it.
type Offset struct {
	Name       string
	WithCamera bool // of a filter without bare flights: the camera's is in it
	Median     float64
	Error      float64 // standard error
	N          int     // flights
	Offered    bool    // it is worth using
	InUse      float64 // what the bag has of it
	Write      float64 // what goes into the bag when it is used
	Far        []Far   // flights far off the others
}

// Far is a flight that is far off the others.
type Far struct {
	Card, Day string
	Stops     float64
}

// Words is how often what was foretold so surely came true.
type Words struct {
	Confidence          string // holds | close | depends
	Yes, Partly, No     int
	Sky, Glare          [3]int // as planned, less, more
	Judged, JudgedGlass int    // lines with a verdict of the first kind, and of the second
}

// Learned is all of it.
type Learned struct {
	Lines, Evidence, Flights int     // lines, those that are evidence, and the flights they make
	Camera                   *Offset // nil below ShownFrom bare flights
	Filters                  []Offset
	Words                    []Words // those that were judged
}

// Residual returns how much more light there was than planned for, in stops; ok is false of a line that is no evidence. What
// was set is an exposure value at ISO 100: log2(N²/t) − log2(ISO/100) (ISO 2720:1974).
func Residual(f *shot.Flown) (stops float64, ok bool) {
	if f.PlannedEV100 == nil || f.ShutterS <= 0 || f.ISO <= 0 || f.Aperture <= 0 {
		return 0, false
	}
	set := math.Log2(f.Aperture*f.Aperture/f.ShutterS) - math.Log2(f.ISO/100)
	right := set
	switch {
	case f.MeterStops != nil && f.PlannedMeter != nil:
		right += *f.MeterStops - *f.PlannedMeter
	case f.OffStops != nil:
		right -= *f.OffStops
	case f.Auto && f.Worked == shot.WorkedYes:
	default:
		return 0, false
	}
	return right - (*f.PlannedEV100 - f.OffsetStops), true
}

// flight is one flight with one filter: the median of its lines.
type flight struct {
	card, day, filter string
	lines             []float64
	stops             float64
}

// Of learns from the lines of one camera. inUse tells what the bag has of a filter's offset, and of the camera's for "".
func Of(lines []Line, camera string, inUse func(filter string) float64) Learned {
	out := Learned{Lines: len(lines)}
	var flights []*flight
	var names []string
	for i := range lines {
		l := &lines[i]
		r, ok := Residual(&l.Flown)
		if !ok || l.Filter == "" {
			continue
		}
		out.Evidence++
		at := slices.IndexFunc(flights, func(f *flight) bool { return f.card == l.Card && f.day == l.Day && f.filter == l.Filter })
		if at < 0 {
			at = len(flights)
			flights = append(flights, &flight{card: l.Card, day: l.Day, filter: l.Filter})
			if l.Filter != words.Bare && !slices.Contains(names, l.Filter) {
				names = append(names, l.Filter)
			}
		}
		flights[at].lines = append(flights[at].lines, r)
	}
	out.Flights = len(flights)
	for _, f := range flights {
		f.stops = median(f.lines)
	}
	bare := offsetOf(flights, words.Bare)
	known := bare != nil
	if known {
		bare.Name, bare.InUse, bare.Write = camera, inUse(""), bare.Median
		bare.judge()
		out.Camera = bare
	}
	slices.Sort(names)
	for _, name := range names {
		o := offsetOf(flights, name)
		if o == nil {
			continue
		}
		if o.InUse, o.WithCamera = inUse(name), !known; known {
			o.Median -= bare.Median
			o.Error = math.Hypot(o.Error, bare.Error)
			o.Write = o.Median
		} else {
			o.InUse += inUse("")
			o.Write = o.Median - inUse("")
		}
		o.judge()
		out.Filters = append(out.Filters, *o)
	}
	out.Words = wordsOf(lines)
	return out
}

// offsetOf returns what the flights with a filter say; nil of too few.
func offsetOf(flights []*flight, filter string) *Offset {
	var all []float64
	for _, f := range flights {
		if f.filter == filter {
			all = append(all, f.stops)
		}
	}
	if len(all) < ShownFrom {
		return nil
	}
	o := &Offset{Name: filter, Median: median(all), N: len(all)}
	away := make([]float64, len(all))
	for i, x := range all {
		away[i] = math.Abs(x - o.Median)
	}
	spread := max(madToSD*median(away), leastSpread)
	o.Error = medianToSE * spread / math.Sqrt(float64(o.N))
	for _, f := range flights {
		if f.filter == filter && math.Abs(f.stops-o.Median) > farSpreads*spread {
			o.Far = append(o.Far, Far{f.card, f.day, f.stops})
		}
	}
	return o
}

// judge tells whether an offset is worth using.
func (o *Offset) judge() {
	o.Offered = o.N >= OfferedFrom && math.Abs(o.Median) >= leastStops && math.Abs(o.Median) > ErrorTimes*o.Error &&
		math.Abs(o.Median-o.InUse) > inUseSlack
}

// median returns the middle of some numbers, of an even count the mean of the two in the middle; 0 of none.
func median(x []float64) float64 {
	s := slices.Clone(x)
	slices.Sort(s)
	n := len(s)
	switch {
	case n == 0:
		return 0
	case n%2 == 1:
		return s[n/2]
	}
	return (s[n/2-1] + s[n/2]) / 2
}

// wordsOf counts what was seen against how sure the plan was.
func wordsOf(lines []Line) (out []Words) {
	for _, sure := range []string{"holds", "close", "depends"} {
		w := Words{Confidence: sure}
		for i := range lines {
			f := &lines[i]
			if f.Confidence != sure {
				continue
			}
			switch f.Worked {
			case shot.WorkedYes:
				w.Yes++
			case shot.WorkedPartly:
				w.Partly++
			case shot.WorkedNo:
				w.No++
			}
			for k, v := range []string{shot.AsPlanned, shot.LessThan, shot.MoreThan} {
				if f.Sky == v {
					w.Sky[k]++
				}
				if f.Glare == v {
					w.Glare[k]++
				}
			}
		}
		w.Judged = w.Yes + w.Partly + w.No
		w.JudgedGlass = w.Sky[0] + w.Sky[1] + w.Sky[2] + w.Glare[0] + w.Glare[1] + w.Glare[2]
		if w.Judged+w.JudgedGlass > 0 {
			out = append(out, w)
		}
	}
	return out
}

// Title is what an offset is called.
func (o *Offset) Title() string {
	if o.WithCamera {
		return strings.TrimSpace("camera with " + o.Name)
	}
	return o.Name
}
