package tui

import (
	"fmt"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// keptColumns are the widths of what stands in a row before the facts; the name takes what is left of 60 columns
// and grows with the window.
const (
	keptKind    = 5
	keptWhen    = 13
	keptChanges = 11
	keptFacts   = 20
)

// kept draws the list of kept work over the whole screen.
func (s *screen) kept(m *model) {
	k := &m.kept
	w := s.window(panel.Box(0, 0, s.w, s.h))
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{})
	w.TextIn(1, 0, cols-2, "Unsaved work was kept. Nothing is lost until you say so.", panel.Strong)
	room := max(1, rows-7-min(len(k.wrong), 1))
	k.top = panel.KeepInView(k.top, k.at, len(k.rows), room)
	name := max(14, min(40, cols-4-keptKind-keptWhen-keptChanges-keptFacts))
	now := m.opt.Now()
	for y := 0; y < room && k.top+y < len(k.rows); y++ {
		i := k.top + y
		r := &k.rows[i]
		style := panel.Plain
		if i == k.at {
			w.Fill(0, 2+y, cols, 1, cells.Style{Bg: cells.PickGround})
			w.Text(1, 2+y, "▸", panel.Accent.On(cells.PickGround))
			style = style.On(cells.PickGround)
		}
		x := 3
		for _, c := range []struct {
			text  string
			width int
		}{{r.name(), name}, {r.kindWord(), keptKind}, {r.when(now), keptWhen}, {r.changesWords(), keptChanges}} {
			w.TextIn(x, 2+y, c.width-1, cells.Cut(c.text, c.width-1), style)
			x += c.width
		}
		dim := panel.Dim
		if i == k.at {
			dim = dim.On(cells.PickGround)
		}
		fact := r.facts()[0]
		if fact == r.Path {
			fact = cells.CutMiddle(fact, cols-x-1)
		}
		w.TextIn(x, 2+y, cols-x-1, cells.Cut(fact, cols-x-1), dim)
	}
	if len(k.rows) > room {
		w.TextRight(cols-1, 0, fmt.Sprintf("%d of %d", k.at+1, len(k.rows)), panel.Dim)
	}
	// All that is known of the chosen one, in two lines.
	if k.at < len(k.rows) {
		y := rows - 4
		line := ""
		for _, f := range k.rows[k.at].facts() {
			if line != "" && cells.Width(line)+3+cells.Width(f) > cols-2 {
				w.TextIn(1, y, cols-2, line, panel.Dim)
				line, y = "", y+1
			}
			if line != "" {
				line += " · "
			}
			line += f
		}
		w.TextIn(1, min(y, rows-3), cols-2, cells.CutMiddle(line, cols-2), panel.Dim)
	}
	switch {
	case m.note != "":
		w.TextIn(1, rows-2, cols-2, m.newsIn(cols-2), panel.Warn)
	case len(k.wrong) > 0:
		w.TextIn(1, rows-2, cols-2, inFull(k.unread(), k.wrong[0], cols-2), panel.Warn)
	}
	x := 1
	discard := "discard (asks)"
	if cols < 66 {
		discard = "discard"
	}
	for _, b := range [][2]string{{"Enter", "restore"}, {"d", "difference"}, {"x", discard}, {"Esc", "decide later"}} {
		x = w.Text(x, rows-1, b[0], panel.Accent)
		x = w.Text(x+1, rows-1, b[1], panel.Dim) + 2
	}
}

// kindWord says what a row is; the first version of the program did not write it down.
func (r *keptRow) kindWord() string {
	if r.Kind == "" {
		return "work"
	}
	return r.Kind
}

// changesWords says how many changes a row has; nothing where that is not known.
func (r *keptRow) changesWords() string {
	if r.Changes == 0 {
		return ""
	}
	return count(r.Changes, "change", "changes")
}
