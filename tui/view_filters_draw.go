package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

// filtersRoom is where everything stands in the view's room, relative to it.
type filtersRoom struct {
	panes   [filtersPanes]rect // empty: not shown
	tabs    bool               // only one pane fits, a line names them both
	across  int                // tiles side by side
	w, h    int                // of a tile with the gap around it
	words   int                // columns for a tile's words
	picW    int                // of a picture, columns
	picRows int                // and lines, of two pixels each
	beside  bool               // words stand beside the picture instead of below
}

// tileWords is how many lines of words stand below a picture, tileSide how many beside it.
const (
	tileWords = 4
	tileSide  = 3
	leastTile = 16
	leastPic  = 4 // lines
)

// filtersFit shares the room out. It depends on the window, the pane with the focus, the count of tiles and
// the shape of the frame alone. The tiles get as large as all of them allow.
func filtersFit(s *screen, pane, n int, shape float64) filtersRoom {
	var r filtersRoom
	cols, rows := s.body.w, s.body.h
	if s.kind == tooSmall || cols < 20 || rows < 8 {
		return r
	}
	const gutter = 2
	switch s.kind {
	case onePane:
		r.tabs = true
		r.panes[pane] = rect{0, 1, cols, rows - 1}
	case twoColumns:
		left := cols * 46 / 100
		r.panes[filtersAll] = rect{0, 0, left, rows}
		r.panes[filtersOne] = rect{left + gutter, 0, cols - left - gutter, rows}
	default:
		right := max(36, min(64, cols*33/100))
		r.panes[filtersAll] = rect{0, 0, cols - right - gutter, rows}
		r.panes[filtersOne] = rect{cols - right, 0, right, rows}
	}
	in := r.panes[filtersAll]
	if s.kind != threeColumns {
		r.beside, r.across, r.h, r.w = true, 1, tileSide, in.w
		r.picRows = tileSide
		r.picW = max(2, min(int(math.Round(2*tileSide/shape)), in.w/2))
		r.words = in.w - r.picW - 1
		return r
	}
	const gap = 2
	for r.across = 1; ; r.across++ {
		r.words = (in.w+gap)/r.across - gap
		r.picW, r.picRows = r.words, max(1, int(math.Round(float64(r.words)*shape/2)))
		r.w, r.h = r.words+gap, r.picRows+tileWords+1
		last := (in.w+gap)/(r.across+1)-gap < leastTile
		for small := r; last && !r.fits(n, in.h-1) && small.picRows > leastPic; { // rather smaller than off the screen
			small.picRows--
			small.h--
			small.picW = int(math.Round(2 * float64(small.picRows) / shape))
			if small.fits(n, in.h-1) {
				r = small
			}
		}
		if last || r.fits(n, in.h-1) {
			return r
		}
	}
}

// fits tells whether n tiles have room in so many lines; the last needs no gap below.
func (r *filtersRoom) fits(n, rows int) bool {
	return (n+r.across-1)/r.across*r.h-1 <= rows
}

func (filtersView) draw(s *screen, m *model, w cells.Window) {
	f := &m.filters
	room := filtersFit(s, f.pane, m.filtersCount(), m.filtersShape())
	x0, y0 := w.Origin()
	titles := [filtersPanes]string{"All filters on this flight", "The chosen filter"}
	if room.tabs {
		s.paneTabs(w, titles[:], f.pane, func(m *model, p int) { m.filters.pane = p })
	}
	for p, r := range room.panes {
		if r.empty() {
			continue
		}
		s.hit(rect{x0 + r.x, y0 + r.y, r.w, r.h}, func(m *model, _, _ int) { m.filters.pane = p })
		in := w.Sub(r.x, r.y, r.w, r.h)
		if !room.tabs {
			var right []string
			if p == filtersAll {
				right = m.filtersHeading()
			}
			paneHead(in, f.pane == p && !m.bag.open, titles[p], right...)
			in = in.Sub(0, 1, r.w, r.h-1)
		}
		switch {
		case len(f.got.list) == 0 || m.calc.report == nil:
			in.Text(0, 0, "nothing worked out yet", dim)
		case p == filtersAll:
			s.filterTiles(m, in, &room)
		default:
			s.filterWords(m, in)
		}
	}
	if m.stale() {
		w.Fade()
	}
}

