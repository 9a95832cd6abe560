//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// hoursCard is a flight whose filter is written on the card, so that the screen depends on the light
// alone.
const hoursCard = `skywedge: 1
name: Round the rock
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid, elevation_m: 4}
take_off: 2026-09-18T19:20:00
camera: wide fixed 2.8
filter: ND8
light: {cloud_pct: 0, visibility_km: 40}
ground: water
legs:
  - {move: push, heading_deg: 350, seconds: 30, speed_ms: 5, height_m: 20, pitch_deg: 0}
`

// The hours on a terminal without colour, where letters alone must say it; Enter and undo on the way.
func TestHoursScreen(t *testing.T) {
	card := filepath.Join(t.TempDir(), "shot.yaml")
	if err := os.WriteFile(card, []byte(hoursCard), 0o644); err != nil {
		t.Fatal(err)
	}
	s := open(t, 120, 36, "NO_COLOR=1", "CARD="+card)
	s.Until("ISO")
	s.Type("4")
	s.Until("Best to take off")
	s.Type("mmmmmm") // by the light
	s.Until("EV 15 on the land")
	s.Type("\x1b[D\r") // an hour earlier, and there it is moved
	s.Until("18 Sep 2026, 18:20")
	s.Until("take-off moved to 18:20")
	s.Type("u")
	s.Until("18 Sep 2026, 19:20")
	s.Until("▸ 19:20: sun")
	golden(t, "hours-120x36", s, func() []string { return crop(s.Lines(), 0, 3, 76, 30) })
	if strings.Contains(s.Raw(), "48;2") {
		t.Error("a colour was written")
	}
	s.Type("y")
	s.Until("2026 by how bright the land is")
	s.Until("good from")
	s.Type("1")
	s.Until("The call")
}
