package frame

import (
	"math"
	"slices"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"gonum.org/v1/gonum/spatial/r3"
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
	sky     []float64      // luminance of the sky's samples
	q, u    []float64      // and their polarisation, as the frame has it
	Grid    *Grid          // of the samples below the horizon
	First   int            // the sample of it that ground begins with
	ground  []water.Stokes // light from below the horizon, in the basis of each sample
	part    []float64      // what each sample is of the frame, sky first, then ground
	kept    []float64      // the same, 0 within 5° of the sun or of its image in water
	whole   float64        // sum of what is kept
	skyKept float64        // share of sky in it
	skyKey  float64        // EV100 that the median of the bare sky asks for; −Inf without sky
}

// Below returns the count of samples below the horizon.
func (l *Lit) Below() int { return len(l.ground) }

// FillLit reads the light along the frame's samples. The frame must have been filled; down is the grid of the
// samples below the horizon.
func (f *Frame) FillLit(down *Grid, v shot.View, rays *light.Rays) *Lit {
	l := f.Room.lit()
	*l = Lit{q: f.q, u: f.u, Grid: down, First: down.upTo[SkyRows(v)]}
	own := false // the polarisation is not all the frame's
	polarised := func(i int, part, q, u float64, right, up r3.Vec) {
		if l.q == nil {
			return
		}
		if !own {
			l.q, l.u, own = f.Room.Floats(len(f.q)), f.Room.Floats(len(f.u)), true
			copy(l.q, f.q)
			copy(l.u, f.u)
		}
		q, u = turned(q, u, right, up, v.World(f.Grid.u1[i]), v.World(f.Grid.u2[i]))
		l.q[i], l.u[i] = (1-part)*l.q[i]+part*q, (1-part)*l.u[i]+part*u
	}
	n, m := f.SkySamples, len(down.d)-l.First
	l.sky = f.Room.Floats(n)
	l.ground = f.Room.stokes(m)[:0]
	both := f.Room.Floats(2 * (n + m))
	l.part, l.kept = both[:0:n+m], both[n+m:n+m]
	sky := rays.SkyShare(v)    // to the horizon itself: a row of the grid is nearly 3 % of the frame
	strip := n == 0 && sky > 0 // less than half a row of sky: it falls to the samples of the land
	switch {
	case n == 0:
		sky = 0
	case m == 0:
		sky = 1
	}
	// The rows of the samples are spread over the whole of the sky, and over the whole of the land.
	full := float64(f.full) / (GridW * GridH)
	horizon := 1 - 2*sky // its height in the frame
	skyPart := sky / float64(max(n, 1))
	keep := func(part float64, away bool) {
		l.part = append(l.part, part)
		if !away {
			part = 0
		}
		l.kept = append(l.kept, part)
		l.whole += part
	}
	shown := f.Room.scratch(n + m) // luminances of the sky that is kept
	var skyWeight float64
	for i := range l.sky {
		c := &f.Grid.d[i]
		d := atHeight(c, v, 1-(1-c.Y/c.Z/v.HalfHeight)*sky/full)
		away := !rays.NearSun(d)
		if rays.IsSky(d) {
			l.sky[i] = max(rays.Sky(d), leastLight)
			if rays.IsLow(d) {
				right, up := water.Axes(d)
				part, q, u := rays.LowSky(d, right, up)
				polarised(i, part, q, u, right, up)
			}
			if away {
				shown = append(shown, l.sky[i])
				skyWeight += skyPart
			}
		} else { // behind the skyline
			right, up := water.Axes(d)
			s := rays.Ground(d, right, up)
			l.sky[i] = max(s.I, leastLight)
			polarised(i, 1, s.Q/l.sky[i], s.U/l.sky[i], right, up)
		}
		keep(skyPart, away)
	}
	for i := l.First; i < len(down.d); i++ {
		c := &down.d[i]
		// Land changes fastest at the horizon: the samples are closer there, and each counts for what it stands for.
		t := 1 - (1+c.Y/c.Z/v.HalfHeight)/2/(1-full)
		part := (1 - sky) / float64(m)
		if n > 0 || strip {
			part *= 2 * t
			t *= t
		}
		d := atHeight(c, v, horizon-t*(1+horizon))
		away := !rays.NearSun(d)
		right, up := water.Axes(d)
		var s water.Stokes
		if strip && rays.IsSky(d) {
			s.I = max(rays.Sky(d), leastLight)
			low, q, u := rays.LowSky(d, right, up) // what is not the air's is left out
			s.Q, s.U = s.I*low*q, s.I*low*u
			if away {
				shown = append(shown, s.I)
				skyWeight += part
			}
		} else {
			s = rays.Ground(d, right, up)
		}
		q, u := turned(s.Q, s.U, right, up, v.World(down.u1[i]), v.World(down.u2[i]))
		l.ground = append(l.ground, water.Stokes{I: max(s.I, leastLight), Q: q, U: u})
		keep(part, away)
	}
	if l.whole == 0 { // nothing but the sun: the whole frame
		copy(l.kept, l.part)
		shown, skyWeight, l.whole = slices.Clone(l.sky), sky, 1
	}
	l.skyKey = math.Inf(-1)
	if len(shown) > 0 {
		l.skyKept = skyWeight / l.whole
		lo, hi, w := quantile(shown, .5)
		l.skyKey = exposure.EV100OfLuminance(lo+w*(hi-lo)) - skyOverMiddle
	}
	return l
}

