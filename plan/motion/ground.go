package motion

import (
	"math"

	"example.org/skywedge/plan/internal/rank"
)

// The grid on which a frame is judged: pixel centres of this many columns and rows.
const (
	gridW = 16
	gridH = 9
)

// Flow is the speed of the picture below the horizon at one moment.
type Flow struct {
	Median, P90 float64 // px/s, over the samples
	Samples     int     // of the 16 × 9 grid that lie below the horizon; 0: no ground in the frame
}

// Ground judges the image velocity of the flat ground on a grid below the horizon. Percentiles
// interpolate linearly between samples. Without ground in the frame it is the zero Flow: judge a
// pan over the sky with [Distant].
func Ground(c Camera, s State) Flow {
	if s.AboveM <= 0 {
		return Flow{}
	}
	// The same formula as flow. Per row everything but x is constant, so the inner loop is a
	// dozen multiplications; squares are ranked and only four roots are taken. 256 moments are judged
	// at each keystroke, which leaves a few microseconds for one.
	var sq [gridW * gridH]float64
	n := 0
	sa, ca := math.Sincos(-s.PitchDeg * math.Pi / 180)
	wx, wy, wz := s.rates()
	v := s.Velocity
	for j := range gridH {
		y := (float64(j) + 0.5 - gridH/2.0) * c.H / gridH / c.FocalPx
		below := sa + y*ca
		if below <= 0 {
			continue
		}
		iz := below / s.AboveM
		u0, u1 := -v.X*iz-wy+y*wz, v.Z*iz+y*wx
		v0, v1 := (-v.Y+y*v.Z)*iz+(1+y*y)*wx, -y*wy-wz
		for i := range gridW {
			x := (float64(i) + 0.5 - gridW/2.0) * c.W / gridW / c.FocalPx
			du := u0 + x*(u1-x*wy)
			dv := v0 + x*v1
			sq[n] = du*du + dv*dv
			n++
		}
	}
	if n == 0 {
		return Flow{}
	}
	f := Flow{Samples: n}
	f.Median = c.FocalPx * rootPercentile(sq[:n], 0.5)
	f.P90 = c.FocalPx * rootPercentile(sq[:n], 0.9)
	return f
}

// Distant returns the speed in px/s of things too far away to show the flight's own movement (sky,
// skyline) at the centre of the picture: the turn of the camera alone.
func Distant(c Camera, s State) float64 {
	wx, wy, _ := s.rates()
	return c.FocalPx * math.Hypot(wx, wy)
}

// rootPercentile returns the q-th percentile (0..1) of the square roots of the values, interpolating
// linearly. It reorders the values.
func rootPercentile(sq []float64, q float64) float64 {
	at := q * float64(len(sq)-1)
	k := int(at)
	rank.Kth(sq, k)
	a := math.Sqrt(sq[k])
	if k+1 == len(sq) {
		return a
	}
	next := sq[k+1]
	for _, v := range sq[k+2:] {
		next = min(next, v)
	}
	return a + (at-float64(k))*(math.Sqrt(next)-a)
}
