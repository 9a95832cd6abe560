package plan_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// cardLeg is one leg of a card as it is written: what is said of the light, of the exposure, and of the leg itself.
type cardLeg struct {
	lat           float64
	at            time.Time
	light, expose string
	ground, leg   string
}

// report answers the card as a pilot gets it, bare.
func (c cardLeg) report(t testing.TB) *plan.Report {
	t.Helper()
	bag := kit.Generic()
	text := fmt.Sprintf(`skywedge: 1
name: held against the exposure guide
place: {lat: %g, lon: 0, zone: UTC}
take_off: %s
camera: %s
light: {%s, wind_ms: 3}
flight: {transit_s: 0, takes: 1, reset_s: 0}
purpose: video
fps: 25
filter: none
expose: %s
ground: %s
legs:
  - {move: hold, seconds: 2, %s}
`, c.lat, c.at.Format("2006-01-02T15:04:05"), bag.Cameras[0].Name, c.light, c.expose, c.ground, c.leg)
	card, faults := shot.ReadCard("guide.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s, faults := card.Shot(bag, time.Time{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return plan.Solve(s, bag, plan.Options{PerLeg: 2, SkipSureness: true})
}

// cardGuideClaims holds cards with expose: land against the daylight rows of the guide. Where each is asked to hold
// is ours; where it does is found and said.
func cardGuideClaims(t testing.TB) []claim {
	const lat = 25.0 // where the sun of June comes up to 88°
	noon := sun.DayOf(2026, 6, 21, time.UTC, lat, 0).Noon
	var out []claim
	for _, row := range []struct {
		sky, light, heading string
		ev, from, to        float64
	}{
		{"full sun, in front", "cloud_pct: 0, visibility_km: 40", "sun+180", 15, 28, 70},
		{"full sun, from the side", "cloud_pct: 0, visibility_km: 40", "sun+90", 14, 38, 49},
		{"full sun, from behind the subject", "cloud_pct: 0, visibility_km: 40", "sun", 13, 30, 45},
		{"hazy sun, visibility 5 km", "cloud_pct: 0, visibility_km: 5", "sun+180", 14, 25, 35},
		{"cloudy bright, 80 % of cloud", "cloud_pct: 80, visibility_km: 30", "sun+180", 13, 38, 49},
		{"overcast, 100 % of cloud", "cloud_pct: 100, visibility_km: 20", "sun+180", 12, 38, 49},
	} {
		off := func(h float64) float64 {
			c := cardLeg{lat, sinks(noon, lat, 0, h), row.light, "land", "grass", "heading_deg: " + row.heading + ", height_m: 20, pitch_deg: 0"}
			return c.report(t).Legs[0].FrameEV.Max - row.ev
		}
		var s tally
		for h := row.from; h <= row.to; h++ {
			s.add(off(h))
		}
		from, to := row.from, row.to
		for from > 2 && math.Abs(off(from-1)) <= .5 {
			from--
		}
		for to < 87 && math.Abs(off(to+1)) <= .5 {
			to++
		}
		out = append(out, s.worst(fmt.Sprintf("a card's land, %s, EV %g: asked for sun %g to %g°; within ½ stop from %g to %g°", row.sky, row.ev, row.from, row.to, from, to),
			"exposure guide, ANSI PH2.7 as reproduced publicly", .5, "stop", 2))
	}
	return out
}

// stands is when the sun stands at an apparent altitude after a noon.
func stands(noon time.Time, lat, altDeg float64) time.Time {
	a, b := noon, noon.Add(12*time.Hour)
	for b.Sub(a) > time.Second {
		m := a.Add(b.Sub(a) / 2)
		if sun.At(m, lat, 0).AltitudeDeg >= altDeg {
			a = m
		} else {
			b = m
		}
	}
	return a
}

// sunsetClaims holds whole frames, towards a low sun, against the guide's sunset rows, which describe such frames:
// 12 to 14 just before, 12 at, 9 to 11 just after.
func sunsetClaims(t testing.TB) []claim {
	const lat = 45.0
	noon := sun.DayOf(2026, 9, 22, time.UTC, lat, 0).Noon
	frame := func(alt, pitch float64, ground string) *plan.LegReport {
		c := cardLeg{lat, stands(noon, lat, alt).Add(-time.Second), "cloud_pct: 0, visibility_km: 30", "middle", ground,
			fmt.Sprintf("heading_deg: sun, height_m: 30, pitch_deg: %g", pitch)}
		return &c.report(t).Legs[0]
	}
	var ev, clipped tally
	said := ""
	for _, row := range []struct{ alt, ev float64 }{{3, 13}, {0, 12}, {-3, 9.5}} {
		got := frame(row.alt, 0, "grass").FrameEV.Max
		ev.add(got - row.ev)
		said += fmt.Sprintf(" %.1f", got)
	}
	for _, ground := range []string{"grass", "water"} {
		for _, pitch := range []float64{-12, -20} {
			clipped.add(100 * frame(3, pitch, ground).Clipped)
		}
	}
	return []claim{
		ev.worst("a card's level frame towards the sun at 3, 0 and −3° over grass, EV 13, 12 and 9½: gives"+said,
			"exposure guide, ANSI PH2.7 as reproduced publicly", 1, "stop", 2),
		clipped.worst("clipped, 12 and 20° down, sun at 3°, grass and water", "ours: what a practitioner would let go", 10, "% of the frame", 1),
	}
}
