package kit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
)

// A bag cannot change: every edit gives a new one, whose document keeps the author's comments. Faults
// are what is wrong with the edit; the new bag is nil then.

// starting is what a field holds that a kind cannot do without, when a filter becomes of that kind
// (common practice, no source: the usual density, the usual range of a variable).
var starting = map[string]string{
	"stops": "3", "from_stops": "2", "to_stops": "5", "grade": "1/4", "fixed_deg": "0", "click_deg": "15",
}

// FilterFields returns the rows of the table that a filter of a kind can have, in the table's order.
func FilterFields(k Kind) []field.Spec {
	var list []field.Spec
	for _, f := range filterFields {
		if kinds := belongs[f.Key]; kinds == nil || slices.Contains(kinds, k) {
			list = append(list, f)
		}
	}
	return list
}

// FilterPath returns the path of a filter's field in the bag's document; key "" that of the filter.
func FilterPath(i int, key string) string {
	p := "filters[" + strconv.Itoa(i) + "]"
	if key != "" {
		p += "." + key
	}
	return p
}

// SetFilter returns the bag with one field of a filter as a person typed it; empty text brings the
// default back. What no longer fits beside it goes, and what is then missing is filled in: a new kind
// loses the fields of the old one, a ring that clicks gets its click.
func (b *Bag) SetFilter(i int, key, text string) (*Bag, field.Faults) {
	d, faults := b.Doc.Set(FilterPath(i, key), text)
	if d == nil || len(faults) > 0 {
		return nil, faults
	}
	drop := func(keys ...string) {
		for _, k := range keys {
			if next, f := d.Set(FilterPath(i, k), ""); next != nil && len(f) == 0 {
				d = next
			}
		}
	}
	give := func(k string) {
		if d.At(FilterPath(i, k)).Exists() {
			return
		}
		if next, f := d.Set(FilterPath(i, k), starting[k]); next != nil && len(f) == 0 {
			d = next
		}
	}
	switch key {
	case "kind":
		kind := Kind(strings.TrimSpace(text))
		for _, f := range filterFields {
			if kinds := belongs[f.Key]; kinds != nil && !slices.Contains(kinds, kind) {
				drop(f.Key)
			}
		}
		drop("measured_on") // of another filter, as it were, like all that was measured of it
		drop(measuredKeys...)
		drop("offset_stops", "offset_on")
		for _, k := range needs[kind] {
			give(k)
		}
	case "ring":
		switch kind := RingKind(d.At(FilterPath(i, "ring")).Word(string(RingTurns))); kind {
		case RingFixed:
			drop("click_deg")
			give("fixed_deg")
		case RingClicks:
			drop("fixed_deg")
			give("click_deg")
		default:
			drop("fixed_deg", "click_deg")
		}
	case "measured_stops":
		if strings.TrimSpace(text) == "" {
			drop("measured_on", "measured_error_stops", "cast_error_mired", "mark_error_deg")
		}
	case "offset_stops":
		if strings.TrimSpace(text) == "" {
			drop("offset_on")
		}
	}
	if !slices.ContainsFunc(measuredKeys, func(k string) bool { return d.At(FilterPath(i, k)).Exists() }) {
		drop("measured_on")
	}
	return b.reread(d)
}

// SetFields returns the bag with several fields of a filter changed at once, each a key and its text; empty text brings the
// default back. Unlike [Bag.SetFilter] it leaves the others alone, and looks at what fits beside what only in the end.
func (b *Bag) SetFields(i int, fields [][2]string) (*Bag, field.Faults) {
	d := b.Doc
	for _, f := range fields {
		next, faults := d.Set(FilterPath(i, f[0]), f[1])
		if next == nil || len(faults) > 0 {
			return nil, faults
		}
		d = next
	}
	return b.reread(d)
}

// reread makes a bag of an edited document, and refuses one whose fields disagree.
func (b *Bag) reread(d *field.Doc) (*Bag, field.Faults) {
	next, faults := ReadBag(b.File, d.Bytes())
	if len(faults) > 0 {
		return nil, faults
	}
	return next, nil
}

// AddFilter returns the bag with a new filter before index i (the count of filters: at the end): a plain
// density, to be made into what it is.
func (b *Bag) AddFilter(i int) (*Bag, field.Faults) {
	return b.insert(i, fmt.Sprintf("{name: %s, kind: %s, stops: %s}", b.freeIn("filters", "new filter"), Density, starting["stops"]))
}

func (b *Bag) insert(i int, yaml string) (*Bag, field.Faults) {
	d, faults := b.Doc.Insert("filters", i, yaml)
	if d == nil || len(faults) > 0 {
		return nil, faults
	}
	return b.reread(d)
}
