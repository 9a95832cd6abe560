package picture

import (
	"math"

	"example.org/skywedge/plan/internal/fastlog"
)

// PixelMark says what is wrong with a pixel of a developed picture.
type PixelMark uint8

// The marks.
const (
	Fine    PixelMark = iota
	Clipped           // brighter than the camera holds
	Noisy             // so dark that the ISO's noise shows
)

// cleanStops is how far below middle grey the noise of the clean ISO starts to show (ours: the clean ISO
// is the owner's word for how much noise is too much). Every stop of ISO above it lifts that by a stop.
const cleanStops = 5.0

// Marks tells for every pixel whether it clips or is noisy at the exposure it is developed at. buf is
// used again when large enough.
func (p *Picture) Marks(o DevelopOptions, buf []PixelMark) []PixelMark {
	n := p.W * p.H
	if cap(buf) < n {
		buf = make([]PixelMark, n)
	}
	buf = buf[:n]
	type limits struct{ noisy, clipped float64 }
	limit := func(e ExposureSetting) (l limits) {
		k := e.perCd()
		l.clipped = o.clipAt() / k
		if e.OverClean > 0 {
			l.noisy = middle / k * math.Exp2(min(e.OverClean, cleanStops)-cleanStops)
		}
		return l
	}
	bare, through := limit(o.Bare), limit(o.Filtered)
	for i, lum := range p.Bare {
		l := &bare
		if i%p.W >= o.FromX {
			l = &through
			lum *= fastlog.Exp2(-p.Loss[i])
		}
		switch {
		case lum >= l.clipped:
			buf[i] = Clipped
		case lum < l.noisy:
			buf[i] = Noisy
		default:
			buf[i] = Fine
		}
	}
	return buf
}

// Share returns the part of the pixels that bear a mark, 0..1.
func Share(marks []PixelMark, m PixelMark) float64 {
	n := 0
	for _, v := range marks {
		if v == m {
			n++
		}
	}
	return float64(n) / float64(max(1, len(marks)))
}

// hatchPart is the width of a stripe against that of the picture.
const hatchPart = 1. / 160

// Hatch draws stripes over what clips, dark ones rising to the right, and bright ones falling over what
// the ISO's noise shows in.
func (p *Picture) Hatch(rgb []uint8, marks []PixelMark) {
	wide := max(1, int(hatchPart*float64(p.W)))
	for i, m := range marks {
		x, y := i%p.W, i/p.W
		switch {
		case m == Clipped && (x+y)/wide%2 == 0:
			rgb[3*i], rgb[3*i+1], rgb[3*i+2] = 32, 32, 32
		case m == Noisy && (x-y+p.H)/wide%4 == 0:
			rgb[3*i], rgb[3*i+1], rgb[3*i+2] = 160, 160, 160
		}
	}
}
