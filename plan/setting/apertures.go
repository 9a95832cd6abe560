package setting

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
)

// Apertures returns the f-numbers to choose from: the lens's own when it has one, else its sharpest,
// then the wider ones and the smaller ones in whole stops.
func Apertures(c *kit.Camera) []float64 {
	if c.Aperture[1] <= c.Aperture[0] {
		return []float64{c.Aperture[0]}
	}
	sharp := c.Sharpest
	if sharp[0] <= 0 {
		sharp = [2]float64{c.Aperture[0], min(c.Aperture[1], 2*c.Aperture[0])}
	}
	list := []float64{sharp[0]}
	for n := sharp[0] * math.Sqrt2; n < sharp[1]*0.98; n *= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if sharp[1] > sharp[0] {
		list = append(list, sharp[1])
	}
	for n := sharp[0] / math.Sqrt2; n > c.Aperture[0]*1.02; n /= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if c.Aperture[0] < sharp[0] {
		list = append(list, c.Aperture[0])
	}
	for n := sharp[1] * math.Sqrt2; n < c.Aperture[1]*0.98; n *= math.Sqrt2 {
		list = append(list, exposure.NearestAperture(n).Value)
	}
	if c.Aperture[1] > sharp[1] {
		list = append(list, c.Aperture[1])
	}
	return list
}

// SoftStops returns how far an aperture lies outside of the sharpest ones, in stops; 0 for a lens that states
// none.
func SoftStops(c *kit.Camera, nNumber float64) float64 {
	s := c.Sharpest
	switch {
	case s[0] <= 0 || nNumber <= 0:
		return 0
	case nNumber < s[0]:
		return 2 * math.Log2(s[0]/nNumber)
	case nNumber > s[1]:
		return 2 * math.Log2(nNumber/s[1])
	}
	return 0
}
