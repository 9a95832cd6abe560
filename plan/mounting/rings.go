package mounting

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// Rings returns the angles that a filter's ring is tried at: the half-hours of the clock, its own
// clicks, or the one it is fixed at. The list is to be read only.
func Rings(f *kit.Filter) []float64 {
	switch {
	case !f.Polarises():
		return halfHours[:1:1]
	case f.Ring == kit.RingFixed:
		return []float64{f.FixedDeg}
	case f.Ring == kit.RingClicks && f.ClickDeg > 0 && f.ClickDeg <= 90:
		step := f.ClickDeg
		// Finer clicks than a pilot can count are tried at every half-hour.
		for step < 7.5 {
			step *= 2
		}
		var list []float64
		for a := 0.0; a < 180-1e-9; a += step {
			list = append(list, a)
		}
		return list
	}
	return halfHours
}

var halfHours = []float64{0, 15, 30, 45, 60, 75, 90, 105, 120, 135, 150, 165}

// FreeRings is the count of half-hours that a ring which turns freely is tried at ([Rings]).
const FreeRings = 12

// OnGrid returns where the half-hours of a ring put the pass axis, in degrees from one to the next.
func OnGrid(m Way) float64 {
	return math.Round(100*math.Mod(m.PassAxis(), 180/FreeRings)) / 100
}

// RingsFor returns the rings of a filter that a card leaves to choose from.
func RingsFor(s *shot.Shot, f *kit.Filter) []float64 {
	if !s.RingAuto && f.Polarises() && f.Ring != kit.RingFixed {
		return []float64{s.RingDeg}
	}
	return Rings(f)
}

// SettingsOf returns the settings that a filter is tried at: 0 alone for one that has none.
func SettingsOf(f *kit.Filter) []float64 {
	if s := f.Settings(); len(s) > 0 {
		return s
	}
	return []float64{0}
}
