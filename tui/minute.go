package tui

import (
	"strings"
	"time"

	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/clock"
	tea "github.com/charmbracelet/bubbletea"
)

// minuteMsg says that the clock shows another minute.
type minuteMsg struct{}

// nextMinute waits for the next minute. Whatever happened to the wait (the machine slept), the time is read anew.
func (m *model) nextMinute() tea.Cmd {
	if m.sureAfter == 0 { // nothing waits in a test without a terminal
		return nil
	}
	now, wait := m.opt.Now(), m.opt.Wait
	left := now.Truncate(time.Minute).Add(time.Minute).Sub(now)
	return func() tea.Msg {
		wait(now, left)
		return minuteMsg{}
	}
}

// minute takes the time for the next repaint. Nothing is computed for it, but where a take-off is kept.
func (m *model) minute() tea.Cmd {
	m.clock.Tell(m.opt.Now(), m.begun())
	return m.nextMinute()
}

// begun tells whether a leg of the card on the screen was ticked off: its flight is under way.
func (m *model) begun() bool { return m.views.walk.Flown(m.card()) }

// computed returns the card that the answer is for: the one that lies open, or as it is with its take-off kept.
func (m *model) computed() *shot.Card { return m.clock.Card(m.card(), m.card().current) }

// countdown returns how far off the take-off is; nothing while the answer is of another card.
func (m *model) countdown() advice.Countdown {
	if m.stale() || m.calc.solved == nil {
		return advice.Countdown{}
	}
	return m.clock.Count(m.card(), m.calc.report, m.begun())
}

// leastName is how much of the card's name stays in the title, columns.
const leastName = 10

// whenFact returns what the title says in place of the take-off that is written, "" for that: the countdown where the
// band has no room for it, the take-off that is kept. The sun's place, at the right, gives way to it, and its second
// half to the word that something is not saved.
func (m *model) whenFact(cols int, sun string, unsaved bool) (when, right string) {
	n := m.countdown()
	if n.Short == "" || call.Counts(m.callState(), cols) {
		if m.clock.Keeps(m.card()) && m.computed() != nil {
			when = takeOffWords(m.computed().Doc.At("take_off").Text()) + " kept"
		}
		return when, sun
	}
	need := 1 + leastName + len(" . ")
	if unsaved {
		need += len(" . not saved")
	}
	height, _, _ := strings.Cut(sun, " at ")
	first, _, _ := strings.Cut(n.Short, ", latest")
	for _, c := range [][2]string{{n.Short, sun}, {n.Short, height}, {first, height}} {
		if when, right = c[0], c[1]; need+cells.Width(when) <= cols-3-cells.Width(right) {
			break
		}
	}
	return when, right
}

// watch is asked after every message: whether the take-off that is kept still holds, and whether it has become too late,
// which is said where nothing else is being read.
func (m *model) watch() {
	if m.clock.Check(m.card(), m.card().text("take_off")) && m.note == "" {
		m.say("take-off follows the clock no more: the card has another one now")
	}
	if m.note != "" || m.edit.on || m.ask.on || m.list.On || m.kept.on || m.calc.solved == nil || m.calc.solved != m.computed() {
		return
	}
	if text := m.clock.News(m.card().current, m.countdown()); text != "" {
		if m.clock.Keeps(m.card()) {
			text += "; fly fewer takes, or go sooner"
		} else {
			text += "; i plans it from now" // another filter may still do
		}
		m.say(text)
	}
}

// keepTakeOff keeps the take-off at some minutes from now, and moves it by so many when it is.
func (m *model) keepTakeOff(by int) {
	s := m.card()
	switch {
	case s.current == nil:
		m.say("this file cannot be read as a card")
		return
	case m.begun():
		m.say("a leg is flown: the take-off stays as it is")
		return
	}
	m.clock.Keep(s, s.text("take_off"), by, m.opt.Now())
	text := "i 5 min later, I sooner, Enter writes it, Esc lets go"
	if lead := "take-off follows the clock, and the answer with it: "; m.screen.w > len(lead)+len(text)+2 {
		text = lead + text
	}
	m.say(text)
}

// writeTakeOff writes the take-off that is kept into the card.
func (m *model) writeTakeOff() {
	if !m.mayEdit() {
		return
	}
	s, was := m.card(), m.card().text("take_off")
	card := m.computed()
	m.clock.LetGo()
	if card.Doc.At("take_off").Text() == was {
		m.say("the card has this take-off already")
		return
	}
	s.put(card, "", m.opt.Now())
	m.changed()
	m.say("take-off " + takeOffWords(s.text("take_off")) + " is written; u takes it back")
}

// letGo goes back to the take-off as it is written.
func (m *model) letGo() {
	m.clock.LetGo()
	m.say("take-off as it is written: " + takeOffWords(m.card().text("take_off")))
}

// keeping tells whether the keys of a take-off that is kept work: where Enter has no work of its own that is seen on
// the whole screen.
func (m *model) keeping() bool {
	return m.clock.Keeps(m.card()) && m.here()&(inPanes|inCompass|inWalk) != 0
}

// clockKeys are the rows of the clock.
func clockKeys() []binding {
	return []binding{
		{"i", "i", everywhere, "", "keep take-off at 5 minutes from now, 5 more at each press: the answer follows the clock", 0, do(func(m *model) { m.keepTakeOff(clock.Step) })},
		{"I", "I", everywhere, "", "keep take-off at 5 minutes less from now; the first press: at now", 0, do(func(m *model) { m.keepTakeOff(-clock.Step) })},
		{"enter", "Enter", inClock, "write it", "write the take-off that is kept into the card; u takes it back", 17, do(func(m *model) { m.writeTakeOff() })},
		{"esc", "Esc", inClock, "let go", "back to the take-off as it is written", 17, do(func(m *model) { m.letGo() })},
	}
}
