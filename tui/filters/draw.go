package filters

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// room is where everything stands in the view's room, relative to it.
type room struct {
	panes   [paneCount]panel.Rect // empty: not shown
	tabs    bool                  // only one pane fits, a line names them both
	across  int                   // tiles side by side
	w, h    int                   // of a tile with the gap around it
	words   int                   // columns for a tile's words
	picW    int                   // of a picture, columns
	picRows int                   // and lines, of two pixels each
	beside  bool                  // words stand beside the picture instead of below
}

// tileWords is how many lines of words stand below a picture, tileSide how many beside it.
const (
	tileWords = 4
	tileSide  = 3
	leastTile = 16
	leastPic  = 4 // lines
)

// fit shares the room out. It depends on the window, the pane with the focus, the count of tiles and
// the shape of the frame alone. The tiles get as large as all of them allow.
func fit(inside panel.Room, pane, n int, shape float64) room {
	var r room
	cols, rows := inside.Cols, inside.Rows
	if inside.Kind == panel.TooSmall || cols < 20 || rows < 8 {
		return r
	}
	const gutter = 2
	switch inside.Kind {
	case panel.OnePane:
		r.tabs = true
		r.panes[pane] = panel.Box(0, 1, cols, rows-1)
	case panel.TwoColumns:
		left := cols * 46 / 100
		r.panes[paneAll] = panel.Box(0, 0, left, rows)
		r.panes[paneOne] = panel.Box(left+gutter, 0, cols-left-gutter, rows)
	default:
		right := max(36, min(64, cols*33/100))
		r.panes[paneAll] = panel.Box(0, 0, cols-right-gutter, rows)
		r.panes[paneOne] = panel.Box(cols-right, 0, right, rows)
	}
	in := r.panes[paneAll]
	if inside.Kind != panel.ThreeColumns {
		r.beside, r.across, r.h, r.w = true, 1, tileSide, in.W
		r.picRows = tileSide
		r.picW = max(2, min(int(math.Round(2*tileSide/shape)), in.W/2))
		r.words = in.W - r.picW - 1
		return r
	}
	const gap = 2
	for r.across = 1; ; r.across++ {
		r.words = (in.W+gap)/r.across - gap
		r.picW, r.picRows = r.words, max(1, int(math.Round(float64(r.words)*shape/2)))
		r.w, r.h = r.words+gap, r.picRows+tileWords+1
		last := (in.W+gap)/(r.across+1)-gap < leastTile
		for small := r; last && !r.fits(n, in.H-1) && small.picRows > leastPic; { // rather smaller than off the screen
			small.picRows--
			small.h--
			small.picW = int(math.Round(2 * float64(small.picRows) / shape))
			if small.fits(n, in.H-1) {
				r = small
			}
		}
		if last || r.fits(n, in.H-1) {
			return r
		}
	}
}

// fits tells whether n tiles have room in so many lines; the last needs no gap below.
func (r *room) fits(n, rows int) bool {
	return (n+r.across-1)/r.across*r.h-1 <= rows
}

// Draw implements [panel.View].
func (v *View) Draw(w panel.Window, k panel.Known) {
	if v.page.IsOpen() {
		v.page.Draw(w, k)
		return
	}
	in, at := v.rooms(k)
	v.drawFilters(w.Sub(0, 0, in.Cols, in.Rows), k)
	if !at.Empty() {
		v.drawForm(w.In(at), k)
	}
}

// drawFilters draws the panes: all filters, and the chosen one.
func (v *View) drawFilters(w panel.Window, k panel.Known) {
	room := v.fit(k)
	titles := [paneCount]string{"All filters on this flight", "The chosen filter"}
	if room.tabs {
		panel.Tabs(w, titles[:], v.pane, func(p int) { v.pane = p })
	}
	for p, r := range room.panes {
		if r.Empty() {
			continue
		}
		w.OnClick(r, func(panel.Bench, int, int) { v.pane = p })
		in := w.In(r)
		if !room.tabs {
			var right []string
			if p == paneAll {
				right = heading(k)
			}
			panel.Head(in, v.pane == p && !v.form.open, titles[p], right...)
			in = in.Sub(0, 1, r.W, r.H-1)
		}
		switch {
		case len(v.got.list) == 0 || k.Report() == nil:
			in.Text(0, 0, "nothing worked out yet", panel.Dim)
		case p == paneAll:
			v.tiles(in, k, &room)
		default:
			v.argue(in)
		}
	}
	if k.Stale() {
		w.Fade()
	}
}

