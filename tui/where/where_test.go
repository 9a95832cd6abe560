package where

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

const iceland = "64.0484, -16.1794"

// moved puts the demo's first card, in Galicia, without its declination and skyline, to another place, after some
// changes.
func moved(t *testing.T, to string, changes ...panel.Change) (*paneltest.Bench, Move) {
	t.Helper()
	b := paneltest.Open(t, nil, 80, 24, nil)
	bare := []panel.Change{{Path: "declination_deg"}, {Path: "skyline"}}
	if !b.SetCard(append(bare, changes...)...) {
		t.Fatal(b.Said)
	}
	m := Move{From: b.Card}
	next, faults := b.Card.Set("place.lon", to)
	if next == nil {
		t.Fatal(faults)
	}
	b.Card, m.To = next, next
	return b, m
}

// A place across zones is said back, and its three nearest zones are offered with their offsets on that day: Iceland
// keeps UTC all year, the Faroes and Scotland are an hour ahead of it in summer (by their laws).
func TestTheZoneIsAskedFor(t *testing.T) {
	b, m := moved(t, iceland)
	Moved(b, m)
	if !strings.HasPrefix(b.Said, "now at 64.0484, -16.1794, ") || !strings.Contains(b.Said, " km away") {
		t.Errorf("said %q", b.Said)
	}
	q := b.Asked
	if q == nil || len(q.Choices) != 3 || !strings.HasPrefix(q.Choices[0].Words, "+00:00 Atlantic/Reykjavik, ") || q.Esc != "keep Europe/Madrid" ||
		!strings.Contains(q.Text, "Europe/Madrid is at +02:00 at take-off") {
		t.Fatalf("asked %+v", q)
	}
	b.Answer("1")
	if got := b.CardText(ZonePath); got != "Atlantic/Reykjavik" || b.CardText("take_off") != "2026-09-18T19:40:00" {
		t.Errorf("zone %q, take-off %q", got, b.CardText("take_off"))
	}
	if !strings.Contains(b.Said, "take-off is 19:40 on the clock there") || b.Asked != nil {
		t.Errorf("said %q, asked %v", b.Said, b.Asked)
	}
	b, m = moved(t, iceland)
	Moved(b, m)
	b.Answer("esc")
	if b.CardText(ZonePath) != "Europe/Madrid" || b.Asked != nil {
		t.Error("Esc changes the zone, or asks on")
	}
}

// The take-off of a shot that was begun just now stays the same moment: 19:40 in Galicia is 17:40 in Iceland.
func TestNowStaysNow(t *testing.T) {
	b, m := moved(t, iceland)
	m.Now = true
	Moved(b, m)
	b.Answer("1")
	if got := b.CardText("take_off"); got != "2026-09-18T17:40:00" || !strings.Contains(b.Said, "17:40") {
		t.Errorf("take-off %q, said %q", got, b.Said)
	}
}

// A zone that fits is not asked for, and neither is one while the longitude has yet to follow.
func TestNothingIsAskedInVain(t *testing.T) {
	for _, to := range []string{"43.4, -8.3", "43.3672, -8.4604", "38.7, -9.1"} { // Lisbon's neighbours keep Madrid's time
		b, m := moved(t, to)
		if Moved(b, m); b.Asked != nil {
			t.Errorf("%s: asked %+v", to, b.Asked)
		}
	}
	b, m := moved(t, iceland)
	m.To, _ = m.From.Set("place.lat", "64.0484")
	if Moved(b, m); b.Asked != nil || !strings.HasPrefix(b.Said, "now at 64.0484, -8.4604") {
		t.Errorf("latitude alone: asked %+v, said %q", b.Asked, b.Said)
	}
}

// What held for the old place is asked about, after the zone: the ridge beyond 1 km, which is another then, and the
// declination beyond 50; what is not written is not.
func TestOldWorkIsAskedAbout(t *testing.T) {
	declination, skyline := panel.Change{Path: "declination_deg", Text: "-1.2"}, panel.Change{Path: "skyline", Text: "[250, 4], [290, 9]"}
	for _, c := range []struct {
		to      string
		written []panel.Change
		asks    string
	}{
		{"43.6, -7.9", []panel.Change{declination, skyline}, "The declination and the skyline were those of a place 52 km from here."},
		{"43.5, -8.1", []panel.Change{declination}, ""}, // 33 km
		{"43.5, -8.1", []panel.Change{declination, skyline}, "The skyline was that of a place 33 km from here."},
		{"43.3732, -8.46", []panel.Change{skyline}, ""}, // 0.7 km
		{"43.3792, -8.46", []panel.Change{declination, skyline}, "The skyline was that of a place 1.3 km from here."},
		{"43.6, -7.9", []panel.Change{declination}, "The declination was that of a place 52 km from here."},
		{"43.6, -7.9", []panel.Change{skyline}, "The skyline was that of a place 52 km from here."},
		{"43.6, -7.9", nil, ""},
	} {
		for _, answer := range []string{"d", "esc"} {
			b, m := moved(t, c.to, c.written...)
			if Moved(b, m); b.Asked == nil {
				if c.asks != "" {
					t.Errorf("%s, %v: nothing is asked", c.to, c.written)
				}
				continue
			}
			if b.Asked.Text != c.asks {
				t.Errorf("asked %q, want %q", b.Asked.Text, c.asks)
			}
			b.Answer(answer)
			for _, w := range c.written {
				doubted := strings.Contains(c.asks, w.Path[:7])
				if kept := b.Card.Doc.At(w.Path).Exists(); kept != (answer == "esc" || !doubted) {
					t.Errorf("%s after %s: kept %v", w.Path, answer, kept)
				}
			}
		}
	}
	for _, answer := range []string{"1", "esc"} {
		b, m := moved(t, iceland, declination)
		Moved(b, m)
		if b.Answer(answer); b.Asked == nil || !strings.HasPrefix(b.Asked.Text, "The declination was") {
			t.Errorf("after the zone, %s: asked %+v", answer, b.Asked)
		}
	}
}

// The zone's line has its offset, and a mark and help where no place near keeps it.
func TestTheZoneBesideThePlace(t *testing.T) {
	b, m := moved(t, iceland)
	var z Zone
	if got := z.Label(m.From); got != "zone +02:00" || z.Help(m.From) != "" || z.Doubted(m.From) {
		t.Errorf("at home: %q, %q", got, z.Help(m.From))
	}
	if got := z.Label(m.To); got != "zone +02:00 !" || !z.Doubted(m.To) ||
		z.Help(m.To) != "no place near keeps +02:00; Atlantic/Reykjavik, the nearest, is at +00:00: Enter chooses the zone" {
		t.Errorf("away: %q, %q", got, z.Help(m.To))
	}
	broken, _ := shot.ReadCard("card.yaml", []byte(strings.Replace(string(m.To.Bytes()), "2026-09-18T", "soon", 1)))
	for _, card := range []*shot.Card{broken, nil} {
		if got := z.Label(card); got != "zone" || z.Help(card) != "" || z.Doubted(card) {
			t.Errorf("without a take-off: %q", got)
		}
	}
	typed := false
	Choose(b, m, func(panel.Bench) { typed = true })
	if i := slices.IndexFunc(b.Asked.Choices, func(c panel.Choice) bool { return c.Key == "t" }); i != 3 {
		t.Errorf("another cannot be typed: %+v", b.Asked)
	}
	if b.Answer("t"); !typed {
		t.Error("t does not open the field")
	}
}
