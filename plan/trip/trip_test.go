package trip

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
)

// many invents a trip of so many cards over some days, out of the first legs of the demo's flights.
func many(t testing.TB, n int, legs int) []Card {
	t.Helper()
	base := demo(t)
	r := rand.New(rand.NewPCG(11, 12))
	var list []Card
	for i := range n {
		c := base[i%len(base)]
		s := *c.Shot
		s.Legs = s.Legs[:min(legs, len(s.Legs))]
		s.Name = fmt.Sprintf("shot %d", i+1)
		s.LatDeg, s.LonDeg = 43.3+0.1*r.Float64(), -8.5+0.1*r.Float64()
		at := s.TakeOff.AddDate(0, 0, i/len(base)%30).Add(time.Duration(r.IntN(80)-40) * time.Minute)
		moved, err := s.At(at)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, Card{File: fmt.Sprintf("%03d.yaml", i+1), Shot: moved, Bag: c.Bag})
	}
	return list
}

func TestTripOfManyCards(t *testing.T) {
	t.Parallel()
	cards := many(t, 200, 1)
	at := Of(cards) // names, times and ways at once
	if n := stops(at); n != 200 || at.Packing.Used != nil {
		t.Fatalf("%d stops before anything is worked out", n)
	}
	var last int
	done, err := WorkAll(t.Context(), cards, 2, func(d, total int) { last = d; _ = total })
	if err != nil || last != 200 {
		t.Fatalf("%v, told of %d", err, last)
	}
	p := Of(done)
	orders, better := 0, 0
	for _, d := range p.Days {
		if !d.Exact {
			t.Errorf("%v: %d shots are not ordered exactly", d.Date, len(d.Stops))
		}
		if d.Proposed.compare(d.Written) > 0 {
			t.Errorf("%v: the order proposed costs %+v, as written %+v", d.Date, d.Proposed, d.Written)
		}
		for n, m := range d.Order {
			c := &p.Cards[m.Card]
			if c.Window == nil && !m.TakeOff.Equal(c.Shot.TakeOff) || c.Window != nil && !c.Window.Holds(m.TakeOff) {
				t.Errorf("%s is moved to %v, its window is %v", c.File, m.TakeOff, c.Window)
			}
			if n > 0 {
				b := d.Order[n-1]
				if ready := b.TakeOff.Add(p.Cards[b.Card].length() + m.whole()); m.TakeOff.Before(ready) {
					t.Errorf("%s takes off at %v, ready at %v", c.File, m.TakeOff, ready)
				}
			}
			orders++
		}
		if d.Proposed.compare(d.Written) < 0 {
			better++
		}
	}
	if orders == 0 || better == 0 {
		t.Errorf("%d shots ordered, %d days bettered", orders, better)
	}
	// What is worked out is not worked out again, and half as many workers come to the same.
	one, err := WorkAll(t.Context(), append(slices.Clone(done[:190]), cards[190:]...), 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range done {
		if i < 190 && one[i].Worked != done[i].Worked {
			t.Fatalf("%s was worked out again", one[i].File)
		}
		if a, b := one[i].Window, done[i].Window; (a == nil) != (b == nil) || a != nil && *a != *b {
			t.Errorf("%s: window %v with one worker, %v with two", one[i].File, a, b)
		}
	}
}

func stops(p *Plan) (n int) {
	for _, d := range p.Days {
		n += len(d.Stops)
	}
	return n
}

func TestWorkIsCancelled(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithCancel(t.Context())
	told := 0
	out, err := WorkAll(ctx, many(t, 40, 1), 2, func(int, int) {
		if told++; told == 3 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("error %v", err)
	}
	n := 0
	for i := range out {
		if out[i].Worked != nil {
			n++
		}
	}
	if n < 3 || n > 30 {
		t.Errorf("%d of 40 were worked out", n)
	}
}

func TestSureAll(t *testing.T) {
	t.Parallel()
	cards := worked(t, demo(t)[:2])
	out, err := SureAll(t.Context(), cards, 2, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range out {
		want := cards[i].Report.WithSureness(cards[i].Report.Sureness()).Call
		if got := out[i].Report; got.Sure == nil || got.Call.Confidence != want.Confidence || cards[i].Report.Sure != nil {
			t.Errorf("%s: %s, want %s", out[i].File, got.Call.Confidence, want.Confidence)
		}
		if out[i].Window != cards[i].Window {
			t.Errorf("%s: another window", out[i].File)
		}
	}
}

// moving returns a card of the trip as another, at another time and place.
func moving(t testing.TB, c Card, file string, at time.Time, latOff float64) Card {
	t.Helper()
	s, err := c.Shot.At(at)
	if err != nil {
		t.Fatal(err)
	}
	z := *s
	z.Name, z.LatDeg = file, z.LatDeg+latOff
	return Card{File: file, Shot: &z, Bag: c.Bag}
}

// with returns a card that wants a filter.
func with(c Card, filter string) Card {
	s := *c.Shot
	s.Filter = filter
	c.Shot = &s
	return c
}

func TestConflicts(t *testing.T) {
	t.Parallel()
	c := demo(t)[0] // the breakwater: its window goes from 18:21 to 20:21
	at := func(clock string) time.Time {
		x, err := time.ParseInLocation("2006-01-02 15:04", "2026-09-18 "+clock, c.Shot.Zone)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	conflicts := func(cards ...Card) (text []string) {
		for _, s := range Of(worked(t, cards)).Days[0].Stops {
			for _, x := range s.Conflicts {
				text = append(text, x.String())
			}
		}
		return text
	}
	for _, k := range []struct {
		name  string
		cards []Card
		want  []string // of each conflict a part
	}{
		{"none", []Card{moving(t, c, "A", at("19:00"), 0), moving(t, c, "B", at("19:30"), 0)}, nil},
		{"two at once", []Card{moving(t, c, "A", at("19:30"), 0), moving(t, c, "B", at("19:38"), 0)}, []string{"two at once: A lands at 19:4"}},
		// A tenth of a degree is 11.1 km, 14.5 km by road: 22 minutes at 40 km/h.
		{"travel, earlier mends it", []Card{moving(t, c, "A", at("19:30"), 0), moving(t, c, "B", at("20:00"), 0.1)},
			[]string{"take-off 20:00 (14 km, 22 min): 6 min earlier on A mends it"}},
		{"out of the window", []Card{with(moving(t, c, "A", at("20:30"), 0), "ND16")}, []string{"the exposure holds with ND16 from 18:2"}},
		{"two at once, and no room", []Card{with(moving(t, c, "A", at("18:40"), 0), "ND16"), with(moving(t, c, "B", at("18:42"), 1), "ND16")},
			[]string{"two at once: A lands at 18:53, take-off 18:42: no order reaches it", "the exposure holds with ND16 until 20:21 only: no order reaches it"}},
	} {
		got := conflicts(k.cards...)
		if len(got) != len(k.want) {
			t.Errorf("%s: %q, want %q", k.name, got, k.want)
			continue
		}
		for i := range got {
			if !strings.Contains(got[i], k.want[i]) {
				t.Errorf("%s: %q, want %q", k.name, got[i], k.want[i])
			}
		}
	}
}

// What is said to be missing is called for when the bag has it, and nothing is missing that the bag has.
func TestMissingWouldServe(t *testing.T) {
	t.Parallel()
	cards := demo(t)
	for i := range cards {
		bag := *cards[i].Bag
		bag.Filters = slices.DeleteFunc(slices.Clone(bag.Filters), func(f kit.Filter) bool { return f.Kind != kit.Polariser })
		s := *cards[i].Shot
		s.Filter = "auto"
		cards[i].Shot, cards[i].Bag = &s, &bag
	}
	p := Of(worked(t, cards))
	if len(p.Packing.Missing) == 0 {
		t.Fatal("a bag without a density misses none")
	}
	served := 0
	for _, m := range p.Packing.Missing {
		if m.Kind != kit.Density {
			t.Errorf("missing %v", m)
		}
		for _, file := range m.WouldServe {
			i := slices.IndexFunc(cards, func(c Card) bool { return c.File == file })
			bag := *cards[i].Bag
			bag.Filters = append(slices.Clone(bag.Filters), kit.Filter{Name: "new", Kind: kit.Density, Stops: m.Stops})
			r := plan.Solve(cards[i].Shot, &bag, plan.Options{SkipSureness: true})
			if !slices.ContainsFunc(r.Flights, func(f plan.Flight) bool { return f.Filter == "new" }) {
				t.Errorf("%s with a density of %g stops flies %s", file, m.Stops, r.Call.Filter)
			}
			served++
			with := cards[i]
			with.Bag = &bag
			if again := Of(worked(t, []Card{with})).Packing.Missing; len(again) != 0 {
				t.Errorf("%s has it and still misses %v", file, again)
			}
		}
	}
	if served < 2 {
		t.Errorf("only %d shots are served", served)
	}
}

// A density of whole stops is missing that lies in what would hold the shot, from the lightest to the heaviest there are.
func TestMissingStops(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ least, most, want float64 }{
		{.6, 1.3, 1}, {3.4, 5.2, 4}, {9.6, 10.4, 10}, {3.2, 3.8, 0}, {10.2, 10.9, 0}, {5, 4, 0}, {-1, 2, 0}, {2, math.Inf(1), 0},
	} {
		dark := &plan.Report{Candidates: []plan.Candidate{{Filter: "none"}}}
		got := missing([]Card{{File: "a.yaml", Shot: &shot.Shot{Filter: "auto"}, Bag: new(kit.Bag), Worked: &Worked{Report: dark, Least: c.least, Most: c.most}}})
		stops := 0.0
		for _, m := range got {
			stops += m.Stops
		}
		if stops != c.want {
			t.Errorf("%g to %g stops would hold it: %v is missing, want %g", c.least, c.most, got, c.want)
		}
	}
}

func TestPacking(t *testing.T) {
	t.Parallel()
	p := Of(worked(t, demo(t)))
	all := slices.Concat(p.Packing.Used, p.Packing.Spare, p.Packing.Leave)
	slices.Sort(all)
	if n := len(demo(t)[0].Bag.Filters); len(all) != n || len(slices.Compact(all)) != n {
		t.Errorf("%v of %d filters", all, n)
	}
	for i := range p.Cards {
		for _, f := range p.Cards[i].filters() {
			if f != "none" && !slices.Contains(p.Packing.Used, f) {
				t.Errorf("%s flies %s, which is not packed", p.Cards[i].File, f)
			}
		}
	}
	// The cold takes batteries: at −10 °C a fifth of the endurance.
	cold := demo(t)[:1]
	s := *cold[0].Shot
	s.Takes, s.Light.AirC = 9, -10
	cold[0].Shot = &s
	if n := Of(worked(t, cold)).Packing.Batteries; n < 2 {
		t.Errorf("%d batteries in the cold", n)
	}
	s.Camera.EnduranceMin = 0
	if u := Of(worked(t, cold)).Packing.Unknown; !slices.Equal(u, []string{cold[0].File}) {
		t.Errorf("unknown %v", u)
	}
}

func BenchmarkTrip200(b *testing.B) {
	cards := many(b, 200, 99)
	for b.Loop() {
		done, err := WorkAll(b.Context(), cards, 2, nil)
		if err != nil {
			b.Fatal(err)
		}
		Of(done)
	}
}

func BenchmarkOrder12(b *testing.B) {
	j := someJobs(rand.New(rand.NewPCG(1, 2)), 12)
	for b.Loop() {
		j.best(counted(12))
	}
}

// What .ci/compare makes a table of: the number is how many cards there are.
func BenchmarkGrowCards(b *testing.B) {
	for _, n := range []int{1, 10, 100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			cards := many(b, n, 1)
			for b.Loop() {
				done, err := WorkAll(b.Context(), cards, 2, nil)
				if err != nil {
					b.Fatal(err)
				}
				Of(done)
			}
		})
	}
}
