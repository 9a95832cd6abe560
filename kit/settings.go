package kit

import (
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
)

// settingFields is the table of the program's settings. Defaults are ours.
var settingFields = []field.Spec{
	{Key: "reserve_pct", Kind: field.Number, Min: 0, Max: 90, Step: 5, Unit: "%", Default: "25",
		Help: "battery to land with"},
	{Key: "landing_change_s", Kind: field.Number, Min: 0, Max: 3600, Step: 30, Unit: "s", Default: "240",
		Help: "to land, change a filter and take off again"},
	{Key: "height_caution_m", Kind: field.Number, Min: 1, Max: 10000, Step: 10, Unit: "m", Default: "120",
		Help: "height above the ground below from which to caution"},
	{Key: "shutter_tolerance_deg", Kind: field.Number, PairOnly: true, Min: 1, Max: 360, Step: 5, Unit: "°", Default: "90 270",
		Help: "shutter angles that still look right"},
	{Key: "viewing", Kind: field.Word, Words: []string{"hd", "uhd"}, Default: "hd",
		Help: "how the video is watched: hd from 3 picture heights, uhd from 1.5"},
	{Key: "steadiness", Kind: field.Word, Words: []string{"calm", "normal", "windy"}, Default: "normal",
		Help: "how still the aircraft hovers"},
	{Key: "travel_kmh", Kind: field.Number, Min: 1, Max: 200, Step: 5, Unit: "km/h", Default: "40",
		Help: "speed on the road between places"},
	{Key: "weights", Kind: field.Map, Fields: weightFields(), More: true,
		Help: "what a harm or a gain counts when filters are ranked, in stops"},
}

// weightRows names each weight once: its key, its default (ours), what it is for, and where it is
// kept.
var weightRows = []struct {
	key     string
	value   float64
	help    string
	address func(*Weights) *float64
}{
	{"iso", 1, "a stop of ISO above clean", func(w *Weights) *float64 { return &w.ISO }},
	{"shutter", 0.7, "a stop of shutter outside the tolerance, where blur is wanted", func(w *Weights) *float64 { return &w.Shutter }},
	{"blur", 2, "a stop of shutter by which a still is blurred beyond its limit", func(w *Weights) *float64 { return &w.Blur }},
	{"unevenness", 1, "a stop of uneven sky beyond half a stop", func(w *Weights) *float64 { return &w.Unevenness }},
	{"swing", 1, "a stop by which the effect swings during a leg beyond 0.3 stop", func(w *Weights) *float64 { return &w.Swing }},
	{"aim", 1.5, "gain where the aim is met in full", func(w *Weights) *float64 { return &w.Aim }},
	{"corners", 1, "a stop of corners or slant beyond half a stop", func(w *Weights) *float64 { return &w.Corners }},
	{"cast", 0.2, "10 mired of colour cast beyond 10 mired", func(w *Weights) *float64 { return &w.Cast }},
	{"sun_one_sheet", 0.2, "one sheet of glass with the sun in or near the frame", func(w *Weights) *float64 { return &w.SunOneSheet }},
	{"sun_sheets", 0.5, "several sheets with the sun in or near the frame", func(w *Weights) *float64 { return &w.SunSheets }},
	{"landing", 1, "a landing to change the filter", func(w *Weights) *float64 { return &w.Landing }},
}

func weightFields() []field.Spec {
	fields := make([]field.Spec, len(weightRows))
	for i, r := range weightRows {
		fields[i] = field.Spec{Key: r.key, Kind: field.Number, Min: 0, Max: 100, Step: 0.1, Unit: "stops",
			Default: figure(r.value), Help: r.help}
	}
	return fields
}

// DefaultWeights returns the weights of a bag that says nothing about them.
func DefaultWeights() Weights {
	var w Weights
	for _, r := range weightRows {
		*r.address(&w) = r.value
	}
	return w
}

// weightsFrom reads the weights; each that is absent has its own default, and one that is written as 0 is 0.
func weightsFrom(v field.Value) Weights {
	w := DefaultWeights()
	for _, r := range weightRows {
		x := r.address(&w)
		*x = v.Get(r.key).Float(*x)
	}
	return w
}

// settingsFrom reads the settings; what is absent has the table's default.
func settingsFrom(v field.Value) Settings {
	table := &field.Spec{Kind: field.Map, Fields: settingFields}
	s := Settings{
		ReservePct:     number(v, table, "reserve_pct"),
		LandingChangeS: number(v, table, "landing_change_s"),
		HeightCautionM: number(v, table, "height_caution_m"),
		ViewingUHD:     word(v, table, "viewing") == "uhd",
		Steadiness:     word(v, table, "steadiness"),
		TravelKmh:      number(v, table, "travel_kmh"),
	}
	s.ShutterToleranceDeg = pair(v, table, "shutter_tolerance_deg")
	s.Weights = weightsFrom(v.Get("weights"))
	return s
}

// row returns the row of a table by its key. A key that is not there is a mistake in this package.
func row(table *field.Spec, key string) *field.Spec {
	for i := range table.Fields {
		if table.Fields[i].Key == key {
			return &table.Fields[i]
		}
	}
	panic("kit: no field " + key + " in the table")
}

// word returns the word or text under a key of a map, or the table's default.
func word(v field.Value, table *field.Spec, key string) string {
	return v.Get(key).Word(row(table, key).Default)
}

// number returns the number under a key of a map, or the table's default, or 0.
func number(v field.Value, table *field.Spec, key string) float64 {
	return v.Get(key).Float(parse(row(table, key).Default))
}

// pair returns the two numbers under a key of a map, or the table's default, or zeros.
func pair(v field.Value, table *field.Spec, key string) [2]float64 {
	if at := v.Get(key); at.Exists() {
		a, b := at.Pair(0)
		return [2]float64{a, b}
	}
	a, b, two := strings.Cut(row(table, key).Default, " ")
	if !two {
		b = a
	}
	return [2]float64{parse(a), parse(b)}
}

// parse reads a default of the table: a number or a fraction, or nothing.
func parse(text string) float64 {
	over, under, fraction := strings.Cut(text, "/")
	x, _ := strconv.ParseFloat(over, 64)
	if fraction {
		d, _ := strconv.ParseFloat(under, 64)
		x /= d
	}
	return x
}
