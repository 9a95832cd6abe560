package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/clock"
	"example.org/skywedge/tui/find"
	"example.org/skywedge/tui/lens"
	"example.org/skywedge/tui/pixels"
	"example.org/skywedge/tui/where"
	tea "github.com/charmbracelet/bubbletea"
)

// model is the whole state of the workbench. The views keep theirs.
type model struct {
	opt    Options
	cards  []*openCard
	at     int // the card on the screen
	calc   calc
	edit   edit
	ask    question
	list   find.List // of keys, of places, or a text
	screen screen

	zone    where.Zone
	views   viewSet
	view    int // which of the views is shown
	table   *keyTable
	focus   int
	cursor  [paneCount]int
	scroll  [paneCount]int
	more    [paneCount]bool
	leg     int // the chosen leg
	col     int // the chosen column of the table of legs
	second  float64
	clock   clock.Clock
	guide   guide
	display lens.Display
	pixels  pixels.Layer
	mouse   bool

	kept    keptList
	keeper  *keeper
	out     *terminal // nil without one, as is
	signals *signals

	news
	keepAfter   time.Duration
	sureAfter   time.Duration
	interrupted bool
	left        bool   // left by a key, everything decided
	failed      error  // the program broke down
	ended       error  // why unsaved work could not be kept when it was left
	notKept     bool   // the last try to keep failed
	copyOwed    bool   // the call is copied as soon as it is known how sure it is
	end         func() // ends the program from outside of Update
	afterSave   func(m *model) tea.Cmd
	next        tea.Cmd
	early       tea.Cmd // brings the answer of the first computation
}

func newModel(o Options) *model {
	m := beginModel(o)
	m.openRest()
	return m
}

// beginModel opens the first card only, which is on the screen first.
func beginModel(o Options) *model {
	m := &model{opt: o, mouse: !o.NoMouse, keepAfter: keepAfter, sureAfter: sureAfter, views: newViews()}
	m.calc.kept = new(plan.Kept)
	m.keeper = newKeeper(o.Now)
	m.calc.forget()
	m.table = newKeyTable(&m.views)
	m.openSources(o.Cards[:min(1, len(o.Cards))])
	m.screen.pen = newPen(&m.opt)
	m.clampCursors()
	m.tellTaken("")
	return m
}

// openRest opens the other cards.
func (m *model) openRest() { m.openSources(m.opt.Cards[min(1, len(m.opt.Cards)):]) }

func (m *model) openSources(list []Source) {
	for _, src := range list {
		if src.Picture != nil {
			m.addTaken(src.Picture)
			continue
		}
		if src.New && src.Data == nil {
			data, whose, night := m.startHere(m.opt.Bag)
			src.Data = data
			m.note = newShotSaid("s makes its file", whose, night)
		}
		s := m.addCard(src)
		if s.readOnly != "" {
			m.note = s.readOnly
		}
	}
}

// wanted returns what should be computed for the state there is.
func (m *model) wanted() want {
	s := m.card()
	w, h := m.screen.room()
	if m.view != viewShot {
		w, h = 0, 0 // no picture to draw
	}
	return want{scenes: m.calc.scenes, kept: m.calc.kept, card: m.computed(), bag: s.kit(), lens: lens.Ask{Second: m.second, Cols: w, Rows: h, Display: m.display}}
}

// Init looks for kept work and at the clock. The first computation runs already, or starts as soon as the size is known.
func (m *model) Init() tea.Cmd { return tea.Batch(m.early, m.findKept(), m.minute()) }

// computeEarly starts the first computation, without a picture as the size is not known yet: it runs while the other cards
// are opened and the terminal is set up.
func (m *model) computeEarly() {
	first := m.kick()
	if first == nil {
		return
	}
	done := make(chan tea.Msg, 1)
	go func() { done <- first() }()
	m.early = func() tea.Msg { return <-done }
}

// signalMsg says that the system asks the program to end.
type signalMsg struct{ os.Signal }

// drainedMsg says that the terminal has taken the last screen.
type drainedMsg struct{}

// failMsg says that a command broke down.
type failMsg struct{ text string }

// Update edits the state and starts at most one computation.
func (m *model) Update(msg tea.Msg) (next tea.Model, cmd tea.Cmd) {
	defer func() {
		if r := recover(); r != nil {
			m.broke(r)
			next, cmd = m, tea.Quit // without a model the runtime fails a second time
		}
	}()
	if cmd, mine := m.pixels.Take(msg, m.calc.running); mine {
		return m, cmd
	}
	m.screen.dirty = true
	cmds := []tea.Cmd{m.handle(msg)}
	if m.left {
		return m, cmds[0]
	}
	m.watch()
	m.publish()
	m.screen.arrange(m)
	m.screen.pen.Pixels = m.pixels.On()
	cmds = append(cmds, m.take(), m.kick(), m.laterSure(), m.kickSure(), m.pixels.Later())
	if m.view != viewShot {
		cmds = append(cmds, m.views.all[m.view].Kick(m))
	}
	return m, tea.Batch(cmds...)
}

