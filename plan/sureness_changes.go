package plan

import (
	"math"
	"time"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
)

// What the guesses of a card may be off by (ours; the factors of the aerosol are the ends of what is
// published for clean and for dusty air, see [sun.Air]).
const (
	cloudErrorPct = 20.0
	cleanAir      = 1.2
	dustyAir      = 4.0
)

// changed is a flight with one thing a little different from the plan.
type changed struct {
	what    string
	study   *study
	ringOff float64
	lossOff float64
	clock   bool           // the start moves, and with it the minutes that are left
	parts   map[int]*study // of each flight, by its first leg
}

// changes makes the flights with one thing off.
func (y *study) changes(parts []part) []changed {
	ring := false
	for _, p := range parts {
		for _, j := range p.c.ranked {
			ring = ring || j.polarises()
		}
	}
	list := []changed{
		{what: "the heading 10° to the left", study: y.off(headingErrorDeg*-1, 0)},
		{what: "the heading 10° to the right", study: y.off(headingErrorDeg, 0)},
	}
	if ring {
		list = append(list, changed{what: "the ring 10° too far one way", study: y, ringOff: ringErrorDeg},
			changed{what: "the ring 10° too far the other way", study: y, ringOff: -ringErrorDeg})
	}
	list = append(list, changed{what: "the filter a third of a stop heavier than its label", study: y, lossOff: labelErrorStops},
		changed{what: "the filter a third of a stop lighter than its label", study: y, lossOff: -labelErrorStops})
	w := y.s.Light
	for _, c := range []struct {
		what  string
		light Weather
		k     float64
	}{
		{"the haze one class thicker", hazier(w, 1), 0},
		{"the haze one class thinner", hazier(w, -1), 0},
		{"clean air, with small round droplets", w, cleanAir},
		{"dust or smoke in the air", w, dustyAir},
		{"a fifth more cloud", cloudier(w, cloudErrorPct), 0},
		{"a fifth less cloud", cloudier(w, -cloudErrorPct), 0},
	} {
		if c.light != w || c.k > 0 && ring {
			list = append(list, changed{what: c.what, study: y.under(c.light, c.k)})
		}
	}
	return append(list, changed{what: "the start 20 minutes late", study: y.off(0, lateStart), clock: true},
		changed{what: "the start 20 minutes early", study: y.off(0, -lateStart), clock: true})
}

// hazier gives the weather so many classes hazier, or clearer with a negative number; between two
// classes a visibility keeps its place, and beyond the last ones it stays.
func hazier(w Weather, classes int) Weather {
	list := sun.Hazes
	n := len(list) - 1
	at := 0.0 // place in the list, clearest first
	for i := range n {
		a, b := list[i].VisibilityKm, list[i+1].VisibilityKm
		if w.VisibilityKm < a {
			at = float64(i) + min(1, math.Log(a/w.VisibilityKm)/math.Log(a/b))
		}
	}
	to := min(max(at+float64(classes), 0), float64(n))
	i := min(int(to), n-1)
	a, b := list[i].VisibilityKm, list[i+1].VisibilityKm
	w.VisibilityKm = a * math.Pow(b/a, to-float64(i))
	return w
}

func cloudier(w Weather, byPct float64) Weather {
	w.CloudPct = min(100, max(0, w.CloudPct+byPct))
	return w
}

// key gives the moments at which the study's stations stand, on the first take.
func (y *study) key() []Moment {
	var path []Moment
	for _, l := range y.legs {
		for _, st := range l.stations {
			if st.take == 0 {
				path = append(path, y.path[st.moment])
			}
		}
	}
	return path
}

// off makes a study of the stations alone, with the headings or the clock off.
func (y *study) off(headingOff float64, late time.Duration) *study {
	path := y.key()
	for i := range path {
		path[i] = path[i].later(y.s, late)
		path[i].HeadingDeg = angle.Wrap360(path[i].HeadingDeg + headingOff)
	}
	return newStudy(y.s, path, everyMoment, y.lenses)
}

// under makes a study of the stations alone in another weather and, unless k is 0, another aerosol.
func (y *study) under(w Weather, k float64) *study {
	s := *y.s
	s.Light, s.aerosolK = w, k
	shared := *y.lenses
	shared.mirrors = map[mirrorKey]*water.Table{} // they hold another sky
	return newStudy(&s, y.key(), everyMoment, &shared)
}
