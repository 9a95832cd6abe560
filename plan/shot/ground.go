package shot

import "slices"

// GroundNames returns the words for what lies under a flight.
func GroundNames() []string { return slices.Clone(groundWords) }
