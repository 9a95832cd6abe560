package measuring

import (
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// line is one line of the page: of a place, of text, or of a map's row.
type line struct {
	panel.Line
	at   int // the place of the cursor that it belongs to, -1 for none
	draw func(w panel.Window, y int)
}

// Draw draws the page.
func (p *Page) Draw(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{})
	panel.Head(w, true, "Measure "+p.filter, "nothing is written before you say so")
	var names []string
	for _, s := range p.steps() {
		names = append(names, stepNames[s])
	}
	tabs := w.Sub(0, 1, cols, 1)
	panel.Tabs(tabs, names, slices.Index(p.steps(), p.step), func(i int) { p.goTo(p.steps()[i]) })
	f := p.filterIn(k.Bag())
	if f == nil {
		w.TextIn(2, 3, cols-2, "this filter is not in the bag any more", panel.Warn)
		return
	}
	in := w.Sub(0, 2, cols, rows-2)
	lines := p.lines(w.Pen, f, cols)
	_, rows = in.Size()
	if p.follow {
		p.top = p.reach(lines, rows)
	}
	p.top = max(0, min(p.top, len(lines)-rows))
	for y := 0; y < rows && p.top+y < len(lines); y++ {
		l := &lines[p.top+y]
		switch {
		case l.draw != nil:
			l.draw(in, y)
		default:
			l.Draw(in, 0, y)
		}
		if at := l.at; at >= 0 {
			in.OnClick(panel.Box(0, y, cols, 1), func(b panel.Bench, _, _ int) {
				if p.cursor[p.sheet()] == at { // a second click gives it
					p.enter(b)
				}
				p.cursor[p.sheet()], p.follow = at, true
			})
		}
	}
	panel.More(in, p.top > 0, p.top+rows < len(lines))
}

func (p *Page) filterIn(b *kit.Bag) *kit.Filter {
	if b == nil {
		return nil
	}
	for i := range b.Filters {
		if b.Filters[i].Name == p.filter {
			return &b.Filters[i]
		}
	}
	return nil
}

