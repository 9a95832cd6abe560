package plan

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/runs"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// leastChange is the gain in stops for which a pilot lands to change a filter or a ring at all,
// however little a landing weighs in the settings; leastShown is what some leg must gain by it (ours).
const (
	leastChange = 0.5
	leastShown  = 0.3
)

// unusable keeps a leg that cannot be exposed out of every sum in which another can; in stops.
const unusable = 1000.0

// plannedFlight is a run of legs that one filter at one ring flies: the analysis of these legs alone, and the
// choice among the filters for them.
type plannedFlight struct {
	*analysis
	c          *ranking
	near       *analysis   // the same legs, measured closely
	evaluation *evaluation // the choice, in the near analysis
	gain       float64     // stops a leg, against the one filter for all legs
	change     string      // what the landing before it is for; "" for the first
}

// legRange returns the analysis of the legs numbered from up to but not including to. It shares their samples;
// the exposures, which are kept in the order of the legs, are its own.
func (y *analysis) legRange(from, to int) *analysis {
	z := *y
	z.legs = y.legs[from:to:to]
	z.exposures, z.other = map[exposureKey][]*legExposure{}, nil
	return &z
}

// legCost returns what is wrong with a candidate on one leg, in stops: its penalties less its gains, and the
// stops that no setting of the camera makes up. A leg that cannot be exposed is unusable besides.
func (j *evaluation) legCost(i int) (stops float64, usable bool) {
	g := &j.legs[i]
	for _, x := range g.penalty {
		stops += x
	}
	return stops + math.Abs(g.exposure.short), g.exposure.feasible()
}

// weighed is the same as a single number.
func weighed(stops float64, usable bool) float64 {
	if usable {
		return stops
	}
	return stops + unusable
}

// totalCost is the same over all legs.
func (j *evaluation) totalCost() float64 {
	var sum float64
	for i := range j.legs {
		sum += weighed(j.legCost(i))
	}
	return sum
}

// changeCost is what a landing counts.
func (c *ranking) changeCost() float64 { return max(leastChange, c.weights.Landing) }

// prefixCosts returns the prefix sums of what the card's wishes leave to choose from.
func (c *ranking) prefixCosts(legs int) [][]float64 {
	list := make([][]float64, 0, len(c.pool))
	all := make([]float64, len(c.pool)*(legs+1))
	for _, j := range c.pool {
		var sums []float64
		sums, all = all[:legs+1], all[legs+1:]
		for i := range legs {
			sums[i+1] = sums[i] + weighed(j.legCost(i))
		}
		list = append(list, sums)
	}
	return list
}

// flights divides the card into flights with a landing between each two, where that is worth it. It returns
// the whole card as one flight unless the landings gain more than they cost. Each flight is judged in the light
// at which it is flown: after a landing that is later than the card says, by the time to change the filter and
// the way out and home.
func (y *analysis) flights(c *ranking, bag *kit.Bag) []plannedFlight {
	whole := []plannedFlight{{analysis: y, c: c}}
	if len(y.legs) < 2 {
		return whole
	}
	ends := runs.Split(c.prefixCosts(len(y.legs)), c.changeCost())
	if len(ends) < 2 {
		return whole
	}
	late := make([]time.Duration, len(y.legs))
	per := shot.Seconds(y.s.Settings.LandingChangeS + y.s.TransitS)
	k := 0
	for i := range late {
		if i == ends[k] {
			k++
		}
		late[i] = time.Duration(k) * per
	}
	z := y.delayed(late)
	var parts []plannedFlight
	var before, after, most float64
	from := 0
	for n, to := range ends {
		p := plannedFlight{analysis: z.legRange(from, to)}
		p.c = p.choose(bag)
		var one, own float64
		for i := from; i < to; i++ {
			a, aOK := c.least.legCost(i)
			b, bOK := p.c.best.legCost(i - from)
			one, own = one+a, own+b
			if most = max(most, a-b); bOK && !aOK {
				most = unusable
			}
			before, after = before+weighed(a, aOK), after+weighed(b, bOK)
		}
		p.gain = (one - own) / float64(to-from)
		if n > 0 {
			last := parts[n-1].c.best
			p.change = "change to " + p.c.best.Title() + p.ringWords(p.c.best)
			if p.c.best.Filter == nil {
				p.change = "take the filter off"
			}
			if last.Name() == p.c.best.Name() && last.Setting == p.c.best.Setting {
				p.change = "turn the ring to " + kit.Clock(p.c.best.Ring)
			}
			if last.Way == p.c.best.Way {
				return whole // nothing left to land for
			}
		}
		parts = append(parts, p)
		from = to
	}
	// In the light of the later starts, and with the simpler filter preferred among equals, the landings
	// must still be worth while; and some leg must show it, not all of them be better by what nobody sees.
	if before-after <= c.changeCost()*float64(len(parts)-1) || most < leastShown {
		return whole
	}
	return parts
}

