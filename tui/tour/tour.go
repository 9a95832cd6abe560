// Package tour shows a newcomer round: what is said at the very first start, and seven steps over the screen, each of
// one line at its foot.
//
// The one hard idea: a step is a row of a table. What it says names keys, and the row lists them, so that a test can hold
// the words to the table of keys. Where a step takes place is the workbench's to know; it puts everything back when the
// tour is left.
package tour

import (
	"fmt"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// Place is where a step takes place.
type Place uint8

// The panes of the shot, and the views.
const (
	Shot Place = iota
	Lens
	Call
	Compass
	Hours
	Walk
)

// Step is one of the tour's.
type Step struct {
	At   Place
	Card string   // the card of the demo that shows it best, "" for the one on the screen
	Text string   // what there is to know
	Keys []string // that it names, as the table of keys has them
}

// Steps are what a pilot needs first, in the order in which it is needed.
var Steps = [...]Step{
	{Shot, "", "At the top stands the answer: what to screw on, what to lock", nil},
	{Shot, "", "Four fields make it: place, take-off, purpose, heading. Enter edits one, + and - nudge", []string{"enter", "+", "-"}},
	{Lens, "", "The frame through the lens, bare and filtered. Right moves on along the flight", []string{"right"}},
	{Call, ringCard, "The ring is set by hand, once a flight, as you face the lens. Below it stands why", nil},
	{Compass, ringCard, "Key 2: the sky from above, and what the filter does for every heading", []string{"2"}},
	{Hours, "", "Key 4: the same shot at other hours. Enter moves it to the one under the cursor", []string{"4", "enter"}},
	{Walk, "", "Key 5: to carry, all legs or one at a time. s saves the shot, ? lists all keys", []string{"5", "s", "?"}},
}

const ringCard = "2-lighthouse.yaml"

// Tour is where the tour is.
type Tour struct {
	On bool
	At int // the step, counted from 0
}

// Next goes a step on, and is over after the last.
func (t *Tour) Next() {
	if t.At++; t.At >= len(Steps) {
		*t = Tour{}
	}
}

// Step returns the one that is shown.
func (t *Tour) Step() Step { return Steps[t.At] }

// What is said of how to go on, by the room there is.
const (
	ways     = "Space goes on, other keys leave"
	waysLess = "Space goes on"
)

// set returns the step in lines of so many columns; of the ways on as much as takes no line of its own. The first step
// says them all.
func (t *Tour) set(cols int) []string {
	text := fmt.Sprintf("%d of %d · %s · ", t.At+1, len(Steps), t.Step().Text)
	if lines := cells.Wrap(text+ways, cols); t.At == 0 || len(lines) <= len(cells.Wrap(text+waysLess, cols)) {
		return lines
	}
	return cells.Wrap(text+waysLess, cols)
}

// Rows returns how many lines the step takes in a window so wide.
func (t *Tour) Rows(cols int) int { return len(t.set(cols - 2)) }

// Draw draws the step.
func (t *Tour) Draw(w panel.Window) {
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{Bg: cells.BandGround})
	for y, l := range t.set(cols - 2) {
		w.TextIn(1, y, cols-2, l, panel.Strong.On(cells.BandGround))
	}
}

// Greeting is what is said at the very first start, as much of it as fits into so many columns. demo tells whether the
// demo trip is open, and no card of the pilot's own.
func Greeting(cols int, demo bool) string {
	list := []string{
		"A demo trip to try things on; at the top stands its answer. T shows you round, ? lists all keys, o is your own shot",
		"A demo trip, its answer at the top. T shows round, ? all keys, o your own shot",
		"A demo trip, answer on top. T a tour, ? keys, o your shot",
	}
	if !demo {
		list = []string{
			"This is your shot; at the top stands the answer. T shows you round in seven steps, ? lists the keys, q quits",
			"Your shot, its answer at the top. T shows round, ? all keys, q quits",
			"Your shot. T shows you round, ? lists all keys",
		}
	}
	for _, t := range list {
		if cells.Width(t) <= cols {
			return t
		}
	}
	return list[len(list)-1]
}
