package plan

import (
	"reflect"
	"slices"
	"sync"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Kept is what working out a shot found, for whoever works it out again with a little of it changed: the legs that are as
// they were, under the same sky and with the same bag, are not looked at again. The answer is the same as without
// (TestKeptChangesNoAnswer). The zero value is ready; it serves one shot at a time, and may be asked by several at once,
// who then wait for one another.
type Kept struct {
	mu sync.Mutex
	last
	lent []*legMemory // to the legs that are known
}

// last is the last shot that was worked out, and what was found.
type last struct {
	shot   *shot.Shot
	bag    *kit.Bag
	path   []shot.Moment
	shared *shared
	found  known
}

// known are legs of an analysis: as the call is made, in the other state of the sun, and measured closely. What is not
// known is nil.
type known struct {
	rough, other, near []*legAnalysis
	samples            int // of the sky in a frame, of the near ones
	skyOnly            bool
}

// nearLeg returns a leg measured closely, nil where it is not known so.
func (k *known) nearLeg(l *legAnalysis, samples int, skyOnly bool) *legAnalysis {
	if l.n >= len(k.near) || samples != k.samples || skyOnly != k.skyOnly {
		return nil
	}
	return k.near[l.n]
}

// begin returns what the analysis of a shot shares with the last one, and which of its legs are known. The caller holds the
// lock until [Kept.end].
func (k *Kept) begin(s *shot.Shot, bag *kit.Bag, path []shot.Moment) (*shared, known) {
	fresh := newShared(path[0].AboveM)
	old := k.last
	k.last = last{} // should this one break
	if old.shared == nil || old.shared.fromM != fresh.fromM || !reflect.DeepEqual(old.bag.Filters, bag.Filters) || !sameButForLegs(old.shot, s) {
		return fresh, known{}
	}
	fresh.ridge = old.shared.ridge
	was := old.found
	was.rough, was.other, was.near = slices.Clone(was.rough), slices.Clone(was.other), slices.Clone(was.near)
	from, to := 0, 0
	for i := range max(len(s.Legs), len(old.shot.Legs)) {
		for from = to; to < len(path) && path[to].Leg == i; {
			to++
		}
		if i < len(s.Legs) && i < len(old.shot.Legs) && to <= len(old.path) && reflect.DeepEqual(old.shot.Legs[i], s.Legs[i]) &&
			slices.EqualFunc(old.path[from:to], path[from:to], sameMoment) {
			continue
		}
		for _, list := range [...][]*legAnalysis{was.rough, was.other, was.near} {
			if i < len(list) {
				list[i] = nil
			}
		}
	}
	return fresh, was
}

// end keeps an analysis and its first flight's, measured closely, and takes back the memory of all
// other legs.
func (k *Kept) end(y *analysis, bag *kit.Bag, p *plannedFlight, samples int) {
	k.last = last{shot: y.s, bag: bag, path: y.path, shared: y.shared, found: known{rough: y.legs}}
	if y.other != nil {
		k.found.other = y.other.legs
	}
	if p.path != nil && &p.path[0] == &y.path[0] { // not one of a later start
		k.found.near, k.found.samples, k.found.skyOnly = p.near.legs, samples, p.near.skyOnly
	}
	for _, list := range [...][]*legAnalysis{k.found.rough, k.found.other, k.found.near} {
		for _, l := range list {
			l.own.alive, l.reading.alive = true, true
		}
	}
	all := append(k.lent, y.memory.lent...)
	k.lent, y.memory.lent = all[:0], y.memory.lent[:0]
	for _, m := range all {
		if m.alive {
			k.lent = append(k.lent, m)
			m.alive = false
			continue
		}
		m.reset()
		legMemories.Put(m)
	}
}

// sameButForLegs tells whether two shots differ by nothing that their legs' light depends on.
func sameButForLegs(a, b *shot.Shot) bool {
	x, y := *a, *b
	for _, s := range []*shot.Shot{&x, &y} {
		s.Name, s.Notes, s.Flown, s.Want, s.Legs, s.DeclinationDeg = "", "", nil, nil, nil, nil
		s.Filter, s.RingAuto, s.RingDeg = "", false, 0
		s.Zone = nil
	}
	if !x.TakeOff.Equal(y.TakeOff) {
		return false
	}
	x.TakeOff, y.TakeOff = time.Time{}, time.Time{}
	return reflect.DeepEqual(x, y)
}

// sameMoment tells whether two moments of a leg are the same but for where the leg begins, which its light does not depend on.
func sameMoment(a, b shot.Moment) bool {
	if !a.Time[0].Equal(b.Time[0]) || !a.Time[1].Equal(b.Time[1]) {
		return false
	}
	a.Time, b.Time = [2]time.Time{}, [2]time.Time{}
	a.Pos, b.Pos, a.Target, b.Target = r3.Vec{}, r3.Vec{}, r3.Vec{}, r3.Vec{}
	return a == b
}
