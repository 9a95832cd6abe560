package frame

import (
	"math"
	"slices"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
)

// What the exposure of a frame is made for (ours, a placement of tones; held against the published guide's sunset
// rows). Everything is in exposure values at ISO 100; what a filter takes from plain light counts for all parts
// of a frame alike and is left out here: whoever sets the camera adds it.
const (
	skyOverMiddle = 1.0  // a clear sky stands a stop over middle grey (common practice, no source)
	flatUnder     = 0.5  // a level receptor reads so much brighter than land seen from the air
	brightShare   = 0.08 // the brightest part of the frame, which is to keep its detail
	mostOver      = 4.0  // the most that it may darken the land, stops
	fullyOver     = 0.2  // the share of the frame over white from which it may do so
	buriedStops   = 5.0  // under middle grey: black
	leastLight    = 1e-6 // cd/m²
)

// Lit is the light of a frame along its samples, in cd/m²: what a meter reads, before any filter.
type Lit struct {
	sky      []float64      // luminance of the sky's samples
	q, u     []float64      // and their polarisation, as the frame has it
	ground   []water.Stokes // light from below the horizon, in the basis of each sample
	away     []bool         // sky first, then ground: not within 5° of the sun or of its image in water
	skyPart  float64        // what a sample of the sky is of the frame
	landPart float64        // and one below it
	skyKept  float64        // share of sky in what is kept
	skyKey   float64        // EV100 that the median of the bare sky asks for; −Inf without sky
}

// Below returns the count of samples below the horizon.
func (l *Lit) Below() int { return len(l.ground) }

// FillLit reads the light along the frame's samples. The frame must have been filled; down is the grid of the
// samples below the horizon.
func (f *Frame) FillLit(down *Grid, v shot.View, rays *light.Rays) *Lit {
	l := &Lit{q: f.q, u: f.u}
	f.Down, f.FirstDown = down, down.upTo[SkyRows(v)]
	n, m := f.SkySamples, len(down.d)-f.FirstDown
	l.sky = make([]float64, n)
	l.ground = make([]water.Stokes, 0, m)
	l.away = make([]bool, 0, n+m)
	if n > 0 {
		l.skyPart = float64(f.full) / (GridW * GridH) / float64(n)
	}
	if m > 0 {
		l.landPart = (1 - float64(f.full)/(GridW*GridH)) / float64(m)
	}
	kept := make([]float64, 0, n)
	var skyWeight, weight float64
	for i := range l.sky {
		d := v.World(f.Grid.d[i])
		away := !rays.NearSun(d)
		if rays.IsSky(d) {
			l.sky[i] = max(rays.Sky(d), leastLight)
			if away {
				kept = append(kept, l.sky[i])
				skyWeight += l.skyPart
			}
		} else { // behind the skyline
			l.sky[i] = max(rays.Ground(d).I, leastLight)
		}
		if away {
			weight += l.skyPart
		}
		l.away = append(l.away, away)
	}
	for i := f.FirstDown; i < len(down.d); i++ {
		d := v.World(down.d[i])
		s := rays.Ground(d)
		right, up := water.Axes(d)
		q, u := turned(s.Q, s.U, right, up, v.World(down.u1[i]), v.World(down.u2[i]))
		l.ground = append(l.ground, water.Stokes{I: max(s.I, leastLight), Q: q, U: u})
		away := !rays.NearSun(d)
		if away {
			weight += l.landPart
		}
		l.away = append(l.away, away)
	}
	if weight == 0 { // nothing but the sun: the whole frame
		for i := range l.away {
			l.away[i] = true
		}
		kept, skyWeight, weight = l.sky, float64(n)*l.skyPart, 1
	}
	l.skyKey = math.Inf(-1)
	if len(kept) > 0 {
		l.skyKept = skyWeight / weight
		x := slices.Clone(kept)
		lo, hi, w := quantile(x, .5)
		l.skyKey = exposure.EV100OfLuminance(lo+w*(hi-lo)) - skyOverMiddle
	}
	return l
}

// Meter is what a reading goes by.
type Meter struct {
	Expose         shot.Expose
	UprightEV100   float64 // the incident reading of what faces the camera
	FlatEV100      float64 // that of a level receptor
	HighlightStops float64 // over middle grey before white
}