// reach returns the first line to show so that the cursor's is seen with all that belongs to it; from the top where it can.
func (p *Page) reach(lines []line, rows int) int {
	first, last := -1, 0
	for i := range lines {
		if lines[i].at == p.cursor[p.sheet()] {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if last < rows {
		return 0
	}
	return min(first, last-rows+1)
}

// lines are those of the page from below its steps.
func (p *Page) lines(pen *cells.Pen, f *kit.Filter, cols int) (out []line) {
	para := func(at int, lead, text string, style cells.Style) {
		for _, l := range panel.Para(pen, min(cols-2, mostText), lead, text, style) {
			out = append(out, line{Line: l, at: at})
		}
	}
	blank := func() { out = append(out, line{at: -1}) }
	for _, text := range p.todo(f) {
		para(-1, "· ", text, panel.Plain)
	}
	blank()
	sheet := p.sheet()
	for i := range p.places[sheet] {
		out = append(out, line{at: i, draw: func(w panel.Window, y int) { p.drawPlace(w, y, sheet, i) }})
		for _, text := range p.notesOf(sheet, &p.places[sheet][i]) {
			para(i, "    ! ", text, panel.Warn)
		}
	}
	for _, text := range p.common(sheet) {
		para(-1, "  ! ", text, panel.Warn)
	}
	blank()
	for i, text := range p.told(f) {
		style := panel.Strong
		if i > 0 {
			style = panel.Plain
		}
		para(-1, "  ", text, style)
	}
	if r := p.got.result; p.step == stepCorners && r != nil {
		for i := range r.Groups {
			blank()
			out = append(out, maps(&r.Groups[i], cols)...)
		}
		blank()
	}
	last := len(p.places[sheet])
	text, style := "Enter puts into the bag: "+p.into(), panel.Fine
	switch {
	case p.busy():
		text, style = "reading ...", panel.Dim
	case len(p.got.edits) == 0:
		text, style = p.nothing(), panel.Dim
	}
	for i, l := range panel.Para(pen, min(cols-2, mostText), "  ", text, style) {
		out = append(out, line{at: last, draw: func(w panel.Window, y int) { p.drawLast(w, y, l, i == 0, p.cursor[sheet] == last) }})
	}
	return out
}

// drawPlace draws a place: what it shows, its picture, how that was exposed, and how it stands.
func (p *Page) drawPlace(w panel.Window, y, sheet, i int) {
	cols, _ := w.Size()
	at := &p.places[sheet][i]
	picked := p.cursor[sheet] == i
	ground := cells.Default
	if picked {
		ground = cells.PickGround
		w.Fill(0, y, cols, 1, cells.Style{Bg: ground})
		w.Text(0, y, "▸", panel.Accent.On(ground))
	}
	w.TextIn(2, y, nameCols, w.Plainly(at.name), panel.Dim.On(ground))
	state, bad := p.state(sheet, i)
	style := panel.Fine
	switch {
	case bad:
		style = panel.Warn
	case at.pic == nil:
		style = panel.Dim
	}
	x := 2 + nameCols
	if at.path == "" {
		if picked {
			state = "Enter gives the picture"
		}
		w.TextIn(x, y, cols-x, state, style.On(ground))
		return
	}
	file, exposed, aperture := p.columns(w, sheet)
	w.TextIn(x, y, file, cells.CutMiddle(fileName(at), file), panel.Plain.On(ground))
	x += file + 2
	w.TextIn(x, y, exposed, at.exposed(aperture), panel.Plain.On(ground))
	x += exposed + 2
	w.TextIn(x, y, cols-x, w.Plainly(state), style.On(ground))
}

// columns shares a line out for the name of the file and the exposure, the same for all places. In little room the aperture
// goes first.
func (p *Page) columns(w panel.Window, sheet int) (file, exposed int, aperture bool) {
	cols, _ := w.Size()
	name, full, short, state := 0, 0, 0, 0
	for i := range p.places[sheet] {
		at := &p.places[sheet][i]
		name = max(name, cells.Width(fileName(at)))
		full, short = max(full, cells.Width(at.exposed(true))), max(short, cells.Width(at.exposed(false)))
		if text, _ := p.state(sheet, i); at.path != "" {
			state = max(state, cells.Width(w.Plainly(text)))
		}
	}
	left := cols - 2 - nameCols - 2 - 2 - state
	exposed, aperture = full, true
	if left-full < min(name, goodFile) {
		exposed, aperture = short, false
	}
	return max(min(name, left-exposed, mostFile), min(name, leastFile)), exposed, aperture
}

// How many columns there are for what a place shows, and for the name of its file. A name is cut in its middle: pictures of
// one camera differ in the last figures.
const nameCols, leastFile, goodFile, mostFile = 12, 9, 14, 40

// drawLast draws what goes into the bag.
func (p *Page) drawLast(w panel.Window, y int, l panel.Line, first, picked bool) {
	cols, _ := w.Size()
	style := l.Style
	if picked {
		w.Fill(0, y, cols, 1, cells.Style{Bg: cells.PickGround})
		style = style.On(cells.PickGround)
		if first {
			w.Text(0, y, "▸", panel.Accent.On(cells.PickGround))
		}
	}
	w.TextIn(2, y, cols-2, l.Text, style)
}

// mostText is how wide running text gets: longer lines are hard to follow.
const mostText = 110

// patchCols is how wide a patch of a map is.
const patchCols = 5

// maps draw what a filter does in each part of the frame, and beside it, or below, what the model has.
func maps(g *measure.Group, cols int) (out []line) {
	const wide = measure.Across * patchCols
	list := []struct {
		title string
		of    *measure.Map
	}{{"as you measured it, stops against the middle", &g.Map}}
	if !math.IsNaN(worst(g.ModelCorners)) {
		list = append(list, struct {
			title string
			of    *measure.Map
		}{"as the model has it", &g.ModelMap})
	}
	beside := 2+len(list)*(wide+3) <= cols
	row := func(draw func(w panel.Window, y int)) { out = append(out, line{at: -1, draw: draw}) }
	for m := 0; m < len(list); m++ {
		these := list[m : m+1]
		if beside {
			these, m = list, len(list)
		}
		row(func(w panel.Window, y int) {
			for i, l := range these {
				w.TextIn(2+i*(wide+3), y, wide, l.title, panel.Dim)
			}
		})
		for r := range measure.Down {
			row(func(w panel.Window, y int) {
				for i, l := range these {
					for c := range measure.Across {
						patch(w, 2+i*(wide+3)+c*patchCols, y, l.of[r*measure.Across+c])
					}
				}
			})
		}
	}
	return out
}

// patch draws one patch: darker the more the filter takes, up to a stop; the figure says it without colour.
func patch(w panel.Window, x, y int, v float64) {
	text := stopsAt(v)
	style := panel.Plain
	if ground, ok := shade(w.Pen, v); ok {
		style = cells.Style{Fg: panel.Against(ground), Bg: ground}
		w.Fill(x, y, patchCols, 1, style)
	}
	w.TextRight(x+patchCols-1, y, text, style)
}

// shade is a grey for a patch, where the terminal has so many colours.
func shade(pen *cells.Pen, v float64) (cells.Colour, bool) {
	if math.IsNaN(v) || pen.Profile != cells.TrueColour && pen.Profile != cells.TwoFiftySix {
		return 0, false
	}
	const middle, stop = 170, 110 // of 255, ours
	c := uint8(max(20, min(middle+stop*v, 245)))
	return cells.RGB(c, c, c), true
}
