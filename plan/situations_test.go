package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// situation is a card as a pilot would write it, what a practitioner would do and why (common practice, no source), and
// what the call has to be.
type situation struct {
	name   string
	does   string // what a practitioner would do, and why
	card   string // after the place; lat 43.4, lon −8.4
	kinds  []kit.Kind
	expect func(t *testing.T, r *Report)
}

// bare is the kind of no filter.
const bare = kit.Kind("")

// said is everything that a call says, a line each.
func said(r *Report) string {
	c := r.Call
	list := append([]string{}, c.Reasons...)
	list = append(list, c.Ladder...)
	list = append(list, c.Confidence, c.ConfidenceWhy)
	for _, l := range r.Legs {
		list = append(list, l.Notes...)
	}
	for _, k := range r.Candidates {
		list = append(list, k.WhyNot)
	}
	return strings.Join(list, "\n")
}

func (s *situation) solve(t *testing.T) *Report {
	t.Helper()
	text := "skywedge: 1\nname: " + s.name + "\nplace: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}\ncamera: wide fixed 2.8\n" + s.card
	c, faults := shot.ReadCard("card.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	bag := demoBag(t)
	x, faults := c.Shot(bag, time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return Solve(x, bag, Options{})
}

// within tells whether an exposure, shutter times ISO, is within a stop of another.
func within(t *testing.T, r *Report, leg int, shutterS, iso float64) {
	t.Helper()
	l := r.Legs[leg]
	if d := math.Log2(l.Shutter.Min * l.ISO.Min / (shutterS * iso)); math.Abs(d) > 1 {
		t.Errorf("leg %d is set to %s, ISO %.0f: %.1f stops off %s, ISO %.0f", leg+1, exposure.FormatShutter(l.Shutter.Min), l.ISO.Min, d, exposure.FormatShutter(shutterS), iso)
	}
}

func has(t *testing.T, r *Report, texts ...string) {
	t.Helper()
	for _, text := range texts {
		if !strings.Contains(said(r), text) {
			t.Errorf("does not say %q", text)
		}
	}
}

var situations = []situation{
	{
		name: "slow and high over land",
		does: "Goes bare: at 90 m and 2 m/s the land creeps through the picture, no blur is wanted, and glass only risks flare.",
		card: `take_off: 2026-06-21T11:00:00
purpose: video
aim: keep
ground: grass
legs:
  - {move: push, heading_deg: 0, seconds: 30, speed_ms: 2, height_m: 90, pitch_deg: -30}
`,
		kinds: []kit.Kind{bare},
		expect: func(t *testing.T, r *Report) {
			within(t, r, 0, 1.0/3200, 100)
			has(t, r, "any shutter will do")
		},
	},
	{
		name: "still of a lake, looking down into the glare",
		does: "Turns a polariser against the glare: 35° down and side-on to a high sun it clears the water; a density would only slow the still.",
		card: `take_off: 2026-06-21T17:30:00
purpose: still
aim: water
ground: water
light: {cloud_pct: 0, visibility_km: 60, wind_ms: 1}
legs:
  - {move: hold, heading_deg: sun+90, seconds: 20, height_m: 40, pitch_deg: -35}
`,
		kinds: []kit.Kind{kit.Polariser},
		expect: func(t *testing.T, r *Report) {
			within(t, r, 0, 1.0/1250, 100)
			has(t, r, "of the glare", "is sharp", "dark water")
			if !r.Call.HasRing || r.Call.AsDensity {
				t.Errorf("the ring is what it is for: %+v", r.Call)
			}
			if r.Legs[0].GlareCut.Max < 0.5 {
				t.Errorf("takes %v of the glare", r.Legs[0].GlareCut)
			}
		},
	},
	{
		name: "still of a lake from straight above, under a covered sky",
		does: "Stays bare: straight down water does not polarise what it mirrors, nor is a grey sky polarised, so a polariser costs light and earns nothing.",
		card: `take_off: 2026-06-21T14:00:00
purpose: still
aim: water
ground: water
light: {cloud_pct: 100, visibility_km: 20, wind_ms: 6}
legs:
  - {move: hold, heading_deg: 0, seconds: 20, height_m: 60, pitch_deg: -90}
`,
		kinds: []kit.Kind{bare},
		expect: func(t *testing.T, r *Report) {
			for _, k := range r.Candidates {
				if k.Filter == "CPL" && (!k.AsDensity || !strings.HasPrefix(k.WhyNot, "same picture")) {
					t.Errorf("the polariser: %+v", k)
				}
			}
		},
	},
	{
		name: "side sun over water, flown low",
		does: "Screws in five to six stops for 1/50; looking 35° down with the sun abeam the hybrid takes the glare as well, so that one goes on.",
		card: `take_off: 2026-06-21T18:00:00
purpose: video
fps: 25
aim: water
ground: water
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 3}
legs:
  - {move: push, heading_deg: sun+90, seconds: 25, speed_ms: 7, height_m: 20, pitch_deg: -35}
`,
		kinds: []kit.Kind{kit.Hybrid},
		expect: func(t *testing.T, r *Report) {
			within(t, r, 0, 1.0/50, 160)
			has(t, r, "motion blur is wanted", "of the glare", "so it strobes", "the glare stays")
			if r.Call.ShutterS > 1.0/30 || r.Call.ShutterS < 1.0/100 {
				t.Errorf("shutter %s", exposure.FormatShutter(r.Call.ShutterS))
			}
		},
	},
	{
		name: "overcast forest",
		does: "Takes a light density, three to four stops, for 1/50 under a grey sky; the sheen is to stay.",
		card: `take_off: 2026-06-21T13:00:00
purpose: video
fps: 25
aim: keep
ground: forest
light: {cloud_pct: 100, visibility_km: 20, wind_ms: 1}
legs:
  - {move: push, heading_deg: 40, seconds: 25, speed_ms: 6, height_m: 15, pitch_deg: -35}
`,
		kinds: []kit.Kind{kit.Density},
		expect: func(t *testing.T, r *Report) {
			within(t, r, 0, 1.0/50, 100)
			has(t, r, "motion blur is wanted")
			if f, _ := r.Bag.FilterByName(r.Call.Filter); f.TotalStops(0) < 3 || f.TotalStops(0) > 4 {
				t.Errorf("%s takes %.1f stops", r.Call.Filter, f.TotalStops(0))
			}
		},
	},
	{
		name: "snow at noon",
		does: "Screws in six stops and lets the meter stand one to two stops over, or the snow comes out grey.",
		card: `take_off: 2026-02-10T13:30:00
purpose: video
fps: 25
aim: keep
ground: snow
light: {cloud_pct: 0, visibility_km: 60, wind_ms: 1, air_c: -4}
legs:
  - {move: push, heading_deg: 0, seconds: 25, speed_ms: 8, height_m: 20, pitch_deg: -30}
`,
		kinds: []kit.Kind{kit.Density, kit.Hybrid},
		expect: func(t *testing.T, r *Report) {
			has(t, r, ": snow", "meter a stop over that: ")
			if m := r.Legs[0].MeterStops; m < 1 || m > 3 {
				t.Errorf("the meter at %+.2f over snow", m)
			}
			if r.Call.ShutterS > 1.0/30 || r.Call.ShutterS < 1.0/100 {
				t.Errorf("shutter %s", exposure.FormatShutter(r.Call.ShutterS))
			}
		},
	},
	{
		name: "into a low sun",
		does: "Exposes for the sky and lets the land go dark, with one plain density and no hybrid: several sheets before the sun ghost.",
		card: `take_off: 2026-09-18T20:05:00
purpose: video
fps: 25
aim: sky
ground: grass
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 2}
legs:
  - {move: push, heading_deg: sun+0, seconds: 20, speed_ms: 6, height_m: 20, pitch_deg: -12}
`,
		kinds: []kit.Kind{kit.Density},
		expect: func(t *testing.T, r *Report) {
			has(t, r, "back light", "the land comes out dark", "flat glass may flare", "several sheets of glass flare and ghost")
			if l := r.Legs[0]; l.Clipped > 0.1 {
				t.Errorf("%.0f %% of the frame is white", 100*l.Clipped)
			}
		},
	},
	{
		name: "low sun that fades in twenty minutes",
		does: "Starts with the lighter density that lasts through the takes, and lands to take it off when the ISO leaves clean; knows the minute.",
		card: `take_off: 2026-09-18T20:15:00
flight: {transit_s: 60, takes: 10, reset_s: 30}
purpose: video
fps: 25
aim: keep
ground: grass
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 2}
legs:
  - {move: push, heading_deg: 90, seconds: 25, speed_ms: 7, height_m: 20, pitch_deg: -20}
`,
		kinds: []kit.Kind{kit.Density},
		expect: func(t *testing.T, r *Report) {
			has(t, r, "clean-ISO light until 20:", ", bare until ", "take off by ", "darker by the end")
			if r.LightLeftMin < 5 || r.LightLeftMin > 30 {
				t.Errorf("clean light for %.0f min", r.LightLeftMin)
			}
			if f, _ := r.Bag.FilterByName(r.Call.Filter); f.TotalStops(0) > 4 {
				t.Errorf("%s is too dark to start with", r.Call.Filter)
			}
		},
	},
	{
		name: "fast and low",
		does: "Wants all the blur there is: 1/50 behind a density, knows that it strobes all the same, and flies slower or at more frames a second.",
		card: `take_off: 2026-06-21T12:00:00
purpose: video
fps: 25
aim: keep
ground: sand
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 2}
legs:
  - {move: push, heading_deg: 20, seconds: 15, speed_ms: 14, height_m: 6, pitch_deg: -20}
`,
		kinds: []kit.Kind{kit.Density},
		expect: func(t *testing.T, r *Report) {
			has(t, r, "nothing can be followed", "m/s it flows", "motion blur is wanted")
			if b := r.Legs[0].Band; b != Fast && b != Whip {
				t.Errorf("band %s", b)
			}
			if len(r.Legs[0].LookOut) == 0 {
				t.Error("nothing to look out for")
			}
		},
	},
	{
		name: "straight down at noon",
		does: "Takes a plain density for the speed: there is no sky in the frame, and the glare of a sun overhead lies in a disc that no ring removes.",
		card: `take_off: 2026-06-21T14:20:00
purpose: video
fps: 25
aim: keep
ground: water
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 3}
legs:
  - {move: slide, to: right, heading_deg: 0, seconds: 20, speed_ms: 7, height_m: 30, pitch_deg: -90}
`,
		kinds: []kit.Kind{kit.Density},
		expect: func(t *testing.T, r *Report) {
			within(t, r, 0, 1.0/50, 100)
			if r.Legs[0].Strength.OK {
				t.Error("there is no sky straight down")
			}
		},
	},
	{
		name: "night harbour",
		does: "Goes bare, locks 1/50, which is steady under 50 Hz lamps, and meters the lamps: no daylight is left to reckon with.",
		card: `take_off: 2026-09-20T22:30:00
purpose: video
fps: 25
aim: keep
ground: town
light: {cloud_pct: 0, visibility_km: 40, wind_ms: 1}
legs:
  - {move: push, heading_deg: 300, seconds: 20, speed_ms: 4, height_m: 25, pitch_deg: -15}
`,
		kinds: []kit.Kind{bare},
		expect: func(t *testing.T, r *Report) {
			has(t, r, "lamps are not in the model: bare, 1/50, meter the lamps")
			for _, bad := range []string{"light is gone", "light gone"} {
				if strings.Contains(said(r), bad) {
					t.Errorf("says %q", bad)
				}
			}
		},
	},
}

// Situations that a pilot meets, called as a practitioner would fly them.
func TestSituations(t *testing.T) {
	for i := range situations {
		s := &situations[i]
		t.Run(s.name, func(t *testing.T) {
			r := s.solve(t)
			if f, k := r.Call.Filter, r.Candidates[0].Kind; !kindIn(k, s.kinds) {
				t.Errorf("calls %s. %s", f, s.does)
			}
			bareThere := r.Call.Filter == "none"
			for _, k := range r.RunnersUp(3) {
				bareThere = bareThere || k.Filter == "none" && k.WhyNot != ""
			}
			if !bareThere {
				t.Error("bare is not among the runners-up")
			}
			if len(r.Call.ReasonsSigned) != len(r.Call.Reasons) {
				t.Errorf("%d signed of %d reasons", len(r.Call.ReasonsSigned), len(r.Call.Reasons))
			}
			s.expect(t, r)
			if t.Failed() {
				t.Log("\n" + fmt.Sprintf("%s, %s, ISO %.0f, meter %+.1f", r.Call.Filter, exposure.FormatShutter(r.Call.ShutterS), r.Call.ISO, r.Legs[0].MeterStops) + "\n" + said(r))
			}
		})
	}
}

func kindIn(k kit.Kind, list []kit.Kind) bool {
	for _, x := range list {
		if k == x {
			return true
		}
	}
	return false
}
