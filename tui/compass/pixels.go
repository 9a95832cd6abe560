package compass

import (
	"image"
	"image/color"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/pixels"
)

// finer draws the map in true pixels: what it has decides what is drawn.
type finer struct {
	of     *plan.Report
	second float64
	n      int // the map's size in half blocks
	effect bool
}

var _ pixels.Source = finer{}

// Draw implements [pixels.Source]. The map stays as round as it is in cells: a pixel of those becomes a square of k by k.
func (f finer) Draw(stop func() bool, _ []int, cellW, cellH int) ([]*image.NRGBA, error) {
	k := max(1, min(cellW, cellH/2))
	m := compass.SkyMapAt(f.of, f.second, f.n*k)
	if stop() {
		return nil, nil
	}
	img := image.NewNRGBA(image.Rect(0, 0, m.N, m.N)) // transparent outside the horizon
	for i := range m.Degree {
		if !math.IsNaN(m.Degree[i]) {
			img.SetNRGBA(i%m.N, i/m.N, rgba(f.ramp(m, i)))
		}
	}
	prints, here := compass.Footprints(f.of), compass.FootprintAt(f.of, f.second)
	for i := range prints {
		if outlined(&prints[i], &here, len(prints), f.n) {
			f.outline(img, m, &prints[i], k, dotted, pale)
		}
	}
	f.outline(img, m, &here, k, 1, plain)
	f.strokes(img, m, k)
	return []*image.NRGBA{img}, nil
}

func (f finer) ramp(m *compass.SkyMap, i int) cells.Colour {
	ramp, v := onRamp(m.Degree[i], m.Effect[i], f.effect)
	return ramp.Smooth(v)
}

// outline draws a frame's outline, a quarter of a cell wide.
func (f finer) outline(img *image.NRGBA, m *compass.SkyMap, p *compass.Footprint, k, every int, share float64) {
	wide := max(1, k/4)
	for i, at := range outlinePixels(p, m.N) {
		if i/k%every == 0 && !math.IsNaN(m.Degree[at[1]*m.N+at[0]]) {
			ground := f.ramp(m, at[1]*m.N+at[0])
			dot(img, m, at[0], at[1], wide, cells.Mix(ground, panel.Against(ground), share))
		}
	}
}

// strokes draws the direction of E where it stands in cells, as lines a cell long.
func (f finer) strokes(img *image.NRGBA, m *compass.SkyMap, k int) {
	step := strokeStep(f.n, false)
	long, wide := 1.6*float64(k), max(1, k/6)
	for j := (f.n / 2) % step; j < f.n; j += step {
		for i := (f.n / 2) % step; i < f.n; i += step {
			x, y := float64(i*k)+float64(k)/2, float64(j/2*2*k+k) // the middle of the cell
			at := int(y)*m.N + int(x)
			if math.IsNaN(m.Degree[at]) || m.Degree[at] < leastStroke {
				continue
			}
			ground := f.ramp(m, at)
			ink := cells.Mix(ground, panel.Against(ground), plain)
			dx, dy := math.Sincos(m.E[at] * math.Pi / 180)
			for s := -long / 2; s <= long/2; s += 0.5 {
				dot(img, m, int(math.Floor(x+s*dx)), int(math.Floor(y-s*dy)), wide, ink)
			}
		}
	}
}

// dot paints a square of a colour, above the horizon.
func dot(img *image.NRGBA, m *compass.SkyMap, x, y, wide int, c cells.Colour) {
	for j := max(0, y-wide/2); j < min(m.N, y-wide/2+wide); j++ {
		for i := max(0, x-wide/2); i < min(m.N, x-wide/2+wide); i++ {
			if !math.IsNaN(m.Degree[j*m.N+i]) {
				img.SetNRGBA(i, j, rgba(c))
			}
		}
	}
}

func rgba(c cells.Colour) color.NRGBA {
	r, g, b := c.RGB()
	return color.NRGBA{r, g, b, 255}
}
