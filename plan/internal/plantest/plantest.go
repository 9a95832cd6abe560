// Package plantest makes shots and bags for the tests of the packages above plan/shot.
package plantest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// Camera returns an invented wide camera.
func Camera() kit.Camera {
	return kit.Camera{
		Name: "wide", SensorMM: [2]float64{13, 8.7}, Pixels: [2]int{5400, 3600}, VideoPixels: [2]int{3840, 2160},
		FocalMM: 8.6, Aperture: [2]float64{2.8, 2.8}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400},
		FastestS: 1.0 / 8000, SlowestS: 8,
		Modes: []kit.Mode{
			{Name: "normal", FPS: []float64{24, 25, 30, 50, 60}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400}, Crop: 1},
			{Name: "fast", FPS: []float64{100, 120}, ISO: kit.ISO{Base: 100, Clean: 200, Limit: 6400}, Crop: 1.3},
		},
		GimbalDeg: [2]float64{-90, 20}, ReadoutMS: 20, EnduranceMin: 28,
	}
}

// Bag has that camera and a filter of three kinds.
func Bag() *kit.Bag {
	return &kit.Bag{
		Cameras:  []kit.Camera{Camera()},
		Filters:  []kit.Filter{{Name: "CPL", Kind: kit.Polariser}, {Name: "ND8", Kind: kit.Density}, {Name: "ND16/PL", Kind: kit.Hybrid}},
		Settings: kit.Settings{ReservePct: 25, HeightCautionM: 120, Weights: kit.DefaultWeights()},
	}
}

// Shot is a September evening on the Atlantic coast with these legs.
func Shot(legs ...shot.Leg) *shot.Shot {
	return &shot.Shot{
		Name: "test", LatDeg: 43.4, LonDeg: -8.4, ElevationM: 4, Zone: time.UTC,
		TakeOff: time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC),
		Light:   shot.Weather{CloudPct: 10, VisibilityKm: 30, WindMS: 4, WindFromDeg: 250, AirC: 14},
		Takes:   3, ResetS: 45, TransitS: 180, Legs: legs,
	}
}

// Level is a height or a pitch that stays.
func Level(h float64) [2]float64 { return [2]float64{h, h} }

// Flight builds a shot at latitude 45 on an equinox with a clear, dry sky, that takes off at a time of
// day (UTC, at longitude 0 the sun's own time to 8 minutes).
func Flight(hour, minute int, legs ...shot.Leg) *shot.Shot {
	bag := kit.Generic()
	s := &shot.Shot{
		Name: "test", LatDeg: 45, Zone: time.UTC,
		TakeOff: time.Date(2026, 3, 20, hour, minute, 0, 0, time.UTC),
		Camera:  bag.Cameras[0], Filter: "auto", RingAuto: true, Settings: bag.Settings,
		Light: shot.Weather{CloudPct: 0, VisibilityKm: 40, WindMS: 3, AirC: 15},
		Takes: 1, ResetS: 30, TransitS: 60, Legs: legs,
	}
	for i := range s.Legs {
		l := &s.Legs[i]
		if l.Mode.Name == "" {
			l.Mode = s.Camera.Modes[0]
		}
		if l.FPS == 0 {
			l.FPS = 24
		}
		if l.Ground == "" {
			l.Ground = shot.Grass
		}
		if l.Aim == "" {
			l.Aim = shot.AimSky
		}
	}
	return s
}

// Push flies ahead along its heading.
func Push(headingDeg, speedMS, heightM float64) shot.Leg {
	return shot.Leg{
		Move: shot.Push, Purpose: shot.Video, Seconds: 25, Heading: shot.Sweep{From: headingDeg, By: 0}, SpeedMS: speedMS,
		CourseDeg: headingDeg, Height: [2]float64{heightM, heightM}, Pitch: [2]float64{-10, -10},
	}
}

// StillOf takes a still.
func StillOf(headingDeg, pitchDeg, heightM float64) shot.Leg {
	return shot.Leg{
		Move: shot.Hold, Purpose: shot.Still, Seconds: 10, Heading: shot.Sweep{From: headingDeg, By: 0},
		Height: [2]float64{heightM, heightM}, Pitch: [2]float64{pitchDeg, pitchDeg},
	}
}

// Turning pans on the spot.
func Turning(fromDeg, byDeg, heightM float64) shot.Leg {
	return shot.Leg{
		Move: shot.Pan, Purpose: shot.Video, Seconds: 40, Heading: shot.Sweep{From: fromDeg, By: byDeg},
		Height: [2]float64{heightM, heightM}, Pitch: [2]float64{2, 2},
	}
}

