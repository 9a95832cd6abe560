package shot

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/angle"
)

// A turn of 90° round 90 m in 40 s is an arc of 141.37 m at 3.534 m/s.
func TestOrbitSpeed(t *testing.T) {
	for _, c := range []struct {
		leg  string
		want float64
		by   float64
	}{
		{"heading_deg: [285, 15], turn: cw, seconds: 40, target: {distance_m: 90}", 3.5343, 90},
		{"heading_deg: [285, 15], turn: ccw, seconds: 40, target: {distance_m: 90}", 10.6029, -270},
		{"heading_deg: [0, 360], turn: cw, seconds: 100, target: {distance_m: 20}", 1.2566, 360},
		{"heading_deg: 285, turns: 1.5, seconds: 100, target: {distance_m: 20}", 1.8850, 540},
		{"heading_deg: [285, 105], turn: ccw, turns: 1.5, seconds: 100, target: {distance_m: 20}", 1.8850, -540},
		{"heading_deg: [285, 15], seconds: 40, speed_ms: 3.5, target: {distance_m: 90}", 3.5343, 90}, // rounded by hand
	} {
		l := shotOf(t, withLeg("move: orbit, "+c.leg)).Legs[0]
		if math.Abs(l.SpeedMS-c.want) > 5e-5 || l.Heading.By != c.by {
			t.Errorf("%s: %.4f m/s over %v°", c.leg, l.SpeedMS, l.Heading.By)
		}
	}
}

func TestDerivedCourse(t *testing.T) {
	for _, c := range []struct {
		leg   string
		speed float64
		deg   float64
		set   bool
	}{
		{"move: push, heading_deg: 285, seconds: 9, speed_ms: 4", 4, 285, false},
		{"move: pull, heading_deg: 285, seconds: 9, speed_ms: 4", 4, 105, false},
		{"move: slide, to: left, heading_deg: 285, seconds: 9, speed_ms: 4", 4, 195, false},
		{"move: slide, to: right, heading_deg: 285, seconds: 9, speed_ms: 4", 4, 15, false},
		{"move: push, heading_deg: 285, course_deg: W, seconds: 9, speed_ms: 4", 4, 270, true},
		{"move: follow, heading_deg: 10, seconds: 9, target: {distance_m: 20, speed_ms: 6, toward_deg: NE}", 6, 45, true},
		{"move: follow, heading_deg: 10, seconds: 9, speed_ms: 6, course_deg: 45, target: {distance_m: 20, speed_ms: 6, toward_deg: NE}", 6, 45, true},
		{"move: rise, heading_deg: 10, seconds: 10, height_m: [20, 50], speed_ms: 3", 0, 0, false},
		{"move: rise, heading_deg: 10, seconds: 10, height_m: [20, 50], speed_ms: 5, course_deg: 99", 5, 99, true},
		{"move: pan, heading_deg: [10, 50], seconds: 10, speed_ms: 5, course_deg: 99", 5, 99, true},
		{"move: hold, heading_deg: 10, seconds: 10, speed_ms: 0", 0, 0, false},
	} {
		l := shotOf(t, withLeg(c.leg)).Legs[0]
		if l.SpeedMS != c.speed || l.CourseSet != c.set || math.Abs(angle.Wrap180(l.CourseDeg-c.deg)) > 1e-9 {
			t.Errorf("%s: %v m/s towards %v (%v)", c.leg, l.SpeedMS, l.CourseDeg, l.CourseSet)
		}
	}
	if l := shotOf(t, withLeg("move: rise, heading_deg: 10, seconds: 10, height_m: [50, 20]")).Legs[0]; l.Climb != -3 {
		t.Errorf("a rise from 50 to 20 m in 10 s climbs %v m/s", l.Climb)
	}
}

// A heading relative to the sun is resolved at that moment; with both ends relative it follows.
func TestSunHeadings(t *testing.T) {
	az := func(s *Shot, leg int) (a, b float64) {
		k := newTrack(s)
		return k.sunAzimuth(leg, 0), k.sunAzimuth(leg, 1)
	}
	s := shotOf(t, withLeg("move: push, heading_deg: sun+90, seconds: 600, speed_ms: 1")+"  - {move: pan, heading_deg: [sun-30, sun+30], seconds: 600}\n"+
		"  - {move: pan, heading_deg: [0, sun+20], turn: cw, seconds: 600}\n  - {move: pan, heading_deg: [sun, 90], turn: ccw, seconds: 600}\n")
	for i, want := range []struct {
		from, to, by float64
		follow       bool
	}{{from: 90, to: 90, follow: true}, {from: -30, to: 30, follow: true}, {from: math.NaN(), to: 20}, {from: 0, to: math.NaN()}} {
		a, b := az(s, i)
		l := s.Legs[i]
		if l.followsSun() != want.follow {
			t.Errorf("leg %d follows the sun: %v", i+1, l.followsSun())
		}
		if off := angle.Wrap180(l.Heading.From - a - want.from); math.Abs(off) > 1e-9 {
			t.Errorf("leg %d starts %v° off", i+1, off)
		}
		if off := angle.Wrap180(l.Heading.From + l.Heading.By - b - want.to); math.Abs(off) > 1e-9 {
			t.Errorf("leg %d ends %v° off", i+1, off)
		}
	}
	if by := s.Legs[0].Heading.By; by < 1 || by > 3 {
		t.Errorf("in ten minutes of evening the sun's azimuth moved by %v°", by)
	}
	if by := s.Legs[1].Heading.By; by < 61 || by > 63 {
		t.Errorf("60° in the sun's frame are %v° over the ground", by)
	}
	if s.Legs[2].Heading.By < 0 || s.Legs[3].Heading.By > 0 {
		t.Errorf("turns %v and %v go the wrong way", s.Legs[2].Heading.By, s.Legs[3].Heading.By)
	}
	p := Path(s, 5)
	for _, m := range p[:5] {
		if off := angle.Wrap180(m.HeadingDeg - m.Sun[0].AzimuthDeg - 90); math.Abs(off) > 1e-9 {
			t.Errorf("second %v: %v° off the sun's left", m.FlightS, off)
		}
	}
}

func TestPitchOfATarget(t *testing.T) {
	s := shotOf(t, withLeg("move: push, heading_deg: 0, seconds: 10, speed_ms: 5, height_m: 30, target: {distance_m: 80}")+
		"  - {move: hold, heading_deg: 0, seconds: 10, pitch_deg: -7, target: {distance_m: 80}}\n"+
		"  - {move: hold, heading_deg: 0, seconds: 10, ground_m: 10, target: {distance_m: 20}}\n")
	deg := 180 / math.Pi
	want := [][2]float64{{-math.Atan2(30, 80) * deg, -math.Atan2(30, 30) * deg}, {-7, -7}, {-45, -45}}
	for i, w := range want {
		for j := range w {
			if math.Abs(s.Legs[i].Pitch[j]-w[j]) > 1e-9 {
				t.Errorf("leg %d: pitch %v, want %v", i+1, s.Legs[i].Pitch, w)
			}
		}
	}
}
