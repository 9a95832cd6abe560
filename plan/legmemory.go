package plan

import (
	"sync"

	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/internal/piece"
	"example.org/skywedge/plan/mounting"
)

// legMemory is what a leg is laid out in. It goes to another leg when nobody looks at this one any more: what is changed
// again and again then asks for no memory. The legs of one analysis may share what the meter read with those of another that
// looks at them more closely; then they go together.
type legMemory struct {
	room     frame.Room
	samples  []sample
	lightEV  [][2]lightEV
	keys     []int
	speeds   []speeds // at the leg's moments, where they are known
	readAt   []int
	lastAt   []int
	optics   piece.Pile[legOptics]
	meters   piece.Pile[legMeter]
	exposed  piece.Pile[legExposure]
	opticsOf map[mounting.Key]*legOptics
	metersOf map[mounting.MeterKey]*legMeter
	alive    bool // while what is kept is told from what goes
}

var legMemories = sync.Pool{New: func() any {
	return &legMemory{opticsOf: make(map[mounting.Key]*legOptics, manyWays), metersOf: map[mounting.MeterKey]*legMeter{}}
}}

// reset takes back all that was laid out.
func (m *legMemory) reset() {
	m.room.Reset()
	m.speeds = m.speeds[:0]
	m.optics.Reset()
	m.meters.Reset()
	m.exposed.Reset()
	clear(m.opticsOf)
	clear(m.metersOf)
}

// lend hands out what a leg is laid out in, until [memory.takeBack].
func (m *memory) lend() *legMemory {
	l := legMemories.Get().(*legMemory)
	m.lent = append(m.lent, l)
	return l
}

// takeBack takes back all that was lent: none of the legs may be looked at any more.
func (m *memory) takeBack() {
	for _, l := range m.lent {
		l.reset()
		legMemories.Put(l)
	}
	clear(m.lent)
	m.lent = m.lent[:0]
}

// spareLeg is what a leg is laid out in that is looked at once.
func (m *memory) spareLeg() *legMemory {
	if m.spare == nil {
		m.spare = legMemories.Get().(*legMemory)
	}
	m.spare.reset()
	return m.spare
}

// laidOutIn returns the leg laid out anew.
func (l *legAnalysis) laidOutIn(m *legMemory) {
	l.own, l.reading, l.optics, l.meters = m, m, m.opticsOf, m.metersOf
}
