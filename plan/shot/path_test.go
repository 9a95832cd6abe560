package shot

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan/internal/angle"
	"gonum.org/v1/gonum/spatial/r3"
)

// testShot is a flight near 43° N on a September evening; the legs are the test's.
func testShot(legs ...Leg) *Shot {
	return &Shot{
		Name: "test", LatDeg: 43.4, LonDeg: -8.4, ElevationM: 4, Zone: time.UTC,
		TakeOff: time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC),
		Light:   Weather{CloudPct: 10, VisibilityKm: 30, WindMS: 4, WindFromDeg: 250, AirC: 14},
		Takes:   3, ResetS: 45, TransitS: 180, Legs: legs,
	}
}

func level(h float64) [2]float64 { return [2]float64{h, h} }

var movingLegs = map[string]Leg{
	"push":          {Move: Push, Seconds: 25, Heading: Sweep{From: 285}, SpeedMS: 4, Height: level(35)},
	"curved push":   {Move: Push, Seconds: 30, Heading: Sweep{From: 285, By: 110}, SpeedMS: 6, Height: [2]float64{20, 50}},
	"pull":          {Move: Pull, Seconds: 25, Heading: Sweep{From: 10}, SpeedMS: 3, Height: [2]float64{12, 60}, Target: &Target{DistanceM: 30}, PitchAuto: true},
	"slide left":    {Move: Slide, Seconds: 20, Heading: Sweep{From: 300, By: -20}, SlideLeft: true, SpeedMS: 3, Height: level(25)},
	"slide right":   {Move: Slide, Seconds: 20, Heading: Sweep{From: 300}, SpeedMS: 3, Height: level(25), Target: &Target{DistanceM: 100}, PitchAuto: true},
	"orbit":         {Move: Orbit, Seconds: 40, Heading: Sweep{From: 285, By: 90}, Height: level(40), Target: &Target{DistanceM: 90, HeightM: 5}, PitchAuto: true},
	"moving orbit":  {Move: Orbit, Seconds: 40, Heading: Sweep{From: 285, By: -540}, Height: [2]float64{40, 60}, Target: &Target{DistanceM: 90, SpeedMS: 3, TowardDeg: 200}, PitchAuto: true},
	"follow":        {Move: Follow, Seconds: 30, Heading: Sweep{From: 140}, Height: level(12), Target: &Target{DistanceM: 25, SpeedMS: 6, TowardDeg: 150}, PitchAuto: true},
	"rise":          {Move: Rise, Seconds: 30, Heading: Sweep{From: 20}, Height: [2]float64{40, 110}, Pitch: level(-90)},
	"rising course": {Move: Rise, Seconds: 30, Heading: Sweep{From: 20, By: 40}, Height: [2]float64{40, 110}, CourseSet: true, CourseDeg: 77, SpeedMS: 5, GroundM: [2]float64{0, 30}},
	"pan":           {Move: Pan, Seconds: 40, Heading: Sweep{From: 290, By: 60}, Height: level(70), Pitch: level(-4)},
	"tilt":          {Move: Tilt, Seconds: 12, Heading: Sweep{From: 20}, Height: level(110), Pitch: [2]float64{-90, -10}},
	"hold":          {Move: Hold, Seconds: 10, Heading: Sweep{From: 15}, Height: level(40), Pitch: level(-5)},
	"sun push":      {Move: Push, Seconds: 600, Heading: Sweep{From: 340}, HeadingSun: [2]bool{true, true}, HeadingOff: [2]float64{90, 60}, SpeedMS: 4, Height: level(35)},
}

