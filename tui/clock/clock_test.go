package clock

import (
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
)

func card(t *testing.T) *shot.Card {
	t.Helper()
	c, faults := shot.ReadCard("card.yaml", examples.Card("1-breakwater"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return c
}

// 19:26 and a half on the card's own clock.
var start = time.Date(2026, 9, 18, 17, 26, 30, 0, time.UTC)

func TestAKeptTakeOffFollowsTheClockAndEditsNothing(t *testing.T) {
	base, of := card(t), new(int)
	text := string(base.Doc.Bytes())
	written := base.Doc.At(takeOff).Text()
	is := func(c *Clock) string { return c.Card(of, base).Doc.At(takeOff).Text()[11:16] }

	var c Clock
	c.Tell(start, false)
	if c.Card(of, base) != base || c.Keeps(of) {
		t.Error("nothing is kept unasked")
	}
	for _, step := range []struct {
		by   int
		want string
	}{{Step, "19:31"}, {Step, "19:36"}, {-Step, "19:31"}, {-Step, "19:26"}, {-Step, "19:26"}, {Step, "19:31"}} {
		if c.Keep(of, written, step.by, start); is(&c) != step.want {
			t.Errorf("%+d: %s, want %s", step.by, is(&c), step.want)
		}
	}
	if c.Card(new(int), base) != base {
		t.Error("another card's take-off is its own")
	}
	first := c.Card(of, base)
	if c.Tell(start.Add(20*time.Second), false); c.Card(of, base) != first {
		t.Error("within a minute there is nothing to compute")
	}
	if c.Tell(start.Add(40*time.Second), false); is(&c) != "19:32" {
		t.Errorf("a minute later: %s", is(&c))
	}
	if c.Tell(start.Add(5*time.Minute), true); is(&c) != "19:32" {
		t.Errorf("once a leg is flown it stays: %s", is(&c))
	}
	if c.Check(of, written) || !c.Keeps(of) {
		t.Error("the take-off that is written is the same")
	}
	if !c.Check(of, "2026-09-18T20:00:00") || c.Keeps(of) {
		t.Error("another take-off was written")
	}
	if string(base.Doc.Bytes()) != text {
		t.Error("the card itself was edited")
	}
	for range 100 {
		c.Keep(of, written, Step, start)
	}
	if c.Minutes() != Most {
		t.Errorf("%d minutes from now", c.Minutes())
	}
}

func TestTooLateIsSaidOnceAndOnlyWhenTheClockMadeItSo(t *testing.T) {
	a, b := card(t), card(t)
	onTime, late := advice.Countdown{}, advice.Countdown{Late: true, News: "too late"}
	var c Clock
	for i, step := range []struct {
		of   *shot.Card
		n    advice.Countdown
		want string
	}{
		{a, onTime, ""}, {a, onTime, ""}, {a, late, "too late"}, {a, late, ""}, {a, onTime, ""}, {a, late, ""}, // and not again
		{b, late, ""}, {b, late, ""}, // late when it was opened, or edited
		{a, onTime, ""}, {a, late, "too late"},
	} {
		if got := c.News(step.of, step.n); got != step.want {
			t.Errorf("step %d: %q, want %q", i, got, step.want)
		}
	}
}
