// Package hours is what a shot's day or year says once each of its hours has been judged: the measures that hours are
// compared by, the best windows, and the words for all of it; and the clock that says which hours a day has. It judges
// nothing itself: plan does that, and fills these in.
package hours

import (
	"math"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// Measure is what the hours of a shot are compared by.
type Measure int

// The measures. All but the strength, the light and the sun's altitude are those of the best call of each
// hour, judged for the whole card as one flight.
const (
	Score      Measure = iota // stops of penalty; lower is better
	Sky                       // stops by which the sky is darker than under a density, mean over the frame and the legs
	Strength                  // stops between the weakest and the strongest ring of any polariser, median over the sky, mean over the legs
	Unevenness                // stops over the sky in the frame, at the worst moment
	Glare                     // Share of the glare that is gone, mean over the legs
	Haze                      // Share of the haze that is gone, mean over the legs
	Light                     // EV100 of the land at the darkest moment
	Headroom                  // stops that the light may still fall before ISO leaves clean, on the leg with least
	Left                      // minutes from take-off until then on the leg that decides; +Inf when that is more than a day away
	Sun                       // apparent altitude of the sun at the first take, degrees
	Measures
)

// measure is a row of the table of measures.
type measure struct {
	key, title string
	better     float64 // 1: more is better, −1: less is
	near       float64 // how far from the best still counts as good, in the measure's unit (ours)
}

var measures = [Measures]measure{
	Score:      {"call", "how well the bag holds it", -1, words.CloseStops},
	Sky:        {"sky", "how much darker the sky comes out", 1, 0.2},
	Strength:   {"strength", "how much any polariser's ring can change the sky", 1, 0.2},
	Unevenness: {"uneven", "how uneven the sky comes out", -1, 0.2},
	Glare:      {"glare", "how much of the glare goes", 1, 0.08},
	Haze:       {"haze", "how much of the haze goes", 1, 0.05},
	Light:      {"light", "how bright the land is", 1, 0.5},
	Headroom:   {"headroom", "how far the light may still fall", 1, 0.5},
	Left:       {"left", "how long the clean light lasts", 1, 15},
	Sun:        {"sun", "how high the sun stands", 1, 0},
}

// String returns the word for a measure, as command lines take it.
func (m Measure) String() string {
	if m < 0 || m >= Measures {
		return "unknown"
	}
	return measures[m].key
}

// Title says what a measure tells.
func (m Measure) Title() string { return measures[m].title }

// LessIsBetter tells which end of a measure is the good one.
func (m Measure) LessIsBetter() bool { return measures[m].better < 0 }

// MeasureByName finds a measure by its word.
func MeasureByName(name string) (Measure, bool) {
	for m := range Measures {
		if measures[m].key == name {
			return m, true
		}
	}
	return 0, false
}

// MeasureNames lists the words of all measures.
func MeasureNames() []string {
	var list []string
	for m := range Measures {
		list = append(list, m.String())
	}
	return list
}

// State is what is known of an hour.
type State int

// The states.
const (
	Skipped State = iota // no such time: the clocks skip it, or the day is over
	Unfit                // headings that follow the sun contradict the rest of the card then
	Night                // the sun stays below nautical twilight: not looked at
	Dark                 // no filter and no setting of the camera exposes it: too dark
	Bright               // the same: too bright
	Good                 // judged
)

// Hour is the shot with one take-off.
type Hour struct {
	TakeOff time.Time    // in the place's zone; zero when it is skipped
	Sun     sun.Position // At the start of the first take
	Behind  bool         // the skyline of the card hides the sun then
	State   State
	Why     string // of Unfit, Dark and Bright, in words

	// How the light differs from the light that the card is for, which the call does not ask; at any hour with
	// a take-off that fits. OffStops is what that costs, 0 to 3.
	OffStops float64
	OffWhy   string // in words, "" for the light wanted

	// The best call, when State is Good.
	Filter       string // "none" for bare
	SettingStops float64
	HasRing      bool
	RingDeg      float64

	// Values are the measures; NaN where there is none: no sky, no water in the frame, or the hour is not
	// judged.
	Values [Measures]float64
}

// Value returns a measure of an hour; ok is false where there is none. Minutes of light may be +Inf.
func (h *Hour) Value(m Measure) (v float64, ok bool) {
	v = h.Values[m]
	return v, !math.IsNaN(v)
}

// AsWanted tells whether an hour has the light that the card is for.
func (h *Hour) AsWanted() bool {
	return h.State != Skipped && h.State != Unfit && h.OffStops == 0
}

// Hours is a shot over its day or its year.
type Hours struct {
	Shot       *shot.Shot
	Over       Span
	Cols, Rows int
	Cells      []Hour // column by column: that of a column and a row is Cells[col*Rows+row]
	Own        int    // the cell nearest to the take-off of the shot
}

// At returns the cell of a column and a row.
func (h *Hours) At(col, row int) *Hour { return &h.Cells[col*h.Rows+row] }

// ends returns the least and the greatest finite value of a measure among the hours that can be exposed; ok is
// false when none has one.
func (h *Hours) ends(m Measure) (least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for i := range h.Cells {
		if v, has := h.Cells[i].Value(m); has && h.Cells[i].State == Good && !math.IsInf(v, 0) {
			least, most, ok = min(least, v), max(most, v), true
		}
	}
	return least, most, ok
}

// scoreReach is how many stops short of the best hour the bottom of the scale of scores lies at most: what
// is worse than that is no choice any more, and would hide the differences among the good hours (ours).
const scoreReach = 4.0 / 3

// Scale returns the values at the worse and the better end of the scale that levels count on; ok is false
// when no hour has a value.
func (h *Hours) Scale(m Measure) (worse, better float64, ok bool) {
	a, b, ok := h.ends(m)
	if m == Score {
		b = min(b, a+scoreReach)
	}
	if m.LessIsBetter() {
		a, b = b, a
	}
	return a, b, ok
}

// Level returns where a value lies on the scale of its measure, from 0 at the worse end to 1 at the better
// one; 1 where all hours are alike.
func (h *Hours) Level(m Measure, v float64) float64 {
	worse, better, ok := h.Scale(m)
	return onScale(v, worse, better, ok)
}

func onScale(v, worse, better float64, ok bool) float64 {
	switch {
	case !ok && !math.IsInf(v, 1):
		return 0
	case math.IsInf(v, 1), math.Abs(better-worse) < 1e-9:
		return 1
	}
	return min(1, max(0, (v-worse)/(better-worse)))
}

// Levels returns the levels of all hours on the scale of a measure, NaN where there is none or where an
// hour cannot be exposed.
func (h *Hours) Levels(m Measure) []float64 {
	list := make([]float64, len(h.Cells))
	worse, better, ok := h.Scale(m)
	for i := range h.Cells {
		list[i] = math.NaN()
		if v, has := h.Cells[i].Value(m); has && h.Cells[i].State == Good {
			list[i] = onScale(v, worse, better, ok)
		}
	}
	return list
}
