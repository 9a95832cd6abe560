package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/words"
)

// Sureness is what small errors of hand, label, guess and clock would change in a call.
type Sureness struct {
	Confidence  string // holds | close | depends
	Why         string
	Runs        []SureRun // one a change
	Same, Tried int       // in how many of the changes the call's filter still wins
	Legs        []SureLeg // the band of each leg's numbers over all changes
	ShutterS    Range     // of the leg that decides, at its start
	ISO         Range
	RunOutMin   Range    // minutes from the planned take-off until the light runs out; not OK where it never does
	Words       []string // the bands, in the pilot's units

	// The plan's minutes of light left, worked out closely, and by how much the changes' are off because they are not.
	planned, closely float64
}

// SureRun is one change that was tried.
type SureRun struct {
	What   string
	Filter string  // that wins then; of several flights on the first where it differs
	Same   bool    // the call's filter wins, or is beaten by less than is worth a word
	Lead   float64 // stops by which the call leads the best other filter; negative when beaten
}

// SureLeg is how far a leg's numbers move, all changes together. Ranges are not OK where nothing is
// measured.
type SureLeg struct {
	Effect     Range // stops, mean over the leg
	Unevenness Range // stops, at its worst moment
	GlareCut   Range
	ISO        Range // exact, over the leg's light
	Shutter    Range
}

// Sureness recomputes the flight with the heading, the ring, the filter's density, the haze, the
// aerosol, the cloud and the start a little off, and says how often the same filter still wins and
// how far the numbers move. Every filter stands as it would have been mounted by the plan. It costs
// some three times a [Solve] without it, reads the report only and may run beside anything else.
func (r *Report) Sureness() Sureness {
	var out Sureness
	if len(r.Shot.Legs) == 0 || len(r.Path) == 0 || len(r.Flights) == 0 {
		out.Confidence, out.Why = r.Call.Confidence, r.Call.ConfidenceWhy
		return out
	}
	mem := memories.Get().(*memory)
	y := newAnalysisKnowing(r.Shot, r.Path, turnKeys(roughTurnDeg, roughMost), newShared(r.Path[0].AboveM), nil, mem)
	var parts []plannedFlight
	for _, f := range r.Flights {
		p := plannedFlight{analysis: y.legRange(f.Legs[0], f.Legs[len(f.Legs)-1]+1)}
		p.c = p.choose(r.Bag)
		for _, j := range p.c.pool {
			if j.Name() == f.Filter && j.Setting == f.SettingStops && (!j.Polarises() || j.Ring == f.RingDeg) {
				p.c.best = j
			}
		}
		parts = append(parts, p)
	}
	out.Legs = make([]SureLeg, len(y.legs))
	out.planned = r.Flights[0].LightLeftMin
	first := parts[0].deciding(parts[0].c.best)
	out.add(parts, &likelyError{study: y}, first)
	list := y.changes(parts)
	found := make([]Sureness, len(list)) // of each change alone
	y.sideBySide(list, func(i int) { found[i] = out.under(parts, &list[i], first) })
	for i := range found {
		out.take(&found[i])
	}
	out.decide(parts)
	out.say(r, parts)
	mem.done()
	return out
}

// under tries one change.
func (s *Sureness) under(parts []plannedFlight, t *likelyError, deciding int) Sureness {
	one := Sureness{Legs: make([]SureLeg, len(s.Legs)), Tried: 1, planned: s.planned, closely: s.closely}
	run := SureRun{What: t.what, Same: true, Lead: math.Inf(1)}
	for i := range parts {
		winner, lead := parts[i].stands(t)
		run.Lead = min(run.Lead, lead)
		if lead < -words.ReasonStops && run.Same {
			run.Same, run.Filter = false, winner.Title()
		}
	}
	if run.Same {
		run.Filter = parts[0].c.best.Title()
		one.Same = 1
	}
	if math.IsInf(run.Lead, 1) {
		run.Lead = unusable // there is nothing else to choose
	}
	one.Runs = []SureRun{run}
	one.add(parts, t, deciding)
	if t.make != nil {
		t.study.memory.done()
	}
	t.study, t.parts = nil, nil
	return one
}

