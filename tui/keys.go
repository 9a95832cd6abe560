package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/tui/find"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// scope is where a key works: a pane, a view, or the line that is being typed.
type scope uint16

const (
	inShot scope = 1 << iota
	inLegs
	inLens
	inFlight
	inCall
	inEdit
	inCompass // the views, in the order of their digits
	inFilters
	inHours
	inWalk
	inTrip
	inBag                                       // the fields of a filter, in the view of filters
	inMeasuring                                 // the page on which a filter is measured, there too
	inClock                                     // over the panes and views where it is active: a take-off that is kept
	inTour                                      // instead of all others
	playPlaces  = inLens | inFlight | inCompass // where the arrows move the playhead
	inForms     = inShot | inLegs
	inPanes     = inShot | inLegs | inLens | inFlight | inCall
	inViews     = inCompass | inFilters | inHours | inWalk | inTrip | inBag | inMeasuring
	everywhere  = inPanes | inViews
)

// binding is one row of the table of keys.
type binding struct {
	keys   string // as the runtime names them, blank-separated
	shown  string // as people read them
	where  scope
	foot   string // what it will do, for the bottom line; "" is left to the list of keys
	help   string // what it will do, for the list of keys and its page
	weight int    // on the bottom line, larger stays longer
	do     func(m *model, key string) tea.Cmd
}

// do makes an action of a key of what changes the state alone.
func do(f func(m *model)) func(*model, string) tea.Cmd {
	return func(m *model, _ string) tea.Cmd { f(m); return nil }
}

// all tells whether a key works everywhere.
func (s scope) all() bool { return s&everywhere == everywhere }

// keyTable is the only place where keys are named. It drives dispatch, the bottom line, the list of keys and
// its page. The first row that fits decides.
type keyTable struct {
	rows  []binding
	index map[scope]map[string]*binding
}

// newKeyTable returns the table: the rows of the panes and of the field that is typed, those of the views, and
// the digits.
func newKeyTable(views *viewSet) *keyTable {
	t := &keyTable{rows: slices.Concat(paneKeys(), clockKeys(), tourKeys()), index: map[scope]map[string]*binding{}}
	for v := range views.all {
		if views.all[v] != nil {
			t.add(inView(v), views.all[v].Keys())
		}
	}
	t.add(inBag, views.filters.FormKeys())
	t.add(inMeasuring, views.filters.Page().Keys())
	for _, v := range views.existing() {
		d := fmt.Sprint(v + 1)
		t.rows = append(t.rows, binding{d, d, everywhere, "", "view " + d + ", " + lower(views.name(v)), 0, do(func(m *model) { m.show(v) })})
	}
	for i := range t.rows {
		t.enter(&t.rows[i])
	}
	return t
}

// add puts the rows of a view into the table.
func (t *keyTable) add(where scope, rows []panel.Key) {
	for _, k := range rows {
		t.rows = append(t.rows, binding{k.Keys, k.Shown, where, k.Foot, k.Help, k.Weight, do(func(m *model) { k.Do(m) })})
	}
}

// enter makes a row found by its keys, where no row before it has them.
func (t *keyTable) enter(b *binding) {
	for p := inShot; p <= inTour; p <<= 1 {
		if b.where&p == 0 {
			continue
		}
		if t.index[p] == nil {
			t.index[p] = map[string]*binding{}
		}
		for _, k := range strings.Fields(b.keys) {
			if t.index[p][k] == nil {
				t.index[p][k] = b
			}
		}
	}
}

// at returns the row of a key in a scope, nil for none.
func (t *keyTable) at(where scope, key string) *binding {
	if key == " " { // which the table cannot name: blanks part its keys
		key = "space"
	}
	return t.index[where][key]
}

