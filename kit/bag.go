package kit

import (
	_ "embed"
	"math"
	"slices"
	"sort"

	"example.org/skywedge/kit/field"
)

//go:embed generic_bag.yaml
var genericBag []byte

// ReadBag reads a bag file strictly; file is what faults call it. All faults are reported at
// once. With faults the Bag holds the document alone (Doc, File), so that it can be mended, and is
// nil when there is no document either.
func ReadBag(file string, data []byte) (*Bag, field.Faults) {
	doc, faults := field.Read(file, data, bagTable)
	if doc == nil {
		return nil, faults
	}
	if v := doc.At("skywedge"); v.Exists() && !doc.At("skywedge_bag").Exists() {
		// One fault for the whole file: all its fields are those of a card.
		return nil, field.Faults{v.Fault("a card", "a bag, which begins with skywedge_bag: 1")}
	}
	if v := doc.At("skywedge_bag"); v.Float(0) > bagVersion {
		// A newer program's file: its other fields are no business of this one.
		return &Bag{File: file, Doc: doc}, only(faults, v.Path())
	}
	faults = append(slices.Clip(faults), besides(faults, bagFaults(doc.Root()))...)
	sort.SliceStable(faults, func(i, j int) bool {
		a, b := faults[i], faults[j]
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	})
	b := &Bag{File: file, Doc: doc}
	if len(faults) > 0 {
		return b, faults
	}
	root := doc.Root()
	for i := range root.Get("cameras").Len() {
		b.Cameras = append(b.Cameras, cameraFrom(root.Get("cameras").Index(i)))
	}
	for i := range root.Get("filters").Len() {
		b.Filters = append(b.Filters, filterFrom(root.Get("filters").Index(i)))
	}
	b.Settings = settingsFrom(root.Get("settings"))
	return b, nil
}

// only keeps the faults of one field.
func only(faults field.Faults, path string) (kept field.Faults) {
	for _, f := range faults {
		if f.Field == path {
			kept = append(kept, f)
		}
	}
	return kept
}

// besides leaves out the faults of fields that have one already: a number that is out of its range
// need not be told that it disagrees with another as well.
func besides(known, more field.Faults) (kept field.Faults) {
	for _, f := range more {
		if !slices.ContainsFunc(known, func(k field.Fault) bool { return k.Field == f.Field }) {
			kept = append(kept, f)
		}
	}
	return kept
}

// GenericFile is the name of the generic bag's file, which is embedded.
const GenericFile = "generic_bag.yaml"

// Generic returns the bag that is used until the pilot has written one. Its cameras and filters are
// invented.
func Generic() *Bag {
	b, faults := ReadBag(GenericFile, genericBag)
	if len(faults) > 0 {
		panic("kit: the embedded bag is not valid: " + faults.Error())
	}
	return b
}

// CameraByName finds a camera by its exact name.
func (b *Bag) CameraByName(name string) (Camera, bool) {
	for _, c := range b.Cameras {
		if c.Name == name {
			return c, true
		}
	}
	return Camera{}, false
}

// FilterByName finds a filter by its exact name.
func (b *Bag) FilterByName(name string) (Filter, bool) {
	for _, f := range b.Filters {
		if f.Name == name {
			return f, true
		}
	}
	return Filter{}, false
}

// Settings returns the settings at which a variable may be used, lightest first: its marks, or its
// two ends when it has none; with Between, every half stop from end to end as well. Any other
// filter has the one setting 0.
func (f Filter) Settings() []float64 {
	if f.Kind != Variable {
		return []float64{0}
	}
	all := slices.Clone(f.Marks)
	if len(all) == 0 || f.Between {
		all = append(all, f.FromStops, f.ToStops)
	}
	if f.Between {
		for half := math.Floor(f.FromStops*2) + 1; half/2 < f.ToStops; half++ {
			all = append(all, half/2)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
