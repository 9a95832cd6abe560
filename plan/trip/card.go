package trip

import (
	"context"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/shot"
)

// Card is one shot of a trip.
type Card struct {
	File string
	Shot *shot.Shot
	Bag  *kit.Bag
	*Worked
}

// Worked is what is known of a shot when it is worked out; nil before that.
type Worked struct {
	Report *plan.Report
	Window *Span  // the take-offs at which the call holds; nil where it holds at none of that day, and under lamps
	Lamps  bool   // lamps light the scene: no window can be found
	Wanted []Span // the take-offs of that day that have the light wanted
	// Least and Most are the densities in stops that would hold the shot where the card has it; Most below Least: none.
	Least, Most float64
}

// Span is a stretch of time, both ends in it.
type Span struct{ From, To time.Time }

// Holds tells whether a time lies in the span, to the half minute that its ends are found to.
func (s Span) Holds(t time.Time) bool {
	return !t.Before(s.From.Add(-endWithin)) && !t.After(s.To.Add(endWithin))
}

// Work makes the call of a shot and finds its window.
func Work(s *shot.Shot, bag *kit.Bag) *Worked {
	kept := new(plan.Kept)
	w := &Worked{Report: plan.Solve(s, bag, plan.Options{SkipSureness: true, Kept: kept})}
	day := dayOf(s)
	w.Wanted = wantedIn(s, day)
	held := w.Report.Held(kept)
	least, most, lit := held.Densities()
	if w.Lamps = !lit; lit {
		w.Least, w.Most = least, most
		w.Window = windowIn(held, s.TakeOff, day)
	}
	return w
}

// WorkAll does that for many shots side by side, those that have a nil in done, and returns them with what was done. The
// progress, which may be nil, is told from the caller's goroutine.
func WorkAll(ctx context.Context, cards []Card, workers int, progress func(done, total int)) ([]Card, error) {
	out := append([]Card(nil), cards...)
	var todo []int
	for i := range out {
		if out[i].Worked == nil {
			todo = append(todo, i)
		}
	}
	err := parallel.Do(ctx, workers, len(todo), progress, func() func(int) {
		return func(k int) { out[todo[k]].Worked = Work(out[todo[k]].Shot, out[todo[k]].Bag) }
	})
	return out, err
}

// SureAll tries on every shot what little errors would change, and returns the shots with what that found of their calls.
// It costs three times what working them out did. A card that is not worked out stays so.
func SureAll(ctx context.Context, cards []Card, workers int, progress func(done, total int)) ([]Card, error) {
	out := append([]Card(nil), cards...)
	var todo []int
	for i := range out {
		if out[i].Worked != nil && out[i].Report.Sure == nil {
			todo = append(todo, i)
		}
	}
	err := parallel.Do(ctx, workers, len(todo), progress, func() func(int) {
		return func(k int) {
			w := *out[todo[k]].Worked
			w.Report = w.Report.WithSureness(w.Report.Sureness())
			out[todo[k]].Worked = &w
		}
	})
	return out, err
}

// dayOf is the local date of a shot, from midnight to midnight.
func dayOf(s *shot.Shot) Span {
	t := s.Local(s.TakeOff)
	from := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
	return Span{from, from.AddDate(0, 0, 1).Add(-time.Second)}
}
