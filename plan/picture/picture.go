package picture

import "sync"

// Picture is the frame through the lens, bare and as the filter changes it. Pixels run row by row
// from the top left.
type Picture struct {
	W, H    int
	Bare    []float64    // Luminance, cd/m²
	Loss    []float64    // light lost in the filter, stops, positive
	Sky     []bool       // the ray meets the sky
	Colour  [][3]float32 // linear red, green, blue of the bare frame, with luminance Bare
	SunX    float64      // where the sun is, −1..1 across and up; meaningful when SunIn
	SunY    float64
	SunIn   bool
	Horizon []float64  // per column, the y (−1..1) of the horizon, with its dip
	Shadow  FramePoint // where the aircraft's own shadow falls; none without a sun that shines
	Mirror  FramePoint // where level water shows the sun; none over ground that has no glint
	Places             // what stands in it, for the composition; only of a frame of a flight
}

// FramePoint is a place in a picture, −1..1 across and up; X and Y mean something when In.
type FramePoint struct {
	X, Y float64
	In   bool
}

// spent is the light of pictures that nobody asks for any more: while somebody turns a ring, a picture follows another.
var spent sync.Pool // of *Picture

// newPicture returns a picture whose light is yet to be written, all of it: in it may stand that of another one.
func newPicture(w, h int) *Picture {
	n := w * h
	p := &Picture{W: w, H: h, Sky: make([]bool, n), Horizon: make([]float64, w)}
	if old, ok := spent.Get().(*Picture); ok && cap(old.Bare) >= n {
		p.Bare, p.Loss, p.Colour = old.Bare[:n], old.Loss[:n], old.Colour[:n]
	} else {
		p.Bare, p.Loss, p.Colour = make([]float64, n), make([]float64, n), make([][3]float32, n)
	}
	return p
}

// Spend gives the light of a picture back, for the next one to be drawn into. It is for whoever has developed it and asks
// from then on only for what stands in it, and where: Bare, Loss and Colour are empty, the rest stays.
func (p *Picture) Spend() {
	if p.Bare != nil {
		spent.Put(&Picture{Bare: p.Bare, Loss: p.Loss, Colour: p.Colour})
	}
	p.Bare, p.Loss, p.Colour = nil, nil, nil
}
