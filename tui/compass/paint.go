package compass

import (
	"math"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// What the ends of the map's ramp stand for; the same for every shot, so that shots compare. In the
// map of the effect the dark end is the darkened sky.
const (
	mapMostDegree = 0.8
	mapDarkest    = -2.0 // stops
	mapBrightest  = 1.0
)

// rampAt returns the colour of a point of the map.
func rampAt(degree, stops float64, effect bool, p cells.Profile) cells.Colour {
	ramp, v := onRamp(degree, stops, effect)
	return ramp.In(p, v)
}

// onRamp returns where on which ramp a point of the map lies, 0..1.
func onRamp(degree, stops float64, effect bool) (*cells.Ramp, float64) {
	if effect {
		return &cells.Viridis, (stops - mapDarkest) / (mapBrightest - mapDarkest)
	}
	return &cells.Cividis, degree / mapMostDegree
}

// paintSky paints the map, a pixel a point; outside the horizon nothing is painted. Where a true picture is laid over it
// (inside), nothing may stand out beyond that one's horizon.
func paintSky(p *cells.Picture, m *compass.SkyMap, effect bool, profile cells.Profile, inside bool) {
	p.Reset(m.N, m.N)
	half := 0.0
	if inside {
		half = 1 / float64(m.N)
	}
	for k := range p.Pix {
		p.Pix[k] = cells.Default
		x, y := m.Place(k)
		if !math.IsNaN(m.Degree[k]) && math.Hypot(math.Abs(x)+half, math.Abs(y)+half) <= 1 {
			p.Pix[k] = rampAt(m.Degree[k], m.Effect[k], effect, profile)
		}
	}
}

// outlines paints the frames' outlines into the map: the one at the playhead as a line, those at the
// ends of the legs dotted and paler. Where a map is small or the legs are many, only the playhead's.
func (a *answer) outlines() {
	for i := range a.prints {
		if outlined(&a.prints[i], &a.here, len(a.prints), a.of.n) {
			a.outline(&a.prints[i], dotted, pale)
		}
	}
	a.outline(&a.here, 1, plain)
}

// How an outline is drawn: one pixel in so many, and how much it stands out from the ground.
const (
	dotted = 3
	pale   = 0.5
	plain  = 0.75
)

// outlined tells whether the frame at an end of a leg has an outline on a map of n by n with so many of them.
func outlined(f, here *compass.Footprint, of, n int) bool {
	const most, roomy = 4, 44
	return n >= roomy && (f.Leg == here.Leg || of <= 2*most)
}

// outline paints one pixel in every so many of an outline, lighter than a dark ground and darker than a
// light one by a share of what there is.
func (a *answer) outline(f *compass.Footprint, every int, share float64) {
	for i, at := range outlinePixels(f, a.of.n) {
		k := at[1]*a.of.n + at[0]
		if i%every != 0 || a.pic.Pix[k] == cells.Default {
			continue
		}
		ground := rampAt(a.sky.Degree[k], a.sky.Effect[k], a.of.effect, cells.TrueColour)
		a.pic.Pix[k] = cells.Mix(ground, panel.Against(ground), share)
	}
}

// outlinePixels returns the pixels that an outline goes through on a map of n by n. A step aslant is one
// pixel and not two, so that lines are thin.
func outlinePixels(f *compass.Footprint, n int) [][2]int {
	var path [][2]int
	for i := range f.Outline {
		x0, y0 := f.Outline[i].OnMap()
		x1, y1 := f.Outline[(i+1)%len(f.Outline)].OnMap()
		steps := 1 + int(float64(n)*math.Hypot(x1-x0, y1-y0))
		for s := range steps {
			t := float64(s) / float64(steps)
			x, y := mapPixel(x0+t*(x1-x0), y0+t*(y1-y0), n)
			at := [2]int{max(0, min(x, n-1)), max(0, min(y, n-1))}
			k := len(path)
			if k > 0 && path[k-1] == at {
				continue
			}
			if k > 1 && absInt(path[k-2][0]-at[0]) == 1 && absInt(path[k-2][1]-at[1]) == 1 {
				path = path[:k-1]
			}
			path = append(path, at)
		}
	}
	return path
}

// mapPixel returns the pixel of a point on a map of n by n.
func mapPixel(x, y float64, n int) (col, row int) {
	return int(math.Floor((1 + x) / 2 * float64(n))), int(math.Floor((1 - y) / 2 * float64(n)))
}
