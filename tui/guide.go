package tui

import (
	"path/filepath"

	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/tour"
	tea "github.com/charmbracelet/bubbletea"
)

// guide shows a newcomer round: the line of the first start, and the tour with what it puts back.
type guide struct {
	tour.Tour
	greets bool // until the first key
	was    stand
}

// stand is what is on the screen, without the documents.
type stand struct {
	card, view, focus, leg, col int
	cursor, scroll              [paneCount]int
	second                      float64
	note                        string
}

func (m *model) stand() stand {
	return stand{m.at, m.view, m.focus, m.leg, m.col, m.cursor, m.scroll, m.second, m.note}
}

// standAt puts the screen back.
func (m *model) standAt(s stand) {
	m.showCard(s.card)
	m.show(s.view)
	m.focus, m.leg, m.col, m.cursor, m.scroll, m.second, m.note = s.focus, s.leg, s.col, s.cursor, s.scroll, s.second, s.note
}

// greet says at the very first start what is on the screen and what to press.
func (m *model) greet() {
	if m.guide.greets {
		s := m.card()
		m.say(tour.Greeting(m.screen.w-2, s.fileless && !s.unwritten))
	}
}

// beginTour shows the first step.
func (m *model) beginTour() {
	m.guide.was, m.guide.On = m.stand(), true
	m.showStep()
}

// nextStep goes on, and back to where the tour began after its last step.
func (m *model) nextStep() {
	if m.guide.Next(); m.guide.On {
		m.showStep()
	} else {
		m.standAt(m.guide.was)
	}
}

// leaveTour puts the screen back as it was.
func (m *model) leaveTour() {
	m.guide.Tour = tour.Tour{}
	m.standAt(m.guide.was)
}

// showStep brings what a step is about to the screen. Only copies of the demo are shown in place of the card that is there.
func (m *model) showStep() {
	step := m.guide.Step()
	at := m.guide.was.card
	for i, s := range m.cards {
		if s.fileless && !s.unwritten && step.Card != "" && filepath.Base(s.file) == step.Card {
			at = i
		}
	}
	if m.cards[m.guide.was.card].fileless {
		m.showCard(at)
	}
	view, focus := viewShot, m.focus
	switch step.At {
	case tour.Shot:
		focus = paneShot
	case tour.Lens:
		focus = paneLens
	case tour.Call:
		focus = paneCall
	case tour.Compass:
		view = viewCompass
	case tour.Hours:
		view = viewHours
	case tour.Walk:
		view = viewWalk
	}
	m.show(view)
	m.focus = focus
	m.scroll[focus] = 0
	m.clampCursors()
}

// tourKey handles a key on the tour: one goes on, any other leaves it and does nothing else.
func (m *model) tourKey(k string) tea.Cmd {
	if b := m.table.at(inTour, k); b != nil {
		return b.do(m, k)
	}
	m.leaveTour()
	return nil
}

// tourLine draws the step at the foot of the screen.
func (s *screen) tourLine(m *model) {
	if n := m.guide.Rows(s.w); m.guide.On && s.kind != panel.TooSmall {
		m.guide.Draw(s.window(panel.Box(0, s.h-n, s.w, n)))
	}
}

// tourKeys are the rows of the tour.
func tourKeys() []binding {
	return []binding{
		{"T", "T", everywhere, "", "a tour of the screen in seven steps; it changes nothing, and any key leaves it", 0, do(func(m *model) { m.beginTour() })},
		{"space enter T", "Space", inTour, "", "to the next step; any other key leaves the tour", 0, do(func(m *model) { m.nextStep() })},
		{"ctrl+c", "Ctrl-C", inTour, "", "leave the tour and quit", 0, func(m *model, _ string) tea.Cmd { m.leaveTour(); return m.interrupt() }},
		{"ctrl+z", "Ctrl-Z", inTour, "", "leave the tour and suspend", 0, func(m *model, _ string) tea.Cmd { m.leaveTour(); return m.suspend() }},
	}
}