// Velocity and rates are written down on their own; they must be what the positions do.
func TestPathRatesAreFiniteDifferences(t *testing.T) {
	for name, l := range movingLegs {
		t.Run(name, func(t *testing.T) {
			if l.followsSun() { // the yaw rate of a sun-led heading is its mean
				s := testShot(l)
				k := newTrack(s)
				a0, a1 := k.sunAzimuth(0, 0), k.sunAzimuth(0, 1)
				l.Heading = Sweep{From: angle.Wrap360(a0 + l.HeadingOff[0]), By: l.HeadingOff[1] - l.HeadingOff[0] + angle.Wrap180(a1-a0)}
			}
			s := testShot(l)
			const step = 0.01
			for at := 0.5; at < l.Seconds; at += l.Seconds / 7 {
				before, m, after := s.MomentAt(at-step), s.MomentAt(at), s.MomentAt(at+step)
				v := r3.Scale(1/(2*step), r3.Sub(after.Pos, before.Pos))
				if d := r3.Norm(r3.Sub(v, m.Velocity)); d > 2e-3 {
					t.Errorf("second %.1f: velocity %v, positions move by %v", at, m.Velocity, v)
				}
				if yaw := angle.Wrap180(after.HeadingDeg-before.HeadingDeg) / (2 * step); math.Abs(yaw-m.YawDegS) > 1e-3 {
					t.Errorf("second %.1f: yaw rate %v, headings turn by %v", at, m.YawDegS, yaw)
				}
				if q := (after.PitchDeg - before.PitchDeg) / (2 * step); math.Abs(q-m.PitchDegS) > 1e-3 {
					t.Errorf("second %.1f: pitch rate %v, pitches change by %v", at, m.PitchDegS, q)
				}
				tv := r3.Scale(1/(2*step), r3.Sub(after.Target, before.Target))
				if l.Target != nil && r3.Norm(r3.Sub(tv, m.TargetVel)) > 1e-6 {
					t.Errorf("second %.1f: the target moves by %v, not %v", at, tv, m.TargetVel)
				}
			}
		})
	}
}

func TestOrbitKeepsDistanceAndLooksAtTarget(t *testing.T) {
	for _, name := range []string{"orbit", "moving orbit"} {
		l := movingLegs[name]
		for _, m := range Path(testShot(l), 33) {
			to := r3.Sub(m.Target, m.Pos)
			if d := math.Hypot(to.X, to.Y); math.Abs(d-l.Target.DistanceM) > 1e-9 {
				t.Errorf("%s: distance %.4f m at second %.1f", name, d, m.FlightS)
			}
			v := NewView(testCamera, testCamera.Modes[0], false, m.HeadingDeg, m.PitchDeg)
			if x, y, ok := v.Project(r3.Unit(to)); !ok || math.Abs(x) > 1e-9 || math.Abs(y) > 1e-9 {
				t.Errorf("%s: the target stands at %.3g, %.3g in the picture", name, x, y)
			}
		}
	}
}

func TestMovesGoTheirWay(t *testing.T) {
	for _, c := range []struct {
		leg   string
		gone  float64 // metres over the ground
		toDeg float64
	}{
		{"push", 100, 285}, {"pull", 75, 190}, {"slide right", 60, 30},
		{"follow", 180, 150}, {"rising course", 150, 77},
		{"rise", 0, 0}, {"pan", 0, 0}, {"tilt", 0, 0}, {"hold", 0, 0},
	} {
		p := Path(testShot(movingLegs[c.leg]), 5)
		end := p[len(p)-1].Pos
		end.Z = 0
		if d := r3.Norm(r3.Sub(end, r3.Scale(c.gone, Toward(c.toDeg)))); d > 1e-9 {
			t.Errorf("%s ends %.3g m off: %v", c.leg, d, end)
		}
	}
	// A left slide that turns left while it looks across: the chord of the arc.
	p := Path(testShot(movingLegs["slide left"]), 2)
	x := 10 * math.Pi / 180
	want := r3.Scale(60*math.Sin(x)/x, Toward(200))
	want.Z = 25
	if d := r3.Norm(r3.Sub(p[1].Pos, want)); d > 1e-9 {
		t.Errorf("slide left ends at %v, want %v", p[1].Pos, want)
	}
}

