package exposure

import (
	"errors"
	"math"
	"strconv"
	"strings"
)

// DensityStops gives the stops of an optical density: density / log10(2).
func DensityStops(density float64) float64 { return density / math.Log10(2) }

// StopsDensity gives the optical density of stops.
func StopsDensity(stops float64) float64 { return stops * math.Log10(2) }

// FactorStops gives the stops of a filter factor, the number of times that the exposure grows.
func FactorStops(factor float64) float64 { return math.Log2(factor) }

// LabelTolerance is how far a real filter may be from its label, in stops. From memory.
const LabelTolerance = 1.0 / 3

// FactorLabel gives the trade's label of a density: "ND8" for 3 stops, "ND64" for 6. From nine stops
// on labels are in decimal factors: "ND500", "ND1000" for 9 and 10. Common practice, no source. Stops
// are rounded to the nearest whole label; below half a stop it is "".
func FactorLabel(stops float64) string {
	n := int(math.Round(stops))
	switch {
	case math.IsNaN(stops) || n < 1 || n > 20:
		return ""
	case n < 9:
		return "ND" + strconv.Itoa(1<<n)
	}
	return "ND" + strconv.Itoa(500<<(n-9))
}

var errLabel = errors.New(`density label not understood: write ND8 (a factor, 2 to 1000000) or ND0.9 (a density, 0.1 to 6)`)

// ParseLabel reads a density label and gives its stops. A whole number is a factor (ND8: 3 stops), a
// number with a point is an optical density (ND0.9: 2.99 stops), as both stand on filters: common
// practice, no source. The letters may be missing, in either case, and followed by a blank.
func ParseLabel(label string) (stops float64, err error) {
	s := strings.TrimSpace(label)
	if len(s) >= 2 && strings.EqualFold(s[:2], "nd") {
		s = strings.TrimSpace(s[2:])
	}
	if s == "" || strings.Trim(s, "0123456789.") != "" {
		return 0, errLabel
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, errLabel
	}
	if strings.Contains(s, ".") {
		if v < 0.1 || v > 6 {
			return 0, errLabel
		}
		return DensityStops(v), nil
	}
	if v < 2 || v > 1e6 {
		return 0, errLabel
	}
	return FactorStops(v), nil
}