// atHeight returns the line of sight, East-North-Up, in the column of the frame of d, which is in camera coordinates,
// at a height of -1 to 1.
func atHeight(d *r3.Vec, v shot.View, y float64) r3.Vec {
	return unit(v.World(r3.Vec{X: d.X, Y: y * v.HalfHeight * d.Z, Z: d.Z}))
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
	top  float64 // the brightest of what is kept
	lit  *Lit
	bins [highBins]struct{ part, ev float64 }
}

// Forget lets go of the frame that was filled in last.
func (t *Tones) Forget() { t.lit = nil }

// edgeStops is the width of the edge over which a sample counts as brighter than a level: it stands for a patch of the
// frame whose own light changes by about so much (TestMeterAgreesWithThePicture).
const edgeStops = 0.2

// The brightest part of a frame is found in bins of this width under its brightest pixel, which costs a tenth of
// putting them in order.
const (
	highBins    = 256
	binsPerStop = 16
)

// Behind is a filter over one of the two grids of a frame.
type Behind struct {
	Answers *Answers  // nil for one that does not polarise
	Passes  []float64 // what passes of plain light against the middle of the frame, by the grid's sample; nil: all alike
}

// Passes returns what a filter lets pass over a grid.
func (g *Grid) Passes(of func(d r3.Vec) float64) []float64 {
	list := make([]float64, len(g.d))
	for i, d := range g.d {
		list[i] = of(d)
	}
	return list
}

// Through fills the tones with a frame's light behind a filter.
func (t *Tones) Through(l *Lit, sky, ground Behind) {
	t.lit, t.top = l, leastLight
	t.lum = slices.Grow(t.lum[:0], len(l.kept))[:len(l.kept)]
	n := len(l.sky)
	if a := sky.Answers; a != nil && l.q != nil {
		from := -a.base
		throughSky(t.lum[:n], l.sky, l.q, l.u, a.t[from:], a.c[from:], a.s[from:])
	} else {
		copy(t.lum, l.sky)
	}
	throughGround(t.lum[n:], l.ground, ground.Answers, l.First)
	pass(t.lum[:n], sky.Passes)
	if p := ground.Passes; p != nil {
		pass(t.lum[n:], p[l.First:])
	}
	kept := l.kept[:len(t.lum)]
	top := t.top
	for i, x := range t.lum {
		if !(x >= leastLight) {
			x = max(x, leastLight)
			t.lum[i] = x
		}
		if x > top && kept[i] > 0 {
			top = x
		}
	}
	t.top = top
}

func throughSky(lum, sky, q, u, t, c, s []float64) {
	n := len(lum)
	sky, q, u, t, c, s = sky[:n], q[:n], u[:n], t[:n], c[:n], s[:n]
	for i := range lum {
		lum[i] = sky[i] * (t[i] * (1 + c[i]*q[i] + s[i]*u[i]))
	}
}

