package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	tea "github.com/charmbracelet/bubbletea"
)

// A long exposure of water at noon, then a still of the sky: no one filter serves both.
const twoFlights = `skywedge: 1
name: Surf, then the coast
place: {lat: 43.3672, lon: -8.4604, zone: Europe/Madrid}
take_off: 2026-09-18T13:00:00
camera: wide fixed 2.8
flight: {transit_s: 120, takes: 1, reset_s: 20}
ground: water
legs:
  - {move: hold, heading_deg: 200, seconds: 20, height_m: 30, pitch_deg: -35, purpose: long, exposure_s: 1}
  - {move: hold, heading_deg: 250, seconds: 20, height_m: 60, pitch_deg: 2, purpose: still, aim: sky, ground: grass}
`

func TestALandingIsPartOfTheAnswer(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	o := Options{Cards: []Source{{Path: "two.yaml", Data: []byte(twoFlights)}}, Bag: bag, Env: func(string) string { return "" }}
	o.fill()
	m := newModel(o)
	m.keepAfter, m.sureAfter = 0, 0
	t.Cleanup(m.release)
	drive(m, tea.WindowSizeMsg{Width: 140, Height: 50})
	r := m.calc.report
	if r == nil || len(r.Flights) != 2 {
		t.Fatalf("expected two flights: %+v", r)
	}
	text := screenText(m)
	second := r.Flights[1].Filter
	for _, want := range []string{r.Call.Filter + ", then " + second, "Flights", "land, change to " + second} {
		if !strings.Contains(text, want) {
			t.Errorf("the screen lacks %q:\n%s", want, text)
		}
	}
	// at 60 columns the answer still fits its line
	drive(m, tea.WindowSizeMsg{Width: 60, Height: 20})
	if line := strings.Split(screenText(m), "\n")[1]; !strings.Contains(line, "then "+second) {
		t.Errorf("the answer line says %q", line)
	}
}
