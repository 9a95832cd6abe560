package plan

import (
	"math"
	"slices"

	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/sun"
)

// legMeter is what the meter reads of a leg behind a filter. Exposure values are at ISO 100 and count what the
// filter takes from plain light on top, as if the glass took nothing from light of no polarisation in the middle of
// the frame.
type legMeter struct {
	at         []int        // moments of the leg at which the frame was read
	over       [2][]float64 // on both takes: the reading less that of the land alone
	last       []float64    // room for those of the last take
	land       [2][]float64 // the land's reading at every moment
	dark       float64      // least and
	bright     float64      // most over the leg, first take to last
	darkAt     int          // the moment of the least
	darkTake   int
	set        float64 // what the leg is exposed for
	meterStops float64 // what the camera's own meter shows then, in the middle of the first take, stops over
	clipped    float64 // share of the frame that is white then, at its worst moment
	buried     float64 // and that is black
	left       leftOf
	exposed    *legExposure // what was asked for last, and before it
}

// drift is how far the light moves over the leg, in stops.
func (r *legMeter) drift() float64 { return r.bright - r.dark }

// ev returns the reading of a moment of the leg.
func (r *legMeter) ev(k, take int) float64 {
	over := r.over[take]
	hi := 0
	for hi < len(r.at) && r.at[hi] < k {
		hi++
	}
	land := r.land[take][k]
	switch {
	case len(over) == 0:
		return land
	case hi == len(r.at):
		return land + over[hi-1]
	case hi == 0 || r.at[hi] == k:
		return land + over[hi]
	}
	w := float64(k-r.at[hi-1]) / float64(r.at[hi]-r.at[hi-1])
	return land + over[hi-1] + w*(over[hi]-over[hi-1])
}

// meterOf returns what the meter reads of a leg behind a mounted filter.
func (y *analysis) meterOf(l *legAnalysis, m mounting.Way) *legMeter {
	k := m.MeterKey()
	if r := l.meters[k]; r != nil {
		return r
	}
	r := l.newMeter()
	y.readLeg(r, l, m)
	l.meters[k] = r
	return r
}

// newMeter lays out a reading of the leg.
func (l *legAnalysis) newMeter() *legMeter {
	n, first := l.to-l.from, len(l.readAt)
	r := l.reading.meters.One(pieceOf)
	land, over := l.reading.room.Floats(2*n), l.reading.room.Floats(len(l.read)+first)
	r.land[0], r.land[1] = land[:n:n], land[n:]
	r.over[0], r.over[1] = over[:0:first], over[first:first:len(l.read)]
	r.last = over[len(l.read):len(l.read):len(over)]
	r.at = l.readAt
	return r
}

// readLeg reads a leg's frames behind a mounted filter.
func (y *analysis) readLeg(r *legMeter, l *legAnalysis, m mounting.Way) {
	n := l.to - l.from
	r.dark, r.bright = math.Inf(1), math.Inf(-1)
	meter := frame.Meter{Expose: l.Expose, HighlightStops: setting.HighlightStops(y.s.Camera, l.Leg.Leg)}
	for k := range n {
		for take := range 2 {
			at := l.lightEV[k][take]
			meter.UprightEV100, meter.FlatEV100 = at.land, at.flat
			r.land[take][k] = meter.LandEV100()
		}
	}
	behind := glass.BehindOf(m)
	tonesOf := y.tonesFor(len(l.read))
	for i := range l.read {
		st, tones := &l.read[i], tonesOf[i]
		k := st.moment - l.from
		behind.Fill(tones, &st.Frame, st.lit)
		at := l.lightEV[k][st.take]
		meter.UprightEV100, meter.FlatEV100 = at.land, at.flat
		over := tones.Read(meter) - r.land[st.take][k]
		r.over[st.take] = append(r.over[st.take], over)
	}
	r.fillLastTake(l)
	own := y.s.Camera.OffsetStops
	if m.Filter != nil {
		own += m.Filter.OffsetStops
	}
	for take := range 2 {
		for k := range n {
			r.land[take][k] += own
		}
		for k := range n {
			ev := r.ev(k, take)
			if ev < r.dark {
				r.dark, r.darkAt, r.darkTake = ev, l.from+k, take
			}
			r.bright = max(r.bright, ev)
		}
	}
	r.set = setting.LockedAt(r.dark, r.bright)
	middle, far := 0, math.MaxInt
	for i := range l.read {
		st := &l.read[i]
		if d := 2*(st.moment-l.from) - (n - 1); st.take == 0 && max(d, -d) < far {
			middle, far = i, max(d, -d)
		}
	}
	for i := range l.read {
		p := tonesOf[i].Place(r.set-own-setting.Compensation(l.Leg.Leg), meter.HighlightStops)
		r.clipped, r.buried = max(r.clipped, p.Clipped), max(r.buried, p.Buried)
		if i == middle {
			r.meterStops = p.Meter
		}
	}
}

