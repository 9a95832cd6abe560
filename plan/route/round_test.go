package route_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/route"
	"example.org/skywedge/plan/shot"
)

var now = time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC)

func bag(t testing.TB) *kit.Bag {
	t.Helper()
	b, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return b
}

func read(t testing.TB, b *kit.Bag, text []byte) *shot.Shot {
	t.Helper()
	card, faults := shot.ReadCard("card.yaml", text)
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, text)
	}
	s, faults := card.Shot(b, now)
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, text)
	}
	return s
}

// roundTrip writes a shot's path, reads it back, drafts a card of it and flies that.
func roundTrip(t testing.TB, b *kit.Bag, s *shot.Shot, f route.Format, elevation bool) (text []byte, again *shot.Shot, draft *route.Draft) {
	t.Helper()
	d, err := route.Of(s, elevation)
	if err != nil {
		t.Fatal(err)
	}
	text = d.Encode(f)
	back, err := route.Read("path", text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if back.Format != f || back.Zone != s.Zone.String() {
		t.Errorf("read as %s, zone %q", back.Format, back.Zone)
	}
	draft, err = back.Draft(route.Wish{Now: now, Zone: back.Zone, Camera: s.Camera.Name})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return text, read(t, b, draft.Card), draft
}

// apart is how far two shots are from each other at a share of their flights: in place or above the ground, and in where
// the camera looks.
func apart(a, b *shot.Shot, share float64) (metres, headingDeg, pitchDeg float64) {
	m, n := a.MomentAt(share*a.FlightSeconds()), b.MomentAt(share*b.FlightSeconds())
	off := func(x, y float64) float64 { return math.Abs(math.Remainder(x-y, 360)) }
	metres = math.Sqrt(sq(m.Pos.X-n.Pos.X) + sq(m.Pos.Y-n.Pos.Y) + sq(m.Pos.Z-n.Pos.Z))
	return max(metres, math.Abs(m.AboveM-n.AboveM)), off(m.HeadingDeg, n.HeadingDeg), off(m.PitchDeg, n.PitchDeg)
}

func sq(x float64) float64 { return x * x }

func held(t testing.TB, name string, s, again *shot.Shot, f route.Format, text, card []byte) {
	t.Helper()
	if off := math.Abs(s.FlightSeconds() - again.FlightSeconds()); off > 0.2 {
		t.Errorf("%s as %s: %g s longer", name, f, off)
	}
	if !s.TakeOff.Equal(again.TakeOff) || s.Zone.String() != again.Zone.String() {
		t.Errorf("%s as %s: take-off %s is %s", name, f, s.TakeOff, again.TakeOff)
	}
	for k := 1; k < 200; k++ {
		m, h, p := apart(s, again, float64(k)/200)
		if joint(s, float64(k)/200) {
			continue
		}
		if m > 1 || h > 1 || p > 1 {
			t.Fatalf("%s as %s, at %d/200 of the flight: %.2f m, heading %.2f°, pitch %.2f° off\n%s\n%s", name, f, k, m, h, p, text, card)
		}
	}
}

// joint tells whether one leg passes into the next just there: a tenth of a second decides which it is.
func joint(s *shot.Shot, share float64) bool {
	at := share * s.FlightSeconds()
	return s.MomentAt(at-0.3).Leg != s.MomentAt(at+0.3).Leg
}

// Card, path, card: within 1 m and 1° all along, for every card of the demo trip, in every format.
func TestRoundTripOfTheDemo(t *testing.T) {
	b := bag(t)
	for _, name := range examples.Cards() {
		s := read(t, b, examples.Card(name))
		for _, f := range []route.Format{route.GPX, route.KML, route.GeoJSON} {
			for _, elevation := range []bool{true, false} {
				text, again, draft := roundTrip(t, b, s, f, elevation)
				held(t, name, s, again, f, text, draft.Card)
				if len(again.Legs) != len(s.Legs) {
					t.Errorf("%s as %s: %d legs are %d", name, f, len(s.Legs), len(again.Legs))
				}
				if elevation && again.ElevationM != s.ElevationM {
					t.Errorf("%s as %s: take-off at %g m", name, f, again.ElevationM)
				}
				if draft.OffM > 0.5 {
					t.Errorf("%s as %s: %g m off its line", name, f, draft.OffM)
				}
			}
		}
	}
}

// anyCard writes a card that may be flown, of any moves.
func anyCard(r *rand.Rand) string {
	between := func(a, b float64) float64 { return math.Round((a+(b-a)*r.Float64())*10) / 10 }
	lat, lon := between(-70, 70), between(-180, 179.9)
	if r.IntN(4) == 0 { // over the antimeridian
		lon = 179.9999 - 0.0002*r.Float64()
	}
	var legs strings.Builder
	height := between(20, 80)
	for range 1 + r.IntN(5) {
		heading, seconds, speed := between(0, 360), between(3, 60), between(1, 12)
		away := between(20, 300)
		fmt.Fprintf(&legs, "  - {heading_deg: ")
		turning := fmt.Sprintf("[%g, %g]", heading, math.Mod(heading+between(10, 170), 360))
		aim := ""
		switch r.IntN(3) {
		case 0:
			aim = fmt.Sprintf(", pitch_deg: [%g, %g]", between(-90, 0), between(-90, 0))
		case 1:
			aim = fmt.Sprintf(", target: {distance_m: %g}", speed*seconds+away)
		}
		switch r.IntN(9) {
		case 0:
			fmt.Fprintf(&legs, "%g, move: push, speed_ms: %g, height_m: [%g, %g], ground_m: [%g, %g]%s", heading, speed, height, between(20, 80), between(-40, 10), between(-40, 10), aim)
		case 1:
			fmt.Fprintf(&legs, "%s, move: pull, speed_ms: %g, height_m: %g", turning, speed, height)
		case 2:
			fmt.Fprintf(&legs, "%g, move: slide, to: %s, speed_ms: %g, height_m: %g%s", heading, []string{"left", "right"}[r.IntN(2)], speed, height, aim)
		case 3:
			fmt.Fprintf(&legs, "%g, move: follow, height_m: %g, target: {distance_m: %g, speed_ms: %g, toward_deg: %g}", heading, height, away, speed, between(0, 360))
		case 4:
			fmt.Fprintf(&legs, "%s, move: orbit, height_m: %g, target: {distance_m: %g}", turning, height, away)
			seconds = max(seconds, 20)
		case 5:
			fmt.Fprintf(&legs, "%g, move: rise, height_m: [%g, %g], pitch_deg: -60", heading, height, height+between(5, 40))
		case 6:
			fmt.Fprintf(&legs, "%s, move: pan, height_m: %g", turning, height)
		case 7:
			fmt.Fprintf(&legs, "%g, move: tilt, height_m: %g, pitch_deg: [-80, %g]", heading, height, between(-70, 0))
		case 8:
			fmt.Fprintf(&legs, "%g, move: push, course_deg: %g, speed_ms: %g, height_m: %g%s", heading, math.Mod(heading+between(5, 80), 360), speed, height, aim)
		}
		fmt.Fprintf(&legs, ", seconds: %g}\n", seconds)
	}
	return fmt.Sprintf("skywedge: 1\nname: any\nplace: {lat: %g, lon: %.6f, zone: UTC}\ntake_off: 2026-06-01T10:00:00\ncamera: wide fixed 2.8\nlegs:\n%s", lat, lon, legs.String())
}

// The same for cards of any moves, anywhere.
func TestRoundTripOfAnyCard(t *testing.T) {
	b := bag(t)
	for seed := range uint64(60) {
		text := anyCard(rand.New(rand.NewPCG(seed, 1)))
		s := read(t, b, []byte(text))
		f := route.Format(seed % 3)
		path, again, draft := roundTrip(t, b, s, f, seed%2 == 0)
		held(t, fmt.Sprintf("seed %d\n%s", seed, text), s, again, f, path, draft.Card)
		if t.Failed() {
			return
		}
	}
}
