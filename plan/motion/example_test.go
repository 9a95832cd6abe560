package motion_test

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/motion"
	"gonum.org/v1/gonum/spatial/r3"
)

// Straight down from 50 m at 10 m/s every point of the ground runs across the picture at F·v/h, the
// field of Longuet-Higgins & Prazdny 1980 at its simplest: 2561.85 px · 10/50 s.
func ExampleGround() {
	lens := motion.NewCamera(3840, 2160, math.Tan(73.7/2*math.Pi/180))
	flow := motion.Ground(lens, motion.State{
		AboveM: 50, PitchDeg: -90, Velocity: motion.CameraAxes(r3.Vec{Y: 10}, 0, -90),
	})
	fmt.Printf("%.1f px/s over %d samples\n", flow.Median, flow.Samples)
	// Output: 512.4 px/s over 144 samples
}

// The rule of the American Cinematographer Manual (cited by Chapiro, Atkins & Daly 2019): a pan takes
// seven seconds a picture width at 24 frames a second. It stands at the upper end of what a 180°
// shutter smooths; half that time strobes whatever the shutter.
func ExampleViewing_StepArcmin() {
	for _, widthS := range []float64{7, 3.5} {
		step := motion.HD.StepArcmin(3840/widthS, 3840, 24)
		fmt.Printf("%g s a width: %.1f minutes of arc a frame, %s\n", widthS, step, motion.BandOf(step))
	}
	// Output:
	// 7 s a width: 11.8 minutes of arc a frame, flowing
	// 3.5 s a width: 23.6 minutes of arc a frame, fast
}

// A lean of 45°: a pan at a hundred times the picture's height a second, read out in a hundredth of one
// (physics: the shift of the last row against the first is speed times readout).
func ExampleSkewPx() {
	skew := motion.SkewPx(216000, 10)
	fmt.Printf("%.0f px, %.0f°\n", skew, motion.LeanDeg(skew, 2160))
	// Output: 2160 px, 45°
}
