//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// compassCard is a flight whose call is written on the card, so that the screen depends on the sky and
// the geometry alone.
const compassCard = `skywedge: 1
name: Round the rock
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid, elevation_m: 4}
take_off: 2026-09-18T19:20:00
camera: wide fixed 2.8
filter: ND8/PL
ring_deg: 90
light: {cloud_pct: 0, visibility_km: 40}
ground: water
legs:
  - {move: push, heading_deg: 350, seconds: 30, speed_ms: 5, height_m: 20, pitch_deg: 0}
  - {move: orbit, heading_deg: [350, 170], turn: cw, seconds: 60, height_m: 30, target: {distance_m: 80}}
  - {move: hold, heading_deg: 250, seconds: 10, height_m: 40, pitch_deg: -90}
`

// The compass on a terminal without colour, where letters alone must say it.
func TestCompassScreen(t *testing.T) {
	card := filepath.Join(t.TempDir(), "shot.yaml")
	if err := os.WriteFile(card, []byte(compassCard), 0o644); err != nil {
		t.Fatal(err)
	}
	s := open(t, 120, 36, "NO_COLOR=1", "CARD="+card)
	s.Until("ISO")
	s.Type("2")
	s.Until("◆ subject")
	s.Type("\x1b[B") // to the orbit
	s.Until("Looking ")
	s.Until("leg 2, pitch")
	golden(t, "compass-120x36", s, func() []string { return crop(s.Lines(), 0, 2, 120, 31) })
	if strings.Contains(s.Raw(), "48;2") {
		t.Error("a colour was written")
	}
	s.Type("1")
	s.Until("The call")
}
