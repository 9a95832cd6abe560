package kit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
)

// Part is one thing of a bag that has fields of its own: a filter, a camera, one of its modes, the settings.
type Part struct {
	Path string // in the bag's document: "filters[2]", "cameras[0].modes[1]", "settings"
	Name string // for people
	Kind string // filter, camera, mode or settings
}

// Parts returns all parts of the bag: the filters, each camera with its modes, and the settings. A bag without filters
// has one without a field in their place, beside which the first can be added.
func (b *Bag) Parts() (all []Part) {
	for i, f := range b.Filters {
		all = append(all, Part{FilterPath(i, ""), f.Name, "filter"})
	}
	if len(all) == 0 {
		all = append(all, Part{FilterPath(-1, ""), "no filters", "filter"})
	}
	cameras := b.Doc.At("cameras")
	for i := range cameras.Len() {
		camera := cameras.Index(i)
		name := camera.Get("name").Text()
		all = append(all, Part{camera.Path(), name, "camera"})
		modes := camera.Get("modes")
		for k := range modes.Len() {
			all = append(all, Part{modes.Index(k).Path(), name + ": " + modes.Index(k).Get("name").Text(), "mode"})
		}
	}
	return append(all, Part{"settings", "settings", "settings"})
}

// PartFields returns the rows of the table that a part can have, by their keys from the part on ("iso.base"), in
// the table's order: of a filter those of its kind.
func (b *Bag) PartFields(part string) (keys []string, specs []*field.Spec) {
	var add func(table []field.Spec, under string)
	add = func(table []field.Spec, under string) {
		for i := range table {
			switch f := &table[i]; {
			case f.Kind == field.Map:
				add(f.Fields, under+f.Key+".")
			case f.Kind == field.List && f.Item.Kind == field.Map, f.Kind == field.Pairs:
			default:
				keys, specs = append(keys, under+f.Key), append(specs, f)
			}
		}
	}
	if at, ok := filterAt(part); ok {
		if at >= 0 && at < len(b.Filters) {
			add(FilterFields(b.Filters[at].Kind), "")
		}
	} else if row := b.Doc.SpecAt(part); row != nil {
		add(row.Fields, "")
	}
	return keys, specs
}

// filterAt returns the place of a filter in the bag, by its part's path.
func filterAt(part string) (at int, ok bool) {
	list, at, ok := listOf(part)
	return at, ok && list == "filters"
}

// listOf takes the path of a part in a list apart: "cameras[0].modes", 1.
func listOf(part string) (list string, at int, ok bool) {
	i := strings.LastIndexByte(part, '[')
	if i < 0 || !strings.HasSuffix(part, "]") {
		return "", 0, false
	}
	at, err := strconv.Atoi(part[i+1 : len(part)-1])
	return part[:i], at, err == nil
}

// instead of one another: a lens has one of the two.
var eitherOr = map[string]string{"focal_mm": "focal_35_mm", "focal_35_mm": "focal_mm"}

// Set returns the bag with one field as a person typed it; empty text brings the default back. What cannot stand
// beside it goes: see [Bag.SetFilter], and of a camera's two ways to give the focal length the other.
func (b *Bag) Set(path, text string) (*Bag, field.Faults) {
	i := strings.LastIndexByte(path, '.')
	if at, ok := filterAt(path[:max(i, 0)]); ok {
		return b.SetFilter(at, path[i+1:], text)
	}
	d, faults := b.Doc.Set(path, text)
	if d == nil || len(faults) > 0 {
		return nil, faults
	}
	if other := eitherOr[path[i+1:]]; other != "" && strings.TrimSpace(text) != "" {
		if next, f := d.Set(path[:i+1]+other, ""); next != nil && len(f) == 0 {
			d = next
		}
	}
	if path[i+1:] == "offset_stops" && strings.TrimSpace(text) == "" {
		if next, f := d.Set(path[:i+1]+"offset_on", ""); next != nil && len(f) == 0 {
			d = next
		}
	}
	return b.reread(d)
}

