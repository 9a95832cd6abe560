package shot

import (
	"math"
	"strings"
	"testing"
	"time"
)

const placeCard = `skywedge: 1
name: Lagoon
place: {lat: 64.1, lon: -16, zone: Atlantic/Reykjavik} # kept
take_off: 2026-09-18T19:40:00
camera: wide
legs:
  - {move: hold, heading_deg: 285, seconds: 10}
`

func placed(t *testing.T, text string) *Card {
	t.Helper()
	c, faults := ReadCard("card.yaml", []byte(text))
	if c == nil {
		t.Fatal(faults)
	}
	return c
}

// Either of the two fields takes a whole place, and degrees and minutes, which become a number.
func TestAPlaceIsTyped(t *testing.T) {
	for _, c := range []struct{ path, text, lat, lon string }{
		{latPath, "64.0484, -16.1794", "64.0484", "-16.1794"},
		{lonPath, "64,0484 -16,1794", "64.0484", "-16.1794"},
		{lonPath, "geo:64.0484,-16.1794;u=20", "64.0484", "-16.1794"},
		{latPath, "https://example.org/#map=12/64.0484/-16.1794", "64.0484", "-16.1794"},
		{latPath, `64°02'54"N`, "64.048333", "-16"},
		{lonPath, `16°10'46"W`, "64.1", "-16.179444"},
		{latPath, "64,0484", "64.0484", "-16"},
		{latPath, "-33.90", "-33.90", "-16"}, // a number stays as it is typed
		{lonPath, "−16.5", "64.1", "-16.5"},
	} {
		card, faults := placed(t, placeCard).Set(c.path, c.text)
		if card == nil {
			t.Errorf("%q: %v", c.text, faults)
			continue
		}
		if lat, lon := card.Doc.At(latPath).Text(), card.Doc.At(lonPath).Text(); lat != c.lat || lon != c.lon {
			t.Errorf("%s %q gives %s, %s", c.path, c.text, lat, lon)
		}
		if !strings.Contains(string(card.Bytes()), "# kept") {
			t.Errorf("%q loses a comment", c.text)
		}
		p, ok := card.Point()
		if lat, lon, _, _ := card.Place(); !ok || lat != p.LatDeg || lon != p.LonDeg {
			t.Errorf("%q: %v %v", c.text, p, ok)
		}
	}
	for _, c := range []struct{ path, text, allowed string }{
		{latPath, "95, 10", "a latitude from -90 to 90°; it comes first"},
		{latPath, "95", "a number from -90 to 90° or degrees as 64°02.9'N"},
		{lonPath, "lagoon", "a number from -180 to 180° or degrees as 16°10.8'W"},
		{lonPath, "64,0484,-16,1794", "a blank or a semicolon between two numbers with decimal commas: 64,0484 -16,1794"},
		{latPath, "https://example.org/abc", "a link with the coordinates in it; this one has none: open it, and copy the numbers"},
		{latPath, "", "a number from -90 to 90° or degrees as 64°02.9'N; it must be given"},
	} {
		if card, faults := placed(t, placeCard).Set(c.path, c.text); card != nil || len(faults) != 1 || faults[0].Allowed != c.allowed {
			t.Errorf("%s %q: %v", c.path, c.text, faults)
		}
	}
}

// What was understood is said where it is not what was typed, and is what the card then has.
func TestAPlaceIsSaidBack(t *testing.T) {
	for _, c := range []struct{ path, text, said string }{
		{latPath, "geo:64.0484,-16.1794", "64.0484, -16.1794"}, {lonPath, `64°02'54"N 16°10'46"W`, "64.048333, -16.179444"},
		{lonPath, `16°10'46"W`, "-16.179444°"}, {latPath, "64,0484", "64.0484°"}, {latPath, "64.0484", ""}, {latPath, "lagoon", ""}, {latPath, "95, 10", ""},
	} {
		card := placed(t, placeCard)
		plain, said := card.Typed(c.path, c.text, nil, time.Time{})
		if plain != c.text || said != c.said {
			t.Errorf("%q is typed as %q, said %q", c.text, plain, said)
		}
		if next, _ := card.Set(c.path, plain); said != "" && next != nil {
			p, _ := next.Point()
			if p.String() != said && next.Doc.At(c.path).Text()+"°" != said {
				t.Errorf("%q is said to be %q, and the card has %v", c.text, said, p)
			}
		}
	}
}

// A file has a number or degrees, one value each.
func TestAPlaceInAFile(t *testing.T) {
	for text, want := range map[string]float64{
		`"64°02'54\"N"`: 64.0483333, `'64°02''54"N'`: 64.0483333, `64°02.9'N`: 64.0483333, `"S 33°55'"`: -33.9166667, `-33.5`: -33.5,
	} {
		card := placed(t, strings.Replace(placeCard, "lat: 64.1", "lat: "+text, 1))
		if faults := card.Doc.Faults(); len(faults) > 0 {
			t.Errorf("%s: %v", text, faults)
		}
		if p, ok := card.Point(); !ok || math.Abs(p.LatDeg-want) > 1e-6 {
			t.Errorf("%s gives %v, %v", text, p, ok)
		}
		again, faults := card.Set("name", "Another")
		if again == nil || !strings.Contains(string(again.Bytes()), "lat: "+text) {
			t.Errorf("%s does not stay as it is written: %v", text, faults)
		}
		if up, faults := card.Nudge(latPath, 1, nil); up == nil {
			t.Errorf("%s cannot be nudged: %v", text, faults)
		} else if p, _ := up.Point(); math.Abs(p.LatDeg-want-0.001) > 0.0005 {
			t.Errorf("%s, nudged, is %v", text, p)
		}
	}
	for _, text := range []string{`"64.0484"`, `"64,0484"`, `"64.0484, -16.1794"`, `"16°10'W"`, `"91°N"`, `"64°60'N"`, `"geo:64,-16"`} {
		card := placed(t, strings.Replace(placeCard, "lat: 64.1", "lat: "+text, 1))
		if faults := card.Doc.Faults(); len(faults) != 1 || faults[0].Field != latPath {
			t.Errorf("%s: %v", text, faults)
		}
	}
}

func TestTheMomentOfTakeOff(t *testing.T) {
	at, zone, ok := placed(t, placeCard).TakeOff()
	if !ok || zone.String() != "Atlantic/Reykjavik" || !at.Equal(time.Date(2026, 9, 18, 19, 40, 0, 0, time.UTC)) {
		t.Errorf("%v %v %v", at, zone, ok)
	}
	for _, bad := range []string{strings.Replace(placeCard, "Atlantic/Reykjavik", "Nowhere", 1), strings.Replace(placeCard, "2026-", "soon", 1)} {
		if _, _, ok := placed(t, bad).TakeOff(); ok {
			t.Errorf("a take-off of\n%s", bad)
		}
	}
}
