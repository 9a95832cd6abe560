package light

import (
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// BenchmarkMirrorTable makes the table of what rough water mirrors.
func BenchmarkMirrorTable(b *testing.B) {
	s := plantest.Flight(9, 0, plantest.Push(0, 5, 40))
	s.Light.WindMS = 4
	for b.Loop() {
		MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, 24}, 40)
	}
}
