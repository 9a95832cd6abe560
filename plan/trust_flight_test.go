package plan_test

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// flightClaims: exposure over a flight, motion in the picture.
func flightClaims(t testing.TB) []claim {
	lens := motion.NewCamera(3840, 2160, math.Tan(73.7/2*rad))
	ahead := func(above, pitch, speed float64) motion.State {
		return motion.State{AboveM: above, PitchDeg: pitch, Velocity: motion.CameraAxes(r3.Vec{Y: speed}, 0, pitch)}
	}
	var flow tally
	for _, c := range []struct {
		s          motion.State
		u, v, want float64
	}{
		{ahead(50, -90, 10), 0, 0, 512.4}, {ahead(20, -30, 8), 0, 0, 256.2}, {ahead(20, -30, 8), 0, 1080, 766.9},
		{ahead(20, -30, 8), 1920, 1080, 958.7}, {motion.State{AboveM: 40, PitchDeg: -20, YawDegS: 15}, 0, 0, 630.2},
	} {
		// the point of the ground that stands there, in camera axes
		x, y := c.u/lens.FocalPx, c.v/lens.FocalPx
		sin, cos := math.Sincos(-c.s.PitchDeg * rad)
		depth := c.s.AboveM / (sin + y*cos)
		du, dv, _, ok := motion.Subject(lens, c.s, r3.Vec{X: x * depth, Y: y * depth, Z: depth}, r3.Vec{})
		if !ok {
			t.Error("no ground where there is some")
		}
		flow.add(math.Hypot(du, dv) - c.want)
	}
	pan := motion.HD.StepArcmin(3840./7, 3840, 24)
	judder, ok := motion.Judder(24, 2.5, 7)
	if !ok {
		t.Error("the judder score's own anchor lies outside its range")
	}
	return append(eveningClaims(t),
		flow.worst("image speed of the ground, 3840 px wide", "field of Longuet-Higgins & Prazdny 1980, worked apart", .1, "px/s", 2),
		claim{what: "step of a pan of 7 s a width at 24 frames a second", source: "11.8′, the rule of Burum's manual as cited by Chapiro et al. 2019",
			n: 1, asked: .05, reached: math.Abs(pan - 11.8), unit: "′", digits: 2},
		claim{what: "judder score of that pan at 2.5 cd/m²", source: "5.108, Chapiro, Atkins & Daly 2019",
			n: 1, asked: .0005, reached: math.Abs(judder - 5.108), digits: 4},
	)
}

// eveningClaims: latitude 45 on an equinox, the sun at 3° at the start, 25 minutes of flight, f/2.8
// and 1/50, a camera clean from ISO 100 to 1600. Worked by hand from the same light.
func eveningClaims(t testing.TB) []claim {
	noon := sun.DayOf(2026, 3, 20, time.UTC, 45, 0).Noon
	start := sinks(noon, 45, 0, 3)
	ev := func(at time.Time) float64 {
		return exposure.EV100OfIlluminance(sun.LightAt(sun.At(at, 45, 0), moonless, trustAir).TotalLx, exposure.Flat)
	}
	first, last := ev(start), ev(start.Add(25*time.Minute))
	set := exposure.Settings{NNumber: 2.8, Seconds: 1. / 50}
	lightest, heaviest := first-exposure.LimitEV100(set, 0, 100), last-exposure.LimitEV100(set, 0, 1600)
	var stops, iso tally
	for _, c := range [][2]float64{{first, 10.07}, {last, 6.90}, {lightest, 1.46}, {heaviest, 2.29}} {
		stops.add(c[0] - c[1])
	}
	iso.add(math.Log2(exposure.ISO(first, 2.8, 1./50, 2, 0) / 146))
	iso.add(math.Log2(exposure.ISO(last, 2.8, 1./50, 2, 0) / 1311))
	end, ok := exposure.RunOut(start, time.Hour, exposure.LimitEV100(set, 2, 1600), ev)
	if !ok {
		t.Error("the light does not run out")
	}
	const evening = "an evening worked by hand (ISO 2720:1974; sun 3°, latitude 45, f/2.8, 1/50)"
	return []claim{
		heading("Exposure and motion"),
		stops.worst("EV at both ends of a flight, window of densities", evening, .02, "stop", 3),
		iso.worst("ISO at both ends, two stops of filter", evening, .02, "stop", 3),
		{what: "minutes until the light runs out", source: evening, n: 1, asked: .5, reached: math.Abs(end.Sub(start).Minutes() - 26.5), unit: "min", digits: 1},
	}
}
