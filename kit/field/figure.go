package field

import (
	"strconv"
	"strings"
)

// Figure returns a number as a person writes it: at most so many decimals, no zeros at the end, no
// minus before nothing. Figure(2.50, 3) is "2.5".
func Figure(v float64, places int) string {
	out := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(out, ".") {
		out = strings.TrimRight(strings.TrimRight(out, "0"), ".")
	}
	if out == "-0" {
		return "0"
	}
	return out
}
