package trip

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

// has tells which of some texts are not on the screen.
func has(t *testing.T, b *paneltest.Bench, texts ...string) {
	t.Helper()
	screen := b.Text()
	for _, x := range texts {
		if !strings.Contains(screen, x) {
			t.Errorf("no %q at %dx%d:\n%s", x, b.W, b.H, screen)
		}
	}
}

func TestTripAtEverySize(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 120, 36, nil)
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}, {200, 60}, {61, 21}, {96, 22}} {
		b.Resize(size[0], size[1])
		has(t, b, "The trip: 7 shots, 3 days", "Fri 18 Sep · 1 shot", "▸  1 19:40 Breakwater", "ND16", "till 20:21", "! outside window", "holds for take-offs from")
		for y, l := range strings.Split(b.Text(), "\n") {
			if cells.Width(l) != b.Room().Cols {
				t.Errorf("%v: line %d has %d cells", size, y, cells.Width(l))
			}
		}
	}
	b.Resize(120, 36)
	has(t, b, "━━━│━━━", "│ takes off", "pack CPL, ND8", "↓ 34 km, 51 min, change to ND64")
	b.Pen().ASCII = true
	has(t, b, "===|===", "| takes off", "v 34 km")
}

// The cursor is the card on the screen, and stays in the window with what heads it.
func TestCursorIsTheCard(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 20, nil)
	b.Press("end")
	if b.Cards()[b.At].Name != "Harbour town at dusk, reflections kept" {
		t.Errorf("the last shot is %q", b.Cards()[b.At].Name)
	}
	has(t, b, "▸  3 20:36 Harbour")
	b.Press("up")
	has(t, b, "▸  2 18:40 Sea stacks")
	b.Press("home", "down")
	has(t, b, "▸  1 13:10 Lighthouse", "Sat 19 Sep")
	b.Press("home")
	has(t, b, "Fri 18 Sep · 1 shot")
	b.Press("enter")
	if !b.Shown {
		t.Error("Enter opens no shot")
	}
}

// A nudge moves the take-off of the card and the plan follows; only that card is worked out anew.
func TestNudgeReplans(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 120, 36, nil)
	before := v.cards
	b.Press("-", "-")
	if b.CardText("take_off") == "2026-09-18T19:40:00" {
		t.Fatal("the take-off has not moved")
	}
	has(t, b, "▸  1 19:")
	for i := range v.cards {
		if same := v.cards[i].Shot == before[i].Shot; same == (v.keys[i] == b.At) {
			t.Errorf("card %d: the same %v", i, same)
		}
		if v.cards[i].Worked == nil {
			t.Errorf("card %d is not worked out", i)
		}
	}
}

// The order proposed is looked at, and taken: each card moves within its window in one step.
func TestOrderIsTaken(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 120, 36, nil)
	b.Press("home", "down", "a")
	has(t, b, "The order proposed", "now 13:10", "now 20:05", "a: 1 more in window")
	d := *v.dayAt(b)
	want := map[any]string{}
	for _, m := range d.Order {
		want[v.keys[m.Card]] = m.TakeOff.Format("15:04")
		if c := v.cards[m.Card]; c.Window != nil && !c.Window.Holds(m.TakeOff) {
			t.Errorf("%s is moved out of its window", c.Shot.Name)
		}
	}
	b.Press("enter")
	if b.Said != "2 take-offs moved; u on each row takes one back" {
		t.Errorf("said %q", b.Said)
	}
	for _, o := range b.Cards() {
		if at, ok := want[o.Key]; ok && !strings.Contains(o.Card.Doc.At("take_off").Text(), "T"+at) {
			t.Errorf("%s takes off %s, the order has %s", o.Name, o.Card.Doc.At("take_off").Text(), at)
		}
	}
	if b.Shown || strings.Contains(b.Text(), "The order proposed") {
		t.Error("the order is still shown")
	}
	// A day in its best order says so, and nothing moves.
	b.Press("end")
	was := b.CardText("take_off")
	b.Press("a")
	if v.order {
		b.Press("enter")
	}
	if b.CardText("take_off") != was {
		t.Error("a take-off moved for nothing")
	}
}

// What runs is stopped when the view is left, and what was done is kept.
func TestWorkStopsAndGoesOn(t *testing.T) {
	v := New()
	b := paneltest.Open(t, nil, 120, 36, nil)
	b.View = v
	cmd := v.Kick(b)
	if cmd == nil || !v.running {
		t.Fatal("no work")
	}
	has(t, b, "The trip: 7 shots", "19:40", "working it out, 0 of 7") // names and times at once
	v.Hide()
	for _, msg := range paneltest.Results(cmd) {
		v.Take(b, msg)
	}
	if v.running || v.complete() {
		t.Error("it was not stopped")
	}
	v.pause(b)
	if v.Kick(b) != nil {
		t.Error("it goes on though it was stopped")
	}
	has(t, b, "x goes on")
	v.pause(b)
	b.Settle()
	if done, sure := v.progress(); done != 7 || sure != 7 {
		t.Errorf("%d done, %d tried", done, sure)
	}
}

// A card with a fault is left out and said; the others are planned.
func TestFaultyCardIsLeftOut(t *testing.T) {
	b := paneltest.Open(t, New(), 80, 24, nil)
	b.Spoil(2)
	b.Settle()
	has(t, b, "The trip: 6 shots", "has a fault and is left out")
}

var _ panel.View = (*View)(nil)

// The line of the day reaches over all flights and windows, from a full hour to a full hour.
func TestTheLineOfTheDayHoldsItsShots(t *testing.T) {
	v := New()
	paneltest.Open(t, v, 120, 36, nil)
	if v.plan == nil {
		t.Fatal("no plan")
	}
	for i := range v.plan.Days {
		d := &v.plan.Days[i]
		a := v.axisOf(d, 120)
		if !a.from.Equal(fullHour(a.from)) || !a.to.Equal(fullHour(a.to)) {
			t.Errorf("from %v to %v", a.from, a.to)
		}
		for k := range d.Stops {
			s := &d.Stops[k]
			if s.TakeOff.Before(a.from) || s.Landing.After(a.to) {
				t.Errorf("from %v to %v, and a flight from %v to %v", a.from, a.to, s.TakeOff, s.Landing)
			}
			if w := v.cards[s.Card].Window; w != nil && (w.From.Before(a.from) || w.To.After(a.to)) {
				t.Errorf("from %v to %v, and a window from %v to %v", a.from, a.to, w.From, w.To)
			}
		}
	}
}
