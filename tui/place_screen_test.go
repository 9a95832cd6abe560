//go:build unix

package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/plan/store"
)

// A place is pasted, its zone is chosen, and each is taken back by itself: on a real terminal, where a paste comes in
// brackets.
func TestAPlaceIsPastedItsZoneChosenAndBothUndone(t *testing.T) {
	t.Parallel()
	s := open(t, 80, 24, "NO_COLOR=1")
	s.Until("zone +02:00     Europe/Madrid")
	s.Type("\x1b[200~https://example.org/?q=64.0484,-16.1794&hl=en\x1b[201~")
	s.Until("  64.0484, -16.1794") // understood, below the field
	s.Type("\r")
	s.Until("Which zone is it?")
	s.Until("1  +00:00 Atlantic/Reykjavik, ")
	s.Until("Esc  keep Europe/Madrid")
	s.Until("now at 64.0484, -16.1794, ")
	s.Type("1")
	s.Until("The declination and the skyline were those of a place ")
	s.Until("zone +00:00     Atlantic/Reykja")
	s.Type("d")
	s.Until("without the declination and the skyline now")
	s.Type("u")
	s.Gone("without the declination")
	s.Until("64.0484°")
	s.Until("zone +00:00")
	s.Type("u")
	s.Until("64.0484°")
	s.Until("zone +02:00 !   Europe/Madrid")
	s.Type("u")
	s.Until("43.3672°")
	s.Until("-8.4604°")
	s.Until("zone +02:00     Europe/Madrid")
	s.Gone("not saved")
	s.Type("u")
	s.Until("nothing to undo")
	s.Type("q")
	s.Ended()
}

// Esc keeps the zone; the form goes on doubting it, and Enter on it asks again or lets another be typed. At every size.
func TestADoubtedZoneStaysDoubted(t *testing.T) {
	for _, c := range []struct{ w, h int }{{60, 20}, {120, 36}} {
		m := testModel(t, c.w, c.h, nil)
		toRow(t, m, "place.lon")
		press(m, "enter")
		m.edit.line.Insert([]rune("64,0484 -16,1794"))
		press(m, "enter", "esc", "esc") // the zone, then what belonged to the old place
		if m.ask.on || m.card().text("place.zone") != "Europe/Madrid" || m.card().text("place.lat") != "64.0484" || len(m.card().past) != 1 {
			t.Fatalf("asks %v, zone %q, %d steps", m.ask.on, m.card().text("place.zone"), len(m.card().past))
		}
		if r := m.calc.report; r == nil || !strings.HasPrefix(r.Call.Cautions[0], "Zone Europe/Madrid is at +02:00") {
			t.Errorf("%d by %d: the call says nothing of it", c.w, c.h)
		}
		press(m, "down")
		if text := screenText(m); !strings.Contains(text, "zone +02:00 !") || c.h >= 24 && !strings.Contains(text, "no place near keeps +02:00; Atlantic/Reykjavik") {
			t.Errorf("%d by %d: the form is silent:\n%s", c.w, c.h, text)
		}
		press(m, "enter")
		if !m.ask.on || !strings.Contains(screenText(m), "t  type another") {
			t.Fatalf("%d by %d: Enter does not ask:\n%s", c.w, c.h, screenText(m))
		}
		press(m, "t")
		m.edit.line.Insert([]rune("Europe/London"))
		press(m, "enter")
		if got := m.card().text("place.zone"); got != "Europe/London" || m.zone.Doubted(m.card().current) { // an hour ahead, as on the Faroes
			t.Errorf("typed zone %q", got)
		}
	}
}

// Tab from the longitude asks before the next field opens, and a paste where no place is says how to paste.
func TestAQuestionComesBeforeTheNextField(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	toRow(t, m, "place.lon")
	press(m, "enter")
	m.edit.line.Insert([]rune("geo:64.0484,-16.1794"))
	if press(m, "tab"); !m.ask.on || m.edit.on {
		t.Errorf("asks %v, types %v", m.ask.on, m.edit.on)
	}
	press(m, "esc", "esc")
	toRow(t, m, "place.lat")
	m.paste([]rune("some text"))
	if m.edit.on || m.note != "Enter opens a field to paste into" {
		t.Errorf("no place: types %v, says %q", m.edit.on, m.note)
	}
	m.paste([]rune("95, 10")) // nearly one: what is wrong stands below it
	if !m.edit.on || m.faultLine() != "a latitude from -90 to 90°; it comes first" {
		t.Errorf("types %v, fault %q", m.edit.on, m.faultLine())
	}
	press(m, "esc")
	toRow(t, m, "purpose")
	m.paste([]rune("64.0484, -16.1794"))
	if m.edit.on || m.note != "Enter opens a field to paste into" {
		t.Errorf("types %v, says %q", m.edit.on, m.note)
	}
}

// A new shot begins at the last own place, and never silently at the demo's, also after a card of the demo was saved.
func TestANewShotSaysWhosePlaceItIs(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "5", "o")
	if !strings.Contains(m.note, "at the demo's place: Enter, then paste yours") || !strings.Contains(screenText(m), "the demo's place") {
		t.Errorf("says %q", m.note)
	}
	first := m.card()
	press(m, "o") // from a new shot that is still at the demo's
	if !strings.Contains(m.note, "at the demo's place") {
		t.Errorf("the second says %q", m.note)
	}
	m.showCard(0)
	m.card().wrote() // saved with the demo's place
	if p, ok := store.LastPlace(); ok {
		t.Errorf("the demo's place is remembered as an own one: %v", p)
	}
	for i, s := range m.cards {
		if s == first {
			m.showCard(i)
		}
	}
	press(m, "enter")
	m.edit.line.Insert([]rune("64.0484, -16.1794"))
	if press(m, "enter", "1"); strings.Contains(screenText(m), "the demo's place") {
		t.Error("an own place is called the demo's")
	}
	if got := m.card().text("take_off"); got != "2026-09-18T12:00:00" { // noon UTC, as it was begun
		t.Errorf("take-off %q is another moment", got)
	}
	press(m, "o")
	if m.card().text("place.lat") != "64.0484" || m.card().text("place.zone") != "Atlantic/Reykjavik" || !strings.Contains(m.note, "here and now") {
		t.Errorf("at %s, says %q", m.card().text("place.lat"), m.note)
	}
	m.cards[1].wrote()
	if _, ok := store.LastPlace(); ok {
		t.Error("another card of the demo is remembered")
	}
	m.card().wrote()
	m.showCard(2) // from the demo, the last own place is taken
	if press(m, "o"); m.card().text("place.lat") != "64.0484" || !strings.Contains(m.note, "here and now") {
		t.Errorf("from the demo: at %s, says %q", m.card().text("place.lat"), m.note)
	}
}
