package hours

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan/shot"
)

// Every measure's values are told without decimals, on both sides of where the words change.
func TestValuesInWords(t *testing.T) {
	h := handHours(OverDay, 1, 3, Score, 1, 2.5, 9)
	for _, c := range []struct {
		m    Measure
		v    float64
		want string
	}{
		{Score, 1, "the best of the day"}, {Score, 2, "1 stop short of the best"},
		{Sky, .1, "sky as it is"}, {Sky, -1, "sky 1 stop lighter"}, {Sky, 1, "sky 1 stop darker"},
		{Strength, .1, "no ring changes the sky"}, {Strength, 2, "2 stops from ring to ring"},
		{Glare, -.5, "glare stronger by half"}, {Glare, .05, "glare as it is"}, {Haze, .5, "half of the haze gone"},
		{Light, 12.4, "EV 12 on the land"}, {Light, -2.6, "EV −3 on the land"},
		{Headroom, -1, "1 stop short of a clean ISO"}, {Headroom, 0, "just at the clean ISO"}, {Headroom, 2, "2 stops to spare"},
		{Left, math.Inf(1), "the light is not running out"}, {Left, .5, "no clean-ISO light"}, {Left, 130, "clean-ISO light for 2 hours"}, {Left, 42, "clean-ISO light for 42 minutes"},
		{Sun, -.4, "sun 0°"}, {Sun, -5, "sun −5°"},
	} {
		if got := h.Words(c.m, c.v); got != c.want {
			t.Errorf("%v %g: %q, want %q", c.m, c.v, got, c.want)
		}
	}
}

// An hour without a value says why, and a line about an hour everything there is.
func TestAnHourInALine(t *testing.T) {
	h := handHours(OverDay, 1, 8, Left, math.NaN(), 42)
	h.Shot = &shot.Shot{}
	c := &h.Cells[1]
	c.Sun.AltitudeDeg, c.Sun.AzimuthDeg, c.Filter, c.HasRing, c.RingDeg, c.Behind = 12, 270, "CPL", true, 45, true
	if got := h.CellWords(Left, 1); got != "00:10: sun 12° at W, behind the ridge; clean-ISO light until 00:52; light as wanted; CPL, mark at 1:30 or 7:30" {
		t.Errorf("%q", got)
	}
	if got := h.BestWords(Left, &Window{Best: 1}); got != "clean-ISO light until 00:52; CPL, mark at 1:30 or 7:30" {
		t.Errorf("%q", got)
	}
	c.OffStops, c.OffWhy = 2, "the sun 20° lower"
	if got := h.BestWords(Left, &Window{Best: 1}); got != "clean-ISO light until 00:52; the sun 20° lower; CPL, mark at 1:30 or 7:30" {
		t.Errorf("%q", got)
	}
	for state, want := range map[State]string{
		Skipped: "the clocks skip this time", Unfit: "the card does not fit together then: so", Night: "night: the sun stays below −12°",
		Dark: "too dark: so", Bright: "too bright: so",
	} {
		c := Hour{State: state, Why: "so"}
		for k := range c.Values {
			c.Values[k] = math.NaN()
		}
		if got := c.StateWords(Sky); got != want {
			t.Errorf("%v: %q, want %q", state, got, want)
		}
		if c.State = Good; c.StateWords(Sky) != "too little sky in the frame" || c.StateWords(Glare) != "nothing in the frame mirrors the sky" ||
			c.StateWords(Haze) != "haze is not what this card is about" {
			t.Errorf("%q", c.StateWords(Sky))
		}
		for i := range h.Cells {
			h.Cells[i].State = state
		}
		if note := h.Note(Sky); note != map[State]string{
			Skipped: "night all day: the sun stays below −12°", Night: "night all day: the sun stays below −12°", Dark: "too dark all day for any filter and setting",
			Bright: "too bright all day for any filter and setting", Unfit: "the headings that follow the sun contradict the card all day",
		}[state] {
			t.Errorf("%v: %q", state, note)
		}
	}
}

// An hour says why it has no value after where the sun is, and when a ridge hides it; one that the clocks skip says only that.
func TestAnHourWithoutAValue(t *testing.T) {
	h := handHours(OverYear, 2, 3, Sky, math.NaN(), .5)
	zone := time.FixedZone("", 0)
	h.Shot = &shot.Shot{LatDeg: 45, Zone: zone}
	c := &h.Cells[2]
	c.TakeOff, c.State, c.Sun.AltitudeDeg, c.Sun.AzimuthDeg = time.Date(2026, 3, 20, 12, 0, 0, 0, zone), Good, 45, 180
	if got := h.CellWords(Sky, 2); got != "20 Mar 12:00: sun 45° at S; too little sky in the frame; light as wanted; " {
		t.Errorf("%q", got)
	}
	if got := h.CellWords(Score, 2); got != "20 Mar 12:00: sun 45° at S; nothing to measure; light as wanted; " {
		t.Errorf("%q", got)
	}
	// A ridge of 60° all round: the sun of an equinox at 45° north stands at 45° at most.
	h.Shot.Skyline = [][2]float64{{0, 60}, {90, 60}, {180, 60}, {270, 60}}
	c.State, c.Behind = Dark, true
	if c.Why = "so"; h.CellWords(Sky, 2) != "20 Mar 12:00: sun 45° at S, behind the ridge; too dark: so" {
		t.Errorf("%q", h.CellWords(Sky, 2))
	}
	h.Cells[0] = Hour{Values: c.Values}
	if got := h.CellWords(Sky, 0); got != "the clocks skip this time" {
		t.Errorf("%q", got)
	}
	if c.WantWords() != "" || c.CallWords() != "" {
		t.Errorf("%q, %q", c.WantWords(), c.CallWords())
	}
}

// A window of a year names the first day of its weeks that has an hour, and a window of one day says so.
func TestAWindowOfOneDay(t *testing.T) {
	h := handHours(OverYear, 2, 3, Sky, 1, 1, .2)
	w := h.Windows(Sky)
	if got := h.WindowWords(&w[0]); got != "1 Jan 00:00, good on that day between 00:00 and 01:00" {
		t.Errorf("%q", got)
	}
	if got := h.Note(Glare); got != "nothing in the frame mirrors the sky" {
		t.Errorf("%q", got)
	}
	if OverYear.String() != "year" || Measures.String() != "unknown" {
		t.Error("names of spans and measures")
	}
}
