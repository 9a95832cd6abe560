package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func hoursOf(t testing.TB, s *shot.Shot, o hours.Span) *hours.Hours {
	t.Helper()
	h, err := HoursOf(context.Background(), s, kit.Generic(), o, HoursOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// cellAt returns the cell of a day at a time of its clock.
func cellAt(t testing.TB, h *hours.Hours, clock string) *hours.Hour {
	t.Helper()
	for i := range h.Cells {
		if c := &h.Cells[i]; !c.TakeOff.IsZero() && c.TakeOff.Format("15:04") == clock {
			return c
		}
	}
	t.Fatalf("no cell at %s", clock)
	return nil
}

// A day at latitude 45 on the equinox, looking west with a polariser. Common practice, no source: the
// sky answers with the sun abeam, at noon, and hardly with the sun ahead, in the evening; noon is
// brightest and needs most density; full sun is EV 15 (ANSI PH2.7), to the half stop that the model is
// held to; light that falls takes the headroom.
func TestDayFacts(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(270, 5, 40))
	s.Filter = "CPL"
	h := hoursOf(t, s, hours.OverDay)
	if h.Cols != 24 || h.Rows != 6 || len(h.Cells) != 144 {
		t.Fatalf("%d × %d", h.Cols, h.Rows)
	}
	noon, evening := cellAt(t, h, "12:00"), cellAt(t, h, "17:30")
	if a, b := noon.Values[hours.Sky], evening.Values[hours.Sky]; a < b+0.4 {
		t.Errorf("sky at noon %.2f, in the evening %.2f", a, b)
	}
	if ev := noon.Values[hours.Light]; math.Abs(ev-14.5) > 0.6 {
		t.Errorf("EV %.2f at noon", ev)
	}
	if a, b := noon.Values[hours.Light], evening.Values[hours.Light]; a < b+1 {
		t.Errorf("EV %.2f at noon, %.2f in the evening", a, b)
	}
	// What the land alone asks for: the frame holds the sun in the evening, and asks for less.
	land := plantest.Flight(12, 0, plantest.Push(270, 5, 40))
	land.Filter, land.Legs[0].Expose = "CPL", shot.ExposeLand
	ofLand := hoursOf(t, land, hours.OverDay)
	if a, b := cellAt(t, ofLand, "12:00").Values[hours.Headroom], cellAt(t, ofLand, "17:30").Values[hours.Headroom]; a < b+1 {
		t.Errorf("headroom %.2f at noon, %.2f in the evening", a, b)
	}
	if c := cellAt(t, h, "00:00"); c.State != hours.Night || !math.IsNaN(c.Values[hours.Score]) || c.Values[hours.Sun] > -40 {
		t.Errorf("midnight: %+v", c)
	}
	for i := range h.Cells {
		if c := &h.Cells[i]; c.Filter != "" && c.Filter != "CPL" {
			t.Errorf("%v: %s, the card asks for the CPL", c.TakeOff, c.Filter)
		}
	}
	// The minutes left count down by ten, from the morning on.
	for _, pair := range [][2]string{{"17:10", "17:20"}, {"09:00", "09:10"}, {"12:00", "12:10"}} {
		a, b := cellAt(t, h, pair[0]).Values[hours.Left], cellAt(t, h, pair[1]).Values[hours.Left]
		if math.Abs(a-b-10) > 1 {
			t.Errorf("%.1f minutes left at %s, ten minutes later %.1f", a, pair[0], b)
		}
	}
}

// Of density alone, left to the program, noon takes more than the low sun.
func TestNoonTakesMoreDensity(t *testing.T) {
	bag := *kit.Generic()
	bag.Filters = nil
	for _, n := range []string{"ND8", "ND16", "ND32", "ND64"} {
		f, _ := kit.Generic().FilterByName(n)
		bag.Filters = append(bag.Filters, f)
	}
	h, err := HoursOf(context.Background(), plantest.Flight(12, 0, plantest.Push(200, 12, 15)), &bag, hours.OverDay, HoursOptions{})
	if err != nil {
		t.Fatal(err)
	}
	stops := func(clock string) float64 {
		f, _ := bag.FilterByName(cellAt(t, h, clock).Filter)
		return f.TotalStops(0)
	}
	if a, b := stops("12:00"), stops("17:40"); a <= b {
		t.Errorf("%.0f stops at noon, %.0f in the evening", a, b)
	}
}

// Near a pole a day may have no light, or no night. At latitude 85 the midwinter sun stays below −18°,
// at 78 the midsummer sun above +11° (90 − latitude − 23.44°, and its mirror).
func TestPolarDayAndNight(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(270, 5, 40))
	s.LatDeg, s.TakeOff = 85, time.Date(2026, 12, 21, 12, 0, 0, 0, time.UTC)
	h := hoursOf(t, s, hours.OverDay)
	for i := range h.Cells {
		if h.Cells[i].State != hours.Night {
			t.Fatalf("%v: %+v", h.Cells[i].TakeOff, h.Cells[i])
		}
	}
	for m := range hours.Measures {
		if w := h.Windows(m); len(w) != 0 {
			t.Errorf("%v has windows in the night: %v", m, w)
		}
	}
	if n := h.Note(hours.Score); !strings.Contains(n, "night all day") {
		t.Errorf("note %q", n)
	}
	s.LatDeg, s.TakeOff = 78, time.Date(2026, 6, 21, 12, 0, 0, 0, time.UTC)
	h = hoursOf(t, s, hours.OverDay)
	for i := range h.Cells {
		if c := &h.Cells[i]; c.State != hours.Good || c.Values[hours.Sun] < 11 || !math.IsInf(c.Values[hours.Left], 1) {
			t.Fatalf("%v: %+v", c.TakeOff, c)
		}
	}
	if w := h.Windows(hours.Sun); len(w) != 0 {
		t.Errorf("low sun at midsummer: %v", w)
	}
	y := hoursOf(t, s, hours.OverYear)
	if y.Cols < 52 || y.Cols > 53 || y.Rows != 24 {
		t.Errorf("%d × %d", y.Cols, y.Rows)
	}
	if c := y.At(0, 12); c.State == hours.Good || y.At(25, 0).State != hours.Good {
		t.Errorf("January noon %v, midsummer midnight %v", c.State, y.At(25, 0).State)
	}
	if own := y.Cells[y.Own].TakeOff; !own.Equal(s.TakeOff) {
		t.Errorf("own cell %v", own)
	}
}

