package hours

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// handHours makes the hours of a span from values, good where they are numbers.
func handHours(o Span, cols, rows int, m Measure, values ...float64) *Hours {
	h := &Hours{Over: o, Cols: cols, Rows: rows, Cells: make([]Hour, cols*rows)}
	for i := range h.Cells {
		c := &h.Cells[i]
		for k := range c.Values {
			c.Values[k] = math.NaN()
		}
		c.TakeOff = time.Date(2026, 6, 1, 0, 10*i, 0, 0, time.UTC)
		if o == OverYear {
			c.TakeOff = time.Date(2026, 1, 1+7*(i/rows), i%rows, 0, 0, 0, time.UTC)
		}
		if i < len(values) && !math.IsNaN(values[i]) {
			c.Values[m], c.State, c.Filter = values[i], Good, "none"
		}
	}
	return h
}

func TestWindowsOfADay(t *testing.T) {
	x := math.NaN()
	// Lower is better; near is within a quarter of a stop of 1.0.
	h := handHours(OverDay, 3, 6, Score, x, 3, 1.2, 1.1, 1.2, 2, x, 1, 1, 1, 9, 1.2, x, 1.26)
	w := h.Windows(Score)
	if len(w) != 3 || !slices.Equal(w[0].Cells, []int{7, 8, 9}) || w[0].Best != 8 || !slices.Equal(w[1].Cells, []int{2, 3, 4}) || w[1].Best != 3 || !slices.Equal(w[2].Cells, []int{11}) {
		t.Fatalf("%+v", w)
	}
	if got := h.WindowWords(&w[0]); got != "01:10 to 01:30, best 01:20" {
		t.Errorf("%q", got)
	}
	if got := h.WindowWords(&w[2]); got != "01:50" {
		t.Errorf("%q", got)
	}
	// Higher is better, and a cell that has a value but cannot be exposed is in no window.
	h = handHours(OverDay, 1, 6, Headroom, 1, 2, 5, 2.2, x, x)
	h.Cells[2].State = Dark
	if w := h.Windows(Headroom); len(w) != 2 || !slices.Equal(w[0].Cells, []int{3}) || !slices.Equal(w[1].Cells, []int{1}) {
		t.Errorf("%+v", w)
	}
	// Light without end is better than any.
	h = handHours(OverDay, 1, 6, Left, 30, math.Inf(1), math.Inf(1), 300, 10, x)
	if w := h.Windows(Left); len(w) != 1 || !slices.Equal(w[0].Cells, []int{1, 2}) {
		t.Errorf("%+v", w)
	}
	if w := handHours(OverDay, 1, 6, Sky).Windows(Sky); len(w) != 0 {
		t.Errorf("nothing is best of nothing: %+v", w)
	}
}

// Weeks and hours that touch are one window; midnight to the next week's first hour do not touch.
func TestWindowsOfAYear(t *testing.T) {
	x := math.NaN()
	h := handHours(OverYear, 3, 4, Sky,
		x, 1, x, 1,
		1, 1, x, x,
		x, x, x, 1)
	w := h.Windows(Sky)
	if len(w) != 3 || !slices.Equal(w[0].Cells, []int{1, 4, 5}) {
		t.Fatalf("%+v", w)
	}
	if a, b, c, d := w[0].box(h); a != 0 || b != 1 || c != 0 || d != 1 {
		t.Errorf("box %d %d %d %d", a, b, c, d)
	}
	if got := h.WindowWords(&w[0]); got != "1 Jan 01:00, good from 1 Jan to 8 Jan between 00:00 and 01:00" && got != "8 Jan 01:00, good from 1 Jan to 8 Jan between 00:00 and 01:00" && got != "8 Jan 00:00, good from 1 Jan to 8 Jan between 00:00 and 01:00" {
		t.Errorf("%q", got)
	}
	if got := h.WindowWords(&w[1]); got != "1 Jan 03:00" {
		t.Errorf("%q", got)
	}
}