// filtersHeading says what the list is of, the fullest first.
func (m *model) filtersHeading() []string {
	i := m.calc.at(m.second)
	if i < 0 {
		return nil
	}
	at := fmt.Sprintf("%s · leg %d", clock(m.second), m.calc.report.Path[i].Leg+1)
	if len(m.calc.report.Flights) > 1 {
		return []string{"each for all legs; the call lands between · " + at, "each for all legs · " + at, at}
	}
	order := "best first"
	if t := m.card().text("filter"); t != "" && t != "auto" {
		order = "the card's, then best first"
	}
	return []string{order + " · seen at " + at, order, at}
}

// filterTiles draws one tile a filter, best first.
func (s *screen) filterTiles(m *model, w cells.Window, room *filtersRoom) {
	f := &m.filters
	cols, rows := w.Size()
	x0, y0 := w.Origin()
	n, at := len(f.got.list), m.filtersAt()
	lines := (n + room.across - 1) / room.across
	shown := max(1, (rows+1)/room.h)
	if room.beside {
		shown = max(1, rows/room.h)
	}
	f.top = keepInView(f.top, at/room.across, lines, shown)
	for i := f.top * room.across; i < n; i++ {
		x, y := i%room.across*room.w, (i/room.across-f.top)*room.h
		if y >= shown*room.h {
			break
		}
		tile := w.Sub(x, y, min(room.w, cols-x), min(room.h, rows-y))
		s.filterTile(m, tile, room, i, i == at)
		s.hit(rect{x0 + x, y0 + y, room.w, room.h}, func(m *model, _, _ int) { m.filters.pane = filtersAll; m.filtersTo(i) })
	}
	if f.top+shown < lines {
		w.Set(cols-1, rows-1, '▼', dim)
	}
	if f.top > 0 {
		w.Set(cols-1, 0, '▲', dim)
	}
}

// filterTile draws one filter: its picture, what would be set, and what speaks for or against it.
func (s *screen) filterTile(m *model, w cells.Window, room *filtersRoom, i int, picked bool) {
	f := &m.filters
	k := &f.got.list[i]
	x, y, cols := 0, room.picRows, room.words
	if room.beside {
		x, y = room.picW+1, 0
	}
	if i < len(f.got.pics) && f.got.of.w == room.picW && f.got.of.h == 2*room.picRows {
		w.Picture(0, 0, &f.got.pics[i])
	}
	words := m.tileWords(k, i, cols, room.beside)
	for j, t := range words {
		style := plain
		switch {
		case j == 0 && picked:
			style = accent
		case j == 0:
			style = strong
		case !k.Feasible:
			style = warn
		case j == 1:
		default:
			style = dim
		}
		if j == 0 && picked {
			style = style.On(cells.PickGround)
			w.Fill(x, y, cols, 1, cells.Style{Bg: cells.PickGround})
		}
		w.TextIn(x, y+j, cols, t, style)
	}
}

// tileWords are the lines of a tile: the name, what would be set, how much light is to spare, and the first
// of what speaks for or against it.
func (m *model) tileWords(k *plan.Ranked, i, cols int, beside bool) []string {
	name := fmt.Sprintf("%d %s", i+1, m.plainly(candidateName(&k.Candidate)))
	if cells.Width(name) >= cols { // without its setting, which the words beside tell
		name = fmt.Sprintf("%d %s", i+1, words.FilterTitle(k.Filter, 0))
	}
	if i == m.filtersAt() {
		name = "▸" + name
	} else {
		name = " " + name
	}
	for _, tag := range m.tileTags(k) {
		for _, t := range tag { // the longest that fits
			if cells.Width(name)+3+cells.Width(t) <= cols {
				name += " · " + t
				break
			}
		}
	}
	if !k.Feasible {
		return append([]string{name}, head(cells.Wrap(m.plainly("cannot be flown: "+k.Shortfall()), cols), 3)...)
	}
	shutter, iso := m.filters.got.of.report.SetWords(&k.Candidate)
	set, rest := shutter+" · ISO "+iso, []string{}
	light := strings.TrimSuffix(m.plainly(k.HeadroomWords()), " ISO")
	if h, ok := strings.CutSuffix(light, " of headroom"); ok {
		light = "headroom " + h
	}
	why := m.plainly(firstWhy(k))
	if beside {
		if cells.Width(set) > cols {
			set = shutter + " ISO " + iso
		}
		const least = 12 // columns; less of a reason says nothing
		if cols-cells.Width(light)-3 >= min(least, cells.Width(why)) {
			light += " · " + why
		}
		return []string{name, set, light}
	}
	if cells.Width(set) > cols {
		set, rest = shutter, []string{"ISO " + iso}
	}
	out := append(append([]string{name, set}, rest...), light)
	return append(out, head(cells.Wrap(why, cols), tileWords-len(out))...)
}