// A ridge takes the sun away and with it the light.
func TestHoursBehindSkyline(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(0, 5, 40))
	open := hoursOf(t, s, hours.OverDay)
	s.Skyline = [][2]float64{{200, 30}, {250, 30}, {290, 30}}
	ridge := hoursOf(t, s, hours.OverDay)
	a, b := cellAt(t, open, "16:00"), cellAt(t, ridge, "16:00")
	if a.Behind || !b.Behind || b.Values[hours.Light] > a.Values[hours.Light]-1 {
		t.Errorf("open %+v, behind the ridge %+v", a, b)
	}
	if c := cellAt(t, ridge, "11:00"); c.Behind || c.Values[hours.Light] != cellAt(t, open, "11:00").Values[hours.Light] {
		t.Errorf("the ridge in the west changes the morning: %+v", c)
	}
	for _, w := range ridge.Windows(hours.Sun) {
		for _, i := range w.Cells {
			if v := ridge.Cells[i].Values[hours.Sun]; v < 0 || v >= sun.LowSunDeg || ridge.Cells[i].Behind {
				t.Errorf("%s counts as low sun at %.1f°", ridge.When(i), v)
			}
		}
	}
}

// The answer is the same whoever works it out.
func TestHoursDoNotDependOnWorkers(t *testing.T) {
	s := eightLegs()
	var want string
	for _, n := range []int{1, 2, 5} {
		h, err := HoursOf(context.Background(), s, kit.Generic(), hours.OverDay, HoursOptions{Workers: n})
		if err != nil {
			t.Fatal(err)
		}
		got := fmt.Sprintf("%v", h.Cells)
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("%d workers give another answer than one", n)
		}
	}
}

