// Package trip is the view of all open cards as one plan: rows of shots over the hours, with the windows in which
// each can take off, the ways and changes between them, and the order that is proposed.
//
// The one hard idea: the card under the cursor is the card on the screen, so the answer above is its answer, + and -
// move its take-off, and u takes that back. What is worked out of a card is kept with the card and the bag that it was
// worked out of, which never change: after a nudge one card is worked out anew, and the plan is made of what is known.
package trip

import (
	"context"
	"fmt"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/trip"
	"example.org/skywedge/tui/panel"
)

// View is the view of the trip.
type View struct {
	known   map[any]*entry // by the card's key
	shown   []panel.OpenCard
	cards   []trip.Card // those that are right, as the plan has them
	keys    []any       // theirs
	wrong   []panel.OpenCard
	plan    *trip.Plan
	running bool
	paused  bool
	stop    context.CancelFunc
	gen     int
	failed  string
	order   bool // the order proposed is shown
	top     int  // first line of the list that is shown
}

// entry is what is known of one card. It holds as long as the card and the bag are these.
type entry struct {
	card   *shot.Card
	bag    *kit.Bag
	shot   *shot.Shot // nil where the card has a fault
	worked *trip.Worked
}

// New returns the view.
func New() *View { return &View{known: map[any]*entry{}} }

// Name implements [panel.View].
func (*View) Name() string { return "Trip" }

// Keys implements [panel.View].
func (v *View) Keys() []panel.Key {
	by := func(n int) func(panel.Bench) { return func(b panel.Bench) { v.move(b, n) } }
	nudge := func(n int) func(panel.Bench) { return func(b panel.Bench) { b.NudgeCard("take_off", n) } }
	return []panel.Key{
		panel.On("up k", "Up k", "", "to the shot above", 0, by(-1)),
		panel.On("down j", "Down j", "", "to the shot below", 0, by(1)),
		panel.On("pgup", "PgUp", "", "ten shots up", 0, by(-10)),
		panel.On("pgdown", "PgDn", "", "ten shots down", 0, by(10)),
		panel.On("home g", "Home g", "", "to the first shot", 0, by(-1<<20)),
		panel.On("end G", "End G", "", "to the last shot", 0, by(1<<20)),
		panel.On("enter", "Enter", "open or take", "open the shot; where the order proposed is shown, take it for this day", 10, v.enter),
		panel.On("+ =", "+", "later", "take off a step later", 8, nudge(1)),
		panel.On("-", "-", "earlier", "take off a step earlier", 7, nudge(-1)),
		panel.On("a", "a", "order", "show the order proposed, or the cards as they are", 9, v.toggle),
		panel.On("x", "x", "", "stop working the trip out, or go on", 0, v.pause),
	}
}

// rows lists the keys of the cards in the order of the screen.
func (v *View) rows() []any {
	var list []any
	if v.plan == nil {
		return nil
	}
	for i := range v.plan.Days {
		for _, c := range v.dayRows(&v.plan.Days[i]) {
			list = append(list, v.keys[c])
		}
	}
	for _, o := range v.wrong {
		list = append(list, o.Key)
	}
	return list
}

// dayRows lists those of a day: as the cards have it, or as it is proposed and then what is not reached.
func (v *View) dayRows(d *trip.Day) []int {
	var list []int
	seen := map[int]bool{}
	if v.order {
		for _, m := range d.Order {
			list, seen[m.Card] = append(list, m.Card), true
		}
	}
	for i := range d.Stops {
		if c := d.Stops[i].Card; !seen[c] {
			list = append(list, c)
		}
	}
	return list
}

// move goes to another shot, and puts it on the screen.
func (v *View) move(b panel.Bench, by int) {
	rows := v.rows()
	if len(rows) == 0 {
		return
	}
	b.ShowCard(rows[max(0, min(slices.Index(rows, b.CardKey())+by, len(rows)-1))])
}

// dayAt returns the day of the card on the screen, nil when it is in none.
func (v *View) dayAt(k panel.Known) *trip.Day {
	if v.plan == nil {
		return nil
	}
	for i := range v.plan.Days {
		d := &v.plan.Days[i]
		for s := range d.Stops {
			if v.keys[d.Stops[s].Card] == k.CardKey() {
				return d
			}
		}
	}
	return nil
}

func (v *View) toggle(b panel.Bench) {
	if v.plan == nil { // the key came with the one that opened the view
		return
	}
	if v.order = !v.order; !v.order {
		return
	}
	better := 0
	for i := range v.plan.Days {
		if d := &v.plan.Days[i]; d.Order != nil && d.Better(v.cards) {
			better++
		}
	}
	switch {
	case !v.complete():
		b.Say("the order is known when all is worked out")
	case better == 0:
		v.order = false
		b.Say("no order is better than the cards' own")
	}
}

// complete tells whether every card that is right is worked out.
func (v *View) complete() bool {
	for i := range v.cards {
		if v.cards[i].Worked == nil {
			return false
		}
	}
	return v.plan != nil
}

func (v *View) enter(b panel.Bench) {
	d := v.dayAt(b)
	if !v.order || d == nil {
		b.ShowShot()
		return
	}
	v.accept(b, d)
}

// accept moves the take-offs of a day to where the order proposed has them: on each card one step of undo.
func (v *View) accept(b panel.Bench, d *trip.Day) {
	moved, refused := 0, 0
	for _, m := range d.Order {
		s := v.cards[m.Card].Shot
		if m.TakeOff.Equal(s.TakeOff) {
			continue
		}
		if b.SetCardOf(v.keys[m.Card], panel.Change{Path: "take_off", Text: shot.FormatTakeOff(m.TakeOff, s.Zone)}) {
			moved++
		} else {
			refused++
		}
	}
	if refused > 0 {
		return // what is wrong was said
	}
	v.order = false
	switch moved {
	case 0:
		b.Say("this day has its best order already")
	case 1:
		b.Say("one take-off moved; u on its row takes it back")
	default:
		b.Say(fmt.Sprintf("%d take-offs moved; u on each row takes one back", moved))
	}
}

func (v *View) pause(b panel.Bench) {
	if v.paused = !v.paused; v.paused {
		v.Hide()
		b.Say("stopped; x goes on")
	}
}
