package walk

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/internal/paneltest"
)

// lines returns the card's log.
func lines(t *testing.T, b *paneltest.Bench) []shot.Flown {
	t.Helper()
	s, faults := b.Card.Shot(b.B, time.Time{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return s.Flown
}

// In the fewest keys: it worked, and that is all. The line keeps the plan as it was, and when the leg was ticked off.
func TestALegGoesIntoTheLog(t *testing.T) {
	b := paneltest.Open(t, New(), 80, 24, nil)
	b.Press("a")
	b.Clock = b.R.Path[0].Time[0].Add(150 * time.Second)
	planned, _ := b.R.PlannedEV100(0)
	b.Press("space", "left", "enter")
	if q := b.Asked; q == nil || !strings.HasPrefix(q.Text, "Leg 1, push: ND16, 1/60, ISO 100.") {
		t.Fatalf("asked %+v", q)
	}
	b.Answer("esc")
	if len(lines(t, b)) != 0 || b.Edits != 0 {
		t.Error("not now, and there is a line")
	}
	b.Press("enter")
	b.Answer("y")
	b.Answer("esc") // ND16 does nothing to sky and glare: nothing is asked of them
	log := lines(t, b)
	if len(log) != 1 || b.Edits != 1 || b.Asked != nil {
		t.Fatalf("%d lines in %d edits, asked %v", len(log), b.Edits, b.Asked)
	}
	f := log[0]
	if f.Leg != 0 || f.Filter != "ND16" || f.Worked != "yes" || f.ShutterS != 1./60 || f.ISO != 100 || f.PlannedMeter == nil ||
		f.PlannedEV100 == nil || *f.PlannedEV100-planned > 0.006 || planned-*f.PlannedEV100 > 0.006 || !f.When.Equal(b.Clock) {
		t.Errorf("%+v, planned %g", f, planned)
	}
	if text := flat(b.Text()); !strings.Contains(text, "log worked · 1/60, ISO 100, f/2.8") {
		t.Errorf("the log's line is not on the screen:\n%s", b.Text())
	}
}

// With a polariser sky and glare are asked for; what was set and seen goes in by a line of text. Each is a step of undo. What
// cannot stand there is refused, said, and asked for again.
func TestWhatWasSetAndSeen(t *testing.T) {
	b := paneltest.Open(t, New(), 80, 24, nil)
	for card := range examples.Cards() {
		b.Load(card)
		if b.R.Flights[0].HasRing && b.R.Legs[0].Effect.OK {
			break
		}
	}
	if !b.R.Flights[0].HasRing {
		t.Fatal("no card with a ring")
	}
	b.R.Legs[0].GlareCut = plan.Range{Min: 0.2, Max: 0.4, OK: true} // as over water
	b.Clock = b.R.Shot.TakeOff.Add(9 * time.Hour)                   // at home, the evening after
	b.Press("space", "left", "enter")
	b.Answer("p")
	if !strings.Contains(b.Asked.Text, "sky") {
		t.Fatalf("asked %q", b.Asked.Text)
	}
	b.Answer("l")
	if !strings.Contains(b.Asked.Text, "glare") {
		t.Fatalf("asked %q", b.Asked.Text)
	}
	b.Answer("esc") // left out
	b.Answer("s")
	b.Type("1/8 iso 400")
	b.Answer("e")
	b.Type("12 apples")
	if !strings.Contains(b.Said, "allowed: ") || !strings.HasPrefix(b.Asked.Text, "Stops brighter") {
		t.Errorf("said %q, asked %q", b.Said, b.Asked.Text)
	}
	b.Type("−0,5")
	b.Answer("m")
	b.Type("+1")
	b.Answer("a")
	b.Answer("w")
	b.Type("  ") // nothing
	b.Answer("w")
	b.Type("banded: pale #2 to the right")
	if text := b.Asked.Text; !strings.Contains(text, "worked partly · sky less · 1/8 iso 400 · off by −0,5 · meter at +1") {
		t.Errorf("asked %q", text)
	}
	b.Answer("esc")
	f := lines(t, b)[0]
	if f.Worked != "partly" || f.Sky != "less" || f.Glare != "" || f.ShutterS != 1./8 || f.ISO != 400 || f.OffStops == nil || *f.OffStops != -0.5 ||
		f.MeterStops == nil || *f.MeterStops != 1 || !f.Auto || f.Saw != "banded: pale #2 to the right" || !f.When.Equal(b.R.Path[0].Time[0]) || f.RingDeg == nil {
		t.Errorf("%+v", f)
	}
	if b.Edits != 7 {
		t.Errorf("%d steps of undo", b.Edits)
	}
}

// Another filter on the lens: what the plan would have set through that stands in the line; one that the bag has not is refused.
func TestAnotherFilterWasOnTheLens(t *testing.T) {
	b := paneltest.Open(t, New(), 80, 24, nil)
	planned, _ := b.R.PlannedEV100(0)
	b.Press("enter")
	b.Answer("x")
	b.Answer("f")
	b.Type("ND17")
	if !strings.Contains(b.Said, "allowed: none or a filter of the bag") || lines(t, b)[0].Filter != "ND16" {
		t.Errorf("said %q, the log has %s", b.Said, lines(t, b)[0].Filter)
	}
	b.Type("NONE") // the question stands
	b.Answer("esc")
	f := lines(t, b)[0]
	if f.Filter != "none" || f.ShutterS != 0 || f.ISO != 0 || f.PlannedEV100 == nil || math.Abs(*f.PlannedEV100-planned-4) > 0.006 || f.PlannedMeter != nil || f.Confidence != "" || f.Worked != "no" {
		t.Errorf("%+v, planned through ND16 %g", f, planned)
	}
}
