package sheet

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/strip"
	"example.org/skywedge/plan/trip"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/plan/words"
)

// Shot is one card on the sheet.
type Shot struct {
	Name      string
	Where     []string // date, place, camera, sun
	Times     []Row
	Sure      string
	Why       []string
	Conflicts []string // with the other shots of the day, and with the light
	Flights   []Flight
	Magnetic  string // what the magnetic headings are made with, or why there are none
	Strips    []Strip
	Steady    []string // what stays the same over the flight
	Cautions  []string
	Notes     string // the card's own
}

// Flight is what stays the same from take-off to landing.
type Flight struct {
	Change string // what the landing before it is for; "" for the first
	Mount  string // what goes on the lens, and where its mark stands
	Ring   *Ring  // nil without one to set
	Bare   *Picture
	Seen   *Picture // through the filter; nil where there is none
	Legs   []Leg
	Ladder []string
}

// Ring is where its two equal marks stand, degrees clockwise from 12 o'clock, facing the lens.
type Ring struct {
	First, Second float64
	Words         []string
	Front         string // of a variable: where its front sheet goes
}

// Leg is one leg: what is flown, what is locked for it and what is seen then.
type Leg struct {
	Number   int
	Start    string
	Move     string
	How      string // height, seconds, takes
	True     string // headings, degrees from true north
	Magnetic string // "" where the declination is not known
	Lock     string
	Meter    string
	Expect   []string
	LookOut  []string
}

// Strip is a measure over the flight.
type Strip struct {
	Name, Words string
	Zero        float64   // where nothing lies, 0 at the foot to 1 at the top
	Points      []float64 // from 0 at the foot to 1 at the top, evenly over the flight; NaN where it is not known
	Cuts        []float64 // where a leg begins, from 0 to 1, but for the first
}

// stripPoints is how often a strip is read over the flight (ours): more than a narrow screen or a printer shows.
const stripPoints = 96

func shotOf(c *trip.Card, stop *trip.Stop) (Shot, error) {
	r := c.Report
	s := Shot{
		Name: c.Shot.Name, Where: whereOf(r), Times: timesOf(c, stop), Sure: r.Call.SureWords(), Conflicts: conflictsOf(stop),
		Magnetic: magneticWords(r.Shot), Cautions: r.Call.Cautions, Notes: c.Shot.Notes,
	}
	for _, x := range advice.Strongest(&r.Call) {
		s.Why = append(s.Why, x.Text)
	}
	w := walk.Of(r)
	for i := range w {
		f := &r.Flights[i]
		flight := Flight{Change: f.Change, Mount: advice.Mount(&f.Set), Ring: ringOf(&f.Set, r.Bag), Ladder: f.Set.Ladder}
		for k := range w[i].Legs {
			flight.Legs = append(flight.Legs, legOf(r, &w[i].Legs[k]))
		}
		if i < mostPairs {
			var err error
			if flight.Bare, flight.Seen, err = picturesOf(r, f, min(len(w), mostPairs)); err != nil {
				return s, err
			}
		}
		s.Flights = append(s.Flights, flight)
	}
	s.strips(r)
	return s, nil
}

func whereOf(r *plan.Report) []string {
	s := r.Shot
	list := []string{s.Local(s.TakeOff).Format("Mon 2 Jan 2006"), fmt.Sprintf("%.4f, %.4f", s.LatDeg, s.LonDeg), s.Camera.Name}
	if len(r.Path) > 0 {
		p := r.Path[0].Sun[0]
		list = append(list, words.Minus(fmt.Sprintf("sun %.0f° at %.0f° (%s)%s on the first take", math.Round(p.AltitudeDeg)+0, p.AzimuthDeg, shot.Compass(p.AzimuthDeg), s.BehindWords(p))))
	}
	return list
}

