package trip

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan/words"
)

// Headline says a day in one line: "Fri 18 Sep · 3 shots · 2 changes · 4 batteries".
func (d *Day) Headline(cards []Card) string {
	parts := []string{d.Date.Format("Mon 2 Jan"), counted1(len(d.Stops), "shot")}
	if d.worked(cards) {
		parts = append(parts, counted1(d.Changes(cards), "change"))
	}
	n, known := d.Batteries()
	text := counted1(n, "battery")
	if !known {
		text += " or more"
	}
	return strings.Join(append(parts, text), " · ")
}

// worked tells whether all shots of a day are worked out.
func (d *Day) worked(cards []Card) bool {
	for i := range d.Stops {
		if cards[d.Stops[i].Card].Worked == nil {
			return false
		}
	}
	return true
}

// counted1 says a count: "1 battery", "3 changes".
func counted1(n int, one string) string {
	switch {
	case n == 1:
		return "1 " + one
	case strings.HasSuffix(one, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(one, "y"))
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Missed returns how many shots the order proposed misses, and how many are missed as they are written.
func (d *Day) Missed() (proposed, written int) { return d.Proposed.missed, d.Written.missed }

// ProposedWords says what the order proposed is better at.
func (d *Day) ProposedWords(cards []Card) string {
	var parts []string
	if n := d.Written.missed - d.Proposed.missed; n > 0 {
		parts = append(parts, fmt.Sprintf("%d more in window", n))
	}
	if n := d.Changes(cards) - d.ProposedChanges(cards); n > 0 && len(d.Order) == len(d.Stops) {
		parts = append(parts, counted1(n, "change")+" less")
	}
	if n := d.kept.minutes - d.Proposed.minutes; n > 0 && len(d.Order)+d.kept.missed == len(d.Stops) {
		parts = append(parts, fmt.Sprintf("%d min less to drive", n))
	}
	if len(parts) == 0 {
		parts = append(parts, "every shot in time")
	}
	text := strings.Join(parts, ", ")
	if left := len(d.Stops) - len(d.Order); left > 0 {
		text += "; " + counted1(left, "shot") + " not reached"
	}
	if !d.Exact {
		text += fmt.Sprintf("; of more than %d shots the best order is not sought to the last", exactUpTo)
	}
	return text
}

// Way says what lies before a shot: "11 km, 17 min, change to ND16"; "" where it is flown from the same place with the same
// filter.
func (h hop) Way(c *Card) string {
	var parts []string
	if h.travel > 0 {
		parts = append(parts, fmt.Sprintf("%.0f km, %s", math.Max(1, h.km), minutesOf(h.travel)))
	}
	if h.change > 0 {
		name, _ := c.first()
		text := "change to " + name
		if name == words.Bare {
			text = "take the filter off"
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, ", ")
}

// BatteryWords says how many a shot takes.
func (s *Stop) BatteryWords() string {
	if s.Batteries == 0 {
		return "batteries not known"
	}
	return counted1(s.Batteries, "battery")
}

// WindowWords says when a shot can take off as it is called, and for which of these the light is that wanted.
func (c *Card) WindowWords() string {
	switch {
	case c.Worked == nil:
		return ""
	case c.Lamps:
		return "no window: lamps are not in the model"
	case c.Window == nil:
		return "no window: the call holds at no take-off of this day"
	}
	text := "holds for take-offs from " + c.Window.words(c.Shot)
	if s := c.slot(); s != *c.Window {
		text += ", light wanted " + s.words(c.Shot)
	}
	if turn := c.Shot.SunTurnWords(c.Shot.TakeOff); turn != "" {
		text += "; " + turn
	}
	return text
}
