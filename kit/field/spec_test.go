package field

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	bearing = regexp.MustCompile(`^([0-9]+(\.[0-9]+)?|N|NE|E|SE|S|SW|W|NW|sun([+-][0-9]+)?)$`)
	instant = regexp.MustCompile(`^([0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}|now(\+[0-9]+)?)$`)
)

func checkBearing(text string) error {
	if !bearing.MatchString(text) {
		return errors.New("a bearing from 0 to 360°, a compass point or sun+90")
	}
	return nil
}

func checkInstant(text string) error {
	if !instant.MatchString(text) {
		return errors.New("a date and time, 2026-09-18T19:40:00")
	}
	return nil
}

// testSpec is a table with every kind of row, in the manner of a shot's card.
var testSpec = &Spec{Kind: Map, Fields: []Spec{
	{Key: "version", Kind: Integer, Min: 1, Max: 1, Required: true, Help: "version of the format"},
	{Key: "name", Kind: Text, Required: true, Help: "of the shot"},
	{Key: "place", Kind: Map, Required: true, Fields: []Spec{
		{Key: "lat", Kind: Number, Unit: "°", Min: -90, Max: 90, Step: 0.001, Required: true},
		{Key: "lon", Kind: Number, Unit: "°", Min: -180, Max: 180, Step: 0.001, Required: true},
		{Key: "zone", Kind: Text, Required: true},
		{Key: "elevation_m", Kind: Number, Unit: "m", Min: -430, Max: 6000, Step: 1, Default: "0"},
	}},
	{Key: "take_off", Kind: Custom, Check: checkInstant, Required: true},
	{Key: "ring_deg", Kind: Number, Words: []string{"auto"}, Unit: "°", Min: 0, Max: 360, Step: 15, Default: "auto"},
	{Key: "light", Kind: Map, Fields: []Spec{
		{Key: "cloud_pct", Kind: Number, Unit: "%", Min: 0, Max: 100, Step: 5, Default: "0"},
		{Key: "sun", Kind: Word, Words: []string{"auto", "shining", "hidden"}, Default: "auto"},
	}},
	{Key: "purpose", Kind: Word, Words: []string{"video", "still", "long"}, Default: "video"},
	{Key: "fps", Kind: Integer, Unit: "fps", Min: 1, Max: 240, Default: "24"},
	{Key: "shutter_s", Kind: Seconds, Min: 1.0 / 8000, Max: 30},
	{Key: "legs", Kind: List, Required: true, MinItems: 1, MaxItems: 50, Item: &Spec{Kind: Map, Fields: []Spec{
		{Key: "move", Kind: Word, Words: []string{"push", "pull", "orbit", "rise", "hold"}, Required: true},
		{Key: "heading_deg", Kind: Custom, Check: checkBearing, Pair: true, Unit: "°", Min: 0, Max: 360, Step: 5, Required: true},
		{Key: "seconds", Kind: Number, Unit: "s", Min: 1, Max: 600, Step: 1, Required: true},
		{Key: "speed_ms", Kind: Number, Unit: "m/s", Min: 0, Max: 30, Step: 0.5},
		{Key: "height_m", Kind: Number, Unit: "m", Min: 0, Max: 500, Step: 1, Pair: true, Default: "30"},
		{Key: "pitch_deg", Kind: Number, Unit: "°", Min: -90, Max: 30, Step: 1, Pair: true},
		{Key: "stills_too", Kind: Bool, Default: "false"},
		{Key: "target", Kind: Map, Fields: []Spec{
			{Key: "distance_m", Kind: Number, Unit: "m", Min: 0, Max: 50000, Step: 5},
			{Key: "speed_ms", Kind: Number, Unit: "m/s", Min: 0, Max: 60, Step: 0.5},
		}},
	}}},
	{Key: "gimbal_deg", Kind: Number, Unit: "°", Min: -90, Max: 90, PairOnly: true},
	{Key: "marks", Kind: List, Item: &Spec{Kind: Number, Unit: "stops", Min: 0, Max: 10}},
	{Key: "skyline", Kind: Pairs, Unit: "°", Min: 0, Max: 360},
	{Key: "notes", Kind: Text, Lines: true},
}}

func read(t testing.TB, text string) *Doc {
	t.Helper()
	d, faults := Read("card.yaml", []byte(text), testSpec)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d
}

func fixture(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// String helps tests to print a tree.
func (n *node) String() string {
	switch n.kind {
	case mapNode:
		parts := make([]string, len(n.keys))
		for i, k := range n.keys {
			parts[i] = fmt.Sprintf("%q: %v", k.value, n.items[i])
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case listNode:
		parts := make([]string, len(n.items))
		for i, item := range n.items {
			parts[i] = item.String()
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	if n.null {
		return "null"
	}
	return strconv.Quote(n.value)
}