// tileTags are short words beside a filter's name, each in its forms from the longest on.
func (m *model) tileTags(k *plan.Ranked) (out [][]string) {
	if m.card().text("filter") == k.Filter {
		out = append(out, []string{"on the card", "card"})
	}
	if k.HasRing {
		both := kit.Clock(k.RingDeg)
		one, _, _ := strings.Cut(both, " ")
		out = append(out, []string{"mark at " + both, one})
	}
	return out
}

// head gives the first n of a list, with a sign where something was left out.
func head(list []string, n int) []string {
	if len(list) <= n {
		return list
	}
	list = append([]string{}, list[:max(0, n)]...)
	if n > 0 {
		list[n-1] += "…"
	}
	return list
}

// firstWhy is what speaks against a filter, or else for it.
func firstWhy(k *plan.Ranked) string {
	if k.WhyNot != "" {
		return k.WhyNot
	}
	if len(k.Reasons) > 0 {
		return k.Reasons[0]
	}
	return ""
}

// candidateName names a filter with its setting.
func candidateName(k *plan.Candidate) string {
	if k.SettingStops > 0 {
		return k.Filter + " at " + exposure.FormatStops(k.SettingStops)
	}
	return words.FilterTitle(k.Filter, 0)
}

// filterWords argues the chosen filter. It scrolls.
func (s *screen) filterWords(m *model, w cells.Window) {
	f := &m.filters
	cols, rows := w.Size()
	lines := m.filterLines(m.filtersAt(), cols-1)
	f.scroll = max(0, min(f.scroll, len(lines)-rows))
	for y := 0; y < rows && f.scroll+y < len(lines); y++ {
		l := lines[f.scroll+y]
		x := w.Text(0, y, l.lead, dim)
		w.TextIn(x, y, cols-x, l.text, l.style)
	}
	if len(lines) > f.scroll+rows {
		w.Set(cols-1, rows-1, '▼', dim)
	}
	if f.scroll > 0 {
		w.Set(cols-1, 0, '▲', dim)
	}
}

// filterLines sets what is known of a filter on this flight in lines of at most so many columns.
func (m *model) filterLines(at, cols int) []callLine {
	if at < 0 {
		return nil
	}
	r := m.filters.got.of.report
	k := &m.filters.got.list[at]
	var out []callLine
	para := func(lead, text string, style cells.Style) {
		for i, l := range cells.Wrap(m.plainly(text), max(8, cols-cells.Width(lead))) {
			if i > 0 {
				lead = strings.Repeat(" ", cells.Width(lead))
			}
			out = append(out, callLine{lead: lead, text: l, style: style})
		}
	}
	section := func(title string, texts []string) {
		if len(texts) == 0 {
			return
		}
		out = append(out, callLine{}, callLine{lead: "  ", text: title, style: strong})
		for _, t := range texts {
			para("· ", t, plain)
		}
	}
	kind := string(k.Kind)
	if kind == "" {
		kind = "nothing on the lens"
	}
	para("  ", candidateName(&k.Candidate)+" · "+kind, strong)
	if k.Feasible {
		shutter, iso := r.SetWords(&k.Candidate)
		para("  ", shutter+" · ISO "+iso, plain)
	}
	if k.HasRing {
		para("  ", "mark at "+kit.Clock(k.RingDeg)+", facing the lens", plain)
	}
	if k.Feasible {
		para("  ", "can be flown on every leg", fine)
	} else {
		para("  ", "cannot be flown: "+k.Shortfall(), warn)
	}
	section("What it does", k.MeasureWords())
	why := k.WhyNot
	if why == k.Shortfall() {
		why = ""
	}
	if why != "" {
		section("Why not", []string{why})
	}
	var reasons []string
	for _, t := range k.Reasons {
		if t != why && t != k.Shortfall() {
			reasons = append(reasons, t)
		}
	}
	section("What counts", reasons)
	section("At its other settings", m.otherSettings(k))
	return out
}

// otherSettings says how a filter would do when it is set otherwise.
func (m *model) otherSettings(k *plan.Ranked) []string {
	var out []string
	for i := range k.Others {
		o := &k.Others[i]
		t := exposure.FormatStops(o.SettingStops)
		if shutter, iso := m.filters.got.of.report.SetWords(o); o.Feasible && shutter != "" {
			t += ", " + shutter + ", ISO " + iso
		}
		why := o.WhyNot
		if why == "" {
			why = o.Shortfall()
		}
		if why != "" {
			t += ": " + why
		}
		out = append(out, t)
	}
	return out
}