func TestHoursCancel(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	calls, last := 0, 0
	_, err := HoursOf(ctx, eightLegs(), kit.Generic(), hours.OverYear, HoursOptions{Workers: 2, Progress: func(done, total int) {
		if calls++; calls == 5 {
			stop()
		}
		if done < last || done > total {
			t.Errorf("progress %d after %d of %d", done, last, total)
		}
		last = done
	}})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if calls > 300 {
		t.Errorf("%d calls after it was cancelled at the fifth", calls)
	}
	if _, err := HoursOf(ctx, eightLegs(), kit.Generic(), hours.OverDay, HoursOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before the start: %v", err)
	}
	calls = 0
	if _, err := HoursOf(context.Background(), plantest.Flight(12, 0, plantest.Push(0, 5, 40)), kit.Generic(), hours.OverDay, HoursOptions{Progress: func(done, total int) {
		calls++
		if calls != done || total != 144 {
			t.Errorf("progress %d of %d at the %dth call", done, total, calls)
		}
	}}); err != nil || calls != 144 {
		t.Errorf("%d calls, %v", calls, err)
	}
}

func TestHoursWithoutLegs(t *testing.T) {
	if _, err := HoursOf(context.Background(), plantest.Flight(12, 0), kit.Generic(), hours.OverDay, HoursOptions{}); err == nil {
		t.Error("a shot without legs has hours")
	}
}

// Of any shot on any day: every hour is either skipped, refused for a reason, or judged with numbers; the
// best windows hold good hours only, each once and the best of them among them.
func TestHoursOfAnyShot(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 4))
	bag := kit.Generic()
	for range 12 {
		s := plantest.AnyShot(r, bag)
		if len(s.Legs) == 0 {
			continue
		}
		h, err := HoursOf(context.Background(), s, bag, hours.OverDay, HoursOptions{})
		if err != nil {
			t.Fatalf("%v: %s", err, plantest.Describe(s))
		}
		for i := range h.Cells {
			c := &h.Cells[i]
			if got := c.State == hours.Skipped; got != c.TakeOff.IsZero() {
				t.Errorf("cell %d: state %v at %v", i, c.State, c.TakeOff)
			}
			if c.State == hours.Good && (c.Filter == "" || math.IsNaN(c.Values[hours.Score]) || math.IsNaN(c.Values[hours.Light]) || c.Why != "") {
				t.Errorf("%+v", c)
			}
			if (c.State == hours.Dark || c.State == hours.Bright) && (c.Why == "" || !math.IsNaN(c.Values[hours.Score])) {
				t.Errorf("%+v", c)
			}
			for m, v := range c.Values {
				if math.IsInf(v, 0) && hours.Measure(m) != hours.Left {
					t.Errorf("%v: %v", hours.Measure(m), v)
				}
			}
		}
		for m := range hours.Measures {
			seen := map[int]bool{}
			for _, w := range h.Windows(m) {
				if !slices.Contains(w.Cells, w.Best) {
					t.Errorf("%v: the best is not in its window", m)
				}
				for _, i := range w.Cells {
					if seen[i] || h.Cells[i].State != hours.Good {
						t.Errorf("%v: cell %d twice, or not good", m, i)
					}
					seen[i] = true
				}
			}
			for i, l := range h.Levels(m) {
				if l < 0 || l > 1 || h.Cells[i].State != hours.Good && !math.IsNaN(l) {
					t.Errorf("%v: level %v", m, l)
				}
			}
		}
	}
}
