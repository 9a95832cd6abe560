package plan

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/shot"
)

// Follow a subject low over the ground: it stands still in the picture, the wanted shutter is worth
// having, and nobody is told to slow down.
func TestFollowWantsBlurAndNoRemedy(t *testing.T) {
	l := shot.Leg{
		Move: shot.Follow, Purpose: shot.Video, Seconds: 20, Heading: shot.Sweep{From: 140, By: 0}, Height: [2]float64{10, 10}, PitchAuto: true,
		Target: &shot.Target{DistanceM: 20, SpeedMS: 9, TowardDeg: 140}, Aim: shot.AimKeep,
	}
	r := solve(plantest.Flight(12, 0, l))
	g := r.Legs[0]
	if g.Band != Flowing || !g.BlurWanted || !g.SubjectStep.OK || g.SubjectStep.Max > 0.1 || g.Step.Max < 12 {
		t.Errorf("band %s, subject %v, all %v", g.Band, g.SubjectStep, g.Step)
	}
	if all := strings.Join(g.Notes, "; "); !strings.Contains(all, "the subject stands still") || strings.Contains(all, "it flows") {
		t.Errorf("%q", all)
	}
}

// The speed that a fast leg is told is one at which it flows, and at a little more it does not.
func TestTheSpeedThatCalms(t *testing.T) {
	l := plantest.Push(0, 14, 6)
	l.Aim = shot.AimKeep
	r := solve(plantest.Flight(12, 0, l))
	if r.Legs[0].Band != Fast {
		t.Fatalf("band %s", r.Legs[0].Band)
	}
	fix := motion.RemedyFor(r.Legs[0].Step.Max, 14, 24, l.Mode.FPS)
	for _, c := range []struct {
		by   float64
		want MotionBand
	}{{0.99, Flowing}, {1.02, Fast}} {
		l.SpeedMS = fix.MaxSpeed * c.by
		if got := solve(plantest.Flight(12, 0, l)).Legs[0].Band; got != c.want {
			t.Errorf("at %.2f of the speed: %s, want %s", c.by, got, c.want)
		}
	}
}

// A turn has no speed over the ground: it is told how long to take for the same angle.
func TestSlowerPan(t *testing.T) {
	l := plantest.Turning(0, 180, 40)
	l.Seconds = 6
	s := plantest.Flight(12, 0, l)
	r := solve(s)
	all := strings.Join(r.Legs[0].Notes, "; ")
	if r.Legs[0].Band != Fast || !strings.Contains(all, " s instead of 6 it flows") {
		t.Errorf("%s: %q", r.Legs[0].Band, all)
	}
}

// The handbook's slow pan, 7 s a picture width at 24 frames a second, has the score that is the upper end
// of what is acceptable (Chapiro, Atkins & Daly 2019), and is out of the scale beyond 5 to 17 s.
func TestJudderWhereItHolds(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(0, 1, 50))
	y := newAnalysis(s, shot.Path(s, 2), everyMoment, newShared(s.Legs[0].Height[0]))
	l := y.legs[0]
	step := func(widthS float64) float64 { return 60 * float64(motion.HD) / (24 * widthS) }
	if j := y.judder(l, step(7)); !j.OK || math.Abs(j.Min-motion.JudderAcceptable) > 1e-3 {
		t.Errorf("7 s: %v", j)
	}
	for _, w := range []float64{4.9, 17.1} {
		if j := y.judder(l, step(w)); j.OK {
			t.Errorf("%g s a width is outside the scale: %v", w, j)
		}
	}
	if a, b := y.judder(l, step(6)), y.judder(l, step(12)); a.Min <= b.Min {
		t.Errorf("a faster pan judders less: %v, %v", a, b)
	}
	s.Settings.ViewingUHD = true
	if j := y.judder(l, step(7)); j.OK {
		t.Error("the scale was not made for a wider screen")
	}
}

// A hovering long exposure: in calm air few frames do, in wind many are needed; both are told.
func TestLongExposureNotes(t *testing.T) {
	notes := func(steadiness string) (int, string) {
		l := plantest.StillOf(200, -35, 45)
		l.Purpose, l.ShutterS, l.ShutterSet, l.Aim, l.Ground = shot.Long, 1, true, shot.AimKeep, shot.Water
		s := plantest.Flight(17, 20, l)
		s.Settings.Steadiness = steadiness
		r := only(s, "ND1000")
		return r.Legs[0].FramesToKeepOne, strings.Join(r.Legs[0].Notes, "; ")
	}
	calm, a := notes("calm")
	windy, b := notes("windy")
	if calm > 3 || windy < 10 {
		t.Errorf("calm %d, windy %d frames", calm, windy)
	}
	if !strings.Contains(a+b, "average a burst") || !strings.Contains(b, "pixels") {
		t.Errorf("%q\n%q", a, b)
	}
}

// A density left on for a still costs sharpness: common practice, no source.
func TestSafeShutterOfAStill(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.StillOf(0, -20, 60))
	r := only(s, "CPL")
	safe := r.Legs[0].SafeShutterS
	if safe <= 0 || safe > 1 || r.Legs[0].BlurPx.Max > motion.Normal {
		t.Errorf("safe %g, blur %v", safe, r.Legs[0].BlurPx)
	}
	s.Filter = "ND1000"
	if d := only(s, "ND1000"); d.Legs[0].BlurPx.Max < 4*r.Legs[0].BlurPx.Max && d.Legs[0].ISO.Max < 4*r.Legs[0].ISO.Max {
		t.Errorf("ten stops cost neither sharpness nor ISO: %v, %v", d.Legs[0].BlurPx, d.Legs[0].ISO)
	}
}

// Bare into a high sun the shutter of a film is very fast: shimmer and the propellers' shadow are warned
// of, and not with the sun behind, nor with a density (common practice, no source).
func TestShimmer(t *testing.T) {
	warned := func(heading float64, filter string) bool {
		l := plantest.Push(heading, 1, 100)
		l.Aim = shot.AimKeep
		s := plantest.Flight(12, 0, l)
		s.Filter = filter
		return strings.Contains(strings.Join(solve(s).Legs[0].Notes, "; "), "propellers' shadow")
	}
	if !warned(180, "none") {
		t.Error("not warned of into the sun")
	}
	if warned(0, "none") || warned(180, "ND64") {
		t.Error("warned of without reason")
	}
}

// Turning fast past uprights leans them by the time the sensor takes to be read (arithmetic).
func TestLean(t *testing.T) {
	l := plantest.Turning(0, 90, 40)
	l.Seconds = 3
	s := plantest.Flight(12, 0, l)
	y := newAnalysis(s, shot.Path(s, 8), everyMoment, newShared(s.Legs[0].Height[0]))
	f := 3840 / s.Camera.SensorMM[0] * s.Camera.FocalMM
	want := math.Atan(f*30*math.Pi/180*0.020/2160) * 180 / math.Pi
	if got := y.lean(y.legs[0]); math.Abs(got-want) > 1e-9 {
		t.Errorf("%.3f°, want %.3f°", got, want)
	}
}
