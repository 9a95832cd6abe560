package plan

import (
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/water"
)

// legOptics is what a mounted filter does to a leg's light, over its samples.
type legOptics struct {
	sky         bool
	effect      float64 // mean over the samples
	effects     Range
	swing       float64 // largest less smallest effect, the larger of both takes
	unevenness  Range
	worst       float64 // unevenness
	glare, haze float64 // of the sums over all samples
	glares      Range
	hazes       Range
}

// opticsOf returns what a mounted filter does to a leg.
func (y *analysis) opticsOf(l *legAnalysis, m mounting.Way) *legOptics {
	if !m.Polarises() {
		if l.bare == nil {
			l.bare = l.own.optics.One(pieceOf)
			*l.bare = l.untouched()
		}
		return l.bare
	}
	k := m.Key()
	if o := l.optics[k]; o != nil {
		return o
	}
	o := l.own.optics.One(pieceOf)
	y.look(o, l, m)
	l.optics[k] = o
	return o
}

// look works out what a filter with a ring does to a leg.
func (y *analysis) look(o *legOptics, l *legAnalysis, m mounting.Way) {
	sheet := glass.SheetOf(m)
	*o = l.measure(&sheet, y.scratch())
}

// measure returns what a polarising filter, given by its answers, does to a leg: to the sky at each sample
// that sees enough of it, and to the glare and the haze at each sample that has any. The effect is the mean
// over the samples; the cuts of glare and haze are of the sums over all of them, so that a sample with much
// counts for much. buf is scratch space.
func (l *legAnalysis) measure(sheet *glass.Sheet, buf []float64) legOptics {
	var o legOptics
	var n, glare, glareOf, haze, hazeOf float64
	var takes [2]Range
	for i := range l.samples {
		st := &l.samples[i]
		if st.Enough() {
			e, u := st.Frame.Effect(sheet.Answers(st.Grid, false, 0, st.SkySamples), buf)
			o.effect += e
			n++
			o.effects.add(e)
			o.unevenness.add(u)
			takes[st.take].add(e)
		}
		glare, glareOf = addCut(&o.glares, st.Mirrored, &st.Frame, sheet, glare, glareOf)
		haze, hazeOf = addCut(&o.hazes, st.Airlight, &st.Frame, sheet, haze, hazeOf)
	}
	if n > 0 {
		o.sky, o.effect, o.worst = true, o.effect/n, o.unevenness.Max
		o.swing = max(takes[0].span(), takes[1].span())
	}
	if glareOf > 0 {
		o.glare = glare / glareOf
	}
	if hazeOf > 0 {
		o.haze = haze / hazeOf
	}
	return o
}

// addCut adds what the filter takes from the mirrored light or the airlight of one sample. It widens the range
// by the sample's own share, and returns the running sums of what was taken and of what there was.
func addCut(r *Range, light []water.Stokes, f *frame.Frame, sheet *glass.Sheet, sum, of float64) (float64, float64) {
	if len(light) == 0 {
		return sum, of
	}
	t, all := frame.Cut(light, f.FirstDown, sheet.Answers(f.Down, true, f.FirstDown, f.FirstDown+len(light)))
	if all <= 0 {
		return sum, of
	}
	r.add(t / all)
	return sum + t, of + all
}

// untouched is what a filter without a ring does: nothing but take light from all alike.
func (l *legAnalysis) untouched() legOptics {
	var o legOptics
	for i := range l.samples {
		st := &l.samples[i]
		if st.Enough() {
			o.sky = true
			o.effects.add(0)
			o.unevenness.add(0)
		}
		if st.Mirrors {
			o.glares.add(0)
		}
		if st.Hazy {
			o.hazes.add(0)
		}
	}
	return o
}

// add widens a range.
func (r *Range) add(x float64) {
	if !r.OK {
		*r = Range{x, x, true}
		return
	}
	r.Min, r.Max = min(r.Min, x), max(r.Max, x)
}

// join widens a range by another.
func (r *Range) join(o Range) {
	if o.OK {
		r.add(o.Min)
		r.add(o.Max)
	}
}

// span is the width of a range, 0 when nothing was measured.
func (r Range) span() float64 {
	if !r.OK {
		return 0
	}
	return r.Max - r.Min
}
