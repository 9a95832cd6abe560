package plan

import (
	"context"
	"time"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// cloudErrorPct is how far a card's guess of the cloud may be off (ours).
const cloudErrorPct = 20.0

// likelyError is a flight with one thing a little different from the plan.
type likelyError struct {
	what    string
	study   *analysis        // of the plan itself where only the filter is off, else made when it is asked for
	make    func() *analysis // makes it
	ringOff float64
	lossOff float64
	clock   bool              // the start moves, and with it the minutes that are left
	parts   map[int]*analysis // of each flight, by its first leg
}

// changes makes the flights with one thing off.
func (y *analysis) changes(parts []plannedFlight) []likelyError {
	ring := false
	for _, p := range parts {
		for _, j := range p.c.ranked {
			ring = ring || j.Polarises()
		}
	}
	list := []likelyError{
		{what: "the heading 10° to the left", make: func() *analysis { return y.off(headingErrorDeg*-1, 0) }},
		{what: "the heading 10° to the right", make: func() *analysis { return y.off(headingErrorDeg, 0) }},
	}
	if ring {
		list = append(list, likelyError{what: "the ring 10° too far one way", study: y, ringOff: ringErrorDeg},
			likelyError{what: "the ring 10° too far the other way", study: y, ringOff: -ringErrorDeg})
	}
	list = append(list, likelyError{what: "the filter ⅓ stop heavier than its label", study: y, lossOff: labelErrorStops},
		likelyError{what: "the filter ⅓ stop lighter than its label", study: y, lossOff: -labelErrorStops})
	w := y.s.Light
	for _, c := range []struct {
		what  string
		light shot.Weather
		kind  sun.AirKind
	}{
		{"the haze one class thicker", light.Hazier(w, 1), 0},
		{"the haze one class thinner", light.Hazier(w, -1), 0},
		{"clean air, with small round droplets", w, sun.AirTown},
		{"dust or smoke in the air", w, sun.AirDust},
		{"a fifth more cloud", light.Cloudier(w, cloudErrorPct), 0},
		{"a fifth less cloud", light.Cloudier(w, -cloudErrorPct), 0},
	} {
		if c.light != w || c.kind != sun.AirAuto && c.kind != w.Air && ring {
			list = append(list, likelyError{what: c.what, make: func() *analysis { return y.under(c.light, c.kind) }})
		}
	}
	return append(list, likelyError{what: "the start 20 minutes late", make: func() *analysis { return y.off(0, lateStart) }, clock: true},
		likelyError{what: "the start 20 minutes early", make: func() *analysis { return y.off(0, -lateStart) }, clock: true})
}

// key returns the moments at which the analysis's samples stand, on the first take.
func (y *analysis) key() []shot.Moment {
	var path []shot.Moment
	for _, l := range y.legs {
		for _, st := range l.samples {
			if st.take == 0 {
				path = append(path, y.path[st.moment])
			}
		}
	}
	return path
}

// off makes an analysis of the samples alone, with the headings or the clock off.
func (y *analysis) off(headingOff float64, late time.Duration) *analysis {
	path := y.key()
	for i := range path {
		path[i] = path[i].Later(y.s, late)
		path[i].HeadingDeg = angle.Wrap360(path[i].HeadingDeg + headingOff)
	}
	return newAnalysisKnowing(y.s, path, everyMoment, y.shared.alone(), nil, memories.Get().(*memory))
}

// under makes an analysis of the samples alone in another weather and, another kind of air.
func (y *analysis) under(w shot.Weather, kind sun.AirKind) *analysis {
	s := *y.s
	s.Light = w
	if kind != sun.AirAuto {
		s.Light.Air = kind
	}
	return newAnalysisKnowing(&s, y.key(), everyMoment, y.shared.alone(), nil, memories.Get().(*memory))
}

// sideBySide tries changes, several at once where there are cores for it: each has an analysis of its own, but for those
// of the filter alone, which have the plan's and take turns.
func (y *analysis) sideBySide(list []likelyError, try func(i int)) {
	var own, turns []int
	for i := range list {
		if list[i].make != nil {
			own = append(own, i)
		} else {
			turns = append(turns, i)
		}
	}
	err := parallel.Do(context.Background(), y.workers, len(own)+1, nil, func() func(int) {
		return func(n int) {
			if n > 0 {
				try(own[n-1])
				return
			}
			for _, i := range turns {
				try(i)
			}
		}
	})
	if err != nil { // a worker broke: whoever asked hears of it as if it had been here
		panic(err)
	}
}