// fillLastTake brings the readings of the last take to the moments of the first: it is read at some of them only, and
// not at all where there is one take. What it differs by from the first, because the sun has moved a little, goes over
// from one of those to the next.
func (r *legMeter) fillLastTake(l *legAnalysis) {
	first, known := r.over[0], r.over[1]
	if len(known) == 0 {
		r.over[1] = first
		return
	}
	at, by := l.lastAt, known // by how much the last take differs, at those of the first that it is read at
	for i, k := range at {
		by[i] -= first[k]
	}
	r.over[1] = r.last
	for i, k := range r.at {
		hi := 0
		for hi < len(at)-1 && r.at[at[hi]] < k {
			hi++
		}
		d := by[hi]
		if hi > 0 && r.at[at[hi]] > k {
			w := float64(k-r.at[at[hi-1]]) / float64(r.at[at[hi]]-r.at[at[hi-1]])
			d = by[hi-1] + w*(by[hi]-by[hi-1])
		}
		r.over[1] = append(r.over[1], first[i]+d)
	}
}

// How many samples below the horizon a meter takes at least: as a rule; where the sky is a strip at the upper edge, whose
// share of the frame then counts most; and with the sun's glitter in the frame (TestMeterAgreesWithThePicture).
const (
	meterBelow  = 40
	meterStrip  = 160
	meterGlints = 300
	meterHour   = 80 // in both, where a year of hours is looked at: .3 stop at most, and mean .007
	stripRows   = 7  // of the grid
)

// readLight lets the meter at the samples of a leg: it must be asked before a filter is chosen, and its answers are
// kept for analyses that look more closely.
func (y *analysis) readLight(l *legAnalysis) {
	l.read = l.samples
	clear(l.meters)
	l.readAt, l.lastAt = l.own.readAt[:0], l.own.lastAt[:0]
	for i := range l.samples {
		switch k := l.samples[i].moment - l.from; l.samples[i].take {
		case 0:
			l.readAt = append(l.readAt, k)
		default:
			l.lastAt = append(l.lastAt, slices.Index(l.readAt, k)) // the first take is read at all of them
		}
	}
	l.own.readAt, l.own.lastAt = l.readAt, l.lastAt
	for i := range l.samples {
		st := &l.samples[i]
		m := &y.path[st.moment]
		v := y.view(l, m)
		p := m.Sun[st.take]
		moon := light.NoMoon()
		if p.GeometricDeg < light.MoonFromDeg {
			moon = sun.MoonAt(m.Time[st.take], y.s.LatDeg, y.s.LonDeg)
		}
		onGround := light.OnGround(y.s, p, moon, light.AirAt(y.s, 0, l.Ground))
		pattern := &y.ownMemory().sky
		*pattern = sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, light.AirAt(y.s, max(0, m.AboveM), l.Ground), light.MeasureNM)
		var mirrored light.Reflector
		rows := frame.SkyRows(v)
		if rows < frame.GridH {
			mirrored = y.shownBy(l, p, pattern)
		}
		rays := light.RaysAt(y.s, m, st.take, onGround, pattern, mirrored, y.skyline())
		samples := meterBelow
		switch {
		case y.brief && (rays.Glitters(v) || rows > 0 && rows <= stripRows):
			samples = meterHour
		case rays.Glitters(v):
			samples = meterGlints
		case rows > 0 && rows <= stripRows:
			samples = meterStrip
		}
		st.Room = &l.own.room
		st.lit = st.FillLit(l.grid(frame.DownThinning(rows, samples)), v, &rays)
		st.Room = nil
	}
}

// otherState returns the same flight in the other state of the sun than the one that it is set for, nil where broken
// cloud does not make two of them.
func (y *analysis) otherState() *analysis {
	if y.other == nil && !y.s.Light.OtherState {
		bright, dark := sun.States(y.s.Light.CloudPct/100, y.s.Light.Sun)
		if bright == dark {
			return nil
		}
		s := *y.s
		s.Light.OtherState = true
		z := newAnalysisKnowing(&s, y.path, turnKeys(hourTurnDeg, roughMost), y.shared, y.was.other, y.memory)
		z.legs = z.legs[y.legs[0].n : y.legs[0].n+len(y.legs)]
		y.other = z
	}
	return y.other
}
