package exposure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// FormatShutter writes an exposure time in seconds the way cameras do: "1/50", "1/4", "0.5 s",
// "2 s", and "2 min 5 s" from one minute. A time that is not marked keeps about two digits: "1/131", "1/3.6".
func FormatShutter(seconds float64) string {
	switch {
	case math.IsNaN(seconds) || seconds <= 0:
		return "-"
	case math.IsInf(seconds, 1):
		return "no limit"
	}
	if s := Nearest(videoShutters, seconds); math.Abs(seconds/s.Value-1) < 2e-3 {
		return s.Label
	}
	switch d := 1 / seconds; {
	case d >= 999.5:
		return "1/" + significant(d, 3)
	case d >= 9.95:
		return "1/" + strconv.FormatFloat(d, 'f', 0, 64)
	case d > 3.4:
		return "1/" + trim(d, 1)
	case seconds < 9.95:
		return trim(seconds, 1) + " s"
	case seconds < 59.5:
		return strconv.FormatFloat(seconds, 'f', 0, 64) + " s"
	case seconds < 1e6:
		whole := int(seconds + 0.5)
		if whole%60 == 0 {
			return fmt.Sprintf("%d min", whole/60)
		}
		return fmt.Sprintf("%d min %d s", whole/60, whole%60)
	}
	return "over 10 days"
}

// FormatISO writes a sensitivity with at most three significant digits and without a unit: "100",
// "146", "1310".
func FormatISO(iso float64) string {
	if math.IsNaN(iso) || math.IsInf(iso, 0) || iso <= 0 {
		return "-"
	}
	if s := Nearest(isoTable, iso); math.Abs(iso/s.Value-1) < 2e-3 {
		return s.Label
	}
	if iso < 9.95 {
		return trim(iso, 1)
	}
	return significant(iso, 3)
}

// FormatAperture writes an f-number: "f/2.8", "f/11".
func FormatAperture(nNumber float64) string {
	if math.IsNaN(nNumber) || math.IsInf(nNumber, 0) || nNumber <= 0 {
		return "-"
	}
	return "f/" + trim(nNumber, 1)
}

// FormatStops writes stops rounded to thirds: "0 stops", "⅓ stop", "1 stop", "1⅔ stops", "−⅓ stop".
// The fractions and the minus sign are single characters that some East Asian terminals draw two
// cells wide.
func FormatStops(stops float64) string {
	if math.IsNaN(stops) || math.Abs(stops) > 1e6 {
		return "-"
	}
	n := int(math.Round(3 * math.Abs(stops)))
	text := ""
	if stops < 0 && n > 0 {
		text = "−"
	}
	if n >= 3 || n == 0 {
		text += strconv.Itoa(n / 3)
	}
	text += [...]string{"", "⅓", "⅔"}[n%3]
	if n > 0 && n <= 3 {
		return text + " stop"
	}
	return text + " stops"
}

// trim writes v with at most the given decimals and no trailing zeros.
func trim(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// significant writes v as a whole number rounded to n significant digits.
func significant(v float64, n int) string {
	p := math.Pow(10, math.Floor(math.Log10(v))-float64(n-1))
	if p < 1 {
		p = 1
	}
	return strconv.FormatFloat(math.Round(v/p)*p, 'f', 0, 64)
}
