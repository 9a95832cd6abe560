package plan

import (
	"context"
	"errors"
	"math"
	"runtime"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
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
	tables := first.mirrorKeys(at)
	total := len(at)
	if err := parallel.Do(ctx, workers, len(tables), nil, func() func(int) {
		return func(i int) { light.MirrorTableFor(s, tables[i], first.fromM) }
	}); err != nil {
		return nil, err
	}
	err := parallel.Do(ctx, workers, total, opt.Progress, func() func(int) {
		k := first.copy()
		return func(i int) { h.Cells[i] = k.hour(at[i]) }
	})
	if err != nil {
		return nil, err
	}
	return h, nil
}

// mirrorKeys lists the tables that the hours will ask for: of every kind of ground, for the sun's altitudes. They are made once and for all, which is half of the work of a day.
func (k *hourEvaluator) mirrorKeys(at []time.Time) []light.MirrorKey {
	low, high := math.Inf(1), math.Inf(-1)
	flight := k.s.Times()
	for _, t := range at {
		if t.IsZero() {
			continue
		}
		for _, d := range [...]time.Duration{0, flight.Landing.Sub(flight.TakeOff)} {
			p := sun.At(t.Add(d), k.s.LatDeg, k.s.LonDeg)
			low, high = min(low, p.AltitudeDeg), max(high, p.AltitudeDeg)
		}
	}
	low = max(low, hourNightDeg)
	var list []light.MirrorKey
	seen := map[light.MirrorKey]bool{}
	for _, m := range shot.Path(k.s, 2) {
		l := &k.s.Legs[m.Leg]
		// What the leg is about, and what its meter reads.
		for _, kind := range [...]light.MirrorKind{light.MirrorOf(l.Ground, l.Aim), light.ShownBy(l.Ground, l.Aim)} {
			if kind == light.NoMirror {
				continue
			}
			const step = light.MirrorStepDeg
			for alt := step * int(max(0, low)/step); float64(alt) < max(0, high)+step; alt += step {
				key := light.MirrorKey{Kind: kind, Ground: l.Ground, AltDeg: alt}
				if !seen[key] {
					seen[key] = true
					list = append(list, key)
				}
			}
		}
	}
	return list
}
