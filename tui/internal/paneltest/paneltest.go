// Package paneltest is a bench for the tests of views: a card of the demo, solved, with a canvas to draw on. It
// has no files, no history and no terminal; what a view asks for is done at once.
package paneltest

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Bench is a bench for tests. Its fields may be set between two keys.
type Bench struct {
	TB       testing.TB
	View     panel.View
	W, H     int // of the window
	At       int // the card of the demo
	S        float64
	R        *plan.Report
	B        *kit.Bag
	Card     *shot.Card
	Edits    int       // of the card, by EditCard
	BagSaves int       // how often the bag was saved
	Clock    time.Time // what Now tells
	Faulty   bool      // the answer is that of an earlier card
	Waits    bool      // Later waits
	Said     string
	Asked    *panel.Question // that waits for an answer
	Canvas   cells.Canvas
	Shown    bool // the view of the shot was asked for

	all []panel.OpenCard

	pen  *cells.Pen
	hits []panel.Hit
}

// now is the time of all tests.
var now = time.Date(2026, 9, 18, 12, 0, 0, 0, time.UTC)

// Open returns a bench with the first card of the demo and a view at work in a window. env decides on colours;
// nil is a terminal with all of them. Without a view nothing is solved.
func Open(tb testing.TB, v panel.View, w, h int, env map[string]string) *Bench {
	tb.Helper()
	if env == nil {
		env = map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor"}
	}
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		tb.Fatal(faults)
	}
	get := func(k string) string { return env[k] }
	b := &Bench{TB: tb, View: v, W: w, H: h, B: bag, pen: &cells.Pen{Profile: cells.DetectProfile(get, false), Theme: cells.ThemeByName("", "")}}
	b.Load(0)
	return b
}

// CardCount is how many cards the demo has.
func (b *Bench) CardCount() int { return len(examples.Cards()) }

// Load goes to a card of the demo.
func (b *Bench) Load(at int) {
	b.TB.Helper()
	name := examples.Cards()[at]
	card, faults := shot.ReadCard(name, examples.Card(name))
	if len(faults) > 0 {
		b.TB.Fatal(faults)
	}
	b.At, b.Card, b.S = at, card, 0
	b.solve()
}

func (b *Bench) solve() {
	b.TB.Helper()
	shot, faults := b.Card.Shot(b.B, now)
	if len(faults) > 0 {
		b.TB.Fatal(faults)
	}
	if b.View == nil {
		return
	}
	b.R = plan.Solve(shot, b.B, plan.Options{SkipSureness: true})
	b.Settle()
}

// Step moves the playhead by moments of the path.
func (b *Bench) Step(by int) {
	i := max(0, min(b.R.IndexAt(b.S)+by, len(b.R.Path)-1))
	b.PlayTo(b.R.Path[i].FlightS)
}

// PlayTo moves the playhead, seconds of flight.
func (b *Bench) PlayTo(second float64) { b.S = second; b.Settle() }

// Resize changes the window.
func (b *Bench) Resize(w, h int) { b.W, b.H = w, h; b.Settle() }

// Press has keys done by the view, by the names of the runtime.
func (b *Bench) Press(keys ...string) {
	b.TB.Helper()
	for _, k := range keys {
		b.Said = ""
		row := find(b.View.Keys(), k)
		if row == nil {
			b.TB.Fatalf("%q does nothing in this view", k)
		}
		row.Do(b)
		b.Settle()
	}
}

func find(rows []panel.Key, key string) *panel.Key {
	for i := range rows {
		for _, k := range strings.Fields(rows[i].Keys) {
			if k == key {
				return &rows[i]
			}
		}
	}
	return nil
}

// Settle runs the work of the view until none is due.
func (b *Bench) Settle() {
	for range 20 {
		cmd := b.View.Kick(b)
		if cmd == nil {
			return
		}
		for _, msg := range Results(cmd) {
			b.View.Take(b, msg)
		}
	}
	b.TB.Error("the view never comes to rest")
}

