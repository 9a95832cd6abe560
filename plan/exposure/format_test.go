package exposure

import (
	"math"
	"testing"
)

func TestFormatShutter(t *testing.T) {
	for s, want := range map[float64]string{
		1. / 50: "1/50", 1. / 8000: "1/8000", 1. / 48: "1/48", 1. / 47.952: "1/48", 2: "2 s", 0.5: "0.5 s", 0.3: "0.3 s", 0.25: "1/4",
		1. / 131: "1/131", 1. / 4180: "1/4180", 1. / 12345: "1/12300", 1. / 65.3: "1/65", 0.28: "1/3.6", 1.25: "1.2 s", 1.27: "1.3 s",
		12.7: "13 s", 30: "30 s", 60: "1 min", 125: "2 min 5 s", 59.7: "1 min", 1e9: "over 10 days",
		0: "-", -1: "-", math.Inf(1): "no limit", math.Inf(-1): "-", math.NaN(): "-",
	} {
		if got := FormatShutter(s); got != want {
			t.Errorf("%v s: %q, want %q", s, got, want)
		}
	}
	for _, s := range videoShutters {
		if got := FormatShutter(s.Value); got != s.Label {
			t.Errorf("mark %q is written %q", s.Label, got)
		}
	}
}

func TestFormatISO(t *testing.T) {
	for iso, want := range map[float64]string{100: "100", 146.4: "146", 1311: "1310", 102400: "102400", 51234: "51200", 99.9: "100", 6.4: "6.4", 25.2: "25",
		0: "-", math.Inf(1): "-", math.NaN(): "-"} {
		if got := FormatISO(iso); got != want {
			t.Errorf("%v: %q, want %q", iso, got, want)
		}
	}
	for _, s := range isoTable {
		if got := FormatISO(s.Value); got != s.Label {
			t.Errorf("mark %q is written %q", s.Label, got)
		}
	}
}

func TestFormatAperture(t *testing.T) {
	for _, s := range apertureTable {
		if got := FormatAperture(s.Value); got != s.Label {
			t.Errorf("mark %q is written %q", s.Label, got)
		}
	}
	if FormatAperture(0) != "-" || FormatAperture(math.NaN()) != "-" {
		t.Error("no aperture")
	}
}

func TestFormatStops(t *testing.T) {
	for v, want := range map[float64]string{
		0: "0 stops", 0.1: "0 stops", -0.1: "0 stops", 0.3: "⅓ stop", -0.7: "−⅔ stop", 1: "1 stop", -1: "−1 stop",
		1.3: "1⅓ stops", 2: "2 stops", 5.65: "5⅔ stops", 0.9: "1 stop", math.NaN(): "-", math.Inf(1): "-",
	} {
		if got := FormatStops(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}