func TestLevels(t *testing.T) {
	h := handHours(OverDay, 1, 6, Unevenness, 0.5, 1, 1.5)
	for v, want := range map[float64]float64{0.5: 1, 1: 0.5, 1.5: 0, 9: 0} {
		if got := h.Level(Unevenness, v); got != want {
			t.Errorf("unevenness %g: level %g, want %g", v, got, want)
		}
	}
	h = handHours(OverDay, 1, 6, Score, -1, 0, 9)
	if a, b, ok := h.Scale(Score); math.Abs(a+1-scoreReach) > 1e-9 || b != -1 || !ok || h.Level(Score, 9) != 0 || h.Level(Score, -1) != 1 {
		t.Errorf("scores from %g to %g", a, b)
	}
	h = handHours(OverDay, 1, 6, Left, 10, 20, math.Inf(1))
	if a, b, ok := h.ends(Left); !ok || a != 10 || b != 20 {
		t.Errorf("ends %g %g %v", a, b, ok)
	}
	if h.Level(Left, math.Inf(1)) != 1 || h.Level(Left, 10) != 0 {
		t.Error("light without end is not at the top")
	}
	h.Cells[1].State = Dark
	if l := h.Levels(Left); len(l) != 6 || l[0] != 1 || !math.IsNaN(l[1]) || l[2] != 1 || !math.IsNaN(l[3]) {
		t.Errorf("levels %v", l)
	}
	if _, _, ok := h.ends(Sky); ok || h.Level(Sky, 1) != 0 {
		t.Error("a measure without values has ends")
	}
	flat := handHours(OverDay, 1, 6, Sky, 1, 1)
	if flat.Level(Sky, 1) != 1 || flat.Note(Sky) == "" {
		t.Error("hours that are alike")
	}
}

func TestHourWords(t *testing.T) {
	h := handHours(OverDay, 1, 6, Score, -1, -0.95, 0.4)
	for _, c := range []struct {
		m    Measure
		v    float64
		want string
	}{
		{Score, -0.95, "the best of the day"}, {Score, 0.4, "1⅓ stops short of the best"},
		{Sky, 0.1, "sky as it is"}, {Sky, 1, "sky 1 stop darker"}, {Sky, -0.7, "sky ⅔ stop lighter"},
		{Strength, 1.4, "1⅓ stops from ring to ring"}, {Strength, 0.1, "no ring changes the sky"},
		{Unevenness, 0.2, "sky even"}, {Unevenness, 1.4, "sky banded"},
		{Glare, 0.5, "half of the glare gone"}, {Glare, 0, "glare as it is"}, {Haze, -0.1, "haze stronger by a little"},
		{Light, 14.6, "EV 15 on the land"}, {Light, -8.6, "EV −9 on the land"}, {Light, -0.2, "EV 0 on the land"},
		{Headroom, 2, "2 stops to spare"}, {Headroom, 0, "just at the clean ISO"}, {Headroom, -1, "1 stop short of a clean ISO"},
		{Left, 38.2, "clean-ISO light for 38 minutes"}, {Left, 200, "clean-ISO light for 3 hours"}, {Left, 0, "no clean-ISO light"}, {Left, math.Inf(1), "the light is not running out"},
		{Sun, 22.7, "sun 23°"},
	} {
		if got := h.Words(c.m, c.v); got != c.want {
			t.Errorf("%v %g: %q, want %q", c.m, c.v, got, c.want)
		}
	}
	late := &Hour{TakeOff: time.Date(2026, 6, 1, 20, 3, 0, 0, time.UTC), State: Good, Filter: "ND8"}
	late.Values[Left] = 38.2
	if got := h.ValueWords(Left, late); got != "clean-ISO light until 20:41" {
		t.Errorf("%q", got)
	}
	if got := late.WantWords(); got != "light as wanted" {
		t.Errorf("%q", got)
	}
	late.OffStops, late.OffWhy = 1, "not side light"
	if got := late.WantWords(); got != "not side light" || late.AsWanted() {
		t.Errorf("%q", got)
	}
	for m := range Measures {
		if n, ok := MeasureByName(m.String()); !ok || n != m || m.Title() == "" {
			t.Errorf("%v", m)
		}
	}
	if _, ok := MeasureByName("mood"); ok || len(MeasureNames()) != int(Measures) {
		t.Error("a measure of that name")
	}
	c := Hour{Filter: "variable light", SettingStops: 3, HasRing: true, RingDeg: 45}
	if got := c.CallWords(); got != "variable light at 3 stops, mark at 1:30 or 7:30" {
		t.Errorf("%q", got)
	}
	for state, want := range map[State]string{Skipped: "skip", Night: "night", Dark: "too dark", Bright: "too bright", Good: "sky"} {
		if got := (&Hour{State: state, Values: h.Cells[5].Values}).StateWords(Sky); !strings.Contains(got, want) {
			t.Errorf("state %d: %q", state, got)
		}
	}
}

// Low sun is a window of its own, where no ridge hides it; neither the highest nor the lowest is best of it.
func TestWindowsOfLowSun(t *testing.T) {
	h := handHours(OverDay, 2, 6, Sun, -1, 1, 3, 5, 7, 30, 7, 5, 3, 1, 0, -1)
	for i := range h.Cells {
		h.Cells[i].Behind = i == 9 || i == 10
	}
	w := h.Windows(Sun)
	if len(w) != 2 || !slices.Equal(w[0].Cells, []int{1, 2, 3}) || w[0].Best != 2 || !slices.Equal(w[1].Cells, []int{7, 8}) {
		t.Errorf("%+v", w)
	}
}