// heading says what the list is of, the fullest first.
func heading(k panel.Known) []string {
	r := k.Report()
	if r == nil || r.IndexAt(k.Second()) < 0 {
		return nil
	}
	at := fmt.Sprintf("%s · leg %d", panel.FlightTime(k.Second()), r.Path[r.IndexAt(k.Second())].Leg+1)
	if len(r.Flights) > 1 {
		return []string{"each for all legs; the call lands between · " + at, "each for all legs · " + at, at}
	}
	order := "best first"
	if t := k.CardText("filter"); t != "" && t != "auto" {
		order = "the card's, then best first"
	}
	return []string{order + " · seen at " + at, order, at}
}

// tiles draws one tile a filter, best first.
func (v *View) tiles(w panel.Window, k panel.Known, room *room) {
	cols, rows := w.Size()
	n, at := len(v.got.list), v.at()
	lines := (n + room.across - 1) / room.across
	shown := max(1, (rows+1)/room.h)
	if room.beside {
		shown = max(1, rows/room.h)
	}
	v.top = panel.KeepInView(v.top, at/room.across, lines, shown)
	for i := v.top * room.across; i < n; i++ {
		x, y := i%room.across*room.w, (i/room.across-v.top)*room.h
		if y >= shown*room.h {
			break
		}
		tile := w.Sub(x, y, min(room.w, cols-x), min(room.h, rows-y))
		v.tile(tile, k, room, i, i == at)
		w.OnClick(panel.Box(x, y, room.w, room.h), func(panel.Bench, int, int) { v.pane = paneAll; v.choose(i) })
	}
	panel.More(w, v.top > 0, v.top+shown < lines)
}

