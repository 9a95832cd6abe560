package shot

import "slices"

// GroundNames gives the words for what lies under a flight.
func GroundNames() []string { return slices.Clone(groundWords) }
