package kit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/skywedge/kit/field"
)

// Rules about several fields of a bag at once, which the table cannot express. A fault stands at
// the field that its author would change.

// bagFaults returns all of them.
func bagFaults(root field.Value) field.Faults {
	var r rules
	cameras, filters := root.Get("cameras"), root.Get("filters")
	for i := range cameras.Len() {
		r.camera(cameras.Index(i))
	}
	for i := range filters.Len() {
		r.filter(filters.Index(i))
	}
	r.names(cameras)
	r.names(filters)
	tolerance := root.Get("settings").Get("shutter_tolerance_deg")
	r.rising(tolerance, "the smaller angle first")
	return r.faults
}

type rules struct{ faults field.Faults }

func (r *rules) add(v field.Value, found, allowed string) {
	r.faults = append(r.faults, v.Fault(found, allowed))
}

// names refuses the second item of a list that has the name of an earlier one.
func (r *rules) names(list field.Value) {
	first := map[string]field.Value{}
	for i := range list.Len() {
		v := list.Index(i).Get("name")
		name := v.Text()
		if name == "" {
			continue
		}
		if earlier, taken := first[name]; taken {
			line, _ := earlier.Position()
			r.add(v, field.Quoted(name)+" a second time", fmt.Sprintf("a name of its own; line %d has this one", line))
			continue
		}
		first[name] = v
	}
}

// rising refuses a pair whose first number is the larger one.
func (r *rules) rising(v field.Value, allowed string) {
	if a, b := v.Pair(0); v.IsPair() && a > b {
		r.add(v, v.YAML(), allowed)
	}
}

func (r *rules) camera(v field.Value) {
	mm, mm35 := v.Get("focal_mm"), v.Get("focal_35_mm")
	switch {
	case mm.Exists() && mm35.Exists():
		r.add(mm35, "focal_35_mm beside focal_mm", "one of the two")
	case !mm.Exists() && !mm35.Exists():
		r.add(mm, "nothing", "the focal length, as focal_mm or as focal_35_mm; it must be given")
	}

	r.offset(v)
	aperture, sharpest := v.Get("aperture"), v.Get("sharpest")
	r.rising(aperture, "the widest aperture, which has the smaller f-number, first")
	r.rising(sharpest, "the widest aperture, which has the smaller f-number, first")
	if wide, narrow := aperture.Pair(0); wide > 0 && wide <= narrow && sharpest.IsPair() {
		if a, b := sharpest.Pair(0); a <= b && (a < wide || b > narrow) {
			r.add(sharpest, sharpest.YAML(), "f-numbers of the lens, "+figure(wide)+" to "+figure(narrow))
		}
	}

	iso := v.Get("iso")
	if cam := isoFrom(v); cam.Base > 0 && cam.Clean > 0 && cam.Limit > 0 {
		r.iso(cam, iso.Get("clean"), iso.Get("limit"), "")
		modes := v.Get("modes")
		for i := range modes.Len() {
			m := modes.Index(i)
			r.mode(m, cam)
		}
	}
	r.names(v.Get("modes"))

	// What the table lets pass as fastest is shorter than what slowest is where it is left out.
	at := v.Get("shutter_s").Get("slowest")
	if fastest, slowest := shutterFrom(v); fastest >= slowest && at.Exists() {
		r.add(at, field.Quoted(at.Text()), "a time longer than fastest, "+exposure(fastest)+" s")
	}
	r.rising(v.Get("gimbal_deg"), "the lowest pitch first")
}

// iso wants base ≤ clean ≤ limit. clean and limit are where a fault is put; whose says where a
// number came from that the place does not state ("the camera's ").
func (r *rules) iso(iso ISO, clean, limit field.Value, whose string) {
	if iso.Clean < iso.Base {
		r.add(clean, whose+figure(iso.Clean), "at least the base sensitivity, "+figure(iso.Base))
	}
	if iso.Limit < iso.Clean {
		r.add(limit, whose+figure(iso.Limit), "at least the clean sensitivity, "+figure(iso.Clean))
	}
}

