package plan

import (
	"runtime"
	"slices"
	"sync"

	"example.org/skywedge/plan/frame"
	"example.org/skywedge/plan/glass"
	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/internal/piece"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/sun"
)

// shared is what several analyses of the same shot have together: what does not depend on the moment. All of it may be
// asked for by several workers at once, and none of it depends on which of them was first.
type shared struct {
	fromM   float64 // above the ground: that of the flight's beginning
	ridge   *ridge
	workers int // that an analysis may keep busy
}

// ridge is the card's skyline, made when it is first asked for.
type ridge struct {
	once sync.Once
	line *light.Skyline
}

func newShared(fromM float64) *shared {
	return &shared{
		fromM:   fromM,
		ridge:   new(ridge),
		workers: runtime.GOMAXPROCS(0),
	}
}

// alone returns the same for one of many analyses that are made side by side: each keeps one worker busy.
func (k *shared) alone() *shared {
	z := *k
	z.workers = 1
	return &z
}

// grid returns the samples of a leg's lens.
func (l *legAnalysis) grid(thin int) *frame.Grid { return glass.Grid(l.halfW, l.halfH, thin) }

// skyline returns the card's skyline as a table.
func (y *analysis) skyline() *light.Skyline {
	y.ridge.once.Do(func() { y.ridge.line = light.NewSkyline(y.s) })
	return y.ridge.line
}

// memory is what one worker writes into again and again.
type memory struct {
	buf       []float64
	tones     []*frame.Tones  // of a leg's samples, while it is read
	sky       sun.Pattern     // of one sample
	mirrors   [2]light.Mirror // what is mirrored there, and what the meter sees of it
	judged    piece.Pile[evaluation]
	legs      piece.Pile[legEvaluation]
	exposures piece.Pile[*legExposure]
	measures  piece.Pile[Measure]
	lent      []*legMemory // to the legs of an analysis
	spare     *legMemory
	jobs      []job
	ways      []mounting.Way

	study, otherStudy analysis // of the piece of work that is done with this memory
}

// memories are those of workers that are done.
var memories = sync.Pool{New: func() any { return new(memory) }}

// forget takes back all that was laid out here: none of the evaluations may be looked at any more.
func (m *memory) forget() {
	m.judged.Reset()
	m.legs.Reset()
	m.exposures.Reset()
	m.measures.Reset()
	for _, t := range m.tones {
		t.Forget()
	}
}

// done gives the memory back, and that of the legs it was lent to.
func (m *memory) done() {
	m.forget()
	m.takeBack()
	memories.Put(m)
}

// pieceOf is how many a piece of memory holds at a time.
const pieceOf = 16

func (y *analysis) ownMemory() *memory {
	if y.memory == nil {
		y.memory = new(memory)
	}
	return y.memory
}

// scratch lends a buffer that is large enough for any frame three times over.
func (y *analysis) scratch() []float64 {
	m := y.ownMemory()
	if m.buf == nil {
		m.buf = make([]float64, 0, 3*frame.GridW*frame.GridH)
	}
	return m.buf
}

// tonesFor lends tones for so many samples.
func (y *analysis) tonesFor(samples int) []*frame.Tones {
	m := y.ownMemory()
	for len(m.tones) < samples {
		m.tones = append(m.tones, new(frame.Tones))
	}
	return m.tones[:samples]
}

// eachLeg does something to every leg that has a list, of moments to look at, several at once where there are cores for it and
// those with most first. What it does may ask the analysis it is handed, which has memory of its own, and change nothing but
// its leg.
func (y *analysis) eachLeg(lists [][]int, do func(z *analysis, l *legAnalysis, list []int)) {
	order := make([]int, 0, len(lists))
	for i := range lists {
		if lists[i] != nil {
			order = append(order, i)
		}
	}
	if y.workers <= 1 || len(order) < 2 {
		for _, i := range order {
			do(y, y.legs[i], lists[i])
		}
		return
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(lists[b]) - len(lists[a]) })
	y.withWorkers(len(order), func(z *analysis, n int) { do(z, y.legs[order[n]], lists[order[n]]) })
}

