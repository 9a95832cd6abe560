package tui

import (
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/tui/cells"
)

// bagRows are the lines of the filter's form: what its kind can have.
func (m *model) bagRows() []row {
	b := m.card().kit()
	if b == nil || m.bag.at < 0 || m.bag.at >= len(b.Filters) {
		return nil
	}
	var rows []row
	specs := kit.FilterFields(b.Filters[m.bag.at].Kind)
	for i := range specs {
		f := &specs[i]
		path := kit.FilterPath(m.bag.at, f.Key)
		if f.More && !m.bag.more && !b.Doc.At(path).Exists() { // what is set is always shown
			continue
		}
		if !bagFits(b.Filters[m.bag.at], f.Key) {
			continue
		}
		rows = append(rows, row{path: path, spec: f, label: filterLabel(f.Key), filter: true})
	}
	return rows
}

// bagFits tells whether a field means something beside the others.
func bagFits(f kit.Filter, key string) bool {
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

// filterLabel gives a field's name for people; the unit stands behind the value.
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
	return label(key)
}

// bagPane draws the form.
func (s *screen) bagPane(m *model, w cells.Window) {
	cols, rows := w.Size()
	w.Fill(0, 0, cols, rows, cells.Style{})
	sh, st := m.card(), &m.bag
	name, state := "The bag", "saved"
	if sh.kit() != nil && st.at < len(sh.kit().Filters) {
		name = sh.kit().Filters[st.at].Name
	}
	switch {
	case sh.bag.unsaved:
		state = "bag not saved"
	case sh.bag.fileless:
		state = "demo bag, a copy"
	}
	paneHead(w, true, cells.Cut(name, cols-6), fmt.Sprintf("%d of %d in the bag · %s", st.at+1, len(sh.kit().Filters), state), state)
	list := m.bagRows()
	if len(list) == 0 {
		w.TextIn(2, 2, cols-2, "no filters; a adds one", dim)
		return
	}
	m.bag.cursor = min(st.cursor, len(list)-1)
	in := w.Sub(0, 1, cols, rows-1)
	_, rows = in.Size()
	fault := m.faultLine()
	lines := 0
	if fault != "" {
		lines = 1
	}
	st.scroll = keepInView(st.scroll, st.cursor, len(list), max(1, rows-lines))
	x0, y0 := in.Origin()
	y := 0
	for i := st.scroll; i < len(list) && y < rows; i++ {
		s.fieldLine(m, in, y, list[i], i == st.cursor)
		s.hit(rect{x0, y0 + y, cols, 1}, func(m *model, _, _ int) {
			if m.bag.cursor == i { // a second click opens it
				m.bagEdit()
			}
			m.bag.cursor = i
		})
		y++
		if fault != "" && i == st.cursor && y < rows {
			in.TextIn(2, y, cols-2, "! "+fault, warn)
			y++
		}
	}
	if st.scroll > 0 {
		in.Set(cols-1, 0, '▲', dim)
	}
	if st.scroll+rows < len(list) {
		in.Set(cols-1, rows-1, '▼', dim)
	}
	for _, t := range m.bagNotes(cols - 2) { // what the fields make of it, where there is room
		if y+1 < rows {
			in.TextIn(2, y+1, cols-2, t, dim)
			y++
		}
	}
}

// bagNotes says what the fields come to.
func (m *model) bagNotes(cols int) []string {
	f := m.card().kit().Filters[m.bag.at]
	text := "loses " + m.plainly(exposure.FormatStops(f.TotalStops(f.Settings()[0])))
	if f.Kind == kit.Variable {
		text = "loses " + m.plainly(exposure.FormatStops(f.FromStops)) + " at its lightest, " + m.plainly(exposure.FormatStops(f.ToStops)) + " at its heaviest"
	}
	if f.MeasuredStops > 0 {
		text += ", as measured"
	}
	if !m.bag.more {
		text += " · m shows all fields"
	}
	return cells.Wrap(text, cols)
}