// mode wants the same of a mode, whose missing sensitivities are the camera's.
func (r *rules) mode(v field.Value, cam ISO) {
	clean, limit := v.Get("iso_clean"), v.Get("iso_limit")
	iso := modeFrom(v, Camera{ISO: cam}).ISO
	whose := func(at field.Value) string {
		if at.Exists() {
			return ""
		}
		return "the camera's "
	}
	r.iso(ISO{iso.Base, iso.Clean, math.Inf(1)}, clean, limit, whose(clean))
	r.iso(ISO{0, iso.Clean, iso.Limit}, clean, limit, whose(limit))
	fps := numbers(v.Get("fps"))
	for i, f := range fps {
		if f > 0 && slices.Contains(fps[:i], f) {
			r.add(v.Get("fps").Index(i), field.Quoted(v.Get("fps").Index(i).Text())+" a second time", "each frame rate once")
		}
	}
}

// belongs says which kinds of filter a field belongs to. Fields that are not here suit any kind.
var belongs = map[string][]Kind{
	"stops":          {Density, Hybrid},
	"loss_stops":     {Polariser, Hybrid},
	"mark_deg":       {Polariser, Hybrid},
	"from_stops":     {Variable},
	"to_stops":       {Variable},
	"marks":          {Variable},
	"between":        {Variable},
	"rear_deg":       {Variable},
	"opens":          {Variable},
	"fixed_stops":    {Variable},
	"measured_stops": {Polariser, Density, Hybrid, Diffusion},
	"measured":       {Variable},
	"mark_error_deg": {Polariser, Hybrid},
	"ring":           {Polariser, Hybrid, Variable},
	"fixed_deg":      {Polariser, Hybrid, Variable},
	"click_deg":      {Polariser, Hybrid, Variable},
}

// needs says which fields a kind cannot do without.
var needs = map[Kind][]string{
	Density:   {"stops"},
	Hybrid:    {"stops"},
	Variable:  {"from_stops", "to_stops"},
	Diffusion: {"grade"},
}

// instead says what the author of a misplaced field may have meant.
var instead = map[Kind]map[string]string{
	Polariser: {"stops": "what a polariser takes is loss_stops"},
	Density:   {"loss_stops": "what a density takes is stops"},
	Variable:  {"stops": "a variable has from_stops and to_stops", "mark_deg": "a variable has rear_deg"},
}

func (r *rules) filter(v field.Value) {
	name, kind := v.Get("name"), Kind(v.Get("kind").Text())
	if n := strings.ToLower(name.Text()); n == "auto" || n == "none" {
		r.add(name, field.Quoted(name.Text()), "any other name; cards use auto and none for a choice and for no filter")
	}
	if !slices.Contains(row(filterTable, "kind").Words, string(kind)) {
		return // the table has said so; what else belongs here is not known
	}
	for _, f := range filterFields {
		at, kinds := v.Get(f.Key), belongs[f.Key]
		if at.Exists() && kinds != nil && !slices.Contains(kinds, kind) {
			allowed := f.Key + " on a " + field.Either(kinds) + " only"
			if hint := instead[kind][f.Key]; hint != "" {
				allowed += "; " + hint
			}
			r.add(at, f.Key+" on a "+string(kind), allowed)
		}
	}
	for _, key := range needs[kind] {
		if at := v.Get(key); !at.Exists() {
			r.add(at, "nothing", row(filterTable, key).Allowed()+"; a "+string(kind)+" needs it")
		}
	}
	r.measured(v, kind)
	r.offset(v)
	if slices.Contains(belongs["ring"], kind) {
		r.ring(v)
	}
	if kind == Variable {
		r.variable(v)
	}
}

// offset wants a date to have an offset.
func (r *rules) offset(v field.Value) {
	if stops := v.Get("offset_stops"); v.Get("offset_on").Exists() && !stops.Exists() {
		r.add(stops, "nothing", "what was learned, in stops, beside offset_on")
	}
}