// aside does something beside the caller, where there is a core for it, with memory of its own. It returns what waits for it.
func (y *analysis) aside(do func(*memory)) (wait func()) {
	work := func() {
		m := memories.Get().(*memory)
		do(m)
		m.forget()
		memories.Put(m)
	}
	if y.workers <= 1 {
		work()
		return func() {}
	}
	done := parallel.Aside(work)
	return func() {
		if err := done(); err != nil { // it broke: whoever asked hears of it as if it had been here
			panic(err)
		}
	}
}

// withWorkers does n pieces of work with several workers, of which the caller is one. For each piece there is the same analysis
// with memory of its own.
func (y *analysis) withWorkers(n int, do func(z *analysis, piece int)) {
	err := parallel.Share(y.workers, n, func(i int) {
		m := memories.Get().(*memory)
		m.study = *y
		m.study.memory = m
		do(&m.study, i)
		m.study = analysis{}
		m.forget()
		memories.Put(m)
	})
	if err != nil { // a worker broke: whoever asked hears of it as if it had been here
		panic(err)
	}
}

// job is one way of mounting a filter that is looked at on one leg.
type job struct {
	leg    *legAnalysis
	way    mounting.Way
	other  bool       // in the other state of the sun
	optics *legOptics // what is to be found: this, or
	meter  *legMeter  // the meter's reading
}

// jobsAtOnce is how many jobs of a list a worker takes at once: those of a leg ask for the same samples.
const jobsAtOnce = 4

// prepare works out what some ways of mounting filters do to every leg, so that they can be judged without waiting: on
// several cores, also where only one leg is new. It changes no answer: what is not prepared is worked out when it is
// asked for.
func (y *analysis) prepare(list []mounting.Way) {
	if y.workers > 1 {
		y.workThrough(y.bothReadings(y.jobs(list), bareLens))
	}
}

// prepareMeters does the same for what the meter reads behind them, in both states of the sun.
func (y *analysis) prepareMeters(list []mounting.Way) {
	if y.workers <= 1 {
		return
	}
	y.workThrough(y.bothReadings(y.jobs(list), list))
}

// bothReadings appends what the meter is not known to read behind some ways, in both states of the sun.
func (y *analysis) bothReadings(jobs []job, list []mounting.Way) []job {
	jobs = y.readings(jobs, list, false)
	if other := y.otherState(); other != nil {
		jobs = other.readings(jobs, list, true)
	}
	return jobs
}

var bareLens = []mounting.Way{{}}

// jobs lists what is not known yet of some ways, and marks it as on its way.
func (y *analysis) jobs(list []mounting.Way) []job {
	jobs := y.ownMemory().jobs[:0]
	for _, l := range y.legs {
		for _, m := range list {
			if !m.Polarises() {
				continue
			}
			if k := m.Key(); l.optics[k] == nil {
				if _, marked := l.optics[k]; !marked {
					l.optics[k] = nil
					jobs = append(jobs, job{leg: l, way: m, optics: l.own.optics.One(pieceOf)})
				}
			}
		}
	}
	return jobs
}

// readings does the same for the meter's.
func (y *analysis) readings(jobs []job, list []mounting.Way, other bool) []job {
	for _, l := range y.legs {
		for _, m := range list {
			k := m.MeterKey()
			if _, marked := l.meters[k]; !marked {
				l.meters[k] = nil
				jobs = append(jobs, job{leg: l, way: m, other: other, meter: l.newMeter()})
			}
		}
	}
	return jobs
}

// workThrough does jobs side by side and hands what was found to the legs.
func (y *analysis) workThrough(jobs []job) {
	if len(jobs) == 0 {
		return
	}
	y.withWorkers((len(jobs)+jobsAtOnce-1)/jobsAtOnce, func(z *analysis, n int) {
		for i := n * jobsAtOnce; i < min((n+1)*jobsAtOnce, len(jobs)); i++ {
			switch j := &jobs[i]; {
			case j.optics != nil:
				z.look(j.optics, j.leg, j.way)
			case j.other:
				o := &z.memory.otherStudy
				*o = *z.other
				o.memory = z.memory
				o.readLeg(j.meter, j.leg, j.way)
				*o = analysis{}
			default:
				z.readLeg(j.meter, j.leg, j.way)
			}
		}
	})
	for i := range jobs {
		if j := &jobs[i]; j.meter != nil {
			j.leg.meters[j.way.MeterKey()] = j.meter
		} else {
			j.leg.optics[j.way.Key()] = j.optics
		}
	}
	clear(jobs)
	y.memory.jobs = jobs[:0]
}
