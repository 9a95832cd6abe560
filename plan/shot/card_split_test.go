package shot

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/plan/internal/angle"
	"gonum.org/v1/gonum/spatial/r3"
)

// oneTake lets the second half of a leg follow the first without a break, so that the sun is the same.
func oneTake(leg string) string {
	return strings.Replace(withLeg(leg), "legs:", "flight: {transit_s: 0, takes: 1, reset_s: 0}\nlegs:", 1)
}

// splitLegs turn, climb, tip and drift in every way that a leg can.
var splitLegs = append([]string{
	"move: push, heading_deg: [350, 20], seconds: 25, speed_ms: 4, height_m: [35, 50]",
	"move: push, heading_deg: [350, 20], turn: ccw, seconds: 60, speed_ms: 4",
	"move: pull, heading_deg: [90, 90], turn: ccw, seconds: 40, speed_ms: 2",
	"move: push, heading_deg: 285, seconds: 25, speed_ms: 4, height_m: 30, ground_m: [0, 12], target: {distance_m: 180}",
	"move: push, heading_deg: 285, seconds: 60, speed_ms: 5, target: {distance_m: 180, height_m: 2}", // over it and on
	"move: slide, to: right, heading_deg: 285, seconds: 25, speed_ms: 4, target: {distance_m: 60, speed_ms: 1, toward_deg: 100}",
	"move: orbit, heading_deg: [0, 0], turn: cw, seconds: 90, target: {distance_m: 50}",
	"move: orbit, heading_deg: [285, 105], turn: ccw, turns: 1.5, seconds: 100, target: {distance_m: 20}",
	"move: orbit, heading_deg: [285, 14], turns: 0.75, seconds: 100, target: {distance_m: 20}", // a degree off, which may be
	"move: orbit, heading_deg: [285, 15], seconds: 50, target: {distance_m: 30, speed_ms: 2, toward_deg: W}",
	"move: orbit, heading_deg: [sun+160, sun-160], turn: cw, seconds: 50, target: {distance_m: 30}",
	"move: follow, heading_deg: 10, seconds: 9, target: {distance_m: 20, speed_ms: 6, toward_deg: NE}",
	"move: pan, heading_deg: sun+90, turns: 2, seconds: 50",
	"move: pan, heading_deg: [10, sun+20], turn: cw, seconds: 50",
	"move: pan, heading_deg: [sun-20, 10], turn: ccw, seconds: 50",
	"move: pan, heading_deg: 10, turns: 0.02, turn: ccw, seconds: 50",
}, fullLegs...)

// The two legs of a split fly what the one flew: the same place, speed, heading, pitch and height at every
// second. A centimetre and a hundredth of a degree are what the rounded numbers of the card leave.
func TestSplitFliesTheSamePath(t *testing.T) {
	for _, leg := range splitLegs {
		c := cardOf(t, oneTake(leg))
		whole := shotOf(t, string(c.Bytes()))
		total := whole.FlightSeconds()
		for _, at := range []float64{1, total / 3, total / 2, 0.7123456 * total, total - 1} {
			next, faults := c.Split(0, at)
			if len(faults) > 0 {
				t.Errorf("%s at %v: %v", leg, at, faults)
				continue
			}
			two := shotOf(t, string(next.Bytes()))
			if len(two.Legs) != 2 || math.Abs(two.FlightSeconds()-total) > 1e-6 || math.Abs(two.Legs[0].Seconds-at) > 6e-4 {
				t.Fatalf("%s at %v: %s", leg, at, next.Doc.At("legs").YAML())
			}
			// A card cannot say that the subject is not ahead: the pitch that follows it differs then.
			aside := whole.Legs[0].Target != nil && whole.Legs[0].Heading.By != 0 && whole.Legs[0].Move != Orbit
			for second := 0.25; second < total; second += 0.5 {
				a, b := whole.MomentAt(second), two.MomentAt(second)
				switch {
				case math.Abs(second-two.Legs[0].Seconds) < 1e-3:
				case r3.Norm(r3.Sub(a.Pos, b.Pos)) > 0.01, r3.Norm(r3.Sub(a.Velocity, b.Velocity)) > 0.01,
					math.Abs(angle.Wrap180(a.HeadingDeg-b.HeadingDeg)) > 0.01, math.Abs(a.AboveM-b.AboveM) > 0.01,
					!aside && math.Abs(a.PitchDeg-b.PitchDeg) > 0.01,
					a.TargetVel != b.TargetVel:
					t.Errorf("%s at %v, second %v:\n%s\n%+v\n%+v", leg, at, second, next.Doc.At("legs").YAML(), a, b)
					second = total
				}
			}
		}
	}
}