// AnyShot makes a flight anywhere, at any time, of any legs.
func AnyShot(r *rand.Rand, bag *kit.Bag) *shot.Shot {
	pick := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	s := Flight(0, 0)
	s.LatDeg, s.LonDeg = pick(-90, 90), pick(-180, 180)
	if r.IntN(10) == 0 {
		s.LatDeg = 90
	}
	s.TakeOff = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(r.IntN(365*24*60)) * time.Minute)
	s.Camera = bag.Cameras[r.IntN(len(bag.Cameras))]
	s.Light = shot.Weather{CloudPct: pick(0, 100), Sun: sun.Shine(r.IntN(3)), VisibilityKm: pick(0.1, 200), WindMS: pick(0, 20), AirC: pick(-30, 40)}
	s.Takes = 1 + r.IntN(4)
	if r.IntN(3) == 0 {
		s.Filter = bag.Filters[r.IntN(len(bag.Filters))].Name
	}
	if r.IntN(3) == 0 {
		s.RingAuto, s.RingDeg = false, pick(0, 180)
	}
	if r.IntN(4) == 0 {
		s.Skyline = [][2]float64{{10, 5}, {90, 12}, {200, 3}}
	}
	moves := []shot.Move{shot.Push, shot.Pull, shot.Slide, shot.Follow, shot.Orbit, shot.Rise, shot.Pan, shot.Tilt, shot.Hold}
	for range 1 + r.IntN(5) {
		m := s.Camera.Modes[r.IntN(len(s.Camera.Modes))]
		l := shot.Leg{
			Move: moves[r.IntN(len(moves))], Purpose: []shot.Purpose{shot.Video, shot.Still, shot.Long}[r.IntN(3)],
			Mode: m, FPS: m.FPS[r.IntN(len(m.FPS))],
			Aim:     []shot.Aim{shot.AimSky, shot.AimWater, shot.AimLeaf, shot.AimHaze, shot.AimKeep, shot.AimBalance}[r.IntN(6)],
			Ground:  []shot.Ground{shot.Water, shot.Grass, shot.Forest, shot.Sand, shot.Rock, shot.Snow, shot.Town}[r.IntN(7)],
			Seconds: pick(1, 200), Heading: shot.Sweep{From: pick(0, 360), By: pick(-400, 400)},
			Pitch: [2]float64{pick(-90, 30), pick(-90, 30)}, Height: [2]float64{pick(0, 120), pick(0, 120)},
			SpeedMS: pick(0, 15), StillsToo: r.IntN(3) == 0, BiasStops: pick(-2, 2),
		}
		if r.IntN(3) == 0 {
			l.Pitch = [2]float64{-90, -90}
		}
		switch {
		case l.Purpose == shot.Long:
			l.ShutterS, l.ShutterSet = pick(0.1, 8), true
		case r.IntN(3) == 0:
			l.ShutterS, l.ShutterSet = 1/pick(l.FPS, 4000), true
		}
		if l.Move == shot.Orbit || l.Move == shot.Follow || r.IntN(3) == 0 {
			l.Target, l.PitchAuto = &shot.Target{DistanceM: pick(5, 400), SpeedMS: pick(0, 10), TowardDeg: pick(0, 360)}, true
		}
		s.Legs = append(s.Legs, l)
	}
	return s
}

// Describe says which shot of many failed.
func Describe(s *shot.Shot) string {
	return fmt.Sprintf("lat %.2f lon %.2f %s %+v", s.LatDeg, s.LonDeg, s.TakeOff, s.Legs)
}

// SeaShot is a level look from 50 m on a clear evening, the sun abeam to the left where it looks north.
func SeaShot(ground shot.Ground, heading, pitch float64) *shot.Shot {
	cam := kit.Generic().Cameras[0]
	zone, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		panic(err)
	}
	return &shot.Shot{
		Name: "test", LatDeg: 43.4, LonDeg: -8.4, Zone: zone, TakeOff: time.Date(2026, 9, 18, 19, 0, 0, 0, zone),
		Camera: cam, Filter: "auto", RingAuto: true, Takes: 1,
		Light: shot.Weather{VisibilityKm: 40, WindMS: 3, AirC: 15},
		Legs: []shot.Leg{{Move: shot.Hold, Purpose: shot.Video, Mode: cam.Modes[0], FPS: 25, Aim: shot.AimSky, Ground: ground, Seconds: 20,
			Heading: shot.Sweep{From: heading}, Pitch: [2]float64{pitch, pitch}, Height: [2]float64{50, 50}}},
	}
}

// SunAt moves the take-off of a shot to the time of that afternoon when the sun stands so high, degrees.
func SunAt(t testing.TB, s *shot.Shot, altitudeDeg float64) shot.Moment {
	t.Helper()
	low, high := s.TakeOff.Add(-5*time.Hour), s.TakeOff.Add(3*time.Hour) // from 14:00 to 22:00
	for high.Sub(low) > time.Second {
		s.TakeOff = low.Add(high.Sub(low) / 2)
		if s.MomentAt(5).Sun[0].AltitudeDeg > altitudeDeg {
			low = s.TakeOff
		} else {
			high = s.TakeOff
		}
	}
	m := s.MomentAt(5)
	if math.Abs(m.Sun[0].AltitudeDeg-altitudeDeg) > .01 {
		t.Fatalf("the sun stands at %.2f°, wanted %g°", m.Sun[0].AltitudeDeg, altitudeDeg)
	}
	return m
}

// TurnedFromSun makes the shot look so many degrees clockwise from the sun's azimuth.
func TurnedFromSun(t testing.TB, s *shot.Shot, sunAltDeg, offDeg, pitch float64) shot.Moment {
	t.Helper()
	m := SunAt(t, s, sunAltDeg)
	s.Legs[0].Heading = shot.Sweep{From: m.Sun[0].AzimuthDeg + offDeg}
	s.Legs[0].Pitch = [2]float64{pitch, pitch}
	return s.MomentAt(5)
}