// tile draws one filter: its picture, what would be set, and what speaks for or against it.
func (v *View) tile(w panel.Window, known panel.Known, room *room, i int, picked bool) {
	k := &v.got.list[i]
	x, y, cols := 0, room.picRows, room.words
	if room.beside {
		x, y = room.picW+1, 0
	}
	if i < len(v.got.pics) && v.got.of.w == room.picW && v.got.of.h == 2*room.picRows {
		w.Picture(0, 0, &v.got.pics[i])
		w.Patch(0, 0, room.picW, room.picRows, v.got.finer, i)
	}
	words := v.tileWords(w.Pen, k, i, cols, room.beside, tileTags(k, known.CardText("filter")))
	for j, t := range words {
		style := panel.Plain
		switch {
		case j == 0 && picked:
			style = panel.Accent
		case j == 0:
			style = panel.Strong
		case !k.Feasible:
			style = panel.Warn
		case j == 1:
		default:
			style = panel.Dim
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
func (v *View) tileWords(pen *cells.Pen, k *plan.Ranked, i, cols int, beside bool, tags [][]string) []string {
	plainly := func(text string) string { return panel.Plainly(pen, text) }
	name := fmt.Sprintf("%d %s", i+1, plainly(candidateName(&k.Candidate)))
	if cells.Width(name) >= cols { // without its setting, which the words beside tell
		name = fmt.Sprintf("%d %s", i+1, words.FilterTitle(k.Filter, 0))
	}
	if i == v.at() {
		name = "▸" + name
	} else {
		name = " " + name
	}
	for _, tag := range tags {
		for _, t := range tag { // the longest that fits
			if cells.Width(name)+3+cells.Width(t) <= cols {
				name += " · " + t
				break
			}
		}
	}
	if !k.Feasible {
		return append([]string{name}, head(cells.Wrap(plainly(notFlown(k)), cols), 3)...)
	}
	shutter, iso := advice.SetWords(v.got.of.report, &k.Candidate)
	set, rest := shutter+" · ISO "+iso, []string{}
	light := strings.TrimSuffix(plainly(advice.HeadroomWords(&k.Candidate)), " ISO")
	if h, ok := strings.CutSuffix(light, " of headroom"); ok {
		light = "headroom " + h
	}
	why := plainly(firstWhy(k))
	if beside {
		if cells.Width(set) > cols {
			set = shutter + " ISO " + iso
		}
		const least = 12 // columns; less of a reason says nothing
		if why != "" && cols-cells.Width(light)-3 >= min(least, cells.Width(why)) {
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

// notFlown says that a filter cannot be flown here, and why.
func notFlown(k *plan.Ranked) string {
	why := advice.Shortfall(&k.Candidate)
	if strings.HasPrefix(why, "cannot be ") {
		return why
	}
	return "cannot be flown: " + why
}

// tileTags are short words beside a filter's name, each in its forms from the longest on; onCard is the
// filter that the card asks for.
func tileTags(k *plan.Ranked, onCard string) (out [][]string) {
	if onCard == k.Filter {
		out = append(out, []string{"on the card", "card"})
	}
	if k.HasRing {
		both := kit.Clock(k.RingDeg)
		one, _, _ := strings.Cut(both, " ")
		out = append(out, []string{"mark at " + both, one})
	}
	return out
}

// head returns the first n of a list, with a sign where something was left out.
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

// argue says what is known of the chosen filter. It scrolls.
func (v *View) argue(w panel.Window) {
	cols, rows := w.Size()
	lines := v.lines(w.Pen, v.at(), cols-1)
	v.scroll = max(0, min(v.scroll, len(lines)-rows))
	for y := 0; y < rows && v.scroll+y < len(lines); y++ {
		lines[v.scroll+y].Draw(w, 0, y)
	}
	panel.More(w, v.scroll > 0, len(lines) > v.scroll+rows)
}

// lines sets what is known of a filter on this flight in lines of at most so many columns.
func (v *View) lines(pen *cells.Pen, at, cols int) []panel.Line {
	if at < 0 {
		return nil
	}
	r := v.got.of.report
	k := &v.got.list[at]
	var out []panel.Line
	para := func(lead, text string, style cells.Style) {
		out = append(out, panel.Para(pen, cols, lead, text, style)...)
	}
	section := func(title string, texts []string) {
		out = append(out, panel.Section(pen, cols, title, texts, panel.Plain)...)
	}
	kind := string(k.Kind)
	if kind == "" {
		kind = "nothing on the lens"
	}
	para("  ", candidateName(&k.Candidate)+" · "+kind, panel.Strong)
	if k.Feasible {
		shutter, iso := advice.SetWords(r, &k.Candidate)
		para("  ", shutter+" · ISO "+iso, panel.Plain)
	}
	if k.HasRing {
		para("  ", "mark at "+kit.Clock(k.RingDeg)+", facing the lens", panel.Plain)
	}
	if k.Feasible {
		para("  ", "can be flown on every leg", panel.Fine)
	} else {
		para("  ", notFlown(k), panel.Warn)
	}
	section("What it does", advice.MeasureWords(&k.Candidate))
	why := k.WhyNot
	if why == advice.Shortfall(&k.Candidate) {
		why = ""
	}
	if why != "" {
		section("Why not", []string{why})
	}
	counts := map[string]bool{}                 // one reason may stand for two lines of the score
	for _, costs := range []bool{false, true} { // first what speaks for it
		for _, l := range k.Lines {
			if l.Stops > 0 != costs || !slices.Contains(k.Reasons, l.Words) || l.Words == why || l.Words == advice.Shortfall(&k.Candidate) || counts[l.Words] {
				continue
			}
			if len(counts) == 0 {
				out = append(out, panel.Line{}, panel.Line{Lead: "  ", Text: "What counts", Style: panel.Strong})
			}
			counts[l.Words] = true
			sign := "+ "
			if costs {
				sign = "− "
			}
			para(sign, l.Words, panel.Plain)
		}
	}
	section("At its other settings", v.otherSettings(k))
	return out
}

// otherSettings says how a filter would do when it is set otherwise.
func (v *View) otherSettings(k *plan.Ranked) []string {
	var out []string
	for i := range k.Others {
		o := &k.Others[i]
		t := exposure.FormatStops(o.SettingStops)
		if shutter, iso := advice.SetWords(v.got.of.report, o); o.Feasible && shutter != "" {
			t += ", " + shutter + ", ISO " + iso
		}
		why := o.WhyNot
		if why == "" {
			why = advice.Shortfall(o)
		}
		if why != "" {
			t += ": " + why
		}
		out = append(out, t)
	}
	return out
}