// LandEV100 returns what the land alone asks for.
func (m Meter) LandEV100() float64 {
	if m.Expose == shot.ExposeLand {
		return m.UprightEV100
	}
	return max(m.UprightEV100, m.FlatEV100-flatUnder) // from the air most land lies flat
}

// Tones are a frame's luminances through a filter, but for what the filter takes from plain light. The zero value
// is ready; it is filled anew by each use.
type Tones struct {
	lum  []float64
	lit  *Lit
	bins [highBins]struct{ part, ev float64 }
}

// The brightest part of a frame is found in bins of this width under its brightest pixel, which costs a tenth of
// putting them in order.
const (
	highBins    = 256
	binsPerStop = 16
)

// Through fills the tones with a frame's light behind a filter: sky and ground are its answers over the two
// grids, nil for one that does not polarise.
func (t *Tones) Through(l *Lit, sky, ground *Answers, f *Frame) {
	t.lit, t.lum = l, t.lum[:0]
	for i, x := range l.sky {
		if sky != nil {
			x *= sky.t[i-sky.base]
			if l.q != nil {
				x *= 1 + sky.c[i-sky.base]*l.q[i] + sky.s[i-sky.base]*l.u[i]
			}
		}
		t.lum = append(t.lum, max(x, leastLight))
	}
	for i, s := range l.ground {
		x := s.I
		if ground != nil {
			k := f.FirstDown + i - ground.base
			x = ground.t[k] * (s.I + ground.c[k]*s.Q + ground.s[k]*s.U)
		}
		t.lum = append(t.lum, max(x, leastLight))
	}
}

func (t *Tones) part(i int) float64 {
	if i < len(t.lit.sky) {
		return t.lit.skyPart
	}
	return t.lit.landPart
}

// Read returns the exposure value that a frame asks for.
func (t *Tones) Read(m Meter) float64 {
	land := m.LandEV100()
	if m.Expose == shot.ExposeLand {
		return land
	}
	key := land
	if t.lit.skyKept > 0 {
		key += t.lit.skyKept * max(0, t.lit.skyKey-land)
	}
	high, over := t.high(land + m.HighlightStops)
	high -= m.HighlightStops
	if m.Expose == shot.ExposeHighlights {
		return max(key, high)
	}
	return max(key, min(high, land+mostOver*min(1, over/fullyOver)))
}

// high returns the mean exposure value of the brightest part of what is kept, and the share of it that is
// brighter than a level.
func (t *Tones) high(level float64) (ev, over float64) {
	clear(t.bins[:])
	limit := exposure.LuminanceOfEV100(level)
	most := leastLight
	var whole float64
	for i, x := range t.lum {
		if t.lit.away[i] {
			most = max(most, x)
		}
	}
	top := fastlog.Log2(most)
	for i, x := range t.lum {
		if !t.lit.away[i] {
			continue
		}
		p := t.part(i)
		whole += p
		if x > limit {
			over += p
		}
		l := fastlog.Log2(x)
		b := &t.bins[min(highBins-1, int((top-l)*binsPerStop))]
		b.part += p
		b.ev += p * l
	}
	left := brightShare * whole
	var sum float64
	for i := range t.bins {
		b := &t.bins[i]
		if b.part == 0 {
			continue
		}
		p := min(b.part, left)
		sum += p * b.ev / b.part
		if left -= p; left <= 0 {
			break
		}
	}
	return sum/(brightShare*whole) + exposure.EV100OfLuminance(1), over / whole
}

// Placed is what an exposure does to a frame.
type Placed struct {
	Meter   float64 // what the camera's own averaging meter shows, which clips as the picture does, stops over
	Clipped float64 // share of what is kept that is white
	Buried  float64 // and that is black
}

// Place tells what a camera that is set for an exposure value makes of the tones.
func (t *Tones) Place(ev100, highlightStops float64) Placed {
	middle := exposure.LuminanceOfEV100(ev100)
	white, black := middle*math.Exp2(highlightStops), middle*math.Exp2(-buriedStops)
	var p Placed
	var mean, kept float64
	for i, x := range t.lum {
		w := t.part(i)
		mean += w * min(x, white)
		if !t.lit.away[i] {
			continue
		}
		kept += w
		switch {
		case x > white:
			p.Clipped += w
		case x < black:
			p.Buried += w
		}
	}
	if kept > 0 {
		p.Clipped, p.Buried = p.Clipped/kept, p.Buried/kept
	}
	p.Meter = math.Log2(mean / middle)
	return p
}
