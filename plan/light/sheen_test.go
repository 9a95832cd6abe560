package light

import (
	"testing"

	"example.org/skywedge/plan/shot"
)

// A forest is wet or dry a forest: it has no glint path, whatever the aim.
func TestLeavesHaveNoFilm(t *testing.T) {
	for _, aim := range []shot.Aim{shot.AimWater, shot.AimKeep, shot.AimSky} {
		for _, g := range []shot.Ground{shot.Forest, shot.Grass} {
			if m := sheenOf(g, aim); m.sigma2 == 0 || m.cover == 0 {
				t.Errorf("%s with aim %s: %+v", g, aim, m)
			}
		}
	}
	if m := sheenOf(shot.Town, shot.AimKeep); m.sigma2 != 0 || m.cover == 0 {
		t.Errorf("a wet street: %+v", m)
	}
	if m := sheenOf(shot.Snow, shot.AimWater); m.cover != 0 {
		t.Errorf("snow: %+v", m)
	}
}
