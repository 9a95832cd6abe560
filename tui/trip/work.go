package trip

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"time"

	"example.org/skywedge/plan/trip"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// So many cards are worked out in one piece of work, and so many tried for their sureness, which takes three times as
// long: after each piece the screen has what is known (ours).
const (
	workAtOnce = 12
	sureAtOnce = 4
)

// answer is what a piece of work brings back.
type answer struct {
	gen    int
	keys   []any
	cards  []trip.Card
	failed string
}

// Kick implements [panel.View].
func (v *View) Kick(b panel.Bench) tea.Cmd {
	if v.look(b) && v.running { // a card has changed: what it was is not worth having
		v.stop()
		v.running = false
	}
	if v.running || v.paused || v.failed != "" {
		return nil
	}
	pick := func(most int, due func(*trip.Worked) bool) (list []int) {
		for i := range v.cards {
			if due(v.cards[i].Worked) && len(list) < most {
				list = append(list, i)
			}
		}
		return list
	}
	work, workers := trip.WorkAll, runtime.GOMAXPROCS(0)
	list := pick(workAtOnce, func(w *trip.Worked) bool { return w == nil })
	if own := slices.Index(v.keys, b.CardKey()); own >= 0 && v.cards[own].Worked == nil && !slices.Contains(list, own) {
		list = append(list, own) // the one that is looked at comes first
	}
	if len(list) == 0 {
		work, workers = trip.SureAll, max(1, workers-1) // a core stays free for the keys
		list = pick(sureAtOnce, func(w *trip.Worked) bool { return w.Report.Sure == nil })
	}
	if len(list) == 0 {
		return nil
	}
	v.gen++
	a := answer{gen: v.gen}
	for _, i := range list {
		a.keys, a.cards = append(a.keys, v.keys[i]), append(a.cards, v.cards[i])
	}
	ctx, stop := context.WithCancel(context.Background())
	v.running, v.stop = true, stop
	return b.InBackground("the trip could not be worked out", func() tea.Msg {
		done, err := work(ctx, a.cards, workers, nil)
		if a.cards = done; err != nil && !errors.Is(err, context.Canceled) {
			a.failed = "the trip could not be worked out"
			b.Log(err.Error())
		}
		return a
	}, func(said string) tea.Msg { return answer{gen: a.gen, failed: said} })
}

// look takes the cards as they are now, and tells whether one has changed.
func (v *View) look(b panel.Known) bool {
	now := b.Cards()
	if slices.Equal(now, v.shown) {
		return false
	}
	v.shown, v.failed = now, ""
	v.cards, v.keys, v.wrong = nil, nil, nil
	known := map[any]*entry{}
	for _, o := range now {
		e := v.known[o.Key]
		if e == nil || e.card != o.Card || e.bag != o.Bag {
			e = &entry{card: o.Card, bag: o.Bag}
			if o.Card != nil && o.Bag != nil {
				if s, faults := o.Card.Shot(o.Bag, time.Time{}); len(faults) == 0 {
					e.shot = s
				}
			}
		}
		known[o.Key] = e
		if e.shot == nil || len(e.shot.Legs) == 0 {
			v.wrong = append(v.wrong, o)
			continue
		}
		v.keys = append(v.keys, o.Key)
		v.cards = append(v.cards, trip.Card{File: o.File, Shot: e.shot, Bag: o.Bag, Worked: e.worked})
	}
	v.known = known
	v.plan = trip.Of(v.cards)
	return true
}

// Take implements [panel.View]. What was done of a card that has changed meanwhile is dropped; of stopped work the rest is
// kept.
func (v *View) Take(b panel.Bench, msg tea.Msg) bool {
	a, ok := msg.(answer)
	if !ok {
		return false
	}
	if a.gen == v.gen {
		v.running = false
		if v.failed = a.failed; v.failed != "" {
			b.Say(v.failed)
		}
	}
	fresh := false // how sure a call is changes nothing of the plan
	for i, key := range a.keys {
		w := a.cards[i].Worked
		if e := v.known[key]; e != nil && w != nil && e.shot == a.cards[i].Shot && e.bag == a.cards[i].Bag && (e.worked == nil || w.Report.Sure != nil) {
			fresh = fresh || e.worked == nil
			e.worked = w
			if at := slices.Index(v.keys, key); at >= 0 {
				v.cards[at].Worked = w
			}
		}
	}
	if fresh {
		v.plan = trip.Of(v.cards)
	}
	return true
}

// Hide implements [panel.View]. What runs is stopped; it goes on when the view is shown again.
func (v *View) Hide() {
	if v.running {
		v.stop()
		v.running = false
	}
}

// progress counts the cards that are worked out, and those that were tried for how sure they are.
func (v *View) progress() (done, sure int) {
	for i := range v.cards {
		if w := v.cards[i].Worked; w != nil {
			done++
			if w.Report.Sure != nil {
				sure++
			}
		}
	}
	return done, sure
}
