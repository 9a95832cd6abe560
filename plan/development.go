package plan

import (
	"math"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
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
	set := r.callFor(m.Leg)
	d := picture.DevelopOptions{FromX: p.W / 2}
	// the white that the call sets is that of the scene against the cast of the call's filter
	var white, callStops float64
	if set.WBK > 0 {
		white = exposure.Mired(set.WBK)
	}
	if f, ok := r.Bag.FilterByName(set.Filter); ok {
		callStops = f.TotalStops(set.SettingStops)
		if white > 0 {
			white -= f.CastMired
		}
	}
	stops, setWhite := 0.0, white
	if mt.filter != nil {
		stops = mt.loss()
		d.CastMired, d.Tint, d.Scatter = mt.filter.CastMired, mt.filter.Tint, picture.Scatter(mt.filter.Grade)
	} else {
		part = AllBare
	}
	switch part {
	case AllFiltered:
		d.FromX = 0
	case AllBare:
		d.FromX = p.W
	}
	meter := p.MeterEV()
	d.Bare.EV100, d.Filtered.EV100 = meter, meter-stops
	switch e {
	case OwnExposure:
		d.Filtered.EV100 = meter - p.MeanLoss()
		setWhite = white + d.CastMired
	case CallExposure:
		if ev, ok := r.setEV(o, &m, set); ok {
			d.Bare.EV100, d.Filtered.EV100 = ev+callStops, ev+callStops-stops
		}
		setWhite = white + d.CastMired
	}
	if white > 0 {
		d.Bare.WBK, d.Filtered.WBK = 1e6/white, 1e6/setWhite
	}
	clean := r.Shot.Legs[m.Leg].Mode.ISO.Clean
	if k := r.measureAt(o.Second); k != nil && k.ISO > 0 && clean > 0 {
		d.Bare.OverClean = math.Log2(k.ISO/clean) - callStops
		d.Filtered.OverClean = d.Bare.OverClean + stops
	}
	return d, nil
}

// setEV returns the luminance that the settings of a moment make middle grey, as an exposure value behind
// the call's filter. Those settings are the darker take's; for the frame's own take they follow the
// light.
func (r *Report) setEV(o FrameOptions, m *shot.Moment, set *Call) (ev float64, ok bool) {
	k := r.measureAt(o.Second)
	if k == nil || !(k.ShutterS > 0 && k.ISO > 0 && set.Aperture > 0) {
		return 0, false
	}
	leg := &r.Shot.Legs[m.Leg]
	lit0 := o.Scenes.At(r.Shot, *m, o.take()).Light
	land := light.LandEV100(lit0, m.HeadingDeg, m.PitchDeg, light.GroundAlbedo(leg.Ground))
	return math.Log2(set.Aperture*set.Aperture/k.ShutterS) + math.Log2(100/k.ISO) + land - k.LandEV, true
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
