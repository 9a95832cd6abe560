package tui

import (
	"testing"
	"time"
)

// A history by plain numbers: what a change, its taking back and a new change leave to go back and forth
// to.
func TestHistory(t *testing.T) {
	var h history[int]
	now, n, doc := time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC), 0, 1
	tick := func() int { n++; return n }
	change := func(to int, path string, after time.Duration) {
		now = now.Add(after)
		h.record(doc, path, now, tick)
		doc = to
	}
	step := func(dir int) bool {
		d, ok := h.step(dir, doc)
		doc = d
		return ok
	}
	change(2, "a", 0)
	change(3, "a", joinWithin) // the same field soon after: one step with the one before
	change(4, "b", 0)
	change(5, "b", joinWithin+1) // later: a step of its own
	for _, want := range []int{4, 3, 1} {
		if !step(-1) || doc != want {
			t.Fatalf("back to %d, want %d", doc, want)
		}
	}
	if step(-1) || doc != 1 {
		t.Errorf("there is nothing before the first: %d", doc)
	}
	if !step(1) || doc != 3 || h.next(-1) != 1 || h.next(1) != 2 {
		t.Fatalf("forth to %d; the next steps are over changes %d and %d", doc, h.next(-1), h.next(1))
	}
	change(9, "", 0)
	if step(1) || doc != 9 || h.next(1) != 0 {
		t.Errorf("a new change leaves nothing to redo: %d", doc)
	}
	h.abandon(7, tick) // typed and backed out of
	if !step(1) || doc != 7 || !step(-1) || doc != 9 {
		t.Errorf("what was typed comes back with redo: %d", doc)
	}
	h.settle(doc, tick)
	if h.next(1) != 0 || h.next(-1) != n {
		t.Errorf("typing that is kept is a step and ends redo: %d, %d", h.next(1), h.next(-1))
	}
}