// delayed returns the analysis of a flight whose legs start later, each by its own time.
func (y *analysis) delayed(late []time.Duration) *analysis {
	path := make([]shot.Moment, len(y.path))
	for i, m := range y.path {
		path[i] = m.Later(y.s, late[m.Leg])
	}
	return newAnalysisKnowing(y.s, path, turnKeys(roughTurnDeg, roughMost), y.shared, nil, y.memory)
}

// flight returns the part as the report has it.
func (p *plannedFlight) flight() Flight {
	j := p.evaluation
	f := Flight{
		Filter: j.Name(), SettingStops: j.Setting, RingDeg: j.Ring, HasRing: p.near.ringToSet(j), AsDensity: j.asDensity(),
		GainStops: p.gain, Change: p.change,
	}
	for _, l := range p.legs {
		f.Legs = append(f.Legs, l.n)
	}
	return f
}

// legRun names a run of legs: "leg 3", "legs 1 and 2", "legs 2 to 5".
func legRun(legs []*legAnalysis) string {
	a, b := legs[0].n+1, legs[len(legs)-1].n+1
	switch b - a {
	case 0:
		return fmt.Sprintf("leg %d", a)
	case 1:
		return fmt.Sprintf("legs %d and %d", a, b)
	}
	return fmt.Sprintf("legs %d to %d", a, b)
}

// withoutLanding says what the best single filter lacks.
func withoutLanding(parts []plannedFlight, y *analysis, whole *ranking) string {
	if !whole.best.feasible() {
		return y.cannot(whole.best)
	}
	return "the best without a landing: " + words.AboutStops(gained(parts)) + " worse over all legs"
}

// gained returns what landings gain over all legs, in stops.
func gained(parts []plannedFlight) float64 {
	var gain float64
	for i := range parts {
		gain += parts[i].gain * float64(len(parts[i].legs))
	}
	return gain
}

// splitReasons says why the card is flown in several flights.
func splitReasons(parts []plannedFlight, y *analysis, whole *ranking) []Reason {
	if len(parts) < 2 {
		return nil
	}
	var runs []string
	for i := range parts {
		p := &parts[i]
		text := legRun(p.legs) + " with " + p.c.best.Title() + p.ringWords(p.c.best)
		if p.c.best.Filter == nil {
			text = legRun(p.legs) + " bare"
		}
		if i > 0 {
			text = "then land and fly " + text
		}
		runs = append(runs, text)
	}
	list := []Reason{{Sign: 1, Text: "fly " + strings.Join(runs, "; ")}}
	one := whole.best
	if !one.feasible() {
		return append(list, Reason{Sign: 1, Text: "no one filter serves every leg: the best, " + one.Title() + ", " + y.cannot(one)})
	}
	landings := "the landing gains"
	if len(parts) > 2 {
		landings = fmt.Sprintf("the %d landings gain", len(parts)-1)
	}
	gain := gained(parts)
	return append(list, Reason{Sign: 1, Stops: max(0, gain),
		Text: fmt.Sprintf("%s %s in all over %s%s for every leg", landings, words.AboutStops(gain), one.Title(), y.ringWords(one))})
}
