package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/panel"
)

func TestThreeThirdsAreAStop(t *testing.T) {
	m := bagModel(t, 160, 40, "")
	toFilter(t, m, "ND8", "stops")
	settleKeys(m, "enter", "4", "enter")
	stops := func() string { return m.card().kit().Doc.At(formField(m).Path).Text() }
	var seen []string
	for range 6 {
		settleKeys(m, "+")
		seen = append(seen, stops())
	}
	if got := strings.Join(seen, " "); got != "4.33 4.67 5 5.33 5.67 6" {
		t.Errorf("up: %s", got)
	}
	for range 6 {
		settleKeys(m, "-")
	}
	if stops() != "4" {
		t.Errorf("and down again: %s", stops())
	}
	settleKeys(m, "enter", "2", "3", ".", "9", "enter")
	if settleKeys(m, "pgup"); stops() != "24" {
		t.Errorf("no further than allowed: %s", stops())
	}
}

func TestNudged(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	for _, c := range []struct {
		path, text string
		n          int
		want       string
	}{
		{"legs[0].heading_deg", "358", 1, "3"},
		{"legs[0].heading_deg", "330 60", 1, "335 65"},
		{"legs[0].heading_deg", "sun+90", -1, "sun+85"},
		{"legs[0].heading_deg", "NW", 1, "320"},
		{"legs[0].seconds", "25", 1, "30"},
		{"legs[0].seconds", "3", -5, "1"},
		{"legs[0].shutter_s", "1/50", 1, "1/48"},
		{"purpose", "video", 1, "still"},
		{"purpose", "video", -1, "long"},
		{"purpose", "long", 1, "video"},
		{"take_off", "2026-09-18T19:40:00", 5, "2026-09-18T20:05:00"},
		{"take_off", "2026-03-29T01:55", 1, "2026-03-29T03:00"},
		{"take_off", "now", 2, "now+10"},
		{"take_off", "now+5", -2, "now"},
		{"ring_deg", "auto", 1, "0"},
		{"ring_deg", "345", 1, "0"},
		{"light.cloud_pct", "95", 1, "100"},
		{"place.lat", "43.3857", 1, "43.3867"},
		{"legs[0].stills_too", "false", 1, "true"},
	} {
		r := panel.Row{Path: c.path, Spec: m.card().current.Doc.SpecAt(c.path)}
		if got, ok := m.nudged(r, c.text, c.n); !ok || got != c.want {
			t.Errorf("%s %q by %d: %q (%v), want %q", c.path, c.text, c.n, got, ok, c.want)
		}
	}
}

// The answer does not vanish when a move is nudged: what the new one has no use for goes.
func TestNudgedMoveKeepsItsAnswer(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	m.focus = paneLegs
	toRow(t, m, "legs[0].move")
	press(m, "-") // push is the first move, hold the last
	if got := m.card().text("legs[0].move"); got != "hold" {
		t.Fatalf("the move is %s", got)
	}
	if len(m.calc.faults) > 0 || m.calc.report == nil || m.stale() {
		t.Errorf("a push that became a hold: %v", m.calc.faults)
	}
	if got := m.card().text("legs[0].speed_ms"); got != "" {
		t.Errorf("a speed of %s on a hold", got)
	}
}

// Clocks that change are no end to a nudge.
func TestTakeOffIsNudgedAcrossAClockChange(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	for _, c := range []struct{ from, key, want string }{
		{"2026-03-29T01:55", "+", "2026-03-29T03:00"},
		{"2026-03-29T03:00", "-", "2026-03-29T01:55"},
		{"2026-10-25T02:30:00+01:00", "+", "2026-10-25T02:35:00+01:00"},
		{"2026-10-25T02:55:00", "+", "2026-10-25T02:00:00+01:00"},
	} {
		if !m.setField("take_off", c.from) {
			t.Fatal(c.from)
		}
		toRow(t, m, "take_off")
		press(m, c.key)
		if got := m.card().text("take_off"); got != c.want {
			t.Errorf("%s, %s: %s, want %s", c.from, c.key, got, c.want)
		}
		if len(m.calc.faults) > 0 {
			t.Errorf("%s, %s: %v", c.from, c.key, m.calc.faults)
		}
	}
}
