package filters

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// rows are the lines of the form: what a filter's kind can have, and all fields of a camera, a mode, the settings.
func (v *View) rows(b *kit.Bag) []panel.Row {
	if b == nil || b.Doc == nil {
		return nil
	}
	part := v.part(b)
	var rows []panel.Row
	keys, specs := b.PartFields(part.Path)
	for i, key := range keys {
		f, path := specs[i], part.Path+"."+key
		if f.More && !v.form.more && !b.Doc.At(path).Exists() { // what is set is always shown
			continue
		}
		if part.Kind == "filter" && !applies(b.Filters[v.form.at], key) {
			continue
		}
		rows = append(rows, panel.Row{Path: path, Spec: f, Label: label(part.Kind, key), InBag: true})
	}
	return rows
}

// label returns a field's name for people, by its key from its part on.
func label(kind, key string) string {
	switch key {
	case "iso.base", "iso_base":
		return "lowest ISO"
	case "iso.clean", "iso_clean":
		return "clean ISO"
	case "iso.limit", "iso_limit":
		return "highest ISO"
	case "shutter_s.fastest":
		return "fastest"
	case "shutter_s.slowest":
		return "slowest"
	case "sensor_mm":
		return "sensor"
	case "pixels":
		return "still pixels"
	case "focal_mm":
		return "focal length"
	case "focal_35_mm":
		return "or as 36 mm"
	case "highlight_stops":
		return "highlights"
	case "still_highlight_stops":
		return "of a raw still"
	case "gimbal_deg":
		return "gimbal"
	case "readout_ms":
		return "readout"
	case "endurance_min":
		return "endurance"
	case "offset_stops":
		return "offset"
	case "reserve_pct":
		return "reserve"
	case "landing_change_s":
		return "change takes"
	case "height_caution_m":
		return "height caution"
	case "shutter_tolerance_deg":
		return "angles allowed"
	case "travel_kmh":
		return "travel"
	}
	if weight, ok := strings.CutPrefix(key, "weights."); ok {
		return "× " + strings.ReplaceAll(weight, "_", " ")
	}
	if kind == "filter" {
		return filterLabel(key)
	}
	return panel.Label(key[strings.LastIndexByte(key, '.')+1:])
}

// applies tells whether a field means something beside the others.
func applies(f kit.Filter, key string) bool {
	switch key {
	case "fixed_deg":
		return f.Ring == kit.RingFixed
	case "click_deg":
		return f.Ring == kit.RingClicks
	case "measured_on":
		return f.MeasuredStops > 0 || f.MeasuredOn != ""
	case "measured_error_stops", "cast_error_mired", "mark_error_deg":
		return f.MeasuredOn != ""
	case "offset_on":
		return f.OffsetStops != 0
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
	case "measured_error_stops":
		return "measured within"
	case "cast_error_mired":
		return "cast within"
	case "mark_error_deg":
		return "mark within"
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
	name, state, n := "The bag", "saved", 0
	if b != nil && b.Doc != nil {
		name, n = v.part(b).Name, len(b.Parts())
	}
	switch exists, unsaved := k.BagFile(); {
	case unsaved:
		state = "bag not saved"
	case !exists:
		state = "demo bag, a copy"
	}
	panel.Head(w, true, cells.Cut(name, cols-6), fmt.Sprintf("%d of %d in the bag · %s", f.at+1, n, state), state)
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
	if part := v.part(b); part.Kind != "filter" {
		text := map[string]string{"camera": "r settings · M adds a mode", "mode": "left out: as the camera has it", "settings": "r filters"}[part.Kind]
		if part.Kind == "settings" && !v.form.more {
			text += " · m shows what each harm weighs"
		}
		return cells.Wrap(text, cols)
	}
	f := b.Filters[v.form.at]
	text := "loses " + stops(f.TotalStops(f.Settings()[0]))
	if f.Kind == kit.Variable {
		text = "loses " + stops(f.FromStops) + " at its lightest, " + stops(f.ToStops) + " at its heaviest"
	}
	if f.MeasuredStops > 0 || len(f.Measured) > 0 {
		text += ", as measured"
	}
	if !v.form.more {
		text += " · m shows all fields"
	}
	return cells.Wrap(text, cols)
}
