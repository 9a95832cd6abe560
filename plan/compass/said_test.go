package compass

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
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
	if text = strings.Join(o.Words(best.HeadingDeg), "\n"); !strings.Contains(text, "No other ring darkens it by a third of a stop more.") || !strings.Contains(text, "This ring bites most looking ") || strings.Contains(text, "Any ring") {
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

// What is said of another ring is what the rose draws: none is named where all of them gain a third of a stop at most,
// and the one that is named gains more, by the amount that the bar behind has.
func TestRoseWordsAgreeWithTheRays(t *testing.T) {
	none, other := 0, 0
	for _, ring := range []float64{0, 30, 60, 90, 120, 150} {
		o := RoseAt(throughOnly(plantest.Flight(17, 20, plantest.StillOf(0, 0, 40)), "CPL", ring), 0, 5)
		for i := range o.Rays {
			ray := &o.Rays[i]
			text := strings.Join(o.Words(ray.HeadingDeg), "\n")
			gain := ray.InUse - ray.Strongest
			no := strings.Contains(text, "No other ring darkens it by a third of a stop more.")
			yes := strings.Contains(text, "With the mark at "+kit.Clock(ray.RingDeg)+" it would be "+words.EffectOnSky(ray.Strongest)+".")
			if no == yes || no != (gain <= 1./3) {
				t.Errorf("ring %g, heading %g: another ring gains %.3f stops:\n%s", ring, ray.HeadingDeg, gain, text)
			}
			if no {
				none++
			} else {
				other++
			}
		}
	}
	if none < 20 || other < 20 {
		t.Errorf("%d headings without a better ring, %d with one: too few to tell", none, other)
	}
}

func TestSkyMapWords(t *testing.T) {
	said := func(s *shot.Shot) string { return strings.Join(SkyMapAt(throughOnly(s, "CPL", 0), 0, 41).Words(), " ") }
	s := plantest.Flight(17, 20, plantest.Push(200, 4, 30))
	if got := said(s); !strings.HasPrefix(got, "Sun 8° up in the W. Most polarised ") || !strings.HasSuffix(got, "%.") {
		t.Error(got)
	}
	s.Light.CloudPct = 100
	if got := said(s); !strings.Contains(got, "Overcast") || strings.Contains(got, "Most") {
		t.Error(got)
	}
	if got := said(plantest.Flight(19, 0, plantest.Push(200, 4, 30))); got != "The sun is down. Twilight: nothing is claimed of this sky." {
		t.Error(got)
	}
}

// What is said of the sky is the same on a map of any size.
func TestSkyWordsAreThoseOfEverySize(t *testing.T) {
	for _, hour := range []int{8, 9, 11, 13, 16, 17, 18, 19} {
		r := throughOnly(plantest.Flight(hour, 20, plantest.Push(200, 4, 30)), "CPL", 0)
		said := SkyMapAt(r, 0, 11).Words()
		for _, n := range []int{1, 12, 21, 40, 90} {
			if got := SkyMapAt(r, 0, n).Words(); !slices.Equal(got, said) {
				t.Errorf("%d h: %q at 11 places across, %q at %d", hour, said, got, n)
			}
		}
	}
}

// The most polarised place is found, within what nobody can tell, against every degree of the sky; none of the
// map's own places beats it.
func TestMostPolarised(t *testing.T) {
	for _, hour := range []int{8, 10, 13, 16, 18, 19} {
		r := throughOnly(plantest.Flight(hour, 20, plantest.Push(200, 4, 30)), "CPL", 0)
		mo := r.MomentAt(0)
		pattern := r.PatternAt(&mo)
		m := SkyMapAt(r, 0, 61)
		var best float64
		for az := 0.0; az < 360; az++ {
			for alt := 0.0; alt <= 90; alt++ {
				d := sun.Direction(az, alt)
				right, up, _, _ := levelAxes(d)
				q, u := pattern.Stokes(d, right, up)
				best = max(best, math.Hypot(q, u))
			}
		}
		for _, p := range m.Degree {
			best = max(best, p)
		}
		if best > m.Most.Degree+1e-4 || m.Most.Degree > best+1e-3 {
			t.Errorf("%d h: %.5f at %+v, there is %.5f", hour, m.Most.Degree, m.Most.At, best)
		}
		d := sun.Direction(m.Most.At.AzimuthDeg, m.Most.At.AltitudeDeg)
		right, up, _, _ := levelAxes(d)
		if q, u := pattern.Stokes(d, right, up); math.Abs(math.Hypot(q, u)-m.Most.Degree) > asGood {
			t.Errorf("%d h: %.6f at %+v, said to be %.6f", hour, math.Hypot(q, u), m.Most.At, m.Most.Degree)
		}
	}
	// Light scattered once is most polarised 90° from the sun: of a sun on the horizon along a great circle over the
	// zenith, so of one 40° up opposite to it and 50° up.
	low := mostPolarised(plantest.SingleScatter{Sun: sun.Direction(0, 0), Peak: 0.8}, 0)
	if a := low.At; low.Degree < .7999 || a.AltitudeDeg < 89.7 && math.Abs(math.Abs(angle.Wrap180(a.AzimuthDeg))-90) > .5 {
		t.Errorf("%+v", low)
	}
	high := mostPolarised(plantest.SingleScatter{Sun: sun.Direction(70, 40), Peak: 0.8}, 70)
	if math.Abs(high.At.AltitudeDeg-50) > .3 || math.Abs(angle.Wrap180(high.At.AzimuthDeg-250)) > .3 {
		t.Errorf("%+v is not opposite the sun", high)
	}
	if c := r3.Dot(sun.Direction(high.At.AzimuthDeg, high.At.AltitudeDeg), sun.Direction(70, 40)); high.Degree < .7999 || math.Abs(c) > .01 {
		t.Errorf("%+v is not square to the sun", high)
	}
}
