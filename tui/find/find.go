// Package find is the list that lies over the panes: of keys, of places to go to, or of lines of text. What is typed
// searches in it.
package find

import (
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/line"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// Item is one entry of a list.
type Item struct {
	Lead    string // stands before it: a key, or what kind of thing it is
	Text    string
	Note    string // stands behind it: what a field holds now
	Heading bool   // names the entries below it
	Go      func() tea.Cmd
}

// List is open over the panes, or not.
type List struct {
	On    bool
	title string
	items []Item
	lines []string // a text, in place of items
	prose bool     // its lines are broken where they are too long
	pick  bool     // one of the items is chosen and gone to
	typed line.Line
	at    int // the chosen item, by its place among those that are shown
	top   int
	page  int // how many lines were drawn last
}

// Keys returns an open list of keys.
func Keys(items []Item) List {
	return List{On: true, title: "Keys", items: items, typed: line.New("")}
}

// Places returns an open list of places to go to.
func Places(items []Item) List {
	return List{On: true, title: "Find", items: items, pick: true, typed: line.New("")}
}

// Text returns an open list of lines in which nothing is searched.
func Text(title string, lines []string) List { return List{On: true, title: title, lines: lines} }

// Prose is the same with lines that are broken where they are too long, and stand apart.
func Prose(title string, lines []string) List {
	l := Text(title, lines)
	l.prose = true
	return l
}

// Typing tells whether letters are text now.
func (l *List) Typing() bool { return l.On && l.lines == nil }

// Other takes the clipboard's text when it comes.
func (l *List) Other(msg tea.Msg) { l.typed.Other(msg) }

// Scroll moves by lines, for the mouse.
func (l *List) Scroll(by int) { l.move(by) }

func (l *List) move(by int) {
	if l.pick {
		l.at = max(0, min(l.at+by, len(l.shown())-1))
		return
	}
	l.top = max(0, l.top+by) // the drawing knows where the end is
}

// Key takes a key; runes are the text that it types, if any. It returns the way to the item that was gone to.
func (l *List) Key(msg tea.KeyMsg, runes []rune) (gone func() tea.Cmd) {
	k := msg.String()
	switch {
	case k == "esc" && l.Typing() && l.typed.String() != "":
		l.typed.Empty()
		l.at, l.top = 0, 0
	case k == "esc", k == "enter" && !l.pick, k == "q" && !l.Typing(), k == "?" && l.typed.String() == "" && !l.pick:
		*l = List{}
	case k == "enter":
		if list := l.shown(); l.at < len(list) {
			gone = list[l.at].Go
		}
		*l = List{}
	case k == "down", k == "j" && !l.Typing():
		l.move(1)
	case k == "up", k == "k" && !l.Typing():
		l.move(-1)
	case k == "pgdown", k == " " && !l.Typing():
		l.move(max(l.page-1, 1))
	case k == "pgup":
		l.move(-max(l.page-1, 1))
	case k == "home":
		l.at, l.top = 0, 0
	case k == "end":
		l.move(1 << 20)
	case !l.Typing():
	case len(runes) > 0:
		l.typed.Insert(runes)
		l.at, l.top = 0, 0
	default:
		l.typed.Key(msg)
		l.at = min(l.at, max(len(l.shown())-1, 0))
	}
	return gone
}

// shown returns the items that have all the words that were typed: of keys in their order, of places first those in
// which a word begins so.
func (l *List) shown() []Item {
	words := strings.Fields(strings.ToLower(l.typed.String()))
	var out []Item
	var ranks []int
	heading := Item{}
	for _, it := range l.items {
		if it.Heading {
			heading = it
			continue
		}
		r := rank(it, words)
		if r < 0 {
			continue
		}
		if heading.Heading {
			out, ranks = append(out, heading), append(ranks, 0)
			heading = Item{}
		}
		out, ranks = append(out, it), append(ranks, r)
	}
	if !l.pick {
		return out
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return ranks[a] - ranks[b] })
	sorted := make([]Item, len(out))
	for i, k := range order {
		sorted[i] = out[k]
	}
	return sorted
}

