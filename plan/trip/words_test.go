package trip

import (
	"testing"
	"time"

	"example.org/skywedge/plan/shot"
)

// What the order proposed is better at is said in the pilot's measures, and so is what it cannot mend.
func TestProposedInWords(t *testing.T) {
	cards := []Card{{Shot: &shot.Shot{}}, {Shot: &shot.Shot{}}}
	stops, order := []Stop{{Card: 0}, {Card: 1}}, []Move{{Card: 1}, {Card: 0}}
	changing := []Stop{{Card: 0, hop: hop{change: time.Minute}}, {Card: 1, hop: hop{change: time.Minute}}}
	for want, d := range map[string]Day{
		"every shot in time":                     {Stops: stops, Order: order, Exact: true},
		"1 more in window":                       {Stops: stops, Order: order, Exact: true, Written: cost{missed: 1}},
		"1 change less":                          {Stops: changing, Order: order, Exact: true, Proposed: cost{changes: 1}},
		"2 changes less, 12 min less to drive":   {Stops: changing, Order: order, Exact: true, kept: cost{minutes: 42}, Proposed: cost{minutes: 30}},
		"every shot in time; 1 shot not reached": {Stops: changing, Order: order[:1], Exact: true, kept: cost{minutes: 42}, Proposed: cost{minutes: 30}},
		"every shot in time; of more than 12 shots the best order is not sought to the last": {Stops: stops, Order: order},
	} {
		if got := d.ProposedWords(cards); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	d := Day{Proposed: cost{missed: 1}, Written: cost{missed: 3}}
	if proposed, written := d.Missed(); proposed != 1 || written != 3 {
		t.Errorf("missed: %d, %d", proposed, written)
	}
	if got := ordinal(5) + " " + ordinal(6); got != "fifth as number 6" {
		t.Error(got)
	}
}

// What is not known yet is not said as a number: batteries of a camera without an endurance, changes of a day half worked out.
func TestADayHalfKnown(t *testing.T) {
	cards := []Card{{Shot: &shot.Shot{}}, {Shot: &shot.Shot{}}}
	d := Day{Date: time.Date(2026, 9, 18, 0, 0, 0, 0, time.UTC), Stops: []Stop{{Card: 0, Batteries: 2}, {Card: 1}}}
	if got := d.Headline(cards); got != "Fri 18 Sep · 2 shots · 2 batteries or more" {
		t.Errorf("%q", got)
	}
	if a, b := d.Stops[0].BatteryWords(), d.Stops[1].BatteryWords(); a != "2 batteries" || b != "batteries not known" {
		t.Errorf("%q, %q", a, b)
	}
}

// Of the light that a card asks for the pilot hears when it is there, the stretch nearest to the take-off.
func TestTheLightThatIsAskedFor(t *testing.T) {
	at := func(hour, minute int) time.Time { return time.Date(2026, 9, 18, hour, minute, 0, 0, time.UTC) }
	morning, evening := Span{at(6, 30), at(8, 0)}, Span{at(17, 0), at(18, 15)}
	s := &shot.Shot{Zone: time.UTC, TakeOff: at(12, 0), Want: &shot.Want{SunHeightDeg: [2]float64{0, 20}}}
	c := Card{Shot: s, Worked: &Worked{Wanted: []Span{morning, evening}}}
	for take, want := range map[time.Time]string{
		at(7, 0):  "",
		at(18, 0): "",
		at(10, 0): "the light wanted is there for take-offs from 06:30 to 08:00",
		at(15, 0): "the light wanted is there for take-offs from 17:00 to 18:15",
		at(20, 0): "the light wanted is there for take-offs from 17:00 to 18:15",
	} {
		if got := c.offWant(take); got != want {
			t.Errorf("%s: %q, want %q", take.Format("15:04"), got, want)
		}
	}
	never := Card{Shot: s, Worked: &Worked{}}
	if got := never.offWant(at(12, 0)); got != "the light wanted does not come that day" {
		t.Errorf("%q", got)
	}
	if got := (&Card{Shot: s}).offWant(at(12, 0)); got != "" {
		t.Errorf("not worked out: %q", got)
	}
	d := Day{Stops: []Stop{{TakeOff: at(15, 0)}}}
	c.Window = &Span{at(14, 0), at(16, 0)}
	d.conflicts([]Card{c}, nil)
	if x := d.Stops[0].Conflicts; len(x) != 1 || x[0].Short != "other light" || x[0].String() != x[0].Words {
		t.Errorf("%+v", x)
	}
}

// A window that there is not is said with why.
func TestWindowWords(t *testing.T) {
	at := func(hour int) time.Time { return time.Date(2026, 9, 18, hour, 0, 0, 0, time.UTC) }
	s := &shot.Shot{Zone: time.UTC, TakeOff: at(12), LatDeg: 45}
	for want, w := range map[string]*Worked{
		"":                                      nil,
		"no window: lamps are not in the model": {Lamps: true},
		"no window: the call holds at no take-off of this day":                 {},
		"holds for take-offs from 11:00 to 14:00":                              {Window: &Span{at(11), at(14)}, Wanted: []Span{{at(10), at(15)}}},
		"holds for take-offs from 11:00 to 14:00, light wanted 12:00 to 14:00": {Window: &Span{at(11), at(14)}, Wanted: []Span{{at(12), at(15)}}},
	} {
		if got := (&Card{Shot: s, Worked: w}).WindowWords(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