// Results runs a command and those it batches.
func Results(cmd tea.Cmd) []tea.Msg {
	if cmd == nil {
		return nil
	}
	msg := cmd()
	batch, ok := msg.(tea.BatchMsg)
	if !ok {
		return []tea.Msg{msg}
	}
	var out []tea.Msg
	for _, c := range batch {
		out = append(out, Results(c)...)
	}
	return out
}

// Draw draws the view on the canvas.
func (b *Bench) Draw() {
	in := b.Room()
	b.Canvas.Reset(in.Cols, in.Rows)
	b.hits = b.hits[:0]
	b.View.Draw(panel.NewWindow(&b.Canvas, b.pen, &b.hits), b)
}

// Text draws the view as on a terminal without colours and returns its lines.
func (b *Bench) Text() string {
	profile := b.pen.Profile
	b.pen.Profile = cells.NoColour
	defer func() { b.pen.Profile = profile }()
	b.Draw()
	return ansi.Strip(strings.Join(b.pen.Lines(&b.Canvas, nil), "\n"))
}

// Click presses the mouse at a cell of the view.
func (b *Bench) Click(x, y int) {
	b.Draw()
	for i := len(b.hits) - 1; i >= 0; i-- {
		if b.hits[i].Contains(x, y) {
			b.hits[i].Do(b, x, y)
			break
		}
	}
	b.Settle()
}

// Room implements [panel.Known]: what the workbench leaves to a view, without a form beside it.
func (b *Bench) Room() panel.Room {
	rows := b.H - 3
	if b.H >= 24 {
		rows-- // the line of news
	}
	if b.H >= 30 {
		rows-- // the line of views
	}
	return panel.Room{Kind: panel.Arranged(b.W, b.H), Cols: b.W - 2, Rows: rows}
}

// Pen implements [panel.Known].
func (b *Bench) Pen() *cells.Pen { return b.pen }

// Report implements [panel.Known].
func (b *Bench) Report() *plan.Report { return b.R }

// BaseReport implements [panel.Known].
func (b *Bench) BaseReport() *plan.Report { return b.R }

// Stale implements [panel.Known].
func (b *Bench) Stale() bool { return b.Faulty }

// Second implements [panel.Known].
func (b *Bench) Second() float64 { return b.S }

// CardKey implements [panel.Known].
func (b *Bench) CardKey() any { return b.At }

// Cards implements [panel.Known]: those of the demo, with the one at work as it is now. A key is its place.
func (b *Bench) Cards() []panel.OpenCard {
	if b.all == nil {
		for i, name := range examples.Cards() {
			card, _ := shot.ReadCard(name, examples.Card(name))
			b.all = append(b.all, panel.OpenCard{Key: i, File: name, Name: card.Doc.At("name").Text(), Card: card, Bag: b.B})
		}
	}
	b.all[b.At].Card = b.Card
	list := slices.Clone(b.all)
	for i := range list {
		list[i].Bag = b.B
	}
	return list
}

// Spoil takes the camera off a card that is not on the screen.
func (b *Bench) Spoil(at int) {
	b.Cards()
	text := strings.Replace(string(b.all[at].Card.Bytes()), "camera: ", "camera: no such ", 1)
	b.all[at].Card, _ = shot.ReadCard(b.all[at].File, []byte(text))
}

// SetCardOf implements [panel.Bench].
func (b *Bench) SetCardOf(key any, changes ...panel.Change) bool {
	b.Cards()
	card := b.all[key.(int)].Card
	for _, c := range changes {
		next, faults := card.Set(c.Path, c.Text)
		if len(faults) > 0 {
			return false
		}
		card = next
	}
	if b.all[key.(int)].Card = card; key == b.At {
		b.Card = card
		b.solve()
	}
	return true
}

// NudgeCard implements [panel.Bench].
func (b *Bench) NudgeCard(path string, n int) {
	b.Card, _ = b.Card.Nudge(path, n, b.B)
	b.solve()
}

// ShowCard implements [panel.Bench].
func (b *Bench) ShowCard(key any) {
	b.Cards()
	b.At, b.Card, b.S = key.(int), b.all[key.(int)].Card, 0
	b.solve()
}

