package plan

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// Exposure is how the bare part of a picture and the filtered one are exposed against one another.
type Exposure uint8

// The exposures.
const (
	// OneExposure meters the bare frame, and opens the filtered part up by what the filter takes from
	// plain light: what still differs is what the filter does to the picture, its colour too.
	OneExposure Exposure = iota
	// OwnExposure meters each part by itself, and sets each one's white balance.
	OwnExposure
	// CallExposure sets shutter, ISO and white balance as the call does at that moment. The bare part
	// is exposed the same but for the filter's stops.
	CallExposure
	Exposures = 3
)

// Part is which part of a picture is seen through the filter.
type Part uint8

// The parts.
const (
	HalfFiltered Part = iota
	AllFiltered
	AllBare
	Parts = 3
)

// Development says how a frame is developed: p must have been drawn for o.
func (r *Report) Development(o FrameOptions, p *picture.Picture, e Exposure, part Part) (picture.DevelopOptions, error) {
	mt, err := r.mountFor(o)
	if err != nil {
		return picture.DevelopOptions{}, err
	}
	m := r.MomentAt(o.Second)
	leg := r.Shot.Legs[m.Leg].WithDefaults(r.Shot.Camera)
	d := picture.DevelopOptions{FromX: p.W / 2, HighlightStops: setting.HighlightStops(r.Shot.Camera, &leg)}
	stops := 0.0
	if mt.Filter != nil {
		stops = mt.Loss()
		d.CastMired, d.Tint, d.Scatter = mt.Filter.CastMired, mt.Filter.Tint, picture.Scatter(mt.Filter.Grade)
	} else {
		part = AllBare
	}
	switch part {
	case AllFiltered:
		d.FromX = 0
	case AllBare:
		d.FromX = p.W
	}
	// The white that is locked is that of the light against the cast of the call's filter. A number on the card is
	// locked whatever is on the lens.
	white, setWhite := r.whiteMired(m.Leg), 0.0
	if setWhite = white; leg.WhiteBalance.Kind != shot.WBKelvin && e != OneExposure && white > 0 {
		setWhite += d.CastMired
	}
	meter := p.MeterEV()
	d.Bare.EV100, d.Filtered.EV100 = meter, meter-stops
	switch e {
	case OwnExposure:
		d.Filtered.EV100 = meter - p.MeanLoss()
	case CallExposure:
		// A pilot locks the exposure: it stays when the light moves on.
		if ev, ok := r.plainEV(m.Leg); ok {
			d.Bare.EV100, d.Filtered.EV100 = ev, ev-stops
		}
	}
	if white > 0 {
		d.Bare.WBK, d.Filtered.WBK = 1e6/white, 1e6/setWhite
	}
	clean := leg.Mode.ISO.Clean
	if leg.Purpose != shot.Video { // a still is not taken in the film's mode
		clean = shot.Leg{}.WithDefaults(r.Shot.Camera).Mode.ISO.Clean
	}
	if k := r.measureAt(o.Second); k != nil && k.ISO > 0 && clean > 0 {
		d.Bare.OverClean = math.Log2(k.ISO/clean) - r.callStops(m.Leg)
		d.Filtered.OverClean = d.Bare.OverClean + stops
	}
	return d, nil
}

// whiteMired returns the white that is locked on a leg, in mired, but for the cast of the call's filter; 0 where none is
// known.
func (r *Report) whiteMired(leg int) float64 {
	set := r.callFor(leg)
	k := set.WBK
	if leg < len(r.Legs) && r.Legs[leg].WBK > 0 {
		k = r.Legs[leg].WBK
	}
	if k <= 0 {
		return 0
	}
	white := exposure.Mired(k)
	if f, ok := r.Bag.FilterByName(set.Filter); ok && r.Shot.Legs[leg].WhiteBalance.Kind != shot.WBKelvin {
		white -= f.CastMired
	}
	return white
}

// IndexAt returns the index of the moment nearest to a second of the flight, where two legs meet the later
// one; −1 without a path.
func (r *Report) IndexAt(second float64) int {
	best, far := -1, math.Inf(1)
	for i := range r.Path {
		if d := math.Abs(r.Path[i].FlightS - second); d <= far {
			best, far = i, d
		}
	}
	return best
}

// measureAt returns the measure nearest to a second of the flight; nil when there is none.
func (r *Report) measureAt(second float64) *Measure {
	if i := r.IndexAt(second); i >= 0 && i < len(r.Measures) {
		return &r.Measures[i]
	}
	return nil
}

// FrameShape returns the height of the frame over its width at a second of the flight.
func (r *Report) FrameShape(second float64) float64 {
	leg := &r.Shot.Legs[r.Shot.MomentAt(second).Leg]
	w, h := shot.HalfField(r.Shot.Camera, leg.Mode, leg.Purpose != shot.Video)
	return h / w
}