func (m *model) handle(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.screen.w, m.screen.h = msg.Width, msg.Height
		if m.out != nil { // it may have been smaller meanwhile, and is as large again
			m.out.forget()
		}
		m.pixels.Resized()
		m.greet()
	case tea.KeyMsg:
		m.pixels.Stir()
		m.clock.Tell(m.opt.Now(), m.begun()) // the wait for the minute stands still while a laptop sleeps
		return m.keys(msg)
	case tea.MouseMsg:
		m.pixels.Stir()
		return m.click(msg)
	case answer:
		m.calc.take(msg)
		m.second = min(m.second, max(m.calc.length(), 0))
	case minuteMsg:
		return m.minute()
	case sureDueMsg:
		m.calc.sure.due = msg.of
	case sureMsg:
		m.calc.takeSure(msg)
		if msg.failed != "" {
			m.say(msg.failed)
		}
		m.copyIfOwed()
	case keptMsg:
		if m.notKept = msg.err != nil; m.notKept {
			m.sayWrong("unsaved work is not kept", msg.err)
		}
	case keptListMsg:
		return m.takeKept(msg, false)
	case keptNotesMsg:
		for i := range m.kept.rows {
			m.kept.rows[i].note = msg[m.kept.rows[i].File]
		}
	case drainedMsg, pixels.Found: // what was withheld is drawn, or looked at for its pictures
	case failMsg:
		m.say(msg.text)
	case pixels.Failed:
		m.say(msg.Text)
	case signalMsg:
		m.keepAndLeave()
		return tea.Quit
	case wokenMsg:
		return takeBack()
	case resumedMsg:
		return m.resumed(msg)
	default:
		for _, v := range m.views.all {
			if v != nil && v.Take(m, msg) {
				return nil
			}
		}
		switch { // a text from the clipboard
		case m.ask.on && m.ask.input:
			m.ask.line.Other(msg)
		case m.list.Typing():
			m.list.Other(msg)
		case m.edit.on:
			m.edit.line.Other(msg)
			m.typed()
		}
	}
	return nil
}

// keys handles one key message. Runes that were typed quickly arrive as one message and are taken
// one by one, unless a field is being typed.
func (m *model) keys(msg tea.KeyMsg) tea.Cmd {
	if msg.Type == tea.KeyEsc && msg.Alt { // two of them that arrived together, over a slow line
		esc := tea.KeyMsg{Type: tea.KeyEsc}
		return tea.Batch(m.keys(esc), m.keys(esc))
	}
	k := msg.String()
	if msg.Type == tea.KeyRunes && (len(msg.Runes) > 1 || msg.Paste) && !m.typing() {
		if msg.Paste {
			m.paste(msg.Runes)
			return nil
		}
		var cmds []tea.Cmd
		for i, r := range msg.Runes {
			if m.typing() { // a key before it opened a field
				cmds = append(cmds, m.keys(tea.KeyMsg{Type: tea.KeyRunes, Runes: msg.Runes[i:]}))
				break
			}
			cmds = append(cmds, m.keys(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}))
		}
		return tea.Batch(cmds...)
	}
	var runes []rune
	if (msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace) && !msg.Alt {
		runes = msg.Runes
	}
	m.guide.greets = false
	if k == "ctrl+l" { // whatever lies over the screen
		m.interrupted = false
		return m.table.at(inShot, k).do(m, k)
	}
	switch {
	case m.guide.On:
		return m.tourKey(k)
	case m.ask.on:
		return m.ask.key(m, msg, runes)
	case m.list.On && (k == "ctrl+c" || k == "ctrl+z"):
		m.list = find.List{}
		return m.table.at(inShot, k).do(m, k)
	case m.list.On:
		if gone := m.list.Key(msg, runes); gone != nil {
			return gone()
		}
		return nil
	case m.kept.on && !m.edit.on:
		return m.kept.key(m, k)
	}
	if k != "ctrl+c" {
		m.interrupted = false
	}
	if m.edit.on && len(runes) > 0 {
		m.edit.line.Insert(runes)
		m.typed()
		return nil
	}
	b := m.table.at(m.here(), k)
	if c := m.table.at(inClock, k); c != nil && m.keeping() {
		b = c
	}
	if b != nil {
		if !m.edit.on && b.keys != wholeKeys {
			m.say("")
		}
		return b.do(m, k)
	}
	if m.edit.on {
		cmd := m.edit.line.Key(msg)
		m.typed()
		return cmd
	}
	return nil
}

