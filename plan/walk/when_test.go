package walk

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func TestDuringSaysWhen(t *testing.T) {
	r := &plan.Report{}
	for i := range 5 { // an earlier leg of 8 s
		r.Path = append(r.Path, shot.Moment{Leg: 0, FlightS: 2 * float64(i)})
	}
	for i := range 11 {
		r.Path = append(r.Path, shot.Moment{Leg: 1, FlightS: 8 + 4*float64(i)})
	}
	for _, c := range []struct {
		from, to int // moments of leg 1
		want     string
		ok       bool
	}{
		{0, 10, "", true}, {0, 3, ", until 12 s", true}, {3, 10, ", from 12 s on", true}, {2, 3, ", 8 to 12 s in", true},
		{4, 4, ", at 16 s", true}, {5, 4, "", false},
	} {
		got, ok := during(r, 1, func(i int) bool { return i-5 >= c.from && i-5 <= c.to })
		if got != c.want || ok != c.ok {
			t.Errorf("%d to %d: %q %v, want %q %v", c.from, c.to, got, ok, c.want, c.ok)
		}
	}
	if _, ok := during(r, 7, func(int) bool { return true }); ok {
		t.Error("there is no leg 7")
	}
}

// A pan towards the sun: it comes into the frame where the picture has it, and its glitter on water only.
func TestTheSunIsAnnouncedWhenThePictureHasIt(t *testing.T) {
	for _, ground := range []shot.Ground{shot.Water, shot.Grass} {
		r := &plan.Report{Shot: plantest.SeaShot(ground, 160, -4), Bag: kit.Generic()}
		l := &r.Shot.Legs[0]
		l.Move, l.Seconds = shot.Pan, 60
		at := sun.At(r.Shot.TakeOff, r.Shot.LatDeg, r.Shot.LonDeg).AzimuthDeg
		l.Heading = shot.Sweep{From: at - 120, By: 120}
		r = plan.Solve(r.Shot, r.Bag, plan.Options{SkipSureness: true})
		out := strings.Join(Of(r)[0].Legs[0].LookOut, "; ")
		if !strings.Contains(out, "the sun is in the frame, from ") || strings.Contains(out, "glitters") != (ground == shot.Water) {
			t.Errorf("%s: %s", ground, out)
		}
		inFrame := func(i int) bool {
			p, err := r.Frame(plan.FrameOptions{Second: r.Path[i].FlightS, Filter: "none", W: 8, H: 8})
			if err != nil {
				t.Fatal(err)
			}
			return p.SunIn
		}
		want, ok := during(r, 0, inFrame)
		if !ok || !strings.Contains(out, "the sun is in the frame"+want) {
			t.Errorf("the picture has it%s, the walk says %s", want, out)
		}
		for i, change := range []func(s *shot.Shot){
			func(s *shot.Shot) { s.Light.CloudPct = 100 },
			func(s *shot.Shot) { s.Skyline = [][2]float64{{220, 80}, {240, 80}, {260, 80}, {280, 80}} },
			func(s *shot.Shot) { s.TakeOff = s.TakeOff.Add(5 * time.Hour) },
			func(s *shot.Shot) { s.Legs[0].Heading.From += 180; s.Legs[0].Heading.By = 10 },
		} {
			s := *r.Shot
			s.Legs = append([]shot.Leg(nil), s.Legs...)
			change(&s)
			x := plan.Solve(&s, r.Bag, plan.Options{SkipSureness: true})
			if out := strings.Join(Of(x)[0].Legs[0].LookOut, "; "); strings.Contains(out, "the sun is") || strings.Contains(out, "glitters") {
				t.Errorf("change %d: there is no sun in this frame, yet: %s", i, out)
			}
		}
	}
}

// The band is said for the seconds when the sky is uneven.
func TestTheBandIsSaidForItsSeconds(t *testing.T) {
	r := &plan.Report{Shot: plantest.SeaShot(shot.Water, 350, 0), Bag: kit.Generic()}
	r = plan.Solve(r.Shot, r.Bag, plan.Options{SkipSureness: true})
	r.Legs[0].Unevenness = plan.Range{Min: .2, Max: 1.3, OK: true}
	for i := range r.Measures {
		r.Measures[i].SkyOK, r.Measures[i].Unevenness = true, .2
		if r.Path[i].FlightS >= 10 {
			r.Measures[i].Unevenness = 1.3
		}
	}
	if got := bandWords(r, 0); got != "a band in the sky, from 10 s on" {
		t.Errorf("%q", got)
	}
	r.Legs[0].Unevenness.Max = .9
	if got := bandWords(r, 0); got != "" {
		t.Errorf("%q", got)
	}
}
