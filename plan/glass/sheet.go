package glass

import (
	"math"
	"sync"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/mounting"
	"gonum.org/v1/gonum/spatial/r3"
)

type answersKey struct {
	gridKey
	mounting.Key
	below bool // for the samples below the horizon
}

// Sheet is a mounted filter that answers for the samples of grids. One that does not polarise answers nothing. One worker
// uses it at a time.
type Sheet struct {
	way  mounting.Way
	key  mounting.Key
	last [2]*frame.Answers // that was given last: for the sky, and below the horizon
	of   [2]*frame.Grid
}

// SheetOf mounts a filter.
func SheetOf(m mounting.Way) Sheet {
	s := Sheet{way: m}
	if m.Polarises() {
		s.key = m.Key()
	}
	return s
}

// Answers returns those for the samples of a grid numbered from up to but not including to, nil from a filter that does
// not polarise. below tells that these are the samples below the horizon, whose answers are kept apart.
func (s *Sheet) Answers(g *frame.Grid, below bool, from, to int) *frame.Answers {
	if !s.way.Polarises() {
		return nil
	}
	side := 0
	if below {
		side = 1
	}
	if s.of[side] == g && s.last[side].Cover(from, to) {
		return s.last[side]
	}
	s.of[side], s.last[side] = g, known.covering(answersKey{keyOf(g), s.key, below}, s.way, g, from, to)
	return s.last[side]
}

// answers keeps some of the answers under each key, and makes them reach further when more are asked for: then the old ones
// are replaced, never changed.
type answers struct {
	mu     sync.RWMutex
	kept   map[answersKey]*frame.Answers
	floats int // in all of them
	most   int // 0: mostAnswers
}

var known answers

// covering returns the answers that are kept under a key, and works out what they lack. Two who lack the same at once both
// make it, which is rare and comes to the same.
func (k *answers) covering(key answersKey, m mounting.Way, g *frame.Grid, from, to int) *frame.Answers {
	k.mu.RLock()
	had := k.kept[key]
	k.mu.RUnlock()
	if had.Cover(from, to) {
		return had
	}
	more := had.Covering(g, answering(key.Key, m), from, to)
	k.mu.Lock()
	defer k.mu.Unlock()
	now := k.kept[key]
	if now.Cover(from, to) {
		return now // another worker was first
	}
	most := k.most
	if most == 0 {
		most = mostAnswers
	}
	if k.kept == nil || k.floats+more.Floats() > most {
		k.kept, k.floats, now = map[answersKey]*frame.Answers{}, 0, nil
	}
	k.kept[key] = more
	k.floats += more.Floats() - now.Floats()
	return more
}

func (k *answers) forget() {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.kept, k.floats = nil, 0
}

// answering returns how the glass of a key answers: the key alone makes the answer. What passes is counted from what the
// filter lets through of plain light. All single sheets with the same pass axis share one answer, so the longer way through
// the glass of a dark one is left to [Passes].
func answering(key mounting.Key, m mounting.Way) func(r3.Vec) kit.Answer {
	pass := key.PassDeg / 100
	if m.Kind() != kit.Variable {
		sheet := kit.Filter{Kind: kit.Polariser}
		mount := sheet.Mount(kit.RingFor(pass, 0), 0)
		return func(d r3.Vec) kit.Answer {
			a := mount.Answer(d)
			a.T = 1
			return a
		}
	}
	f := *m.Filter
	f.RearDeg = 0
	mount, whole := f.Mount(kit.RingFor(pass, 0), m.Setting), math.Exp2(m.Loss())
	return func(d r3.Vec) kit.Answer {
		a := mount.Answer(d)
		a.T *= whole
		return a
	}
}

// Behind is a mounted filter that frames are seen through, by one worker at a time.
type Behind struct {
	way    mounting.Way
	sheet  Sheet
	of     [2]*frame.Grid // those that passes was asked for last, of the sky and of the land
	passes [2][]float64
}

// BehindOf mounts a filter.
func BehindOf(m mounting.Way) Behind { return Behind{way: m, sheet: SheetOf(m)} }

// Fill fills tones with the light of a frame behind the filter. The frame is lit.
func (b *Behind) Fill(tones *frame.Tones, f *frame.Frame, lit *frame.Lit) {
	if b.way.Filter == nil {
		tones.Through(lit, frame.Behind{}, frame.Behind{})
		return
	}
	sky := b.over(0, f.Grid, 0, f.SkySamples)
	tones.Through(lit, sky, b.over(1, lit.Grid, lit.First, lit.First+lit.Below()))
}

// over returns the filter over some samples of a grid, of the sky (0) or below the horizon (1).
func (b *Behind) over(ground int, g *frame.Grid, from, to int) (f frame.Behind) {
	if from == to {
		return f
	}
	if b.of[ground] != g {
		b.of[ground], b.passes[ground] = g, Passes(b.way, g)
	}
	return frame.Behind{Passes: b.passes[ground], Answers: b.sheet.Answers(g, ground == 1, from, to)}
}
