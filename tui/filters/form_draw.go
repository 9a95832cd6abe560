package filters

import (
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// rows are the lines of the form: what the filter's kind can have.
func (v *View) rows(b *kit.Bag) []panel.Row {
	at := v.form.at
	if b == nil || at < 0 || at >= len(b.Filters) {
		return nil
	}
	var rows []panel.Row
	specs := kit.FilterFields(b.Filters[at].Kind)
	for i := range specs {
		f := &specs[i]
		path := kit.FilterPath(at, f.Key)
		if f.More && !v.form.more && !b.Doc.At(path).Exists() { // what is set is always shown
			continue
		}
		if !applies(b.Filters[at], f.Key) {
			continue
		}
		rows = append(rows, panel.Row{Path: path, Spec: f, Label: filterLabel(f.Key), Filter: true, FilterAt: at})
	}
	return rows
}

// applies tells whether a field means something beside the others.
func applies(f kit.Filter, key string) bool {
	switch key {
	case "fixed_deg":
		return f.Ring == kit.RingFixed
	case "click_deg":
		return f.Ring == kit.RingClicks
	case "measured_on":
		return f.MeasuredStops > 0
	}
	return true
}

// filterLabel returns a field's name for people; the unit stands behind the value.
func filterLabel(key string) string {
	switch key {
	case "stops":
		return "density"
	case "loss_stops":
		return "sheet takes"
	case "mark_deg", "rear_deg":
		return "mark to pass"
	case "from_stops":
		return "lightest"
	case "to_stops":
		return "heaviest"
	case "fixed_stops":
		return "plain density"
	case "grade":
		return "diffusion"
	case "cast_mired":
		return "cast"
	case "measured_stops":
		return "measured"
	case "fixed_deg":
		return "mark stands at"
	case "click_deg":
		return "clicks every"
	}
	return panel.Label(key)
}

// drawForm draws the form.
func (v *View) drawForm(w panel.Window, k panel.Known) {
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{})
	f, b := &v.form, k.Bag()
	name, state := "The bag", "saved"
	if b != nil && f.at < len(b.Filters) {
		name = b.Filters[f.at].Name
	}
	switch exists, unsaved := k.BagFile(); {
	case unsaved:
		state = "bag not saved"
	case !exists:
		state = "demo bag, a copy"
	}
	panel.Head(w, true, cells.Cut(name, cols-6), fmt.Sprintf("%d of %d in the bag · %s", f.at+1, len(b.Filters), state), state)
	list := v.rows(b)
	if len(list) == 0 {
		w.TextIn(2, 2, cols-2, "no filters; a adds one", panel.Dim)
		return
	}
	f.cursor = min(f.cursor, len(list)-1)
	fields := panel.Form{
		Rows: list, Cursor: f.cursor, Focus: true, Typing: k.Typing(),
		Shown: func(r panel.Row) (string, bool) { return shown(b, r) },
		Click: func(b panel.Bench, line int) {
			if f.cursor == line { // a second click opens it
				v.EditField(b)
			}
			f.cursor = line
		},
	}
	in := w.Sub(0, 1, cols, rows-1)
	top, y := fields.Draw(in, f.scroll)
	f.scroll = top
	_, rows = in.Size()
	for _, t := range v.notes(b, w.Pen, cols-2) { // what the fields make of it, where there is room
		if y+1 < rows {
			in.TextIn(2, y+1, cols-2, t, panel.Dim)
			y++
		}
	}
}

// notes say what the fields come to.
func (v *View) notes(b *kit.Bag, pen *cells.Pen, cols int) []string {
	stops := func(v float64) string { return panel.Plainly(pen, exposure.FormatStops(v)) }
	f := b.Filters[v.form.at]
	text := "loses " + stops(f.TotalStops(f.Settings()[0]))
	if f.Kind == kit.Variable {
		text = "loses " + stops(f.FromStops) + " at its lightest, " + stops(f.ToStops) + " at its heaviest"
	}
	if f.MeasuredStops > 0 {
		text += ", as measured"
	}
	if !v.form.more {
		text += " · m shows all fields"
	}
	return cells.Wrap(text, cols)
}
