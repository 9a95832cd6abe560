package pixels

import (
	"slices"
	"sync/atomic"
	"time"

	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// rest is how long nothing must have moved before true pictures are drawn.
const rest = 150 * time.Millisecond

// A cell of a terminal that does not tell its size (ours).
const plainW, plainH = 10, 20

// mostCell is more than any cell has; what says so is no answer (ours).
const mostCell = 200

// Layer is the true pictures over the screen, as the loop of the workbench knows them. The zero value shows none.
type Layer struct {
	Out  *Sender           // nil without a terminal
	Ask  func(code string) // asks the terminal
	Size func() (w, h int) // of a cell in pixels, 0 where the system does not know
	Work func(what string, f func() tea.Msg, broke func(said string) tea.Msg) tea.Cmd

	mode    Mode
	shows   bool // the terminal has said so, or it is taken for granted
	off     bool // switched off by a key
	w, h    int  // of a cell, as the terminal said
	wanted  []spot
	next    []spot // memory for the next look
	sent    []spot // what the sender has
	stirred time.Time
	waiting bool // the wait for a rest runs
	drawing bool
	up      bool // shown, or on the way
	gen     atomic.Int64
}

// Answer is what the terminal answered.
type Answer string

// Failed tells that pictures could not be drawn. They are off then.
type Failed struct{ Text string }

type restMsg struct{}

type drawnMsg struct {
	gen    int64
	of     []spot
	list   []Picture
	failed string
}

// Begin gives the layer its mode.
func (l *Layer) Begin(m Mode) {
	if l.mode, l.shows = m, m == Sure; m == Ask {
		l.Out.Limit(quick)
	}
}

// On tells whether pictures are shown once the screen rests.
func (l *Layer) On() bool {
	return l.Out != nil && l.shows && !l.off && l.mode > Off && !l.Out.Slow()
}

// Stir tells that something moves: the pictures go, and what is being drawn is not wanted any more.
func (l *Layer) Stir() {
	if !l.On() {
		return
	}
	l.stirred = time.Now()
	l.gen.Add(1)
	if l.up {
		l.up = false
		l.Out.Hide()
	}
}

// Resized tells that the window, or its letters, have another size.
func (l *Layer) Resized() {
	l.Gone()
	l.askSize()
}

// Gone tells that the pictures that were sent are of no use: the terminal was given away and is back, or its cells have
// another size.
func (l *Layer) Gone() {
	l.Stir()
	l.sent, l.up = nil, false
}

// Switch turns pictures off and on again, and says what is so.
func (l *Layer) Switch() string {
	switch {
	case l.Out == nil || l.mode == Never:
		return "no pixels here, whatever --pixels says"
	case l.mode == Off:
		return "half blocks only; pixels with skywedge --pixels kitty"
	case !l.shows:
		return "pictures stay in half blocks: this terminal does not say that it shows pixels"
	case l.Out.Slow(): // with patience, then
		l.Out.Limit(0)
		l.Gone()
		return "pictures in pixels, though the line is slow"
	case l.off:
		l.off = false
		l.Stir()
		return "pictures in pixels, when no key moves"
	}
	l.Stir()
	l.off = true
	return "pictures in half blocks"
}

// See looks at what was drawn on the screen. Where it has changed under the pictures, they go.
func (l *Layer) See(c *cells.Canvas) {
	if !l.On() {
		return
	}
	now := spots(c, l.next)
	if slices.Equal(now, l.wanted) {
		l.next = now
		return
	}
	l.next, l.wanted = l.wanted, now
	l.Stir()
}

// Later starts the wait for a rest, unless it runs. It is asked after every message.
func (l *Layer) Later() tea.Cmd {
	if !l.On() || l.waiting {
		return nil
	}
	return l.wait(rest)
}

func (l *Layer) wait(d time.Duration) tea.Cmd {
	l.waiting = true
	return tea.Tick(d, func(time.Time) tea.Msg { return restMsg{} })
}

// Take takes a message of the layer's own and tells whether it was one: then nothing on the screen has changed. busy tells
// that what is on the screen is about to change.
func (l *Layer) Take(msg tea.Msg, busy bool) (cmd tea.Cmd, mine bool) {
	switch msg := msg.(type) {
	case Answer:
		return l.answer(string(msg)), true
	case restMsg:
		l.waiting = false
		return l.rested(busy), true
	case drawnMsg:
		return l.drawn(msg), true
	}
	return nil, false
}

func (l *Layer) answer(text string) tea.Cmd {
	shows, w, h := answered(text)
	switch {
	case w > 0 && h > 0 && w <= mostCell && h <= mostCell && (w != l.w || h != l.h):
		l.w, l.h = w, h
		l.Gone()
		return l.Later()
	case shows && l.mode == Ask && !l.shows:
		l.shows = true
		l.askSize()
		return func() tea.Msg { return Found{} }
	}
	return nil
}

// Found tells that the terminal shows pictures: the screen is to be looked at anew.
type Found struct{}

// askSize asks the terminal for the size of a cell where the system does not tell it.
func (l *Layer) askSize() {
	if !l.On() {
		return
	}
	if w, h := l.Size(); w == 0 || h == 0 {
		l.Ask(cellQuestion)
	}
}

func (l *Layer) cell() (w, h int) {
	if w, h = l.Size(); w > 0 && h > 0 {
		return w, h
	}
	if l.w > 0 {
		return l.w, l.h
	}
	return plainW, plainH
}

// rested draws the pictures, or shows again those that were only hidden.
func (l *Layer) rested(busy bool) tea.Cmd {
	if !l.On() || l.up {
		return nil
	}
	if left := rest - time.Since(l.stirred); left > 0 || busy || l.drawing {
		return l.wait(max(left, rest/10))
	}
	if len(l.wanted) == 0 {
		return nil
	}
	if slices.Equal(l.wanted, l.sent) && l.Out.Again() {
		l.up = true
		return nil
	}
	l.drawing = true
	gen, of := l.gen.Load(), slices.Clone(l.wanted)
	w, h := l.cell()
	return l.Work("the picture could not be drawn in pixels", func() tea.Msg {
		list, err := draw(func() bool { return l.gen.Load() != gen }, of, w, h)
		m := drawnMsg{gen: gen, of: of, list: list}
		if err != nil {
			m.failed = err.Error()
		}
		return m
	}, func(said string) tea.Msg { return drawnMsg{gen: gen, failed: said} })
}

func (l *Layer) drawn(msg drawnMsg) tea.Cmd {
	l.drawing = false
	switch {
	case msg.failed != "":
		l.Stir()
		l.off = true
		return func() tea.Msg { return Failed{msg.failed} }
	case msg.gen != l.gen.Load():
		return l.Later()
	}
	l.up, l.sent = true, msg.of
	l.Out.Show(msg.list)
	return nil
}