// typing tells whether letters are text now.
func (m *model) typing() bool { return m.edit.on || m.ask.on && m.ask.input || m.list.Typing() }

// inBackground wraps a command, so that a failure in it goes into the log, becomes a message that says what
// failed, and does not end the program.
func (m *model) inBackground(what string, f func() tea.Msg, broke func(said string) tea.Msg) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				m.log(fmt.Sprintf("%v\n%s", r, debug.Stack()))
				msg = broke(fmt.Sprintf("%s: %v", what, r))
			}
		}()
		return f()
	}
}

// guarded is the same for a command of which nothing waits for an answer.
func guarded(m *model, f func() tea.Msg) tea.Cmd {
	return m.inBackground("that failed", f, func(said string) tea.Msg { return failMsg{said} })
}

// log adds to a file in the state folder; a program that owns the screen cannot print.
func (m *model) log(text string) {
	dir, err := store.StateDir()
	if err != nil || os.MkdirAll(dir, 0o700) != nil {
		return
	}
	f, err := os.OpenFile(filepath.Join(dir, "log"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return
	}
	defer f.Close()
	fmt.Fprintf(f, "%s %s\n", m.opt.Now().Format("2006-01-02 15:04:05"), strings.TrimSpace(text))
}

// View paints what was drawn and leaves nothing to the runtime; without a terminal it returns the lines. Nothing is
// computed here, and after a message that changed nothing on the screen not even drawn. While the terminal has not taken
// the last screen yet there is no new one.
func (m *model) View() (text string) {
	if m.out != nil {
		text = unpainted
	}
	if m.left || m.out != nil && m.out.withhold() {
		return text
	}
	defer func() {
		if r := recover(); r != nil {
			m.broke(r)
			m.end()
		}
	}()
	switch drawn := m.screen.view(m); {
	case m.out == nil:
		text = m.screen.text()
	case drawn:
		m.out.paint(m.screen.pen, &m.screen.canvas)
	}
	return text
}

// broke keeps the work and remembers what went wrong, in one line; the rest is in the log. The terminal is put
// right by leaving in order.
func (m *model) broke(r any) {
	m.log(fmt.Sprintf("%v\n%s", r, debug.Stack()))
	what, _, _ := strings.Cut(fmt.Sprint(r), "\n")
	m.failed = fmt.Errorf("the workbench failed: %s; unsaved work was kept and is offered at the next start", what)
	if err := m.keepBroken(); err != nil {
		m.failed = fmt.Errorf("the workbench failed: %s; unsaved work could not be kept: %w", what, err)
	}
	m.left = true
}

// keepBroken keeps what there is; where not even that can be found out, what was there after the last message.
func (m *model) keepBroken() error {
	func() {
		defer func() { _ = recover() }()
		m.publish()
	}()
	return m.keeper.flush()
}

// listKey returns the place in a list after a key, from 0 to last.
func listKey(key string, at, last int) int {
	switch key {
	case "down", "j":
		at++
	case "up", "k":
		at--
	case "pgdown", " ":
		at += 10
	case "pgup":
		at -= 10
	case "home", "g":
		at = 0
	case "end", "G":
		at = last
	}
	return max(0, min(at, last))
}

// keyItems lists the keys of the current pane first, then those that work everywhere.
func (m *model) keyItems() []find.Item {
	var out []find.Item
	here := m.here()
	if here == inEdit && m.edit.row.InBag {
		here = inBag
	} else if here == inEdit {
		here = inShot
	}
	add := func(title string, pick func(b *binding) bool) {
		out = append(out, find.Item{Text: title, Heading: true})
		for i := range m.table.rows {
			if b := &m.table.rows[i]; pick(b) {
				out = append(out, find.Item{Lead: b.shown, Text: b.help})
			}
		}
	}
	all := func(b *binding) bool { return b.where.all() }
	title := paneTitle[m.focus]
	if here == inMeasuring {
		title = "Measuring a filter"
	} else if here == inBag {
		title = "The bag"
	} else if m.view != viewShot {
		title = m.views.name(m.view)
	}
	add(title, func(b *binding) bool { return b.where&here != 0 && !all(b) })
	if m.keeping() {
		add("While a take-off is kept", func(b *binding) bool { return b.where == inClock })
	}
	add("Everywhere", all)
	if here&(inForms|inBag) != 0 {
		add("While typing in a field", func(b *binding) bool { return b.where&inEdit != 0 && !all(b) })
	}
	return out
}
