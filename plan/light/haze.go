package light

import (
	"math"
)

// Haze between the camera and the land. Visibility is the meteorological optical range: the distance
// At which 5 % of a dark object's contrast is left.
const (
	airlightPeak  = 0.85   // of the degree of molecular airlight against the textbook's (ours, ±50 %)
	molecularPkm  = 0.0116 // extinction of clean air at 550 nm at sea level, per km
	molecularPart = 0.94   // polarising power of molecules and of aerosol (ours)
	aerosolPart   = 0.10
	FarthestKm    = 60.0 // a ray just below the horizon is taken to end there (ours)
)

// ExtinctionPerKm returns the extinction of the air for a visibility: 2.996/V (Koschmieder with 5 %).
func ExtinctionPerKm(visibilityKm float64) float64 { return 2.996 / max(visibilityKm, 0.05) }

// AirlightDegree returns the degree of polarisation of the light that haze scatters into a line of
// sight whose angle to the sun has the cosine c. Molecules polarise it, aerosol hardly does and
// outweighs them near the ground (ours; aerosol by Henyey & Greenstein 1941 with g 0.7).
func AirlightDegree(c, extinctionPerKm float64) float64 {
	r := molecularPkm * 0.75 * (1 + c*c)
	x := 1.49 - 1.4*c
	a := max(extinctionPerKm-molecularPkm, 0) * 0.51 / (x * math.Sqrt(x))
	return airlightPeak * (1 - c*c) / (1 + c*c) * (molecularPart*r + aerosolPart*a) / (r + a)
}

// AirlightUnderCloud returns what cloud, 0..1, leaves of the airlight's polarisation: as of the clear sky's own.
func AirlightUnderCloud(cloud float64) float64 { return (1 - cloud) * (1 - 0.3*cloud) }