// ShowShot implements [panel.Bench].
func (b *Bench) ShowShot() { b.Shown = true }

// CardText implements [panel.Known].
func (b *Bench) CardText(path string) string { return b.Card.Doc.At(path).Text() }

// Bag implements [panel.Known].
func (b *Bench) Bag() *kit.Bag { return b.B }

// BagFile implements [panel.Known].
func (b *Bench) BagFile() (exists, unsaved bool) { return false, false }

// Typing implements [panel.Known].
func (b *Bench) Typing() panel.Typing { return panel.Typing{} }

// Say implements [panel.Bench].
func (b *Bench) Say(text string) { b.Said = text }

// Log implements [panel.Bench].
func (b *Bench) Log(text string) { b.TB.Log(text) }

// InBackground implements [panel.Bench].
func (b *Bench) InBackground(what string, work func() tea.Msg, broke func(said string) tea.Msg) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if recover() != nil {
				msg = broke(what)
			}
		}()
		return work()
	}
}

// Later implements [panel.Bench].
func (b *Bench) Later(_ time.Duration, msg tea.Msg) tea.Cmd {
	if !b.Waits {
		return nil
	}
	return func() tea.Msg { return msg }
}

// MayEditCard implements [panel.Bench].
func (b *Bench) MayEditCard() bool { return true }

// SetCard implements [panel.Bench].
func (b *Bench) SetCard(changes ...panel.Change) bool {
	d := b.Card.Doc
	for _, c := range changes {
		next, faults := d.Set(c.Path, c.Text)
		if next == nil || len(faults) > 0 {
			b.Said = faults.Error()
			return false
		}
		d = next
	}
	b.Card = &shot.Card{Doc: d}
	b.solve()
	return true
}

// EditCard implements [panel.Bench].
func (b *Bench) EditCard(edit func(c *shot.Card) (*shot.Card, field.Faults)) bool {
	next, faults := edit(b.Card)
	if next == nil {
		b.Said = faults.Error()
		return false
	}
	b.Card, b.Edits = next, b.Edits+1
	b.solve()
	return true
}

// Now implements [panel.Bench].
func (b *Bench) Now() time.Time { return b.Clock }

// MayEditBag implements [panel.Bench].
func (b *Bench) MayEditBag() bool { return true }

// SetBag implements [panel.Bench].
func (b *Bench) SetBag(bag *kit.Bag, _ string) { b.B = bag; b.solve() }

// SaveBag implements [panel.Bench].
func (b *Bench) SaveBag() { b.BagSaves++ }

// Nudged implements [panel.Bench].
func (b *Bench) Nudged(panel.Row, int) (string, bool) { return "", false }

// Edit implements [panel.Bench].
func (b *Bench) Edit(panel.Row, string) {}

// Confirm implements [panel.Bench].
func (b *Bench) Confirm(_, _, _ string, do func(b panel.Bench)) { do(b) }

// Ask keeps the question for the test to answer.
func (b *Bench) Ask(q panel.Question) { b.Asked = &q }

// Answer answers the question by a key, or by "esc"; another one may stand then.
func (b *Bench) Answer(key string) {
	b.TB.Helper()
	q := b.Asked
	if q == nil {
		b.TB.Fatalf("%q answers no question", key)
	}
	b.Asked = nil
	done := key == "esc"
	for _, c := range q.Choices {
		if c.Key == key {
			c.Do(b)
			done = true
		}
	}
	if !done {
		b.TB.Fatalf("%q is no answer to %q", key, q.Text)
	}
	if q.Then != nil {
		q.Then(b)
	}
}

// Type answers the question by a line of text; another one may stand then.
func (b *Bench) Type(text string) {
	b.TB.Helper()
	q := b.Asked
	if q == nil || q.Enter == nil {
		b.TB.Fatalf("nothing asks for %q", text)
	}
	b.Asked = nil
	q.Enter(b, text)
}

// Canvas returns a blank grid of cells.
func Canvas(w, h int) *cells.Canvas {
	c := new(cells.Canvas)
	c.Reset(w, h)
	return c
}