func TestLegsJoin(t *testing.T) {
	s := testShot(movingLegs["push"], movingLegs["orbit"], movingLegs["hold"])
	p := Path(s, 9)
	if len(p) != 27 {
		t.Fatalf("%d moments", len(p))
	}
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if a.Leg == b.Leg {
			if turn := math.Abs(angle.Wrap180(b.HeadingDeg - a.HeadingDeg)); turn > 90.0/8+1e-9 {
				t.Errorf("the heading jumps by %.1f° at second %.1f", turn, b.FlightS)
			}
			continue
		}
		if d := math.Hypot(a.Pos.X-b.Pos.X, a.Pos.Y-b.Pos.Y); d > 1e-9 || a.FlightS != b.FlightS {
			t.Errorf("leg %d starts %.3f m from the end of the one before", b.Leg, d)
		}
	}
	if b := p[9].Pos.Z; b != 40 {
		t.Errorf("the orbit starts at %v m, its height is written as 40", b)
	}
	for _, m := range p {
		if m.Leg < 2 && m.Frac == 1 {
			continue // the next leg's start has that second
		}
		got := s.MomentAt(m.FlightS)
		if got != m {
			t.Errorf("second %.1f: MomentAt and Path differ:\n%+v\n%+v", m.FlightS, got, m)
		}
	}
	if m := s.MomentAt(-5); m.FlightS != 0 {
		t.Error("a second before the flight is not its start")
	}
	if m := s.MomentAt(1e6); m.FlightS != s.FlightSeconds() {
		t.Error("a second after the flight is not its end")
	}
}

func TestHeadingFollowsTheSun(t *testing.T) {
	l := movingLegs["hold"]
	l.Seconds = 1800
	l.HeadingSun, l.HeadingOff = [2]bool{true, true}, [2]float64{90, 90}
	p := Path(testShot(l), 5)
	for _, m := range p {
		if off := angle.Wrap180(m.HeadingDeg - m.Sun[0].AzimuthDeg - 90); math.Abs(off) > 1e-9 {
			t.Errorf("the heading is %.3g° off the sun's left", off)
		}
	}
	if move := angle.Wrap180(p[4].HeadingDeg - p[0].HeadingDeg); move < 4 || move > 8 {
		t.Errorf("in half an hour of evening the heading moved by %.2f°", move)
	}
}

// The pitch of a written pair is what is written, and the one that looks at a target stops at the
// gimbal's end.
func TestPitchStopsAtTheGimbal(t *testing.T) {
	l := Leg{Move: Push, Seconds: 20, SpeedMS: 10, Height: level(30), Target: &Target{DistanceM: 100}, PitchAuto: true}
	s := testShot(l)
	s.Camera.GimbalDeg = [2]float64{-60, 20}
	p := Path(s, 21)
	if want := -math.Atan2(30, 100) * 180 / math.Pi; math.Abs(p[0].PitchDeg-want) > 1e-9 {
		t.Errorf("pitch %.3f at the start, want %.3f", p[0].PitchDeg, want)
	}
	if p[20].PitchDeg != -60 || p[20].PitchDegS != 0 {
		t.Errorf("past its target the camera stands at %.1f°, %.2f°/s", p[20].PitchDeg, p[20].PitchDegS)
	}
}

func TestAboveGround(t *testing.T) {
	p := Path(testShot(movingLegs["rising course"]), 3)
	for i, want := range []float64{40, 60, 80} {
		if p[i].AboveM != want {
			t.Errorf("moment %d: %v m above the ground, want %v", i, p[i].AboveM, want)
		}
	}
}

func TestLensIsAboveTheGround(t *testing.T) {
	p := Path(testShot(Leg{Move: Rise, Seconds: 10, Height: [2]float64{0, 30}}), 3)
	if p[0].AboveM != lensM || p[0].Pos.Z != 0 || p[2].AboveM != 30 {
		t.Errorf("%v, then %v m above the ground", p[0].AboveM, p[2].AboveM)
	}
}

func BenchmarkPath(b *testing.B) {
	var legs []Leg
	for range 8 {
		legs = append(legs, movingLegs["orbit"])
	}
	s := testShot(legs...)
	for b.Loop() {
		Path(s, 32)
	}
}

// Where the subject is seen from an aircraft is the same to the last bit wherever the leg begins, and is where the two are.
func TestAwayKnowsNoBeginning(t *testing.T) {
	for name, l := range movingLegs {
		if l.Target == nil {
			continue
		}
		alone := Path(testShot(l), 9)
		far := movingLegs["rising course"]
		far.Seconds, far.SpeedMS = l.Seconds, 7.3
		after := PathOfLeg(testShot(far, l), 1, 9)
		for i, m := range alone {
			if d := r3.Norm(r3.Sub(m.Away, r3.Sub(m.Target, m.Pos))); d > 1e-9 {
				t.Errorf("%s: %g m off", name, d)
			}
			if m.Away != after[i].Away {
				t.Errorf("%s, moment %d: %v, and %v after another leg", name, i, m.Away, after[i].Away)
			}
		}
	}
}
