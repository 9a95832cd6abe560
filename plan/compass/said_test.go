package compass

import (
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func TestRoseWords(t *testing.T) {
	s := plantest.Flight(17, 20, plantest.StillOf(0, 0, 40))
	r := throughOnly(s, "CPL", 0)
	o := RoseAt(r, 0, 5)
	text := strings.Join(o.Words(0), "\n")
	for _, want := range []string{"Looking N, 0° the sky is brighter by", "With the mark at 2:30 or 8:30 it would be darker by", "This ring darkens the sky at no heading.", "Any ring bites most looking "} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, ".0") || strings.Contains(text, "ring 9") {
		t.Errorf("figures that no pilot can set:\n%s", text)
	}
	_, best := o.best()
	r.Call.RingDeg = best.RingDeg
	o = RoseAt(r, 0, 5)
	if text = strings.Join(o.Words(best.HeadingDeg), "\n"); !strings.Contains(text, "No other ring darkens it much more.") || !strings.Contains(text, "This ring bites most looking ") || strings.Contains(text, "Any ring") {
		t.Errorf("at the best ring and heading:\n%s", text)
	}
	for name, want := range map[string]string{"ND16": "ND16 has no ring: turning the aircraft changes nothing.", "none": "Bare: turning"} {
		r.Call.Filter = name
		o = RoseAt(r, 0, 5)
		if text = strings.Join(o.Words(0), "\n"); !strings.Contains(text, want) || !strings.Contains(text, "A polariser would find most") {
			t.Errorf("%s:\n%s", name, text)
		}
	}
	down := throughOnly(plantest.Flight(17, 20, plantest.StillOf(0, -90, 40)), "CPL", 0)
	if text = strings.Join(RoseAt(down, 0, 5).Words(0), "\n"); text != "Leg 1 has too little sky in the frame to say." {
		t.Error(text)
	}
	if toward(359.7) != "N, 0°" || toward(-45) != "NW, 315°" {
		t.Error(toward(359.7), toward(-45))
	}
}

func TestSkyMapWords(t *testing.T) {
	words := func(s *shot.Shot) string { return strings.Join(SkyMapAt(throughOnly(s, "CPL", 0), 0, 41).Words(), " ") }
	s := plantest.Flight(17, 20, plantest.Push(200, 4, 30))
	if got := words(s); !strings.HasPrefix(got, "Sun 8° up in the W. Most polarised ") || !strings.HasSuffix(got, "%.") {
		t.Error(got)
	}
	s.Light.CloudPct = 100
	if got := words(s); !strings.Contains(got, "Overcast") || strings.Contains(got, "Most") {
		t.Error(got)
	}
	if got := words(plantest.Flight(19, 0, plantest.Push(200, 4, 30))); got != "The sun is down. Twilight: nothing is claimed of this sky." {
		t.Error(got)
	}
	// Light scattered once is most polarised 90° from the sun: of a sun on the horizon along a great circle
	// over the zenith, of one in the zenith all round the horizon.
	m := &SkyMap{N: 61}
	m.fill(plantest.SingleScatter{Sun: sun.Direction(0, 0), Peak: 0.8}, kit.Answer{T: 1})
	if degree, at := m.greatest(); degree < 0.79 || at.AltitudeDeg < 85 && math.Abs(math.Abs(angle.Wrap180(at.AzimuthDeg))-90) > 3 {
		t.Errorf("%.3f at %+v", degree, at)
	}
}
