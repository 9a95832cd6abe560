package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// The tabulated light of a pattern is the pattern's own to .002, under a clear sky and in both states of
// broken cloud, with the sun up or down.
func TestQuickLight(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, cloud := range []sun.Cloud{{}, {Cover: .4}, {Cover: .4, SunHidden: 1}, {Cover: .9, SunHidden: .5}, {Cover: 1, SunHidden: 1}} {
		worst := 0.0
		for _, alt := range []float64{-6, 2, 20, 50, 90} {
			p := sun.NewPattern(0, alt, sun.Air{AOD: .08, PressureHPa: 1013, Albedo: .06, Cloud: cloud}, MeasureNM)
			quick := quickLight(&p, alt)
			for range 2000 {
				d := sun.Direction(360*r.Float64(), 90*r.Float64())
				l, _, _ := quick(d, d, d)
				worst = max(worst, math.Abs(l/p.Radiance(d)-1))
			}
		}
		t.Logf("%+v: off by up to %.4f", cloud, worst)
		if worst > .002 {
			t.Errorf("%+v: off by up to %.4f", cloud, worst)
		}
	}
}

// BenchmarkMirrorTable makes the table of what rough water mirrors.
func BenchmarkMirrorTable(b *testing.B) {
	s := plantest.Flight(9, 0, plantest.Push(0, 5, 40))
	s.Light.WindMS = 4
	for b.Loop() {
		MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, 24}, 40)
	}
}
