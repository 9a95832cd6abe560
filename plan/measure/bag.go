package measure

import (
	"fmt"
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
)

// Edit is one field of a filter as a measurement changes it.
type Edit struct {
	Key      string
	Was, Now string // "" where there is none
}

// Edits tells what a measurement changes in a bag, in the order of its table of fields: of the loss and the colour (r, or
// nil), of the mark (m, or nil), on a day (2026-09-18). A density and a diffusion get measured_stops, a polariser
// loss_stops, a hybrid stops without its polariser, a variable a pair for each setting. The colour is left out where the
// white balance was not locked.
func Edits(b *kit.Bag, name string, r *Result, m *Mark, on string) ([]Edit, field.Faults) {
	at := slices.IndexFunc(b.Filters, func(f kit.Filter) bool { return f.Name == name })
	if at < 0 {
		v := b.Doc.At("filters")
		return nil, field.Faults{v.Fault(field.Quoted(name), "the name of one of the filters")}
	}
	f := b.Filters[at]
	now := map[string]string{"measured_on": on}
	if r != nil && len(r.Groups) > 0 {
		loss(now, f, r)
		if r.ColourKnown {
			var mired, off, tint float64
			for _, g := range r.Groups {
				n := float64(len(r.Groups))
				mired, off, tint = mired+g.CastMired/n, off+g.CastError/n, tint+g.Tint/n
			}
			now["cast_mired"], now["cast_error_mired"], now["tint"] = field.Figure(mired, 0), field.Figure(off, 0), field.Figure(tint, 0)
		}
	}
	if m != nil {
		now["mark_deg"], now["mark_error_deg"] = field.Figure(math.Mod(math.Round(m.Deg), 180), 0), field.Figure(m.ErrorDeg, 0)
	}
	var edits []Edit
	for _, spec := range kit.FilterFields(f.Kind) {
		text, ok := now[spec.Key]
		if !ok {
			continue
		}
		was := b.Doc.At(kit.FilterPath(at, spec.Key)).YAML()
		if was != text {
			edits = append(edits, Edit{spec.Key, was, text})
		}
	}
	return edits, nil
}

// loss puts down what a filter takes, in the field that its kind has for it.
func loss(now map[string]string, f kit.Filter, r *Result) {
	g := r.Groups[0]
	// A diffusion layer is in what was measured; the model adds it to a sheet and to a hybrid's glass by itself.
	own := f
	own.MeasuredStops = 0
	layer := own.TotalStops(0) - own.Stops - own.LossStops
	now["measured_error_stops"] = field.Figure(g.StopsError, 2)
	switch f.Kind {
	case kit.Polariser:
		now["loss_stops"], now["measured_stops"] = field.Figure(g.Stops-layer, 2), ""
	case kit.Hybrid:
		sheet := f.LossStops
		now["stops"], now["measured_stops"] = field.Figure(g.Stops-sheet-layer, 2), ""
	case kit.Variable:
		pairs := slices.Clone(f.Measured)
		worst := 0.0
		for _, g := range r.Groups {
			pairs = slices.DeleteFunc(pairs, func(p [2]float64) bool { return math.Abs(p[0]-g.SettingStops) < 0.01 })
			pairs = append(pairs, [2]float64{g.SettingStops, g.Stops})
			worst = max(worst, g.StopsError)
		}
		slices.SortFunc(pairs, func(a, b [2]float64) int {
			if a[0] < b[0] {
				return -1
			}
			return 1
		})
		text := ""
		for i, p := range pairs {
			if i > 0 {
				text += ", "
			}
			text += fmt.Sprintf("[%s, %s]", field.Figure(p[0], 2), field.Figure(p[1], 2))
		}
		now["measured"], now["measured_error_stops"] = "["+text+"]", field.Figure(worst, 2)
	default:
		now["measured_stops"] = field.Figure(g.Stops, 2)
	}
}

// Write returns a bag with the edits made.
func Write(b *kit.Bag, name string, edits []Edit) (*kit.Bag, field.Faults) {
	at := slices.IndexFunc(b.Filters, func(f kit.Filter) bool { return f.Name == name })
	if at < 0 {
		return nil, field.Faults{b.Doc.At("filters").Fault(field.Quoted(name), "the name of one of the filters")}
	}
	var fields [][2]string
	for _, e := range edits {
		fields = append(fields, [2]string{e.Key, e.Now})
	}
	return b.SetFields(at, fields)
}
