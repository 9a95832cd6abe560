package shot

import (
	"testing"
	"time"
)

func TestNewCardIsGood(t *testing.T) {
	zone, _ := time.LoadLocation("Europe/Madrid")
	for _, name := range []string{"", "Pier, dawn", "yes", "12", `a "b" \c`, "# no comment", "k: v", "Ría de Arousa", "[x]", "-", "a #b"} {
		start := Start{Name: name, LatDeg: 43.36721234567, LonDeg: -8.4604, Zone: "Europe/Madrid",
			TakeOff: time.Date(2026, 9, 18, 19, 40, 0, 0, zone), Camera: "wide", Purpose: Still, Heading: "sun+90"}
		s := shotOf(t, string(NewCard(start)))
		if name == "" {
			name = "New shot"
		}
		if s.Name != name || s.LatDeg != 43.367212 || s.LonDeg != -8.4604 || !s.TakeOff.Equal(start.TakeOff) || s.Legs[0].Purpose != Still || s.Legs[0].HeadingOff != [2]float64{90, 90} {
			t.Errorf("%q: %+v", name, s)
		}
	}
}

func TestNewCardFromNothing(t *testing.T) {
	s := shotOf(t, string(NewCard(Start{Camera: "wide", TakeOff: testNow})))
	if s.Zone != time.UTC && s.Zone.String() != "UTC" || !s.TakeOff.Equal(testNow) || s.Legs[0].Purpose != Video || s.Legs[0].Heading.From != 0 {
		t.Errorf("%+v", s)
	}
}
