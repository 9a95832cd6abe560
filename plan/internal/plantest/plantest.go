// Package plantest makes shots and bags for the tests of the packages above plan/shot.
package plantest

import (
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// Camera is an invented wide camera.
var Camera = kit.Camera{
	Name: "wide", SensorMM: [2]float64{13, 8.7}, Pixels: [2]int{5400, 3600}, VideoPixels: [2]int{3840, 2160},
	FocalMM: 8.6, Aperture: [2]float64{2.8, 2.8}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400},
	FastestS: 1.0 / 8000, SlowestS: 8,
	Modes: []kit.Mode{
		{Name: "normal", FPS: []float64{24, 25, 30, 50, 60}, ISO: kit.ISO{Base: 100, Clean: 400, Limit: 6400}, Crop: 1},
		{Name: "fast", FPS: []float64{100, 120}, ISO: kit.ISO{Base: 100, Clean: 200, Limit: 6400}, Crop: 1.3},
	},
	GimbalDeg: [2]float64{-90, 20}, ReadoutMS: 20, EnduranceMin: 28,
}

// Bag has that camera and a filter of three kinds.
func Bag() *kit.Bag {
	return &kit.Bag{
		Cameras:  []kit.Camera{Camera},
		Filters:  []kit.Filter{{Name: "CPL", Kind: kit.Polariser}, {Name: "ND8", Kind: kit.Density}, {Name: "ND16/PL", Kind: kit.Hybrid}},
		Settings: kit.Settings{ReservePct: 25, HeightCautionM: 120},
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