func timesOf(c *trip.Card, stop *trip.Stop) []Row {
	r, s := c.Report, c.Shot
	list := []Row{{"Take-off", s.OnTheClock(s.TakeOff)}}
	add := func(name, value string) {
		if value != "" {
			list = append(list, Row{name, value})
		}
	}
	if t, ok := advice.LatestStart(r); ok {
		text := s.OnTheClock(t)
		if t.Before(s.TakeOff) {
			text += ", before the planned one"
		}
		add("Latest take-off", text)
	}
	for i := range r.Flights {
		name := "Turn for home by"
		if i > 0 {
			name = fmt.Sprintf("Turn for home by, flight %d", i+1)
		}
		add(name, strings.TrimPrefix(first(r.Flights[i].Set.Ladder, homeBy), homeBy))
	}
	add("Landing", s.OnTheClock(stop.Landing))
	add("Clean light", advice.CleanUntil(r))
	batteries := "not known"
	if stop.Batteries > 0 {
		batteries = fmt.Sprint(stop.Batteries)
	}
	add("Batteries", batteries)
	add("Window", strings.Replace(c.WindowWords(), "no window:", "none:", 1))
	return list
}

// homeBy begins the line of a ladder that says when to turn for home.
const homeBy = "turn for home by "

func first(list []string, prefix string) string {
	for _, l := range list {
		if strings.HasPrefix(l, prefix) {
			return l
		}
	}
	return ""
}

func magneticWords(s *shot.Shot) string {
	if s.DeclinationDeg == nil {
		return "No magnetic headings: the card has no declination_deg."
	}
	side, d := "east", *s.DeclinationDeg
	if d < 0 {
		side = "west"
	}
	return fmt.Sprintf("Magnetic headings with a declination of %.1f° %s, as the card has it.", math.Abs(d), side)
}

func ringOf(c *plan.Call, bag *kit.Bag) *Ring {
	if !c.HasRing {
		return nil
	}
	g := &Ring{Words: advice.Beside(c, bag), Front: advice.Front(c, bag)}
	g.First, g.Second = kit.ClockDeg(c.RingDeg)
	return g
}

func legOf(r *plan.Report, w *walk.WalkLeg) Leg {
	l := &r.Legs[w.Leg]
	leg := Leg{
		Number: w.Leg + 1, Start: r.Shot.OnTheClock(w.Start), Move: w.Name, How: w.How, True: w.True, Magnetic: w.Magnetic,
		Lock: advice.Lock(l), Meter: words.Signed(l.MeterStops), Expect: w.Expect, LookOut: w.LookOut,
	}
	if w.Short != "" {
		leg.LookOut = append([]string{w.Short}, leg.LookOut...)
		if !advice.ShortOfOther(l) {
			leg.Lock, leg.Meter = "", ""
		}
	}
	if _, why, ok := strings.Cut(w.Meter, ": "); ok && leg.Meter != "" {
		leg.Meter += ", " + why
	}
	if w.Drift != "" {
		leg.Expect = append([]string{w.Drift}, leg.Expect...)
	}
	return leg
}

// strips reads the measures that change over the flight, and says the others.
func (s *Shot) strips(r *plan.Report) {
	if len(r.Path) == 0 || len(r.Measures) < len(r.Path) {
		return
	}
	length := r.Path[len(r.Path)-1].FlightS
	var cuts []float64
	for i := 1; i < len(r.Legs) && length > 0; i++ {
		cuts = append(cuts, r.Legs[i].FromS/length)
	}
	for i := range strip.All[:strip.Usual] {
		st := &strip.All[i]
		lo, hi, ok := st.Ends(r)
		switch {
		case !ok:
			s.Steady = append(s.Steady, st.Name+": "+st.None)
			continue
		case st.Steady(r):
			s.Steady = append(s.Steady, st.Name+" "+st.Span(lo, hi)+" "+st.Unit)
			continue
		}
		foot, top := st.Scale(lo, hi)
		x := Strip{Name: st.Name, Words: st.Span(lo, hi) + " " + st.Unit + ", scale " + st.ScaleWords(foot, top, false), Zero: -foot / (top - foot), Cuts: cuts}
		for k := range stripPoints {
			v := st.At(r, r.IndexAt(length*float64(k)/(stripPoints-1)))
			if math.IsInf(v, 0) {
				v = math.NaN()
			}
			x.Points = append(x.Points, max(0, min(1, (v-foot)/(top-foot))))
		}
		s.Strips = append(s.Strips, x)
	}
}
