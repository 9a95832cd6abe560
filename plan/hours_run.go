package plan

import (
	"context"
	"errors"
	"runtime"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/shot"
)

// HoursOptions say what to do while the hours are worked out.
type HoursOptions struct {
	Workers  int                   // 0: one a core
	Progress func(done, total int) // called now and then from the calling goroutine; may be nil
}

// errNoLegs refuses a shot that has nothing to fly.
var errNoLegs = errors.New("the card has no legs yet")

// HoursOf works a shot out at every hour of its day or its year. It returns when all its goroutines
// have; when the context ends first, with its error. The answer does not depend on the count of
// workers.
func HoursOf(ctx context.Context, s *shot.Shot, bag *kit.Bag, o hours.Span, opt HoursOptions) (*hours.Hours, error) {
	if len(s.Legs) == 0 {
		return nil, errNoLegs
	}
	h := &hours.Hours{Shot: s, Over: o}
	var at []time.Time
	h.Cols, h.Rows, at = hours.Grid(s, o)
	h.Cells = make([]hours.Hour, len(at))
	h.Own = hours.Nearest(at, s.TakeOff)
	at[h.Own] = s.Local(s.TakeOff) // to the second, so that this cell is the shot itself
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, min(workers, len(at)))
	first := newHourEvaluator(s, bag)
	err := parallel.Do(ctx, workers, len(at), opt.Progress, func() func(int) {
		k := first.copy()
		return func(i int) { h.Cells[i] = k.hour(at[i]) }
	})
	if err != nil {
		return nil, err
	}
	return h, nil
}
