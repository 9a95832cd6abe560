package exposure_test

import (
	"fmt"

	"example.org/skywedge/plan/exposure"
)

// An incident reading of 81920 lx is EV 15 on a flat receptor (ISO 2720:1974). At f/2.8 and 1/50 s it
// takes more than six stops of density to come down to ISO 100.
func ExampleISO() {
	ev := exposure.EV100OfIlluminance(81920, exposure.Flat)
	for _, stops := range []float64{0, 3, 6} {
		iso := exposure.ISO(ev, 2.8, 1./50, stops, 0)
		fmt.Printf("EV %g, %s: ISO %s\n", ev, exposure.FormatStops(stops), exposure.FormatISO(iso))
	}
	// Output:
	// EV 15, 0 stops: ISO 1.2
	// EV 15, 3 stops: ISO 9.6
	// EV 15, 6 stops: ISO 77
}

// 180° of shutter at the usual frame rates, as a camera can set it (common practice, no source).
func ExampleAngleShutter() {
	for _, fps := range []float64{24, 25, 30, 60} {
		fmt.Print(exposure.AngleShutter(fps, exposure.LookDeg, 1./8000, 8).Label, " ")
	}
	// Output: 1/50 1/50 1/60 1/125
}

// The light below which two stops of filter at f/2.8 and 1/50 s need more than ISO 1600. An evening at
// latitude 45 on the equinox falls there from EV 10.07 in 26 minutes; worked by hand.
func ExampleLimitEV100() {
	set := exposure.Settings{NNumber: 2.8, Seconds: 1. / 50}
	fmt.Printf("EV %.2f\n", exposure.LimitEV100(set, 2, 1600))
	// Output: EV 6.61
}

// Reciprocal kelvin add up: a filter of +12 mired on daylight of 5600 K asks for 5250 K.
func ExampleWhiteBalanceK() {
	fmt.Println(exposure.WhiteBalanceK(5600, 12), "K")
	// Output: 5250 K
}
