package kit

import (
	"bytes"

	"example.org/skywedge/kit/field"
)

var (
	cameraTable = &field.Spec{Kind: field.Map, Fields: cameraFields}
	modeTable   = &field.Spec{Kind: field.Map, Fields: modeFields}
	filterTable = &field.Spec{Kind: field.Map, Fields: filterFields}
)

// usualModes is what a camera without modes records.
var usualModes = []Mode{{Name: "normal", FPS: []float64{24, 25, 30, 50, 60}, Crop: 1}}

// cameraFrom turns a checked camera of the file into a Camera.
func cameraFrom(v field.Value) Camera {
	n := func(key string) float64 { return number(v, cameraTable, key) }
	c := Camera{
		Name:           word(v, cameraTable, "name"),
		SensorMM:       pair(v, cameraTable, "sensor_mm"),
		Pixels:         whole(pair(v, cameraTable, "pixels")),
		VideoPixels:    whole(pair(v, cameraTable, "video_pixels")),
		FocalMM:        n("focal_mm"),
		Aperture:       pair(v, cameraTable, "aperture"),
		Sharpest:       pair(v, cameraTable, "sharpest"),
		ISO:            isoFrom(v),
		HighlightStops: n("highlight_stops"), StillHighlightStops: n("still_highlight_stops"),
		GimbalDeg:    pair(v, cameraTable, "gimbal_deg"),
		ReadoutMS:    n("readout_ms"),
		EnduranceMin: n("endurance_min"),
		OffsetStops:  n("offset_stops"), OffsetOn: word(v, cameraTable, "offset_on"),
	}
	if c.FocalMM == 0 {
		c.FocalMM = n("focal_35_mm") * c.SensorMM[0] / fullFrameMM
	}
	c.FastestS, c.SlowestS = shutterFrom(v)
	modes := v.Get("modes")
	for i := range modes.Len() {
		c.Modes = append(c.Modes, modeFrom(modes.Index(i), c))
	}
	if len(c.Modes) == 0 {
		for _, m := range usualModes {
			m.ISO, m.HighlightStops = c.ISO, c.HighlightStops
			m.FPS = append([]float64(nil), m.FPS...)
			c.Modes = append(c.Modes, m)
		}
	}
	return c
}

// fullFrameMM is the width that a "35 mm equivalent" focal length refers to.
const fullFrameMM = 36

func whole(p [2]float64) [2]int { return [2]int{int(p[0]), int(p[1])} }

func isoFrom(camera field.Value) ISO {
	iso := camera.Get("iso")
	return ISO{Base: iso.Get("base").Float(0), Clean: iso.Get("clean").Float(0), Limit: iso.Get("limit").Float(0)}
}

func shutterFrom(camera field.Value) (fastest, slowest float64) {
	table, v := row(cameraTable, "shutter_s"), camera.Get("shutter_s")
	return number(v, table, "fastest"), number(v, table, "slowest")
}

// modeFrom fills the sensitivities and the highlights that a mode does not state from its camera.
func modeFrom(v field.Value, c Camera) Mode {
	m := Mode{
		Name:           word(v, modeTable, "name"),
		FPS:            numbers(v.Get("fps")),
		BiasStops:      number(v, modeTable, "bias_stops"),
		HighlightStops: v.Get("highlight_stops").Float(c.HighlightStops),
		Crop:           number(v, modeTable, "crop"),
	}
	m.ISO.Base = v.Get("iso_base").Float(c.ISO.Base)
	m.ISO.Clean = v.Get("iso_clean").Float(c.ISO.Clean)
	m.ISO.Limit = v.Get("iso_limit").Float(c.ISO.Limit)
	return m
}

func numbers(v field.Value) []float64 {
	var out []float64
	for i := range v.Len() {
		out = append(out, v.Index(i).Float(0))
	}
	return out
}

// filterFrom turns a checked filter of the file into a Filter, with the measured loss in place of
// the label's.
func filterFrom(v field.Value) Filter {
	n := func(key string) float64 { return number(v, filterTable, key) }
	f := Filter{
		Name:          word(v, filterTable, "name"),
		Kind:          Kind(word(v, filterTable, "kind")),
		Grade:         word(v, filterTable, "grade"),
		CastMired:     n("cast_mired"),
		Tint:          n("tint"),
		MeasuredStops: n("measured_stops"),
		MeasuredOn:    word(v, filterTable, "measured_on"),
		OffsetStops:   n("offset_stops"),
		OffsetOn:      word(v, filterTable, "offset_on"),
	}
	switch f.Kind {
	case Density:
		f.Stops = n("stops")
	case Hybrid:
		f.Stops, f.LossStops = n("stops"), n("loss_stops")
	case Polariser:
		f.LossStops = n("loss_stops")
	case Variable:
		f.FromStops, f.ToStops = n("from_stops"), n("to_stops")
		f.FixedStops = v.Get("fixed_stops").Float(defaultFixedStops(f.FromStops))
		f.Marks = numbers(v.Get("marks"))
		f.Between = word(v, filterTable, "between") == "true"
		f.RearDeg = n("rear_deg")
		f.Measured = v.Get("measured").PairList()
		f.OpensCW = word(v, filterTable, "opens") == "cw"
	}
	if f.Kind == Polariser || f.Kind == Hybrid {
		f.MarkDeg = n("mark_deg")
	}
	if f.Polarises() {
		f.Ring = RingKind(word(v, filterTable, "ring"))
		f.FixedDeg = axis180(n("fixed_deg"))
		f.ClickDeg = n("click_deg")
	}
	if f.MeasuredStops > 0 {
		switch f.Kind {
		case Density, Diffusion:
			f.Stops = f.MeasuredStops
		case Hybrid:
			f.Stops = f.MeasuredStops - f.LossStops
		case Polariser:
			f.LossStops = f.MeasuredStops
		}
	}
	return f
}

// IsBag tells a bag from a card by the key that opens it, also where it is no valid one.
func IsBag(data []byte) bool {
	for line := range bytes.Lines(data) {
		if bytes.HasPrefix(bytes.TrimLeft(line, "\ufeff"), []byte("skywedge_bag")) {
			return true
		}
	}
	return false
}