func throughGround(lum []float64, light []water.Stokes, a *Answers, first int) {
	light = light[:len(lum)]
	if a == nil {
		for i := range lum {
			lum[i] = light[i].I
		}
		return
	}
	from, n := first-a.base, len(lum)
	t, c, s := a.t[from:][:n], a.c[from:][:n], a.s[from:][:n]
	for i := range lum {
		x := &light[i]
		lum[i] = t[i] * (x.I + c[i]*x.Q + s[i]*x.U)
	}
}

// pass lets through what a filter passes of plain light; nil is all of it.
func pass(lum, passes []float64) {
	lum = lum[:min(len(lum), len(passes))]
	passes = passes[:len(lum)]
	for i := range lum {
		lum[i] *= passes[i]
	}
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
	if m.Expose == shot.ExposeHighlights {
		return max(key, t.high()-m.HighlightStops)
	}
	// Whatever cannot make the reading higher is not worked out: the brightest part is at most as bright as its brightest
	// sample, and may darken the land by so much only.
	white := land + m.HighlightStops
	if t.top <= exposure.LuminanceOfEV100(white)*(1-halfEdge) {
		return key
	}
	bound := land + mostOver*min(1, t.over(white)/fullyOver)
	if bound <= key {
		return key
	}
	return max(key, min(t.high()-m.HighlightStops, bound))
}

// over returns the share of what is kept that is brighter than a level.
func (t *Tones) over(level float64) float64 {
	perLimit := 1 / exposure.LuminanceOfEV100(level)
	var over float64
	for i, p := range t.lit.kept {
		over += p * beyondEdge(t.lum[i]*perLimit)
	}
	return over / t.lit.whole
}

// highWithin is within how many stops of its brightest pixel the brightest part is looked for at first, and then.
var highWithin = [...]int{1, 3, highBins / binsPerStop}

// high returns the mean exposure value of the brightest part of what is kept. What is darker than all of that part by
// stops is left out, which changes nothing (TestTheBrightestPartIsThePlainOne).
func (t *Tones) high() float64 {
	most := t.top
	var sum float64
	for _, stops := range highWithin {
		if s, whole := t.highFrom(most, stops); whole {
			sum = s
			break
		}
	}
	return sum/(brightShare*t.lit.whole) + exposure.EV100OfLuminance(1)
}

// highFrom adds up the brightest part, with nothing looked at that is darker than the brightest pixel by more than so many
// stops, and tells whether that was all of it.
func (t *Tones) highFrom(most float64, stops int) (sum float64, whole bool) {
	bins := t.bins[:min(highBins, stops*binsPerStop+1)]
	clear(bins)
	top := fastlog.Log2(most)
	least := most * math.Exp2(-float64(stops))
	all := len(bins) == highBins
	for i, p := range t.lit.kept {
		x := t.lum[i]
		if p == 0 || x < least && !all {
			continue
		}
		l := fastlog.Log2(x)
		b := &bins[min(len(bins)-1, int((top-l)*binsPerStop))]
		b.part += p
		b.ev += p * l
	}
	if !all { // the last two are not full for sure
		bins = bins[:len(bins)-2]
	}
	left := brightShare * t.lit.whole
	for i := range bins {
		b := &bins[i]
		if b.part == 0 {
			continue
		}
		p := min(b.part, left)
		sum += p * b.ev / b.part
		if left -= p; left <= 0 {
			return sum, true
		}
	}
	return sum, all
}

// halfEdge is half of the edge's width, as a part of the level.
const halfEdge = edgeStops / 2 * math.Ln2

// beyondEdge returns the part of a sample that is brighter than a level, by its luminance over that of the level.
func beyondEdge(times float64) float64 {
	switch {
	case times >= 1+halfEdge:
		return 1
	case times <= 1-halfEdge:
		return 0
	}
	return (times-1)/(2*halfEdge) + .5
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
	var mean float64
	for i, x := range t.lum {
		mean += t.lit.part[i] * min(x, white)
		switch {
		case x > white:
			p.Clipped += t.lit.kept[i]
		case x < black:
			p.Buried += t.lit.kept[i]
		}
	}
	p.Clipped, p.Buried = p.Clipped/t.lit.whole, p.Buried/t.lit.whole
	p.Meter = math.Log2(mean / middle)
	return p
}