// rank tells how well an item fits the words: −1 not at all; 0 when it begins with the first; 1 when each word begins
// one of its own; else 2.
func rank(it Item, words []string) int {
	text := strings.ToLower(it.Text)
	all := strings.ToLower(it.Lead+" "+it.Note) + " " + text
	worst := 0
	for i, w := range words {
		switch {
		case i == 0 && (strings.HasPrefix(text, w) || strings.EqualFold(it.Lead, w)):
		case strings.HasPrefix(all, w) || strings.Contains(all, " "+w):
			worst = max(worst, 1)
		case strings.Contains(all, w):
			worst = max(worst, 2)
		default:
			return -1
		}
	}
	return worst
}

// widest is the width of the widest lead, for aligned columns.
func (l *List) widest() int {
	n := 0
	for _, it := range l.items {
		n = max(n, cells.Width(it.Lead))
	}
	return n
}

// row is one line of the list as it is drawn.
type row struct {
	lead, text, note string
	heading          bool
	item             int
}

// rows sets the items that are shown in lines of so many columns.
func (l *List) rows(cols int) (out []row) {
	if l.lines != nil {
		for i, t := range l.lines {
			switch {
			case !l.prose:
				out = append(out, row{text: t})
				continue
			case i > 0:
				out = append(out, row{})
			}
			for _, part := range cells.Wrap(t, cols) {
				out = append(out, row{text: part})
			}
		}
		return out
	}
	indent := l.widest() + 2
	for i, it := range l.shown() {
		if it.Heading {
			if len(out) > 0 {
				out = append(out, row{item: -1})
			}
			out = append(out, row{text: it.Text, heading: true, item: i})
			continue
		}
		if l.pick {
			out = append(out, row{lead: it.Lead, text: it.Text, note: it.Note, item: i})
			continue
		}
		for k, t := range cells.Wrap(it.Text, max(cols-indent, 1)) {
			r := row{text: t, item: i}
			if k == 0 {
				r.lead = it.Lead
			}
			out = append(out, r)
		}
	}
	return out
}

// Draw draws the list over the middle of a screen.
func (l *List) Draw(screen panel.Window) {
	sw, sh := screen.Size()
	cols, rows := min(sw-4, 76), sh-4
	if l.lines != nil {
		cols = sw - 4
	}
	w := screen.Sub((sw-cols)/2, 2, cols, rows)
	panel.Frame(w.Window, l.title)
	in := w.Sub(2, 1, cols-4, rows-2)
	inCols, inRows := in.Size()
	if l.Typing() {
		x := in.Text(0, 0, "search ", panel.Dim)
		l.typed.Draw(in.Window, x, 0, inCols-x)
		in = in.Sub(0, 1, inCols, inRows-1)
		inRows--
	}
	list := l.rows(inCols)
	if l.pick {
		l.top = panel.KeepInView(l.top, l.at, len(list), inRows)
	}
	l.page = inRows
	l.top = max(0, min(l.top, len(list)-inRows))
	indent := l.widest() + 2
	if l.lines != nil {
		indent = 0
	}
	for y := 0; y < inRows && l.top+y < len(list); y++ {
		l.row(in, y, inCols, indent, list[l.top+y])
	}
	foot := " Esc closes "
	switch {
	case l.pick && len(list) == 0, l.Typing() && len(list) == 0:
		in.Text(0, 0, "nothing of that name", panel.Dim)
	case l.pick:
		foot = fmt.Sprintf(" Enter goes there · %d of %d · Esc closes ", l.at+1, len(list))
	case len(list) > inRows:
		foot = fmt.Sprintf(" Up Down scroll, %d to %d of %d · Esc closes ", l.top+1, min(len(list), l.top+inRows), len(list))
	}
	w.Text(2, rows-1, foot, panel.Dim)
}

// row draws one line.
func (l *List) row(in panel.Window, y, cols, indent int, r row) {
	switch {
	case r.heading:
		in.Text(0, y, r.text, panel.Strong)
		return
	case !l.pick:
		in.Text(0, y, r.lead, cells.Style{Fg: cells.Accent})
		in.TextIn(indent, y, cols-indent, r.text, panel.Plain)
		return
	}
	ground := cells.Default
	if r.item == l.at {
		ground = cells.PickGround
		in.Fill(0, y, cols, 1, cells.Style{Bg: ground})
		in.Text(0, y, "▸", panel.Accent.On(ground))
	}
	in.Text(2, y, r.lead, panel.Dim.On(ground))
	note := cells.Cut(r.note, cols/3)
	in.TextIn(2+indent, y, cols-indent-4-cells.Width(note), r.text, panel.Plain.On(ground))
	in.TextRight(cols, y, note, panel.Dim.On(ground))
}