// take adds what another change showed.
func (s *Sureness) take(o *Sureness) {
	s.Runs = append(s.Runs, o.Runs...)
	s.Same += o.Same
	s.Tried += o.Tried
	s.ShutterS.join(o.ShutterS)
	s.ISO.join(o.ISO)
	s.RunOutMin.join(o.RunOutMin)
	for i := range s.Legs {
		a, b := &s.Legs[i], &o.Legs[i]
		a.Effect.join(b.Effect)
		a.Unevenness.join(b.Unevenness)
		a.GlareCut.join(b.GlareCut)
		a.ISO.join(b.ISO)
		a.Shutter.join(b.Shutter)
	}
}

// WithSureness returns the report with what [Report.Sureness] found in the place of what the scores alone
// say.
func (r *Report) WithSureness(s Sureness) *Report {
	n := *r
	n.Sure = &s
	n.Call.Confidence, n.Call.ConfidenceWhy = s.Confidence, s.Why
	return &n
}

// mount is how a candidate stands under the change.
func (t *likelyError) mount(j *evaluation) mounting.Way {
	m := j.Way
	if m.Polarises() {
		m.Ring = angle.Axis180(m.Ring + t.ringOff)
	}
	return m
}

// evaluate judges a candidate under the change.
func (t *likelyError) evaluate(p *plannedFlight, j *evaluation) *evaluation {
	return t.analysisUnder(p).evaluate(t.mount(j), &p.c.weights, t.lossOff)
}

// prepare works out on several cores what the candidates need to be judged.
func (t *likelyError) prepare(p *plannedFlight) {
	var list []mounting.Way
	for _, j := range p.c.ranked {
		list = append(list, t.mount(j))
	}
	t.analysisUnder(p).prepareMeters(list)
}

// analysisUnder returns a flight's analysis under the change, the same one each time.
func (t *likelyError) analysisUnder(p *plannedFlight) *analysis {
	from := p.legs[0].n
	z := t.parts[from]
	if z == nil {
		if t.parts == nil {
			t.parts = map[int]*analysis{}
		}
		if t.study == nil {
			t.study = t.make()
		}
		z = t.study.legRange(from, from+len(p.legs))
		t.parts[from] = z
	}
	return z
}

// stands returns the best other filter under a change and by how much the call leads it, in stops; the
// lead is +Inf when there is no other.
func (p *plannedFlight) stands(t *likelyError) (best *evaluation, lead float64) {
	t.prepare(p)
	a := t.evaluate(p, p.c.best)
	var others []*evaluation
	for _, j := range p.c.ranked {
		if j.Name() != p.c.best.Name() {
			others = append(others, t.evaluate(p, j))
		}
	}
	if len(others) == 0 {
		return a, math.Inf(1)
	}
	slices.SortStableFunc(others, order)
	lead = leads(a, others[0])
	plainestFirst(others) // it is what would be called then
	return others[0], lead
}

// leads returns by how many stops a candidate is better than another. One that cannot be exposed is
// behind by what it lacks.
func leads(a, b *evaluation) float64 {
	lead := b.score - a.score
	switch {
	case a.feasible() && !b.feasible():
		return max(lead, 4*words.CloseStops)
	case b.feasible() && !a.feasible():
		return min(lead, -4*words.CloseStops)
	case !a.feasible():
		return b.beyond + b.bright - a.beyond - a.bright
	}
	return lead
}