// measuredKeys are the fields that a measurement leaves: a date stands beside one of them.
var measuredKeys = []string{"measured_stops", "measured", "measured_error_stops", "cast_error_mired", "mark_error_deg"}

// measured wants a date to have a measurement, and a measured loss that the kind can have.
func (r *rules) measured(v field.Value, kind Kind) {
	stops, on := v.Get("measured_stops"), v.Get("measured_on")
	if on.Exists() && !slices.ContainsFunc(measuredKeys, func(k string) bool { return v.Get(k).Exists() }) {
		r.add(stops, "nothing", "what was measured, in stops, beside measured_on")
	}
	last := [2]float64{}
	for i, pair := range v.Get("measured").PairList() {
		if pair[0] <= last[0] || pair[1] <= last[1] {
			r.add(v.Get("measured").Index(i), field.Figure(pair[0], 2)+", "+field.Figure(pair[1], 2), "settings in rising order, each once, with losses that rise as well")
		}
		last = pair
	}
	if !stops.Exists() {
		return
	}
	loss := row(filterTable, "loss_stops")
	switch m := stops.Float(0); kind {
	case Polariser:
		if m < loss.Min || m > loss.Max {
			r.add(stops, field.Quoted(stops.Text()), "the loss of one polarising sheet, "+figure(loss.Min)+" to "+figure(loss.Max)+" stops")
		}
	case Hybrid:
		if sheet := number(v, filterTable, "loss_stops"); m <= sheet {
			r.add(stops, field.Quoted(stops.Text()), "the whole loss, more than the "+figure(sheet)+" stops of its polariser")
		}
	}
}

func (r *rules) ring(v field.Value) {
	ring := RingKind(word(v, filterTable, "ring"))
	for _, c := range []struct {
		key  string
		ring RingKind
	}{{"fixed_deg", RingFixed}, {"click_deg", RingClicks}} {
		at := v.Get(c.key)
		switch {
		case at.Exists() && ring != c.ring:
			r.add(at, c.key+" with ring: "+string(ring), c.key+" with ring: "+string(c.ring)+" only")
		case !at.Exists() && ring == c.ring:
			r.add(at, "nothing", row(filterTable, c.key).Allowed()+"; ring: "+string(ring)+" needs it")
		}
	}
}

func (r *rules) variable(v field.Value) {
	from, to := v.Get("from_stops"), v.Get("to_stops")
	a, b := from.Float(0), to.Float(0)
	if a <= 0 || b <= 0 {
		return
	}
	if a >= b {
		r.add(to, field.Quoted(to.Text()), "more than from_stops, "+figure(a))
		return
	}
	fixed := v.Get("fixed_stops").Float(defaultFixedStops(a))
	if a-fixed < 1 {
		r.add(v.Get("fixed_stops"), figure(fixed), "at most "+figure(a-1)+" stops: the two sheets of from_stops "+figure(a)+" take 1 stop themselves")
		return
	}
	k1 := pairK1(a - fixed)
	if limit := min(pairLimitStops, math.Floor(-10*math.Log2(k1*k1*Extinction))/10) + fixed; b > limit {
		r.add(to, field.Quoted(to.Text()), "at most "+figure(limit)+" stops, where the sheets of this pair are crossed")
	}
	marks := v.Get("marks")
	last := 0.0
	for i := range marks.Len() {
		at := marks.Index(i)
		m := at.Float(0)
		switch {
		case m <= 0:
			continue // not a number, which the table has said
		case m < a || m > b:
			r.add(at, field.Quoted(at.Text()), "a setting of this filter, "+figure(a)+" to "+figure(b)+" stops")
		case m <= last:
			r.add(at, field.Quoted(at.Text()), "marks in rising order, each once")
		}
		last = max(last, m)
	}
}

// figure returns a number of the file, to a millionth.
func figure(x float64) string {
	return field.Figure(x, 6)
}

// exposure prints a time as it stands on a shutter dial.
func exposure(s float64) string {
	if s > 0 && s < 0.3 {
		return "1/" + figure(math.Round(1/s))
	}
	return figure(s)
}
