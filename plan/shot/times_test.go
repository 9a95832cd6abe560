package shot

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/sun"
)

// testCamera is an invented wide camera.
var testCamera = kit.Camera{
	Name: "wide", SensorMM: [2]float64{13, 8.7}, Pixels: [2]int{5400, 3600}, VideoPixels: [2]int{3840, 2160},
	FocalMM: 8.6, Aperture: [2]float64{2.8, 2.8}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400},
	FastestS: 1.0 / 8000, SlowestS: 8,
	Modes: []kit.Mode{
		{Name: "normal", FPS: []float64{24, 25, 30, 50, 60}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400}, Crop: 1},
		{Name: "fast", FPS: []float64{100, 120}, ISO: kit.ISO{Base: 100, Clean: 200, Limit: 6400}, Crop: 1.3},
	},
	GimbalDeg: [2]float64{-90, 20}, ReadoutMS: 20, EnduranceMin: 28,
}

func TestSkylineBetweenItsPoints(t *testing.T) {
	s := &Shot{Skyline: [][2]float64{{20, 6}, {250, 4}, {290, 9}, {350, 0}}}
	for _, c := range []struct{ az, want float64 }{
		{250, 4}, {270, 6.5}, {290, 9}, {320, 4.5}, {5, 3}, {20, 6}, {21, 0}, {100, 0}, {249, 0}, {610, 4},
	} {
		if got := s.SkylineDeg(c.az); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("towards %v° the skyline stands at %v, want %v", c.az, got, c.want)
		}
	}
	if !s.SunBehindSkyline(sun.Position{AltitudeDeg: 6, AzimuthDeg: 270}) || s.SunBehindSkyline(sun.Position{AltitudeDeg: 7, AzimuthDeg: 270}) {
		t.Error("the ridge hides the wrong sun")
	}
	if (&Shot{}).SunBehindSkyline(sun.Position{AltitudeDeg: -5}) {
		t.Error("an open horizon is no ridge")
	}
}

// The trade's sum: 3 takes of 25 s with 45 s resets take 210 s of battery.
func TestTakesOccupyBattery(t *testing.T) {
	s := testShot(Leg{Move: Hold, Seconds: 25}, Leg{Move: Hold, Seconds: 40})
	s.Camera, s.Settings.ReservePct = testCamera, 25
	ft := s.Times()
	if ft.Legs[0].OccupiedS != 210 || ft.Legs[1].OccupiedS != 255 {
		t.Errorf("occupied %v and %v s", ft.Legs[0].OccupiedS, ft.Legs[1].OccupiedS)
	}
	for _, c := range []struct {
		name string
		got  time.Time
		want float64
	}{
		{"first take", ft.Legs[0].First, 90}, {"its end", ft.Legs[0].FirstEnd, 115},
		{"last take", ft.Legs[0].Last, 90 + 2*70}, {"its end", ft.Legs[0].LastEnd, 90 + 2*70 + 25},
		{"second leg", ft.Legs[1].First, 300}, {"its last take", ft.Legs[1].Last, 300 + 2*85},
		{"landing", ft.Landing, 180 + 210 + 255},
	} {
		if d := c.got.Sub(s.TakeOff).Seconds(); d != c.want {
			t.Errorf("%s at %v s, want %v", c.name, d, c.want)
		}
	}
	if math.Abs(ft.Minutes-645.0/60) > 1e-12 || ft.BatteryMin != 21 || ft.Batteries != 1 {
		t.Errorf("%+v", ft)
	}
}

func TestBatteries(t *testing.T) {
	for _, c := range []struct {
		flight, transit, battery float64
		want                     int
	}{
		{10, 3, 21, 1}, {21, 3, 21, 1}, {22, 3, 21, 2}, {39, 3, 21, 2}, {39.1, 3, 21, 3}, {10, 3, 0, 0}, {30, 21, 21, 0},
	} {
		if got := BatteriesFor(c.flight, c.transit, c.battery); got != c.want {
			t.Errorf("%v min with %v of transit on %v: %d, want %d", c.flight, c.transit, c.battery, got, c.want)
		}
	}
}

func TestColdTakesEndurance(t *testing.T) {
	for airC, want := range map[float64]float64{20: 1, 10: 1, 0: 0.9, -10: 0.8, -35: 0.7} {
		if got := ColdShare(airC); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %v °C %v of the endurance, want %v", airC, got, want)
		}
	}
}
