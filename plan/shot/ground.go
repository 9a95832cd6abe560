package shot

import (
	"slices"

	"example.org/skywedge/sun"
)

// GroundNames returns the words for what lies under a flight.
func GroundNames() []string { return slices.Clone(groundWords) }

// AirNames returns the words for what the aerosol is.
func AirNames() []string { return slices.Clone(airWords) }

// AirByName returns what the aerosol is by its word.
func AirByName(name string) (kind sun.AirKind, ok bool) {
	kind, ok = airs[name]
	return kind, ok
}
