package plan

import (
	"math"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// Held asks at which other take-offs a call still holds, filters and rings as they are. It keeps what does not depend on
// the hour, and serves one caller at a time.
type Held struct {
	r    *Report
	legs []heldLeg
	*shared
	memory *memory
}

// heldLeg is a leg as it is mounted for.
type heldLeg struct {
	*legAnalysis
	mounting.Way
	nNumber float64
	late    time.Duration // by the landings before it
	anyFast bool          // the call itself gives up the shutter that looks right: only what cannot be exposed counts
	over    [2]float64    // what the frame asked for beyond the land when it was read last: at its darkest and its brightest
}

// Held prepares the question. kept is what [Solve] left of this report, so that it need not be worked out again; nil where
// that is not at hand. A report without legs holds nowhere.
func (r *Report) Held(kept *Kept) *Held {
	h := &Held{r: r, memory: new(memory)}
	if len(r.Path) == 0 {
		return h
	}
	legs := h.known(kept)
	if legs == nil {
		h.shared = newShared(r.Path[0].AboveM).alone()
		y := hourLight(r.Shot, r.Path, h.shared, new(memory))
		keys := turnKeys(roughTurnDeg, roughMost)
		for _, l := range y.legs {
			y.motion(l, keys(nil, y.path[l.from:l.to]))
			l.Bounds = y.boundsOf(l)
		}
		legs = y.legs
	}
	per := shot.Seconds(r.Shot.Settings.LandingChangeS + r.Shot.TransitS)
	for k := range r.Flights {
		f := &r.Flights[k]
		for _, i := range f.Legs {
			h.legs = append(h.legs, heldLeg{legAnalysis: legs[i], Way: r.MountedOn(i), nNumber: f.Set.Aperture, late: time.Duration(k) * per})
		}
	}
	for i, room := range h.rooms(r.Shot, h.read, false) {
		h.legs[i].anyFast = room[1] < 0
	}
	return h
}

// known takes what was kept of the report's shot; nil where that is another's.
func (h *Held) known(kept *Kept) []*legAnalysis {
	if kept == nil {
		return nil
	}
	kept.mu.Lock()
	defer kept.mu.Unlock()
	if kept.shot != h.r.Shot {
		return nil
	}
	h.shared = kept.shared.alone()
	legs := make([]*legAnalysis, len(kept.found.rough))
	for i, l := range kept.found.rough { // of what is kept, what does not go with the next flight
		legs[i] = &legAnalysis{Leg: l.Leg, n: l.n}
	}
	return legs
}

// Room returns by how many stops the light may still fall, or grow, until the first take of a flight at another take-off
// needs more than the clean ISO at the slowest shutter that serves its purpose, or less than the base ISO at the fastest
// one. It holds from 0 up. Read are both ends of every leg, in both states of the sun. ok is false where the card does not
// fit together then, at night, and where lamps light the scene, of which nothing is known.
func (h *Held) Room(takeOff time.Time) (stops float64, ok bool) { return h.room(takeOff, h.read) }

// Guess returns the same by the light on the land alone: what the frame asks for beyond that is taken to be as it was when
// Room was asked last. It costs a hundredth.
func (h *Held) Guess(takeOff time.Time) (stops float64, ok bool) { return h.room(takeOff, h.guess) }

func (h *Held) room(takeOff time.Time, read reading) (stops float64, ok bool) {
	s, err := h.r.Shot.At(takeOff)
	if err != nil || len(h.legs) == 0 {
		return math.Inf(-1), false
	}
	t := s.Times()
	if a, b := sun.At(t.TakeOff, s.LatDeg, s.LonDeg), sun.At(t.Landing, s.LatDeg, s.LonDeg); max(a.GeometricDeg, b.GeometricDeg) < hourNightDeg {
		return math.Inf(-1), false
	}
	rooms := h.rooms(s, read, false)
	if rooms == nil {
		return math.Inf(-1), false
	}
	stops = math.Inf(1)
	for _, room := range rooms {
		stops = min(stops, room[0], room[1])
	}
	return stops, true
}

// Densities returns from how many stops to how many a plain density would hold every leg at the card's own take-off. Where
// nothing need be held back, least is 0 or below; where no one density serves, most is less than least. ok is false under
// lamps.
func (h *Held) Densities() (least, most float64, ok bool) {
	rooms := h.rooms(h.r.Shot, h.readBare, true)
	least, most = math.Inf(-1), math.Inf(1)
	for _, room := range rooms {
		least, most = max(least, -room[1]), min(most, room[0])
	}
	return least, most, rooms != nil
}

// reading returns the darkest and the brightest that the meter shows of a leg.
type reading func(z *analysis, own *heldLeg) (dark, bright float64)

// read reads the frames at both ends of a leg, and keeps what they ask for beyond the land.
func (h *Held) read(z *analysis, own *heldLeg) (dark, bright float64) {
	l := z.legs[own.n]
	landDark, landBright := h.land(z, own)
	dark, bright = z.readEnds(l, own.Way)
	own.over = [2]float64{dark - landDark, bright - landBright}
	return dark, bright
}

func (h *Held) readBare(z *analysis, own *heldLeg) (dark, bright float64) {
	return z.readEnds(z.legs[own.n], mounting.Way{})
}

func (h *Held) guess(z *analysis, own *heldLeg) (dark, bright float64) {
	dark, bright = h.land(z, own)
	return dark + own.over[0], bright + own.over[1]
}

// land reads the land alone.
func (h *Held) land(z *analysis, own *heldLeg) (dark, bright float64) {
	l := *z.legs[own.n]
	l.read, l.readAt, l.lastAt = nil, nil, nil
	r := l.newMeter()
	z.readLeg(r, &l, mounting.Way{})
	return r.dark, r.bright
}

// readEnds lets the meter at both ends of a leg, in both states of the sun.
func (y *analysis) readEnds(l *legAnalysis, m mounting.Way) (dark, bright float64) {
	y.placeSamples(l, []int{0, l.to - l.from - 1})
	y.readLight(l)
	r := y.meterOf(l, m)
	dark, bright = r.dark, r.bright
	if o := y.otherState(); o != nil {
		r := o.meterOf(o.legs[l.n], m)
		dark, bright = min(dark, r.dark), max(bright, r.bright)
	}
	return dark, bright
}

// rooms returns for every leg by how much the light may fall and by how much it may grow; nil under lamps.
func (h *Held) rooms(s *shot.Shot, read reading, bare bool) [][2]float64 {
	if len(h.legs) == 0 {
		return nil
	}
	late := make([]time.Duration, len(s.Legs))
	for _, l := range h.legs {
		late[l.n] = l.late
	}
	path := shot.Path(s, 2)
	for i, m := range path {
		if d := late[m.Leg]; d > 0 {
			path[i] = m.Later(s, d)
		}
	}
	z := hourLight(s, path, h.shared, h.memory)
	z.skyOnly, z.brief = true, true
	defer h.memory.takeBack()
	list := make([][2]float64, 0, len(h.legs))
	for i := range h.legs {
		own := &h.legs[i]
		l, loss := z.legs[own.n], own.Loss()
		if bare {
			loss = 0
		}
		l.BlurWish, l.Still, l.Bounds = own.BlurWish, own.Still, own.Bounds
		if z.lamps(l) {
			return nil
		}
		dark, bright := read(z, own)
		slowest, fastest, slack := max(l.Bounds.WantedS, l.Bounds.HighS), l.Bounds.FastestS, setting.ExposureSlack
		switch {
		case l.Purpose == shot.Long:
			fastest = l.Bounds.WantedS // it is its length
		case own.WantsBlur() && l.Bounds.LowS > 0 && (bare || !own.anyFast):
			fastest, slack = l.Bounds.LowS, setting.StepSlack
		}
		iso := func(ev, seconds float64) float64 {
			return exposure.ISO(ev, own.nNumber, seconds, loss, l.Bounds.BiasStops)
		}
		limits := l.ISORange()
		list = append(list, [2]float64{math.Log2(limits.Clean / iso(dark, slowest)), math.Log2(iso(bright, fastest)/limits.Base) + slack})
	}
	return list
}
