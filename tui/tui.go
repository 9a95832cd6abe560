// Package tui is the workbench: a shot is laid out, its answer is seen live, and the card is saved.
//
// The one hard idea: an event changes the document or where the cursor is, and starts at most one computation;
// drawing only reads what is there. The computation works on a card that cannot change, so nothing waits and
// nothing is locked. A newer card simply makes the next computation start when the running one is back.
//
// The package keeps the open documents, the layout and the panes of view 1. Every other view is a package of its
// own over package panel: it is asked to draw, to start its work and to take the answer, and changes a document
// only through the bench that the model is to it (for_views.go).
//
// Everything is drawn on one grid of cells (package cells), so a screen always has exactly the lines and columns
// of the window. What keys do is one table ([keyTable]), which drives dispatch, the bottom line, the list of keys
// and its page.
package tui

import (
	"context"
	"errors"
	"os"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui/cells"
	_ "example.org/skywedge/tui/early" // decides the background before the runtime asks for it
	"example.org/skywedge/tui/input"
	"example.org/skywedge/tui/internal/tty"
	"example.org/skywedge/tui/pixels"
	tea "github.com/charmbracelet/bubbletea"
)

// Source is one card to open.
type Source struct {
	Path string // where it was read; of a demo card only its name
	Data []byte
	Demo bool     // embedded: an unsaved copy, saving asks where
	New  bool     // there is no file yet; with Demo saving asks where, else it is made at Path
	Bag  *kit.Bag // the bag beside the card; nil takes Options.Bag

	Picture *taken.Picture // a new shot begins from it, without a file of its own
}

// PixelWords are the words of [Options.Pixels].
var PixelWords = pixels.Words

// Options are what the workbench needs to know of the world.
type Options struct {
	Cards   []Source
	Bag     *kit.Bag // nil takes the generic one
	BagFile string   // the file that Bag was read from; "" for an embedded one: saving it asks where
	Theme   string   // dark, light, or "" to decide by COLORFGBG
	ASCII   bool     // nothing but ASCII is drawn
	Pixels  string   // one of PixelWords, or "" for the first: pictures in true pixels
	NoMouse bool     // the mouse is left to the terminal
	Now     func() time.Time
	Wait    func(from time.Time, d time.Duration) // returns when Now shows so much later
	In, Out *os.File
	Env     func(string) string
}

func (o *Options) fill() {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Wait == nil {
		o.Wait = func(_ time.Time, d time.Duration) { time.Sleep(d) }
	}
	if o.Env == nil {
		o.Env = os.Getenv
	}
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	if o.Bag == nil {
		o.Bag = kit.Generic()
	}
}

// Run opens the workbench and returns when it is left. Unsaved work is kept for the next start when
// the context ends, a signal arrives or the program fails.
func Run(ctx context.Context, o Options) (err error) {
	o.fill()
	if len(o.Cards) == 0 {
		return errors.New("no card to open")
	}
	first := store.FirstStart() // before a card that is opened leaves its lock there
	m := beginModel(o)
	m.computeEarly()
	m.openRest()
	m.guide.greets = first && m.note == ""
	defer m.release()
	m.out = newTerminal(o.Out, o.Env("TERM"), pixels.Wrap(o.Env))
	m.signals = newSignals(m.keeper, m.out, o.In)
	in := input.New(o.In)
	options := []tea.ProgramOption{
		tea.WithContext(ctx),
		tea.WithAltScreen(),
		tea.WithFPS(1), // it has nothing to draw: see terminal
		tea.WithInput(in),
		tea.WithOutput(m.out),
		tea.WithoutSignalHandler(),
	}
	if !o.NoMouse {
		options = append(options, tea.WithMouseCellMotion())
	}
	p := tea.NewProgram(m, options...)
	m.signals.program = p
	m.keeper.tell = p.Send
	in.Answered = func(text string) { p.Send(pixels.Answer(text)) }
	m.layPixels(input.Answers)
	m.out.drained = func() { p.Send(drainedMsg{}) }
	m.end = p.Kill
	m.signals.watch()
	_, err = p.Run()
	if !m.left {
		m.keepAndLeave() // killed, cancelled or failed: nothing typed may be lost
	}
	atMost := leaveTime
	if m.signals.toLeave() {
		atMost = terminalTime
	}
	m.out.finish(atMost)
	m.signals.stop()
	switch {
	case m.failed != nil:
		return m.failed
	case m.ended != nil:
		return notKept(m.ended)
	case errors.Is(err, tea.ErrProgramKilled) && ctx.Err() != nil:
		return nil
	}
	return err
}

func newPen(o *Options) *cells.Pen {
	return &cells.Pen{
		Profile: cells.DetectProfile(o.Env, tty.ActsOnCodes(o.Out)),
		Theme:   cells.ThemeByName(o.Theme, o.Env("COLORFGBG")),
		ASCII:   o.ASCII || o.Env("TERM") == "dumb",
	}
}

// layPixels lets true pictures be laid over the screen where the terminal shows them; answers tells that one can be asked.
func (m *model) layPixels(answers bool) {
	mode := pixels.Choose(m.opt.Pixels, m.screen.pen, m.opt.Env)
	switch {
	case !m.out.marks:
		mode = pixels.Never
	case mode == pixels.Ask && !answers:
		mode = pixels.Off
	}
	if mode == pixels.Ask {
		m.out.first = pixels.Question()
	}
	l := &m.pixels
	l.Out, l.Ask, l.Work = m.out.pictures, m.out.send, m.inBackground
	l.Size = func() (w, h int) { return tty.CellSize(m.opt.Out) }
	l.Begin(mode)
}
