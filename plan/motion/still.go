package motion

import "math"

// Limits of blur in a still, in pixels: ours.
const (
	Normal = 1.0
	Loose  = 2.0
)

// Steadiness is how well an aircraft hovers: it wanders and turns no further than a bound, however
// long the exposure. Ours: in calm air an exposure of ½ to 2 s is common practice, and not every
// frame of it succeeds.
type Steadiness struct {
	DriftMS   float64 // m/s
	DriftMaxM float64
	YawDegS   float64
	YawMaxDeg float64
}

// SteadinessOf returns the steadiness by its word: calm or windy; any other word means normal.
func SteadinessOf(word string) Steadiness {
	switch word {
	case "calm":
		return Steadiness{DriftMS: 0.02, DriftMaxM: 0.1, YawDegS: 0.015, YawMaxDeg: 0.05}
	case "windy":
		return Steadiness{DriftMS: 0.3, DriftMaxM: 0.6, YawDegS: 0.5, YawMaxDeg: 0.5}
	}
	return Steadiness{DriftMS: 0.1, DriftMaxM: 0.3, YawDegS: 0.1, YawMaxDeg: 0.2}
}

// BlurPx returns the blur of a still in pixels: the movement of the picture in quadrature with hover
// drift and residual yaw,
//
//	√((v t)² + (F·min(drift·t, bound)/Z)² + (F·rad(min(yaw·t, bound)))²)
//
// with the image speed v in px/s, the focal length F in px and the subject's depth Z in metres.
func BlurPx(speedPxS, seconds, focalPx, depthM float64, s Steadiness) float64 {
	drift := focalPx * math.Min(s.DriftMS*seconds, s.DriftMaxM) / depthM
	yaw := focalPx * math.Min(s.YawDegS*seconds, s.YawMaxDeg) * math.Pi / 180
	return math.Sqrt(speedPxS*seconds*speedPxS*seconds + drift*drift + yaw*yaw)
}

// SlowestSafe returns the longest exposure in seconds whose blur stays within a limit in pixels
// ([Normal] or [Loose]); +Inf when no exposure exceeds it.
func SlowestSafe(limitPx, speedPxS, focalPx, depthM float64, s Steadiness) float64 {
	// Between the two times at which drift and yaw reach their bounds the square of the blur is
	// A t² + B: take the first stretch whose end exceeds the limit.
	tDrift, tYaw := reach(s.DriftMaxM, s.DriftMS), reach(s.YawMaxDeg, s.YawDegS)
	for _, end := range [3]float64{math.Min(tDrift, tYaw), math.Max(tDrift, tYaw), math.Inf(1)} {
		if !math.IsInf(end, 1) && BlurPx(speedPxS, end, focalPx, depthM, s) < limitPx {
			continue
		}
		a, b := speedPxS*speedPxS, 0.0
		perM, perDeg := focalPx/depthM, focalPx*math.Pi/180
		if tDrift >= end {
			a += perM * s.DriftMS * perM * s.DriftMS
		} else {
			b += perM * s.DriftMaxM * perM * s.DriftMaxM
		}
		if tYaw >= end {
			a += perDeg * s.YawDegS * perDeg * s.YawDegS
		} else {
			b += perDeg * s.YawMaxDeg * perDeg * s.YawMaxDeg
		}
		if a == 0 {
			return math.Inf(1)
		}
		return math.Sqrt((limitPx*limitPx - b) / a)
	}
	return math.Inf(1)
}

// reach returns the time to a bound at a rate; +Inf when it is never reached.
func reach(bound, rate float64) float64 {
	if rate <= 0 {
		return math.Inf(1)
	}
	return bound / rate
}

// SkewPx returns how far a rolling shutter shifts the last row against the first, in pixels: the
// image speed across (du, px/s) times the readout in milliseconds.
func SkewPx(duPxS, readoutMS float64) float64 { return duPxS * readoutMS / 1000 }

// LeanDeg returns the lean of an upright that runs the full height of the picture, in degrees.
func LeanDeg(skewPx, heightPx float64) float64 { return math.Atan2(skewPx, heightPx) * 180 / math.Pi }
