// Package mounting says in which ways a filter can be put on: at which settings and rings, and how its ring is set.
package mounting

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/words"
	"gonum.org/v1/gonum/spatial/r3"
)

// Way is a filter in one of the ways it can be put on.
type Way struct {
	Filter  *kit.Filter // nil: bare
	Setting float64     // in stops, of a variable; 0 otherwise
	Ring    float64     // where the mark stands, facing the lens
}

// Name names the filter as the bag does, or the bare lens.
func (m Way) Name() string {
	if m.Filter == nil {
		return words.Bare
	}
	return m.Filter.Name
}

// Kind returns the filter's kind, "" for bare.
func (m Way) Kind() kit.Kind {
	if m.Filter == nil {
		return ""
	}
	return m.Filter.Kind
}

// Polarises tells whether there is a sheet that polarises.
func (m Way) Polarises() bool { return m.Filter != nil && m.Filter.Polarises() }

// Loss returns what the filter takes from unpolarised light on the axis.
func (m Way) Loss() float64 {
	if m.Filter == nil {
		return 0
	}
	return m.Filter.TotalStops(m.Setting)
}

// Title names a mounted filter as a pilot would: the setting of a variable with it.
func (m Way) Title() string {
	if m.Kind() != kit.Variable {
		return words.FilterTitle(m.Name(), 0)
	}
	return words.FilterTitle(m.Name(), m.Setting)
}

// Plainness orders filters by how simple they are; of equals the simpler is taken. Diffusion is a
// look that a pilot asks for by name.
func (m Way) Plainness() int {
	switch {
	case m.Filter == nil:
		return 0
	case m.Filter.Kind == kit.Diffusion || m.Filter.Grade != "":
		return 5
	case m.Filter.Kind == kit.Density:
		return 1
	case m.Filter.Kind == kit.Polariser:
		return 2
	case m.Filter.Kind == kit.Hybrid:
		return 3
	}
	return 4
}

// Key tells filters apart by what they do to polarisation, and nothing else makes that. All single sheets with the same
// pass axis do the same: what they take from all light alike does not count here.
type Key struct {
	PassDeg float64
	pair    pair
}

// pair is a pair of sheets as the optics see it; the zero value is a single sheet.
type pair struct {
	loss, layer, from, fixed float64
	opensCW                  bool
}

// Key rounds the pass axis to a hundredth of a degree.
func (m Way) Key() Key {
	k := Key{PassDeg: math.Round(m.PassAxis() * 100)}
	if f := m.Filter; m.Kind() == kit.Variable {
		k.pair = pair{m.Loss(), f.LayerStops(), f.FromStops, f.FixedStops, f.OpensCW}
	}
	return k
}

// PassAxis returns the pass axis as seen from behind; of a pair that of the rear sheet.
func (m Way) PassAxis() float64 {
	if m.Filter == nil {
		return 0
	}
	mark := m.Filter.MarkDeg
	if m.Filter.Kind == kit.Variable {
		mark = m.Filter.RearDeg
	}
	return kit.PassAxisDeg(m.Ring, mark)
}

// MeterKey tells the filters of a bag apart by what they do to the tones of a frame.
type MeterKey struct {
	passDeg float64
	filter  string
	setting float64
}

// MeterKey returns the key.
func (m Way) MeterKey() MeterKey {
	k := MeterKey{passDeg: -1}
	if m.Filter == nil {
		return k
	}
	k.filter, k.setting = m.Filter.Name, m.Setting
	if m.Polarises() {
		k.passDeg = math.Round(m.PassAxis() * 100)
	}
	return k
}

// Centre returns what a mounted filter does in the middle of the frame; nothing without a ring.
func (m Way) Centre() kit.Answer {
	if !m.Polarises() {
		return kit.Answer{T: 1}
	}
	mount := m.Filter.Mount(m.Ring, m.Setting)
	return mount.Answer(r3.Vec{Z: 1})
}
