package plan

import "slices"

// GroundNames gives the words for what lies under a flight.
func GroundNames() []string { return slices.Clone(groundWords) }

// AlbedoByName gives the albedo of a ground by its word.
func AlbedoByName(name string) (albedo float64, ok bool) {
	if !slices.Contains(GroundNames(), name) {
		return 0, false
	}
	return GroundAlbedo(Ground(name)), true
}
