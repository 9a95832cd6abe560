package sun

import "math"

// cubic is log10 of the illuminance in lux as a polynomial in altitude/90°, from loDeg up to the
// piece before it.
type cubic struct {
	loDeg          float64
	c0, c1, c2, c3 float64
}

// The pieces are those of Seidelmann (ed.) 1992, Explanatory Supplement to the Astronomical
// Almanac, section 9.3, highest altitude first.
var (
	sunPieces = [...]cubic{
		{20, 3.74, 3.97, -4.07, 1.47},
		{5, 3.05, 13.28, -45.98, 64.33},
		{-0.8, 2.88, 22.26, -207.64, 1034.30},
		{-5, 2.88, 21.81, -258.11, -858.36},
		{-12, 2.70, 12.17, -431.69, -1899.83},
		{-18, 13.84, 262.72, 1447.42, 2797.93},
	}
	moonPieces = [...]cubic{
		{20, -1.95, 4.06, -4.24, 1.56},
		{5, -2.58, 12.58, -42.58, 59.06},
		{-0.8, -2.79, 24.27, -252.95, 1321.29},
	}
)

func (c cubic) at(altDeg float64) float64 {
	x := altDeg / 90
	return c.c0 + x*(c.c1+x*(c.c2+x*c.c3))
}

// ClearIlluminance returns the illuminance in lux on the horizontal from sun and sky without cloud,
// for the sun's geometric altitude in degrees (Seidelmann 1992, Explanatory Supplement to the Astronomical
// Almanac, section 9.3). Below −18° it stays at
// the value of −18°, 0.000645 lx: the sky is then as dark as the sun leaves it. Altitudes above 90
// count as 90.
func ClearIlluminance(geometricDeg float64) float64 {
	h := min(max(geometricDeg, -18), 90)
	for _, c := range sunPieces {
		if h >= c.loDeg {
			return exp10(c.at(h))
		}
	}
	return 0 // only for NaN
}

// moonIlluminance returns the illuminance in lux on the horizontal from the moon without cloud, for
// its topocentric altitude without refraction, its phase and its distance (Seidelmann 1992, as
// above); 0 below −0.8°. A distance below 100,000 km counts as not given: the mean one.
func moonIlluminance(m Moon) float64 {
	h := min(m.GeometricDeg, 90)
	for _, c := range moonPieces {
		if h >= c.loDeg {
			// The phase angle: 0 at full moon.
			f := math.Acos(min(max(2*m.LitFraction-1, -1), 1)) * deg
			parallax := moonMeanParallax
			if m.DistanceKm >= 100000 {
				parallax = math.Asin(earthRadiusKm/m.DistanceKm) * deg
			}
			f2 := f * f
			return exp10(c.at(h) - 0.00868*f - 2.2e-9*f2*f2 + 2*math.Log10(parallax/moonMeanParallax))
		}
	}
	return 0
}

func exp10(x float64) float64 { return math.Exp(x * math.Ln10) }

// Constants of Janiczek & DeYoung 1987, Computer Programs for Sun and Moon Illuminance, US Naval
// Observatory Circular 171. Of its closed form the program takes the air path alone: its sky knows no
// haze and can be wrong by a factor of three.
const (
	solarLx  = 133775.0  // above the air
	airScale = 753.66156 // the earth's radius in heights of a homogeneous atmosphere
)

// AirPath returns the path of a beam through the air, in units of the path from the zenith, for an
// altitude in degrees: 1 at 90, 38.8 at the horizon (Janiczek & DeYoung 1987). Give it the altitude where the
// body is seen.
func AirPath(altDeg float64) float64 {
	sinH, cosH := math.Sincos(min(max(altDeg, -90), 90) * rad)
	sinS := airScale * cosH / (airScale + 1) // where the beam enters the air
	cosS := math.Sqrt(max(1-sinS*sinS, 0))
	return airScale*(cosS-sinH) + cosS
}
