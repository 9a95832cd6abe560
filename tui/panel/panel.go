// Package panel is what the views of the workbench stand on: the window they draw in, the look they share,
// their rows of the key table, and the two interfaces through which they meet the workbench.
//
// The one hard idea: a view knows its own state and nothing of the workbench but what [Known] tells and
// [Bench] does. Drawing gets only Known, so the compiler sees to it that a drawing changes nothing and starts
// no work. Keys, work and the mouse get the whole Bench, and every change of a document goes through it: so
// history, files and what is being typed stay in one place, and a view can be tested without them.
package panel

import (
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// View is one of the views that a digit shows, from the second on. It keeps its own state.
type View interface {
	// Name is what it is called in the line of views and in the list of keys.
	Name() string
	// Keys are the rows of the key table that work in it, without those that work everywhere.
	Keys() []Key
	// Draw draws it from what is known; nothing is computed here.
	Draw(w Window, k Known)
	// Kick starts the work that is due for the state there is, nil when none is or when it runs. It is
	// asked after every message while the view is shown.
	Kick(b Bench) tea.Cmd
	// Take stores an answer of its work and tells whether the message was one. An answer may come when
	// another view is shown already.
	Take(b Bench, msg tea.Msg) bool
	// Hide tells it that another view is shown now. Work that takes long stops: nobody waits for it.
	Hide()
}

// Key is a row of the key table.
type Key struct {
	Keys   string // as the runtime names them, blank-separated
	Shown  string // as people read them
	Foot   string // what it will do, for the bottom line; "" is left to the list of keys
	Help   string // what it will do, for the list of keys and its page
	Weight int    // on the bottom line, larger stays longer
	Do     func(b Bench)
}

// On returns a row of the key table, its fields in the order that reads as a table.
func On(keys, shown, foot, help string, weight int, do func(b Bench)) Key {
	return Key{Keys: keys, Shown: shown, Foot: foot, Help: help, Weight: weight, Do: do}
}

// Known is what a view may ask of the workbench.
type Known interface {
	// Room returns the cells that the view has, and how the window is shared out.
	Room() Room
	// Pen returns what the screen is written with: colours, and whether ASCII has to do.
	Pen() *cells.Pen

	// Report returns the last answer, nil before there is one.
	Report() *plan.Report
	// BaseReport returns the same answer as it was before its sureness was known. What is worked out from
	// it stays good when the sureness comes.
	BaseReport() *plan.Report
	// Stale tells whether the answer is that of an earlier card, because the present one has a fault.
	Stale() bool
	// Second returns the playhead, seconds of flight.
	Second() float64

	// CardKey returns a key that tells one open card from another.
	CardKey() any
	// Cards returns all open cards in their order.
	Cards() []OpenCard
	// CardText returns a field of the card as it is written, "" when it is absent.
	CardText(path string) string
	// Bag returns the bag that the card is flown with, nil when there is none.
	Bag() *kit.Bag
	// BagFile tells whether the bag has a file, and whether it has changes that are not in it.
	BagFile() (exists, unsaved bool)
	// Typing returns the field that is being typed.
	Typing() Typing
}

// Bench is what a view may ask of the workbench and have done by it.
type Bench interface {
	Known

	// Say shows one line of news until the next key.
	Say(text string)
	// PlayTo moves the playhead, seconds of flight.
	PlayTo(second float64)
	// Log writes to the log file. It may be called from work in the background.
	Log(text string)
	// InBackground wraps work, so that a failure in it is logged, becomes the message that broke returns for
	// what is to be said, and ends nothing.
	InBackground(what string, work func() tea.Msg, broke func(said string) tea.Msg) tea.Cmd
	// Later sends a message after a while; nil where nothing waits.
	Later(after time.Duration, msg tea.Msg) tea.Cmd

	// MayEditCard tells whether the card can be changed, and says why not.
	MayEditCard() bool
	// SetCard changes fields of the card in one step of undo of its own. Where one does not fit, nothing is
	// changed, and what is wrong is said.
	SetCard(changes ...Change) bool

	// EditCard changes the card by an edit of its own, in one step of undo. Where it is refused nothing is changed, and
	// what is wrong is said.
	EditCard(edit func(c *shot.Card) (*shot.Card, field.Faults)) bool
	// Now returns the time.
	Now() time.Time
	// SetCardOf changes fields of any open card as SetCard does.
	SetCardOf(key any, changes ...Change) bool
	// NudgeCard moves a field of the card on the screen by n steps. Repeats within a moment are one step of undo.
	NudgeCard(path string, n int)
	// ShowCard puts an open card on the screen, and ShowShot the view of it.
	ShowCard(key any)
	ShowShot()

	// MayEditBag tells whether the bag can be changed, and says why not.
	MayEditBag() bool
	// SetBag makes a bag the one that the card is flown with. Repeats on one path within a moment are one
	// step of undo; path "" is always a step of its own.
	SetBag(b *kit.Bag, path string)
	// Nudged returns what stands in a field of the bag moved by n steps, and false where steps mean nothing.
	Nudged(r Row, n int) (string, bool)
	// Edit opens a field for typing, with a text in it.
	Edit(r Row, text string)
	// SaveBag writes the bag to its file, and asks for one where it has none.
	SaveBag()
	// Confirm asks before something is done. yes says what the answer y does, esc what Esc does.
	Confirm(question, yes, esc string, do func(b Bench))
	// Ask puts a question with several answers.
	Ask(q Question)
}

// Question waits for one of its keys, or for a line of text, or for Esc, which leaves things as they are.
type Question struct {
	Text    string
	Choices []Choice
	Enter   func(b Bench, text string) // takes a line of text; nil where it waits for a key. Then is not called after it
	Verb    string                     // what Enter does with the line; "" saves
	Begin   string                     // stands in the line at first; the first character that is typed replaces it
	Help    Help                       // nil for none
	Esc     string                     // what Esc does
	Then    func(b Bench)              // called after an answer or Esc; nil for nothing
}

// Help goes on with a line of text at Tab, Up or Down, and may name what fits where it could not decide.
type Help func(text, key string) (next string, several []string)

// Choice is one answer.
type Choice struct {
	Key, Words string
	Do         func(b Bench)
}

// OpenCard is a card that lies open.
type OpenCard struct {
	Key        any // as [Known.CardKey]
	File, Name string
	Card       *shot.Card // nil where the file is none
	Bag        *kit.Bag   // nil where there is none
}

// Change is a field of the card and what shall stand there.
type Change struct{ Path, Text string }

// Typing is the field that is being typed.
type Typing struct {
	On    bool
	Draw  func(w cells.Window, x, y, cols int) // draws its line
	Fault string                               // what is wrong with it, "" for nothing
	Said  string                               // what was understood, where that is not what was typed
}

// Arrangement is how the panes share the window.
type Arrangement uint8

// The arrangements, from the smallest window to the largest.
const (
	TooSmall Arrangement = iota
	OnePane
	TwoColumns
	ThreeColumns
)

// The smallest window that the workbench is laid out for.
const MinCols, MinRows = 60, 20

// Arranged returns how the panes share a window of so many cells.
func Arranged(cols, rows int) Arrangement {
	switch {
	case cols < MinCols || rows < MinRows:
		return TooSmall
	case cols >= 100:
		return ThreeColumns
	case cols >= 78 && rows >= 22:
		return TwoColumns
	}
	return OnePane
}

// Room is the cells that a view has.
type Room struct {
	Kind       Arrangement
	Cols, Rows int
}

// Rect is a piece of a window, cells.
type Rect struct{ X, Y, W, H int }

// Box returns the piece at a column and a line, so many cells wide and high.
func Box(x, y, w, h int) Rect { return Rect{X: x, Y: y, W: w, H: h} }

// Empty tells whether it has no cells.
func (r Rect) Empty() bool { return r.W <= 0 || r.H <= 0 }

// Contains tells whether a cell lies in it.
func (r Rect) Contains(x, y int) bool { return x >= r.X && y >= r.Y && x < r.X+r.W && y < r.Y+r.H }
