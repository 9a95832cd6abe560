package trip

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Conflict is what keeps a shot from being flown as its card has it, and what mends it.
type Conflict struct {
	Short string // in three words: "6 min late"
	Words string
	Mend  string // "" where nothing does
}

func (c Conflict) String() string {
	if c.Mend == "" {
		return c.Words
	}
	return c.Words + ": " + c.Mend
}

// conflicts says of every shot of a day what stands against it.
func (d *Day) conflicts(cards []Card, j *jobs) {
	for k := range d.Stops {
		s := &d.Stops[k]
		c := &cards[s.Card]
		if late := s.Ready.Sub(s.TakeOff); !s.Ready.IsZero() && late > 0 {
			s.Conflicts = append(s.Conflicts, d.late(cards, j, k, late))
		}
		switch out := c.missed(s.TakeOff); {
		case out && c.Window == nil:
			s.Conflicts = append(s.Conflicts, Conflict{Short: "does not hold", Words: "the exposure " + c.holder() + " at no take-off of this day", Mend: "see its card for what else would do"})
		case out:
			s.Conflicts = append(s.Conflicts, Conflict{Short: "outside window", Words: "the exposure " + c.holder() + " from " + c.Window.words(c.Shot) + " only",
				Mend: "take off " + c.toward(s.TakeOff)})
		case s.Missed && c.Window != nil:
			s.Conflicts = append(s.Conflicts, Conflict{Short: "window missed", Words: "the exposure " + c.holder() + " until " + clock(c.Shot, c.Window.To) + " only", Mend: d.byOrder(cards, k)})
		}
		if why := c.offWant(s.TakeOff); why != "" {
			s.Conflicts = append(s.Conflicts, Conflict{Short: "other light", Words: why})
		}
	}
}

// late says that one cannot take off in time after the shot before.
func (d *Day) late(cards []Card, j *jobs, k int, late time.Duration) Conflict {
	s := &d.Stops[k]
	before := s.after
	b := &d.Stops[before]
	c := &cards[s.Card]
	minutes := int(math.Ceil(late.Minutes()))
	x := Conflict{Short: fmt.Sprintf("%d min late", minutes)}
	if b.Landing.After(s.TakeOff) {
		x.Words = fmt.Sprintf("two at once: %s lands at %s, take-off %s", cards[b.Card].Shot.Name, clock(c.Shot, b.Landing), clock(c.Shot, s.TakeOff))
	} else {
		h := j.hops[before][k]
		what := ""
		if h.travel > 0 {
			what = fmt.Sprintf("%.0f km, %s", math.Max(1, h.km), minutesOf(h.travel))
		}
		if h.change > 0 {
			if what != "" {
				what += ", "
			}
			what += "change of filter " + minutesOf(h.change)
		}
		x.Words = fmt.Sprintf("ready %s, take-off %s (%s)", clock(c.Shot, s.Ready.Add(time.Minute-time.Second)), clock(c.Shot, s.TakeOff), what)
	}
	by := time.Duration(minutes) * time.Minute
	earlier := b.TakeOff.Add(-by)
	can := !earlier.Before(j.list[before].from) && !b.TakeOff.After(j.list[before].to)
	if can && before > 0 {
		can = b.Ready.IsZero() || !earlier.Before(b.Ready)
	}
	begin := s.TakeOff.Add(by)
	may := !begin.After(j.list[k].to) && !s.TakeOff.Before(j.list[k].from)
	if may && k+1 < len(d.Stops) {
		may = !begin.Add(j.list[k].length + j.hops[k][k+1].whole()).After(d.Stops[k+1].TakeOff)
	}
	switch {
	case can:
		x.Mend = fmt.Sprintf("%d min earlier on %s mends it", minutes, cards[b.Card].Shot.Name)
	case may:
		x.Mend = fmt.Sprintf("%d min later mends it", minutes)
	default:
		x.Mend = d.byOrder(cards, k)
	}
	return x
}

// byOrder says what the order proposed makes of a shot.
func (d *Day) byOrder(cards []Card, k int) string {
	if d.Order == nil {
		return ""
	}
	for n, m := range d.Order {
		if m.Card == d.Stops[k].Card {
			return fmt.Sprintf("the order proposed has it at %s, %s", clock(cards[m.Card].Shot, m.TakeOff), ordinal(n+1))
		}
	}
	return "no order reaches it: leave one out, or fly it another day"
}

func ordinal(n int) string {
	if n <= len(ordinals) {
		return ordinals[n-1]
	}
	return fmt.Sprintf("as number %d", n)
}

var ordinals = []string{"first", "second", "third", "fourth", "fifth"}

// holder says with what on the lens: "holds bare", "holds with ND16".
func (c *Card) holder() string {
	if name, _ := c.first(); name != words.Bare {
		return "holds with " + name
	}
	return "holds " + words.FilterTitle(words.Bare, 0)
}

// toward says how a take-off comes into its window.
func (c *Card) toward(t time.Time) string {
	if t.Before(c.Window.From) {
		return "from " + clock(c.Shot, c.Window.From.Add(time.Minute-time.Second))
	}
	return "by " + clock(c.Shot, c.Window.To)
}

// offWant says that the card asks for a light that its take-off has not; "" where it has, and where it asks for none.
func (c *Card) offWant(t time.Time) string {
	if c.Worked == nil || c.Shot.Want == nil {
		return ""
	}
	for _, w := range c.Wanted {
		if w.Holds(t) {
			return ""
		}
	}
	if len(c.Wanted) == 0 {
		return "the light wanted does not come that day"
	}
	near := c.Wanted[0]
	far := func(w Span) time.Duration { return max(w.From.Sub(t), t.Sub(w.To)) }
	for _, w := range c.Wanted[1:] {
		if far(w) < far(near) {
			near = w
		}
	}
	return "the light wanted is there for take-offs from " + near.words(c.Shot)
}

func (s Span) words(x *shot.Shot) string {
	return clock(x, s.From.Add(time.Minute-time.Second)) + " to " + clock(x, s.To)
}

func clock(s *shot.Shot, t time.Time) string { return s.OnTheClock(t) }

func minutesOf(d time.Duration) string { return fmt.Sprintf("%d min", int(math.Ceil(d.Minutes()))) }
