package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"example.org/skywedge/kit"
)

// anyCard writes a card of anything that the table of fields allows, with legs that do not contradict
// themselves: any place and light, any move, any purpose, the cameras and filters of a bag. The ends of the ranges
// come up often, because that is where sums go wrong.
func anyCard(r *rand.Rand, bag *kit.Bag) string {
	num := func(lo, hi float64) float64 {
		switch r.IntN(8) {
		case 0:
			return lo
		case 1:
			return hi
		}
		return lo + (hi-lo)*r.Float64()
	}
	word := func(words ...string) string { return words[r.IntN(len(words))] }
	maybe := func(of int) bool { return r.IntN(of) == 0 }
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	camera := bag.Cameras[r.IntN(len(bag.Cameras))]
	line("skywedge: 1\nname: any\nplace: {lat: %.4f, lon: %.4f, zone: UTC, elevation_m: %.0f}", num(-90, 90), num(-180, 180), num(-430, 6000))
	at := time.Date(1950+r.IntN(150), 1, 1, 0, r.IntN(366*24*60), 0, 0, time.UTC)
	line("take_off: %s\ncamera: %s", at.Format("2006-01-02T15:04"), camera.Name)
	if maybe(3) {
		line("filter: %s", bag.Filters[r.IntN(len(bag.Filters))].Name)
	}
	if maybe(4) {
		line("ring_deg: %.1f", num(0, 360))
	}
	line("light: {cloud_pct: %.0f, sun: %s, visibility_km: %.1f, wind_ms: %.0f, wind_from_deg: %.0f, air_c: %.0f}",
		num(0, 100), word("auto", "shining", "hidden"), num(0.5, 300), num(0, 40), num(0, 360), num(-50, 55))
	line("flight: {transit_s: %.0f, takes: %d, reset_s: %.0f}", num(0, 600), 1+r.IntN(4), num(0, 120))
	line("aim: %s\nground: %s\nbias_stops: %.2f", word("sky", "water", "leaf", "haze", "keep", "balance"),
		word("water", "grass", "forest", "sand", "rock", "snow", "town"), num(-4, 4))
	if maybe(4) {
		line("skyline: [[0, %.1f], [120, %.1f], [240, %.1f]]", num(-10, 60), num(0, 20), num(0, 90))
	}
	line("legs:")
	for range 1 + r.IntN(4) {
		move := word("push", "pull", "slide", "follow", "orbit", "rise", "pan", "tilt", "hold")
		seconds, height := num(2, 200), num(0, 500)
		from, by := num(0, 359), num(-170, 170)
		heading, pitch, heights := fmt.Sprintf("%.1f", from), fmt.Sprintf("%.1f", num(-90, 90)), fmt.Sprintf("%.1f", height)
		turned := fmt.Sprintf("[%.1f, %.1f]", from, math.Mod(from+by+360, 360))
		if maybe(3) {
			heading = fmt.Sprintf("sun%+.0f", num(-180, 180))
		}
		var more []string
		also := func(format string, a ...any) { more = append(more, fmt.Sprintf(format, a...)) }
		target := maybe(3)
		switch move {
		case "push", "pull":
			also("speed_ms: %.1f", num(0.1, 25))
		case "slide":
			also("speed_ms: %.1f, to: %s", num(0.1, 25), word("left", "right"))
		case "follow":
			target = true
		case "orbit":
			heading, target, seconds = turned, true, max(seconds, 60)
		case "pan":
			heading = turned
		case "rise":
			heights = fmt.Sprintf("[%.1f, %.1f]", height, height+num(1, 100))
		case "tilt":
			pitch = fmt.Sprintf("[%.1f, %.1f]", num(-90, -1), num(0, 90))
		}
		if !target || maybe(2) || move == "tilt" {
			also("pitch_deg: %s", pitch)
		}
		if target {
			also("target: {distance_m: %.1f, speed_ms: %.1f, toward_deg: %.0f}", num(1, 900), num(0.1, 30), num(0, 360))
		}
		purpose, mode := word("video", "video", "still", "long"), camera.Modes[r.IntN(len(camera.Modes))]
		also("purpose: %s, mode: %s, fps: %g", purpose, mode.Name, mode.FPS[r.IntN(len(mode.FPS))])
		switch {
		case !maybe(3):
		case purpose == "long":
			also("exposure_s: %.2f", num(0.1, 8))
		case purpose == "still":
			also("shutter_s: %s", word("1/8000", "1/100", "1/4", "8"))
		default:
			also("shutter_angle_deg: %.0f", num(20, 360))
		}
		if maybe(3) {
			also("stills_too: true")
		}
		line("  - {move: %s, heading_deg: %s, seconds: %.1f, height_m: %s, %s}", move, heading, seconds, heights, strings.Join(more, ", "))
	}
	return b.String()
}