// add widens the bands by the call under a change; deciding is the first flight's leg that decides in the
// plan.
func (s *Sureness) add(parts []plannedFlight, t *likelyError, deciding int) {
	for n := range parts {
		p := &parts[n]
		j := t.evaluate(p, p.c.best)
		z := t.analysisUnder(p)
		for i, l := range z.legs {
			if l.from >= l.to {
				continue
			}
			b, g := &s.Legs[l.n], &j.legs[i]
			if g.optics.sky {
				b.Effect.add(g.optics.effect)
				b.Unevenness.add(g.optics.worst)
			}
			if g.optics.glares.OK {
				b.GlareCut.add(g.optics.glare)
			}
			b.ISO.add(g.exposure.set.ISO)
			b.Shutter.add(g.exposure.set.ShutterS)
		}
		if n > 0 {
			continue
		}
		l := z.legs[deciding]
		x := j.legs[deciding].exposure
		shutter, iso := l.Marked(&z.s.Camera, x.set, x.meter.set, j.nNumber, p.c.best.Loss()+t.off(p))
		s.ShutterS.add(shutter)
		s.ISO.add(iso)
		out := z.lightLeft(j)
		if t.what == "" && out > 0 && !math.IsInf(s.planned-out, 0) {
			s.closely = s.planned - out
		}
		if !t.clock && !math.IsInf(out, 1) {
			if out > 0 {
				out = max(0, out+s.closely)
			}
			s.RunOutMin.add(out)
		}
	}
}

// off returns what the change makes of the filter's own loss, none for a lens without glass.
func (t *likelyError) off(p *plannedFlight) float64 {
	if p.c.best.Loss() <= 0 {
		return 0
	}
	return t.lossOff
}

// turnedNamed is how many changes that turn a call are named; more of them say no more.
const turnedNamed = 3

// decide says how sure the call is.
func (s *Sureness) decide(parts []plannedFlight) {
	for i := range parts {
		p := &parts[i]
		base := p.c.best
		if !base.feasible() {
			s.Confidence, s.Why = "depends", p.lightMissing(base)
			return
		}
		if !anyFilter(p.s) {
			s.Confidence, s.Why = p.wishedSureness(p.c, base)
			return
		}
	}
	var turned, rivals []string
	near, heavy := "", ""
	for _, run := range s.Runs {
		switch {
		case run.Lead < -words.CloseStops:
			turned = append(turned, run.What+" (then "+run.Filter+")")
		case !run.Same:
			if !slices.Contains(rivals, run.Filter) {
				rivals = append(rivals, run.Filter)
			}
		}
	}
	for i := range parts {
		if j := s.near(&parts[i]); j != nil && near == "" {
			near = j.Title()
		}
		if heavy == "" {
			heavy = parts[i].heavyPair(parts[i].c.best)
		}
	}
	if n := len(turned) - turnedNamed; n > 0 {
		turned = append(turned[:turnedNamed], fmt.Sprintf("and %d more", n))
	}
	switch {
	case heavy != "" && len(turned) > 0:
		s.Confidence, s.Why = "depends", heavy+"; and on "+strings.Join(turned, ", ")
	case heavy != "":
		s.Confidence, s.Why = "depends", heavy
	case len(turned) > 0:
		s.Confidence, s.Why = "depends", "on "+strings.Join(turned, ", ")
	case near != "":
		s.Confidence, s.Why = "close", "toss-up with "+near
	case len(rivals) > 0:
		s.Confidence, s.Why = "close", "toss-up with "+strings.Join(rivals, " and ")
	default:
		s.Confidence, s.Why = "holds", "no likely error changes that"
	}
}

// near returns the best other filter where it does nearly as well as the call and is a choice at all: one
// that is not as simple must be better in some change by what is worth a word.
func (s *Sureness) near(p *plannedFlight) *evaluation {
	for _, j := range p.c.ranked {
		if j.Name() == p.c.best.Name() || !j.feasible() {
			continue
		}
		if j.score-p.c.best.score >= words.CloseStops {
			return nil
		}
		if j.Plainness() <= p.c.best.Plainness() || j.score < p.c.best.score-words.ReasonStops || s.everBeaten(j.Title()) {
			return j
		}
	}
	return nil
}

func (s *Sureness) everBeaten(by string) bool {
	return slices.ContainsFunc(s.Runs, func(r SureRun) bool { return !r.Same && r.Filter == by })
}
