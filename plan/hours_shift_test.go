package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// A leg made by hand follows the sun too.
func TestShotAtByHand(t *testing.T) {
	s := plantest.Flight(9, 0, plantest.Push(0, 4, 40))
	l := &s.Legs[0]
	l.HeadingSun, l.HeadingOff = [2]bool{true, true}, [2]float64{90, 90}
	z, err := s.At(s.TakeOff.Add(3 * time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	first := z.TakeOff.Add(30 * time.Second) // half of the way out and home
	if want := sun.At(first, z.LatDeg, z.LonDeg).AzimuthDeg + 90; math.Abs(angle.Wrap180(z.Legs[0].Heading.From-want)) > 1e-9 {
		t.Errorf("heading %g, want %g", z.Legs[0].Heading.From, want)
	}
	if l.Heading.From != 0 {
		t.Error("the shot itself was changed")
	}
}

// An hour at which a heading by the sun asks for more speed than a drone has says so, with the sun it would have.
func TestAnHourThatDoesNotFitIsSaid(t *testing.T) {
	zone, err := shot.LoadZone("Europe/Madrid")
	if err != nil {
		t.Fatal(err)
	}
	c, faults := shot.ReadCard("test.yaml", []byte(`skywedge: 1
name: Test
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}
take_off: 2026-09-18T19:40
camera: wide
legs:
  - {move: orbit, heading_deg: [sun+10, 300], turn: cw, seconds: 9, height_m: 40, target: {distance_m: 150}}
`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s, faults := c.Shot(plantest.Bag(), time.Date(2026, 9, 18, 12, 0, 0, 0, zone))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	h := hoursOf(t, s, hours.OverDay)
	unfit := 0
	for i := range h.Cells {
		if c := &h.Cells[i]; c.State == hours.Unfit {
			unfit++
			if !strings.Contains(c.StateWords(hours.Score), "does not fit") || math.IsNaN(c.Values[hours.Sun]) {
				t.Errorf("%+v", c)
			}
		}
	}
	if unfit == 0 {
		t.Error("no hour of the day is unfit")
	}
}
