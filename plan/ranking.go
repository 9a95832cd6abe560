package plan

import (
	"cmp"
	"slices"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// Ranked is one filter of the bag on this flight: at its best setting and ring, and at its others.
type Ranked struct {
	Candidate
	Others []Candidate // the same filter at its other settings, best first
}

// Ranking returns every filter of the bag and the bare lens once, best first. The call's own comes
// first, also where the card asks for it and others would do better. With several flights each filter
// is judged as if it had to serve them all.
func (r *Report) Ranking() []Ranked {
	var list []Ranked
	at := map[string]int{}
	for _, c := range r.Candidates {
		if i, ok := at[c.Filter]; ok {
			list[i].Others = append(list[i].Others, c)
			continue
		}
		at[c.Filter] = len(list)
		list = append(list, Ranked{Candidate: c})
	}
	return list
}

// Shortfall says by how much a candidate that cannot be flown misses, in words; "" when it can.
func (c *Candidate) Shortfall() string {
	switch {
	case c.Feasible:
		return ""
	case c.WhyNot != "":
		return c.WhyNot
	case len(c.Lines) > 0: // the call itself, where nothing can be flown
		return slices.MaxFunc(c.Lines, func(a, b ScoreLine) int { return cmp.Compare(a.Stops, b.Stops) }).Words
	}
	return "it cannot be exposed"
}

// SetWords returns the shutters and the ISOs that a candidate would be set to over the flight, fastest
// and lowest first, rounded to what the camera has; "" where it cannot be exposed.
func (r *Report) SetWords(k *Candidate) (shutter, iso string) {
	video := slices.ContainsFunc(r.Shot.Legs, func(l shot.Leg) bool { return l.Purpose == shot.Video })
	return r.Settable(k.Shutter, k.ISO, video)
}

// Settable rounds exact ranges to what the camera has, and writes them.
func (r *Report) Settable(shutters, isos Range, video bool) (shutter, iso string) {
	if !shutters.OK || !isos.OK {
		return "", ""
	}
	between := func(a, b exposure.Step) string {
		if a.Label == b.Label {
			return a.Label
		}
		return a.Label + ".." + b.Label
	}
	c := r.Shot.Camera
	series := exposure.ShuttersOf(c.FastestS, c.SlowestS, video)
	if video { // the extra ones only where a film leg may be set to them: no 1/96 at 25 frames a second
		series = slices.DeleteFunc(slices.Clone(series), func(t exposure.Step) bool {
			return exposure.Extra(t) && !slices.ContainsFunc(r.Shot.Legs, func(l shot.Leg) bool { return fitsFrames(t, l.FPS) })
		})
	}
	return between(exposure.Nearest(series, shutters.Min), exposure.Nearest(series, shutters.Max)),
		between(exposure.NearestISO(isos.Min, 0, 0), exposure.NearestISO(isos.Max, 0, 0))
}
