package main

import (
	"encoding/json"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// The sureness is part of the answer: every change tried, and how often the same filter wins.
func TestSurenessInJSON(t *testing.T) {
	var out, errs strings.Builder
	e := &env{in: strings.NewReader(""), out: &out, err: &errs, now: time.Now}
	if code := run(e, []string{"card", "--json", "../../examples/1-breakwater.yaml"}); code != exitDone {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	var got struct {
		Call     struct{ Confidence string }
		Sureness struct {
			Same, Tried int
			Runs        []struct{ What string }
			Legs        []struct{ ISO *[2]float64 }
		}
	}
	if err := json.Unmarshal([]byte(out.String()), &got); err != nil {
		t.Fatal(err)
	}
	s := got.Sureness
	if s.Tried != len(s.Runs) || s.Tried < 13 || s.Same > s.Tried || len(s.Legs) != 3 || s.Legs[0].ISO == nil {
		t.Errorf("%+v", s)
	}
	if !strings.Contains("holds close depends", got.Call.Confidence) {
		t.Errorf("%q", got.Call.Confidence)
	}
}

// Every leg says what it is exposed for, what that does to the frame, and whether it can be exposed at all: one
// exposure, within the camera's limits. The names are the contract.
func TestLegsInJSON(t *testing.T) {
	cards, err := filepath.Glob("../../examples/[0-9]*.yaml")
	if err != nil || len(cards) == 0 {
		t.Fatal(cards, err)
	}
	for _, card := range cards {
		var got struct {
			Call struct {
				Reasons       []string
				ReasonsSigned []struct {
					Sign  string
					Stops float64
					Text  string
				} `json:"reasons_signed"`
			}
			Legs []map[string]any
		}
		if err := json.Unmarshal(answered(t, "card", "--json", card), &got); err != nil {
			t.Fatal(err)
		}
		if len(got.Call.ReasonsSigned) == 0 || len(got.Call.Reasons) == 0 {
			t.Errorf("%s: reasons %q, signed %v", card, got.Call.Reasons, got.Call.ReasonsSigned)
		}
		for _, r := range got.Call.ReasonsSigned {
			if r.Sign != "+" && r.Sign != "-" || r.Stops < 0 || r.Text == "" {
				t.Errorf("%s: %+v", card, r)
			}
		}
		for i, l := range got.Legs {
			number := func(key string) float64 {
				v, ok := l[key].(float64)
				if !ok {
					t.Errorf("%s, leg %d: %s is %v", card, i+1, key, l[key])
				}
				return v
			}
			pair := func(key string) (from, to float64) {
				v, ok := l[key].([]any)
				if !ok || len(v) != 2 {
					t.Fatalf("%s, leg %d: %s is %v", card, i+1, key, l[key])
				}
				from, to = v[0].(float64), v[1].(float64)
				if from > to {
					t.Errorf("%s, leg %d: %s from %g to %g", card, i+1, key, from, to)
				}
				return from, to
			}
			for key, limit := range map[string][2]float64{"iso": {100, 6400}, "shutter_s": {1. / 8000, 8}} {
				if from, to := pair(key); from != to || from < limit[0] || from > limit[1] {
					t.Errorf("%s, leg %d: %s %g to %g; the camera goes from %g to %g", card, i+1, key, from, to, limit[0], limit[1])
				}
			}
			for _, key := range []string{"land_ev100", "sky_ev100", "frame_ev100"} {
				pair(key)
			}
			if from, to := pair("frame_ev100"); math.Abs(to-from-number("drift_stops")) > 1e-9 {
				t.Errorf("%s, leg %d: the frame asks for %g to %g, which is no drift of %g", card, i+1, from, to, number("drift_stops"))
			}
			for _, key := range []string{"clipped_pct", "buried_pct"} {
				if v := number(key); !(v >= 0 && v <= 100) {
					t.Errorf("%s, leg %d: %s %g", card, i+1, key, v)
				}
			}
			if k := number("wb_k"); k < 2000 || k > 12000 {
				t.Errorf("%s, leg %d: %g K", card, i+1, k)
			}
			if m := number("meter_stops"); math.Abs(m) > 4 {
				t.Errorf("%s, leg %d: the meter at %+g", card, i+1, m)
			}
			if l["feasible"] != (number("short_stops") == 0) || l["sun_state"] != "shining" && l["sun_state"] != "hidden" {
				t.Errorf("%s, leg %d: feasible %v, short %v, the sun %v", card, i+1, l["feasible"], l["short_stops"], l["sun_state"])
			}
			o, ok := l["other_state"]
			if !ok {
				t.Errorf("%s, leg %d: nothing of the other state", card, i+1)
			}
			if o, ok := o.(map[string]any); ok {
				for _, key := range []string{"land_ev100", "frame_ev100", "iso", "shutter_s", "feasible", "short_stops"} {
					if o[key] == nil {
						t.Errorf("%s, leg %d: no %s in the other state", card, i+1, key)
					}
				}
			}
		}
	}
}

// The frame of a leg's middle is what the leg says of it: the same land, the same meter but for the rounding of the
// settings, and no more white than at the leg's worst moment.
func TestMeterOfOneFrame(t *testing.T) {
	for _, card := range []string{"1-breakwater", "3-estuary", "5-sea-stacks", "7-surf"} {
		path := "../../examples/" + card + ".yaml"
		var c struct {
			Legs []struct {
				FromS      float64    `json:"from_s"`
				ToS        float64    `json:"to_s"`
				LandEV     [2]float64 `json:"land_ev100"`
				FrameEV    [2]float64 `json:"frame_ev100"`
				MeterStops float64    `json:"meter_stops"`
				ClippedPct float64    `json:"clipped_pct"`
			}
		}
		if err := json.Unmarshal(answered(t, "card", "--json", path), &c); err != nil {
			t.Fatal(err)
		}
		for i, l := range c.Legs {
			var f struct {
				LandEV     float64 `json:"land_ev100"`
				FrameEV    float64 `json:"frame_ev100"`
				MeterStops float64 `json:"meter_stops"`
				ClippedPct float64 `json:"clipped_pct"`
				BuriedPct  float64 `json:"buried_pct"`
			}
			second := strconv.FormatFloat((l.FromS+l.ToS)/2, 'g', -1, 64)
			out := answered(t, "frame", path, "--second", second, "--size", "4x3", "--json")
			if err := json.Unmarshal(out, &f); err != nil {
				t.Fatal(err)
			}
			const slack = .05 // between the samples of a leg the reading is interpolated
			switch {
			case f.LandEV < l.LandEV[0]-slack || f.LandEV > l.LandEV[1]+slack,
				f.FrameEV < l.FrameEV[0]-slack || f.FrameEV > l.FrameEV[1]+slack:
				t.Errorf("%s, leg %d: land %.2f, frame %.2f; the leg %v, %v", card, i+1, f.LandEV, f.FrameEV, l.LandEV, l.FrameEV)
			case math.Abs(f.MeterStops-l.MeterStops) > 1./3:
				t.Errorf("%s, leg %d: the meter at %+.2f, the leg's at %+.2f", card, i+1, f.MeterStops, l.MeterStops)
			case f.ClippedPct > l.ClippedPct+5:
				t.Errorf("%s, leg %d: %.0f %% white, the leg's worst %.0f %%", card, i+1, f.ClippedPct, l.ClippedPct)
			}
		}
	}
}
