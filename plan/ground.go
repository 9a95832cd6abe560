package plan

import (
	"slices"

	"example.org/skywedge/plan/shot"
)

// AlbedoByName gives the albedo of a ground by its word.
func AlbedoByName(name string) (albedo float64, ok bool) {
	if !slices.Contains(shot.GroundNames(), name) {
		return 0, false
	}
	return GroundAlbedo(shot.Ground(name)), true
}
