package shot

import (
	"strings"
	"testing"
)

// What a leg lacks is asked for, legs counted from 1; what is wrong is said.
func TestAsk(t *testing.T) {
	for _, c := range []struct{ leg, field, want string }{
		{"move: orbit, heading_deg: [300, 60], seconds: 20", "legs[0].target", "leg 1, orbit: how far is the subject?"},
		{"move: orbit, heading_deg: [300, 60], seconds: 20, target: {speed_ms: 6}", "legs[0].target.distance_m", "leg 1, orbit: how far is the subject?"},
		{"move: orbit, heading_deg: [300, 60], seconds: 20, target: {distance_m: 0}", "legs[0].target.distance_m", "leg 1, orbit: how far is the subject?"},
		{"move: orbit, heading_deg: 300, seconds: 20, target: {distance_m: 60}", "legs[0].heading_deg", "leg 1, orbit: from which heading to which?"},
		{"move: pan, heading_deg: 300, seconds: 20", "legs[0].heading_deg", "leg 1, pan: from which heading to which?"},
		{"move: tilt, heading_deg: 300, seconds: 20", "legs[0].pitch_deg", "leg 1, tilt: from which pitch to which?"},
		{"move: rise, heading_deg: 300, seconds: 20", "legs[0].height_m", "leg 1, rise: from which height to which?"},
		{"move: push, heading_deg: 300, seconds: 20", "legs[0].speed_ms", "leg 1, push: how fast?"},
		{"move: slide, heading_deg: 300, seconds: 20, speed_ms: 4", "legs[0].to", "leg 1, slide: to the left or to the right, seen from behind the camera?"},
		{"move: follow, heading_deg: 300, seconds: 20", "legs[0].target", "leg 1, follow: how far is the subject?"},
		{"move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 9}", "legs[0].target.speed_ms", "leg 1, follow: how fast does the subject move?"},
		{"move: hold, seconds: 20", "legs[0].heading_deg", "leg 1, hold: where does the camera look?"},
		{"move: hold, heading_deg: 3", "legs[0].seconds", "leg 1, hold: how many seconds long?"},
		{"heading_deg: 3, seconds: 9", "legs[0].move", "leg 1: what does the aircraft do?"},
		{"move: push, heading_deg: 300, seconds: 20, speed_ms: 0", "legs[0].speed_ms", "leg 1, push: SPEED: found 0; allowed: a speed above 0, which a push needs"},
		{"move: hold, heading_deg: [300, 310], seconds: 20", "legs[0].heading_deg", "leg 1, hold: HEADING: found a turn of 10°; allowed: one heading on a hold, or the move pan"},
		{"move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 9, speed_ms: fast}", "legs[0].target.speed_ms",
			`leg 1, follow: SPEED: found "fast"; allowed: a number from 0 to 100 m/s`},
	} {
		card, _ := ReadCard("ask.yaml", []byte(withLeg(c.leg)))
		_, faults := card.Shot(testBag(), testNow)
		if len(faults) == 0 || faults[0].Field != c.field {
			t.Errorf("%s: %v", c.leg, faults)
			continue
		}
		label := func(key string) string { return strings.ToUpper(strings.Split(key, "_")[0]) }
		if got := card.Ask(faults[0], label); got != c.want {
			t.Errorf("%s: %q, want %q", c.leg, got, c.want)
		}
	}
	card, faults := ReadCard("ask.yaml", []byte("skywedge: 1\nname: x\nplace: {lat: 40, zone: UTC}\ntake_off: 2026-09-18T19:40\ncamera: wide 24\nlegs:\n  - {move: hold, heading_deg: 3, seconds: 9}\n"))
	if len(faults) != 1 || card.Ask(faults[0], nil) != "at which longitude is take-off?" {
		t.Errorf("%v", faults)
	}
}

// Whatever a move cannot do without has a question.
func TestEveryNeedHasAQuestion(t *testing.T) {
	for move, keys := range moveFields {
		for key, use := range keys {
			if use == needed && questions[key] == "" || use == changing && turningQuestions[key] == "" {
				t.Errorf("%s needs %s, and nobody asks for it", move, key)
			}
		}
	}
}

// What is derived is shown where nothing is written, and is what the flight is then judged by.
func TestDerived(t *testing.T) {
	for _, c := range []struct{ leg, key, want string }{
		{"move: orbit, heading_deg: [300, 60], seconds: 40, target: {distance_m: 80}", "speed_ms", "4.2"}, // 80 m × 120° in 40 s
		{"move: orbit, heading_deg: [300, 60], seconds: 40, target: {distance_m: 80}", "turn", "cw"},
		{"move: orbit, heading_deg: [300, 60], seconds: 40, target: {distance_m: 80}", "pitch_deg", "at the subject"},
		{"move: orbit, heading_deg: [300, 60], seconds: 40, target: {distance_m: 80}", "height_m", "40"},
		{"move: orbit, heading_deg: [300, 60], seconds: 40", "speed_ms", ""},
		{"move: orbit, heading_deg: [60, 300], turn: ccw, seconds: 40, target: {distance_m: 80}", "turn", ""},
		{"move: pan, heading_deg: [60, 300], seconds: 40", "turn", "ccw"},
		{"move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 9, speed_ms: 6, toward_deg: 45}", "speed_ms", "6"},
		{"move: follow, heading_deg: 300, seconds: 20, target: {distance_m: 9, speed_ms: 6, toward_deg: 45}", "course_deg", "45"},
		{"move: rise, heading_deg: 300, seconds: 20, height_m: [80, 40]", "speed_ms", "2"},
		{"move: slide, to: left, heading_deg: 300, seconds: 20, speed_ms: 4", "course_deg", "210"},
		{"move: slide, to: left, heading_deg: 300, seconds: 20, speed_ms: 4", "speed_ms", ""},
		{"move: hold, heading_deg: 300, seconds: 20", "pitch_deg", ""},
		{"move: hold, heading_deg: 300, seconds: 20", "speed_ms", ""},
	} {
		if got := cardOf(t, withLeg(c.leg)).Derived(LegPath(0, c.key)); got != c.want {
			t.Errorf("%s, %s: %q, want %q", c.leg, c.key, got, c.want)
		}
	}
	two := cardOf(t, withLeg("move: rise, heading_deg: 3, seconds: 9, height_m: [20, 50]")+"  - {move: hold, heading_deg: 3, seconds: 9}\n")
	if got := two.Derived(LegPath(1, "height_m")); got != "50" {
		t.Errorf("the second leg begins at %q", got)
	}
}
