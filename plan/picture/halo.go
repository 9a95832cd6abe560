package picture

import (
	"math"

	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/light"
)

// A diffusion layer scatters a part of all light by a few degrees. Where a picture is evenly bright that
// changes nothing to be seen; round a light that is too bright for the sensor it makes a halo. Only such
// lights are scattered here, which leaves out the layer's other effect, that shadows next to lit walls
// are lifted a little.

// scatters returns the part of the light by the grade of the layer (ours: doubling from grade to grade, as
// the grades do).
var scatters = map[string]float64{"1/8": .005, "1/4": .01, "1/2": .02, "1": .04}

// Scatter returns the part of the light that a diffusion layer of a grade scatters, 0 for none.
func Scatter(grade string) float64 { return scatters[grade] }

const (
	haloWidth = .035 // standard deviation of the halo against the picture's width (ours)
	haloGrid  = 96   // cells across: a halo is smooth
)

// halo is the light that a diffusion layer has scattered, on a coarse grid, before the exposure.
type halo struct {
	left   float64 // what stays in place of a light that clips
	from   float64 // Luminance behind the filter that clips
	w, h   int
	across float64 // cells a pixel
	down   float64
	cells  [][3]float64 // light a pixel
}

func (h *halo) clips(lum float64) bool { return lum >= h.from }

// haloOf returns nil where nothing clips, or no layer is on the lens. The light of the whole frame passes
// the layer, whatever part of the picture is shown through it. No light is lost but what is scattered
// out of the frame.
func (p *Picture) haloOf(o *DevelopOptions) *halo {
	if o.Scatter <= 0 || o.FromX >= p.W {
		return nil
	}
	h := &halo{left: 1 - o.Scatter, from: o.clipAt() / o.Filtered.perCd()}
	h.w = min(p.W, haloGrid)
	h.h = max(1, min(p.H, (p.H*h.w+p.W/2)/p.W))
	h.across, h.down = float64(h.w)/float64(p.W), float64(h.h)/float64(p.H)
	// Light is put on the four cells around it, so that a halo does not jump from cell to cell.
	for i, lum := range p.Bare {
		if lum < h.from { // a filter only takes
			continue
		}
		k := fastlog.Exp2(-p.Loss[i])
		if !h.clips(lum * k) {
			continue
		}
		if h.cells == nil {
			h.cells = make([][3]float64, h.w*h.h)
		}
		h.share(i%p.W, i/p.W, func(cell int, part float64) {
			for c := range 3 {
				h.cells[cell][c] += float64(p.Colour[i][c]) * k * part * o.Scatter * h.across * h.down
			}
		})
	}
	if h.cells == nil {
		return nil
	}
	h.blur(haloWidth * float64(h.w))
	return h
}

// between returns the cell before a pixel, of n along its way, how far after that cell's middle it lies, and how far off the
// next cell is.
func between(pixel int, cellsAPixel float64, n int) (cell int, part float64, next int) {
	u := max(0, min(float64(n-1), (float64(pixel)+.5)*cellsAPixel-.5))
	cell = min(int(u), max(0, n-2))
	return cell, u - float64(cell), min(1, n-1)
}

// share returns the cells that a pixel lies between, and its part in each.
func (h *halo) share(x, y int, do func(cell int, part float64)) {
	i, f, right := between(x, h.across, h.w)
	j, g, below := between(y, h.down, h.h)
	k := j*h.w + i
	below *= h.w
	do(k, (1-f)*(1-g))
	do(k+right, f*(1-g))
	do(k+below, (1-f)*g)
	do(k+right+below, f*g)
}

// haloLine is the scattered light along a row of pixels, from cell to cell.
type haloLine [haloGrid]light.RGB

func (h *halo) line(l *haloLine, y int) {
	j, g, below := between(y, h.down, h.h)
	upper, lower := h.cells[j*h.w:][:h.w], h.cells[(j+below)*h.w:][:h.w]
	for i, a := range upper {
		b := &lower[i]
		l[i] = light.RGB{a[0] + g*(b[0]-a[0]), a[1] + g*(b[1]-a[1]), a[2] + g*(b[2]-a[2])}
	}
}

// at returns the scattered light in a pixel of the row.
func (l *haloLine) at(h *halo, x int) light.RGB {
	i, f, right := between(x, h.across, h.w)
	a, b := &l[i], &l[i+right]
	return light.RGB{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1]), a[2] + f*(b[2]-a[2])}
}

// blur spreads the light by a bell curve of that standard deviation in cells, along the rows and then
// the columns.
func (h *halo) blur(sigma float64) {
	reach := int(math.Ceil(3 * sigma))
	bell := make([]float64, 2*reach+1)
	var sum float64
	for i := range bell {
		x := float64(i-reach) / sigma
		bell[i] = math.Exp(-x * x / 2)
		sum += bell[i]
	}
	for i := range bell {
		bell[i] /= sum
	}
	line := make([][3]float64, max(h.w, h.h))
	along := func(first, step, n int) {
		for i := range n {
			line[i] = h.cells[first+i*step]
			h.cells[first+i*step] = [3]float64{}
		}
		for i, l := range line[:n] {
			if l == ([3]float64{}) {
				continue
			}
			for k := max(0, i-reach); k <= min(n-1, i+reach); k++ {
				c, b := &h.cells[first+k*step], bell[k-i+reach]
				c[0] += l[0] * b
				c[1] += l[1] * b
				c[2] += l[2] * b
			}
		}
	}
	for j := range h.h {
		along(j*h.w, 1, h.w)
	}
	for i := range h.w {
		along(i, h.w, h.h)
	}
}