// paneKeys are the rows of the panes of view 1 and of the field that is typed.
func paneKeys() []binding {
	return []binding{
		{"up k", "Up k", inForms, "", "to the line above", 0, do(func(m *model) { m.move(-1) })},
		{"down j", "Down j", inForms, "", "to the line below", 0, do(func(m *model) { m.move(1) })},
		{"up k", "Up k", inCall, "", "scroll up", 0, do(func(m *model) { m.scrollCall(-1) })},
		{"down j", "Down j", inCall, "scroll", "scroll down", 8, do(func(m *model) { m.scrollCall(1) })},
		{"left h", "Left h", inLegs, "", "to the column on the left", 0, do(func(m *model) { m.column(-1) })},
		{"right l", "Right l", inLegs, "", "to the column on the right", 0, do(func(m *model) { m.column(1) })},
		{"left h", "Left h", playPlaces, "", "playhead back", 0, do(func(m *model) { m.playStep(-1) })},
		{"right l", "Right l", playPlaces, "playhead", "playhead on", 8, do(func(m *model) { m.playStep(1) })},
		{"up k", "Up k", playPlaces, "", "playhead to the start of this leg or the one before", 0, do(func(m *model) { m.playLeg(-1) })},
		{"down j", "Down j", playPlaces, "leg", "playhead to the start of the next leg", 5, do(func(m *model) { m.playLeg(1) })},
		{"home", "Home", playPlaces, "", "playhead to the start of the flight", 0, do(func(m *model) { m.playTo(0) })},
		{"end", "End", playPlaces, "", "playhead to the end of the flight", 0, do(func(m *model) { m.playTo(m.calc.length()) })},
		{"home g", "Home g", inForms, "", "to the first line", 0, do(func(m *model) { m.move(-1000) })},
		{"end G", "End G", inForms, "", "to the last line", 0, do(func(m *model) { m.move(1000) })},
		{"home g", "Home g", inCall, "", "to the top", 0, do(func(m *model) { m.scrollCall(-1000) })},
		{"end G", "End G", inCall, "", "to the bottom", 0, do(func(m *model) { m.scrollCall(1000) })},
		{"pgup", "PgUp", inCall, "", "a page up", 0, do(func(m *model) { m.scrollCall(-10) })},
		{"pgdown", "PgDn", inCall, "", "a page down", 0, do(func(m *model) { m.scrollCall(10) })},
		{"pgup", "PgUp", playPlaces, "", "playhead back by a tenth of the flight", 0, do(func(m *model) { m.playTo(m.second - m.calc.length()/10) })},
		{"pgdown", "PgDn", playPlaces, "", "playhead on by a tenth of the flight", 0, do(func(m *model) { m.playTo(m.second + m.calc.length()/10) })},
		{"tab", "Tab", inPanes, "pane", "to the next pane", 9, do(func(m *model) { m.focusBy(1) })},
		{"shift+tab", "Shift-Tab", inPanes, "", "to the pane before", 0, do(func(m *model) { m.focusBy(-1) })},
		{"enter", "Enter", inForms, "edit", "edit the field", 10, do(func(m *model) { m.editHere() })},
		{"+ =", "+", inForms, "nudge", "one step up, or the next word", 7, do(func(m *model) { m.nudge(1) })},
		{"- _", "-", inForms, "", "one step down, or the word before", 0, do(func(m *model) { m.nudge(-1) })},
		{"pgup", "PgUp", inForms, "", "five steps up", 0, do(func(m *model) { m.nudge(5) })},
		{"pgdown", "PgDn", inForms, "", "five steps down", 0, do(func(m *model) { m.nudge(-5) })},
		{"delete backspace", "Del", inForms, "", "put the field back to its default", 0, do(func(m *model) { m.toDefault() })},
		{"m", "m", inForms, "more", "show or fold the other fields", 6, do(func(m *model) { m.more[m.focus] = !m.more[m.focus]; m.clampCursors() })},
		{"m", "m", inFlight, "more", "show strength, haze cut and motion, or the first strips", 6, do(func(m *model) { m.more[m.focus] = !m.more[m.focus] })},
		{"b", "b", everywhere, "", "picture bare beside filtered, all filtered, all bare", 0, do(func(m *model) { m.display.Part = (m.display.Part + 1) % plan.Parts })},
		{"v", "v", everywhere, "", "picture at one exposure, bare and filtered each at its own, or as the call sets it", 0, do(func(m *model) { m.say(m.display.NextExposure()) })},
		{"z", "z", everywhere, "", "mark in the picture what clips (/) and what is noisy (~), or leave it clean", 0, do(func(m *model) { m.say(m.display.SwitchZebra()) })},
		{"a", "a", inLegs, "add", "add a leg after this one", 5, do(func(m *model) { m.addLeg() })},
		{"d", "d", inLegs, "double", "duplicate this leg", 2, do(func(m *model) { m.doubleLeg() })},
		{"x", "x", inLegs, "delete", "delete this leg; asks", 3, do(func(m *model) { m.askDeleteLeg() })},
		{"e", "e", inLegs, "earlier", "fly this leg earlier", 1, do(func(m *model) { m.shiftLeg(-1) })},
		{"r", "r", inLegs, "later", "fly this leg later", 1, do(func(m *model) { m.shiftLeg(1) })},
		{"f", "f", everywhere, "", "write the recommended filter and ring into the card, or leave both to the program again", 0, do(func(m *model) { m.fixCall() })},
		{", <", ",", everywhere, "", "playhead back, from any pane", 0, do(func(m *model) { m.playStep(-1) })},
		{". >", ".", everywhere, "", "playhead on, from any pane", 0, do(func(m *model) { m.playStep(1) })},
		{"u", "u", everywhere, "undo", "undo", 18, do(func(m *model) { m.history(-1) })},
		{"ctrl+r", "Ctrl-R", everywhere, "", "redo", 0, do(func(m *model) { m.history(1) })},
		{"s ctrl+s", "s", everywhere, "save", "save the card; in view 3 a changed bag", 5, do(func(m *model) { m.save() })},
		{"B", "B", everywhere, "", "begin a bag of your own, empty or from the generic one", 0, do(func(m *model) { m.askOwnBag() })},
		{"w", "w", everywhere, "", "save the card under another name", 0, do(func(m *model) { m.card().askSaveAs(m) })},
		{"o", "o", everywhere, "new", "open a new shot, here and now", 3, do(func(m *model) { m.newShot() })},
		{"n", "n", everywhere, "next", "the next card", 2, do(func(m *model) { m.cardBy(1) })},
		{"p", "p", everywhere, "", "the card before", 0, do(func(m *model) { m.cardBy(-1) })},
		{"c", "c", everywhere, "", "leave the mouse to the terminal, so that text can be copied, or take it back", 0, func(m *model, _ string) tea.Cmd { return m.toggleMouse() }},
		{"C", "C", everywhere, "copy call", "copy the call to the clipboard, in six lines; tmux passes it on with set-clipboard on", 1, do(func(m *model) { m.copyCall() })},
		{"t", "t", everywhere, "theme", "light, for the sun; dark; or the terminal's own colours", 1, do(func(m *model) { m.nextTheme() })},
		{"P", "P", everywhere, "", "pictures in pixels, where the terminal shows them, or in half blocks", 0, do(func(m *model) { m.say(m.pixels.Switch()) })},
		{"K", "K", everywhere, "", "list the kept work that was not decided on", 0, func(m *model, _ string) tea.Cmd { return m.listKept() }},
		{wholeKeys, "! F1", everywhere | inEdit, "", "all of a line that was cut: the news, or what is wrong", 0, do((*model).showWhole)},
		{"?", "?", everywhere, "all keys", "this list; what is typed in it searches", 20, do(func(m *model) { m.list = find.Keys(m.keyItems()) })},
		{"/", "/", everywhere, "find", "find a field, a key, a filter or a card, and go there", 3, do(func(m *model) { m.list = find.Places(m.places()) })},
		{"esc", "Esc", everywhere, "", "back: from more to fewer fields, then to the first pane and the first view; never discards work", 0, do(func(m *model) { m.back() })},
		{"q", "q", everywhere, "quit", "quit; asks only when work is not saved", 19, func(m *model, _ string) tea.Cmd { return m.quit() }},
		{"ctrl+c", "Ctrl-C", everywhere | inEdit, "", "quit like q; pressed twice it quits at once and unsaved work is offered at the next start", 0, func(m *model, _ string) tea.Cmd { return m.interrupt() }},
		{"ctrl+z", "Ctrl-Z", everywhere | inEdit, "", "suspend; fg comes back", 0, func(m *model, _ string) tea.Cmd { return m.suspend() }},
		{"ctrl+l", "Ctrl-L", everywhere | inEdit, "", "draw the screen anew", 0, func(m *model, _ string) tea.Cmd { m.pixels.Gone(); return tea.ClearScreen }},
		{"enter", "Enter", inEdit, "keep", "keep what was typed", 10, do(func(m *model) { m.commitEdit() })},
		{"esc", "Esc", inEdit, "back", "as it was before; Ctrl-R brings it back", 9, do(func(m *model) { m.leaveEdit() })},
		{"down", "Down", inEdit, "", "keep it and go to the line below", 0, do(func(m *model) { m.commitAndMove(1) })},
		{"up", "Up", inEdit, "", "keep it and go to the line above", 0, do(func(m *model) { m.commitAndMove(-1) })},
		{"tab", "Tab", inEdit, "next field", "keep it and edit the next field", 6, do(func(m *model) { m.commitAndNext(1) })},
		{"shift+tab", "Shift-Tab", inEdit, "", "keep it and edit the field before", 0, do(func(m *model) { m.commitAndNext(-1) })},
		{"pgup", "PgUp", inEdit, "nudge", "one step up, or the next word", 5, do(func(m *model) { m.nudgeTyped(1) })},
		{"pgdown", "PgDn", inEdit, "", "one step down, or the word before", 0, do(func(m *model) { m.nudgeTyped(-1) })},
		{"ctrl+u", "Ctrl-U", inEdit, "empty", "empty the field, which brings the default back", 4, do(func(m *model) { m.edit.line.Empty(); m.typed() })},
	}
}

// here returns where keys work now.
func (m *model) here() scope {
	if m.edit.on {
		return inEdit
	}
	if m.view == viewFilters && m.views.filters.Page().IsOpen() {
		return inMeasuring
	}
	if m.view == viewFilters && m.views.filters.FormOpen() {
		return inBag
	}
	if m.view != viewShot {
		return inView(m.view)
	}
	return inShot << m.focus
}

// inView is the scope of a view.
func inView(v int) scope { return inCompass << (v - viewCompass) }
