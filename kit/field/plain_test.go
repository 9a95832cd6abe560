package field

import (
	"errors"
	"strings"
	"testing"
)

// plainTable has a row of every sort that people type numbers into.
var plainTable = &Spec{Kind: Map, Fields: []Spec{
	{Key: "height", Kind: Number, Unit: "m", Min: -200, Max: 6000, Step: 5, Pair: true},
	{Key: "away", Kind: Number, Unit: "m", Min: 0, Max: 20000},
	{Key: "speed", Kind: Number, Unit: "m/s", Min: 0, Max: 60},
	{Key: "sight", Kind: Number, Unit: "km", Min: 0.5, Max: 300},
	{Key: "seconds", Kind: Number, Unit: "s", Min: 1, Max: 3600},
	{Key: "pitch", Kind: Number, Unit: "°", Min: -90, Max: 90, Pair: true},
	{Key: "shutter", Kind: Seconds, Unit: "s", Min: 1.0 / 64000, Max: 60},
	{Key: "heading", Kind: Custom, Unit: "°", Pair: true, Check: direction},
	{Key: "ring", Kind: Number, Unit: "°", Min: 0, Max: 360, Words: []string{"auto"}},
	{Key: "cloud", Kind: Number, Unit: "%", Min: 0, Max: 100},
	{Key: "name", Kind: Text},
	{Key: "when", Kind: Custom, Check: func(string) error { return nil }},
	{Key: "rates", Kind: List, Item: &Spec{Kind: Number}},
}}

// direction takes what a heading can be.
func direction(text string) error {
	_, isNumber := number(strings.TrimPrefix(strings.TrimPrefix(text, "sun+"), "sun-"))
	if isNumber || text != "" && strings.Trim(text, "NESW") == "" {
		return nil
	}
	return errors.New("a direction")
}

// The conversions are exact by definition: 1 ft is 0.3048 m, 1 mi 1609.344 m, 1 kn 1852 m an hour.
func TestPlain(t *testing.T) {
	for _, c := range []struct{ key, text, want, said string }{
		{"height", "400ft", "121.9", "400 ft = 121.9 m"},
		{"height", "400 ft", "121.9", "400 ft = 121.9 m"},
		{"height", "400 FEET", "121.9", "400 FEET = 121.9 m"},
		{"height", "100-200 ft", "30.5 61", "100→200 ft = 30.5→61 m"},
		{"height", "100ft > 200ft", "30.5 61", "100→200 ft = 30.5→61 m"},
		{"height", "40m", "40", ""},
		{"height", "40 m", "40", ""},
		{"height", "20-50", "20 50", ""},
		{"height", "20→50", "20 50", ""},
		{"height", "20 -> 50", "20 50", ""},
		{"height", "20 50", "20 50", ""},
		{"height", "20, 50", "20 50", ""},
		{"height", "20;50", "20 50", ""},
		{"height", "20,5", "20.5", "one number, 20.5 m"},
		{"height", "20,5 50,5", "20.5 50.5", ""},
		{"height", "20,5, 50", "20.5 50", ""},
		{"height", "-20", "-20", ""},
		{"height", "−20", "-20", ""},
		{"height", "-20-50", "-20 50", ""},
		{"height", "[20, 50]", "[20, 50]", ""},
		{"height", "4 furlongs", "4 furlongs", ""},
		{"height", "1 2 3", "1 2 3", ""},
		{"away", "0,5", "0.5", ""},
		{"away", "1 mi", "1609.3", "1 mi = 1609.3 m"},
		{"away", "1,2 km", "1200", "1.2 km = 1200 m"},
		{"speed", "15mph", "6.7", "15 mph = 6.7 m/s"},
		{"speed", "10 kn", "5.1", "10 kn = 5.1 m/s"},
		{"speed", "36 km/h", "10", "36 km/h = 10 m/s"},
		{"speed", "4 m/s", "4", ""},
		{"speed", "fast", "fast", ""},
		{"sight", "10mi", "16.1", "10 mi = 16.1 km"},
		{"seconds", "2 min", "120", "2 min = 120 s"},
		{"seconds", "25s", "25", ""},
		{"pitch", "-5>-20", "-5 -20", ""},
		{"pitch", "0-30", "0-30", ""}, // up, or down? the table asks
		{"pitch", "-5 -20", "-5 -20", ""},
		{"shutter", "1/50", "1/50", ""},
		{"shutter", "1/50 s", "1/50", ""},
		{"shutter", "0,5", "0.5", ""},
		{"heading", "300-60", "300 60", ""},
		{"heading", "300 - 60", "300 60", ""},
		{"heading", "300–60", "300 60", ""},
		{"heading", "300>60", "300 60", ""},
		{"heading", "300→60", "300 60", ""},
		{"heading", "300° > 60°", "300 60", ""},
		{"heading", "300,5", "300.5", "one number, 300.5°"},
		{"heading", "NW-NE", "NW NE", ""},
		{"heading", "NW", "NW", ""},
		{"heading", "-90", "-90", ""},
		{"heading", "sun-90", "sun-90", ""},
		{"heading", "sun-90>sun+90", "sun-90 sun+90", ""},
		{"heading", "sun-90 60", "sun-90 60", ""},
		{"heading", "sun-90→60", "sun-90 60", ""},
		{"ring", "auto", "auto", ""},
		{"ring", "45°", "45", ""},
		{"cloud", "30%", "30", ""},
		{"name", "4 ft, 5", "4 ft, 5", ""},
		{"when", "2026-09-18", "2026-09-18", ""},
		{"rates", "24,25", "24,25", ""},
	} {
		row, _ := plainTable.field(c.key)
		if got, said := row.Plain(c.text); got != c.want || said != c.said {
			t.Errorf("%s, %q: %q, %q; want %q, %q", c.key, c.text, got, said, c.want, c.said)
		}
	}
}

// What is read comes out the same when it is read again, and a text that the table takes as it is keeps its
// meaning, unless it has a comma.
func FuzzPlain(f *testing.F) {
	for i, text := range []string{"400ft", "300-60", "sun-90>60", "20,5; 3", "1/50 s", "[1, 2]", "−5 → 5", "1e3", "NW-NE", "0-30", "auto", ",5", "'", "°"} {
		f.Add(uint8(i), text)
	}
	blank, faults := Read("plain.yaml", []byte("{}\n"), plainTable)
	if len(faults) > 0 {
		f.Fatal(faults)
	}
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		row := &plainTable.Fields[int(which)%len(plainTable.Fields)]
		plain, _ := row.Plain(text)
		taken, faults := blank.Set(row.Key, plain)
		if again, _ := row.Plain(plain); taken != nil && again != plain {
			t.Fatalf("%s: %q is %q, and that %q", row.Key, text, plain, again)
		}
		asIs, _ := blank.Set(row.Key, text)
		if asIs == nil || row.Kind == Custom || strings.Contains(text, ",") {
			return
		}
		if taken == nil || !taken.Equal(asIs) {
			v, _ := row.Float(text)
			if w, ok := row.Float(plain); !ok || v != w {
				t.Fatalf("%s: %q is allowed and means the same as %q no more: %v", row.Key, text, plain, faults)
			}
		}
	})
}