// SetOffset returns the bag with one's own offset of a camera, or of a filter of that name, as it was learned on a day; 0
// takes it away.
func (b *Bag) SetOffset(camera bool, name string, stops float64, on string) (*Bag, field.Faults) {
	list := "filters"
	if camera {
		list = "cameras"
	}
	v := b.Doc.At(list)
	for i := range v.Len() {
		if item := v.Index(i); item.Get("name").Text() == name {
			if math.Abs(stops) < 0.005 {
				return b.Set(item.Path()+".offset_stops", "")
			}
			next, faults := b.Set(item.Path()+".offset_stops", field.Figure(stops, 2))
			if next == nil {
				return nil, faults
			}
			return next.Set(item.Path()+".offset_on", on)
		}
	}
	return nil, field.Faults{v.Fault(field.Quoted(name), "the name of one of the "+list)}
}

// What a new camera and a new mode begin with, to be made into what they are (ours: the camera of a bag that is
// built in).
const (
	newCamera = "{name: %s, sensor_mm: [12, 8], pixels: [4800, 3200], focal_mm: 7.94, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}}"
	newMode   = "{name: %s, fps: [24, 25, 30]}"
)

// AddBeside returns the bag with a new part of the same sort behind another one; behind a camera another camera.
func (b *Bag) AddBeside(part string) (*Bag, string, field.Faults) {
	list, at, ok := listOf(part)
	if !ok {
		list, at = "filters", len(b.Filters)-1
	}
	return b.add(list, at+1)
}

// AddMode returns the bag with a new mode behind those of a camera.
func (b *Bag) AddMode(camera string) (*Bag, string, field.Faults) {
	return b.add(camera+".modes", b.Doc.At(camera+".modes").Len())
}

func (b *Bag) add(list string, at int) (*Bag, string, field.Faults) {
	part := fmt.Sprintf("%s[%d]", list, at)
	yaml := newMode
	switch list {
	case "filters":
		next, faults := b.AddFilter(at)
		return next, part, faults
	case "cameras":
		yaml = newCamera
	}
	wish := "new mode"
	if list == "cameras" {
		wish = "new camera"
	}
	d, faults := b.Doc.Insert(list, at, fmt.Sprintf(yaml, b.freeIn(list, wish)))
	if d == nil || len(faults) > 0 {
		return nil, "", faults
	}
	next, faults := b.reread(d)
	return next, part, faults
}

// Duplicate returns the bag with a copy of a part behind it, under a name of its own.
func (b *Bag) Duplicate(part string) (*Bag, string, field.Faults) {
	list, at, ok := listOf(part)
	v := b.Doc.At(part)
	if !ok {
		return nil, "", field.Faults{v.Fault("the settings a second time", "one set of settings")}
	}
	d, faults := b.Doc.Insert(list, at+1, v.YAML())
	if d == nil || len(faults) > 0 {
		return nil, "", faults
	}
	part = fmt.Sprintf("%s[%d]", list, at+1)
	d, faults = d.Set(part+".name", b.freeIn(list, v.Get("name").Text()))
	if d == nil || len(faults) > 0 {
		return nil, "", faults
	}
	next, faults := b.reread(d)
	return next, part, faults
}

// Remove returns the bag without a part; the settings go back to their defaults. The last camera stays.
func (b *Bag) Remove(part string) (*Bag, field.Faults) {
	d, faults := b.Doc.Remove(part)
	if d == nil || len(faults) > 0 {
		return nil, faults
	}
	return b.reread(d)
}

// freeIn returns a name that nothing in a list has: the one wished for, or with a number behind it.
func (b *Bag) freeIn(list, wish string) string {
	var taken []string
	v := b.Doc.At(list)
	for i := range v.Len() {
		taken = append(taken, v.Index(i).Get("name").Text())
	}
	name := wish
	for n := 2; slices.Contains(taken, name); n++ {
		name = fmt.Sprintf("%s %d", wish, n)
	}
	return name
}

// EmptyBag returns the text of a bag to be filled: one camera of a name, no filters.
func EmptyBag(camera string) []byte {
	if strings.TrimSpace(camera) == "" || strings.ContainsAny(camera, "\n\"\\") {
		camera = "my camera"
	}
	return fmt.Appendf(nil, "skywedge_bag: %d\ncameras:\n  - "+newCamera+"\nfilters: []\n", bagVersion, strconv.Quote(camera))
}