func TestSplitReadsWell(t *testing.T) {
	for _, c := range []struct {
		leg           string
		at            float64
		first, second string
	}{
		{"move: orbit, heading_deg: [330, 60], turn: cw, seconds: 40, height_m: 30, target: {distance_m: 130}", 20,
			"{move: orbit, heading_deg: [330, 15], turn: cw, seconds: 20, height_m: 30, target: {distance_m: 130}}",
			"{move: orbit, heading_deg: [15, 60], turn: cw, seconds: 20, height_m: 30, target: {distance_m: 130}}"},
		{"move: push, heading_deg: NW, seconds: 25, speed_ms: 5, height_m: [20, 45], target: {distance_m: 180}", 10,
			"{move: push, heading_deg: NW, seconds: 10, speed_ms: 5, height_m: [20, 30], target: {distance_m: 180}}",
			"{move: push, heading_deg: NW, seconds: 15, speed_ms: 5, height_m: [30, 45], target: {distance_m: 130}}"},
		{"move: push, heading_deg: 285, seconds: 25, speed_ms: 4, ground_m: [0, 10], target: {distance_m: 200}", 10,
			"{move: push, heading_deg: 285, seconds: 10, speed_ms: 4, ground_m: [0, 4], target: {distance_m: 200}}",
			"{move: push, heading_deg: 285, seconds: 15, speed_ms: 4, ground_m: [4, 10], target: {distance_m: 160, height_m: 0}}"},
		{"move: pan, heading_deg: 285, turn: ccw, turns: 1.5, seconds: 30", 10,
			"{move: pan, heading_deg: 285, turn: ccw, turns: 0.5, seconds: 10}",
			"{move: pan, heading_deg: 105, turn: ccw, turns: 1, seconds: 20}"},
		{"move: pan, heading_deg: [sun-30, sun+30], seconds: 30", 10,
			"{move: pan, heading_deg: [sun-30, sun-10], seconds: 10}",
			"{move: pan, heading_deg: [sun-10, sun+30], seconds: 20}"},
		{"move: tilt, heading_deg: 285, seconds: 12, pitch_deg: [-4, -30], purpose: video", 6,
			"{move: tilt, heading_deg: 285, seconds: 6, pitch_deg: [-4, -17], purpose: video}",
			"{move: tilt, heading_deg: 285, seconds: 6, pitch_deg: [-17, -30], purpose: video}"},
	} {
		card := cardOf(t, strings.TrimSpace(withLeg(c.leg))+"   # kept\n  # another\n  - {move: hold, heading_deg: 1, seconds: 9}\nflown: [{leg: 1}, {leg: 2}]\n")
		next, faults := card.Split(0, c.at)
		if len(faults) > 0 {
			t.Errorf("%s: %v", c.leg, faults)
			continue
		}
		if a, b := next.Doc.At("legs[0]").YAML(), next.Doc.At("legs[1]").YAML(); a != c.first || b != c.second {
			t.Errorf("%s:\n%s\n%s", c.leg, a, b)
		}
		if text := string(next.Bytes()); !strings.Contains(text, "# kept") || !strings.Contains(text, "# another") || next.Doc.At("flown").YAML() != "[{leg: 1}, {leg: 3}]" {
			t.Errorf("%s", text)
		}
	}
}
