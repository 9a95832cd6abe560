package motion

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// uhdLens is 3840 × 2160 with a horizontal field of 73.7°: F 2561.853 px.
var uhdLens = NewCamera(3840, 2160, math.Tan(73.7/2*math.Pi/180))

// ahead returns a camera's state flying level along its heading.
func ahead(aboveM, pitchDeg, speed float64) State {
	return State{AboveM: aboveM, PitchDeg: pitchDeg, Velocity: CameraAxes(r3.Vec{Y: speed}, 0, pitchDeg)}
}

// Worked examples for this lens, ours, from the field of Longuet-Higgins & Prazdny 1980.
func TestGroundWorked(t *testing.T) {
	if math.Abs(uhdLens.FocalPx-2561.853) > 0.001 {
		t.Fatalf("focal length %.4f px, want 2561.853", uhdLens.FocalPx)
	}
	pan := State{AboveM: 40, PitchDeg: -20, YawDegS: 15}
	tests := []struct {
		name string
		s    State
		u, v float64
		want float64
	}{
		{"50 m straight down 10 m/s, centre", ahead(50, -90, 10), 0, 0, 512.4},
		{"20 m -30° 8 m/s, centre", ahead(20, -30, 8), 0, 0, 256.2},
		{"20 m -30° 8 m/s, bottom centre", ahead(20, -30, 8), 0, 1080, 766.9},
		{"20 m -30° 8 m/s, bottom corner", ahead(20, -30, 8), 1920, 1080, 958.7},
		{"40 m -20° yaw 15°/s, centre", pan, 0, 0, 630.2},
	}
	for _, tt := range tests {
		du, dv, ok := groundAt(uhdLens, tt.s, tt.u, tt.v)
		if got := math.Hypot(du, dv); !ok || math.Abs(got-tt.want) > 0.1 {
			t.Errorf("%s: %.2f px/s, ok %v, want %.1f", tt.name, got, ok, tt.want)
		}
	}
}

func TestGroundSigns(t *testing.T) {
	if _, dv, _ := groundAt(uhdLens, ahead(20, -30, 8), 0, 0); dv <= 0 {
		t.Errorf("flying ahead: the ground must run down the picture, dv %.1f", dv)
	}
	if du, _, _ := groundAt(uhdLens, State{AboveM: 40, PitchDeg: -20, YawDegS: 15}, 0, 0); du >= 0 {
		t.Errorf("turning clockwise: the picture must run left, du %.1f", du)
	}
	if _, dv, _ := groundAt(uhdLens, State{AboveM: 40, PitchDeg: -20, PitchDegS: 5}, 0, 0); dv <= 0 {
		t.Errorf("nose going up: the picture must run down, dv %.1f", dv)
	}
	slide := State{AboveM: 40, PitchDeg: -20, Velocity: CameraAxes(r3.Vec{X: 5}, 0, -20)}
	if du, _, _ := groundAt(uhdLens, slide, 0, 0); du >= 0 {
		t.Errorf("sliding right: the picture must run left, du %.1f", du)
	}
	climb := State{AboveM: 40, PitchDeg: -20, Velocity: CameraAxes(r3.Vec{Z: 3}, 0, -20)}
	if _, dv, _ := groundAt(uhdLens, climb, 0, 0); dv <= 0 {
		t.Errorf("climbing: the ground must run down, dv %.1f", dv)
	}
	if _, _, ok := groundAt(uhdLens, ahead(20, 0, 8), 0, -1); ok {
		t.Error("ground found above the horizon")
	}
}

// The camera-axes rule as stated for level flight: forward v gives (0, −v sin a, v cos a), climb c
// gives (0, −c cos a, −c sin a), right s gives (s, 0, 0), a the depression, at any heading.
func TestCameraAxes(t *testing.T) {
	for _, heading := range []float64{0, 37, 90, 211.5} {
		for _, pitch := range []float64{0, -25, -60, -90, 20} {
			sh, ch := math.Sincos(heading * math.Pi / 180)
			sa, ca := math.Sincos(-pitch * math.Pi / 180)
			for _, tt := range []struct{ in, want r3.Vec }{
				{r3.Vec{X: 7 * sh, Y: 7 * ch}, r3.Vec{Y: -7 * sa, Z: 7 * ca}},
				{r3.Vec{Z: 3}, r3.Vec{Y: -3 * ca, Z: -3 * sa}},
				{r3.Vec{X: 2 * ch, Y: -2 * sh}, r3.Vec{X: 2}},
			} {
				if got := CameraAxes(tt.in, heading, pitch); r3.Norm(r3.Sub(got, tt.want)) > 1e-12 {
					t.Errorf("heading %v pitch %v: %v gives %v, want %v", heading, pitch, tt.in, got, tt.want)
				}
			}
		}
	}
}

// pixel projects a world point by rotation matrices, knowing nothing of the flow formula: heading
// about the vertical, then pitch about the right axis.
func pixel(c Camera, at, cam r3.Vec, headingDeg, pitchDeg float64) (u, v float64) {
	d := r3.Sub(at, cam)
	turn := r3.NewRotation(headingDeg*math.Pi/180, r3.Vec{Z: 1}) // undoes a clockwise heading
	d = turn.Rotate(d)                                           // now X right, Y level forward, Z up
	tip := r3.NewRotation(-pitchDeg*math.Pi/180, r3.Vec{X: 1})
	d = tip.Rotate(d)
	return c.FocalPx * d.X / d.Y, -c.FocalPx * d.Z / d.Y
}

// Against finite differences of that projection, for random flights and points: 1e-6 of the speed
// of a point that crosses one focal length a second.
func TestFlowAgainstProjection(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1980))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	worst := 0.0
	for range 400 {
		heading, pitch := between(0, 360), between(-90, 15)
		vel := r3.Vec{X: between(-12, 12), Y: between(-12, 12), Z: between(-4, 4)}
		s := State{AboveM: between(5, 120), PitchDeg: pitch, YawDegS: between(-40, 40), PitchDegS: between(-20, 20),
			Velocity: CameraAxes(vel, heading, pitch)}
		cam := r3.Vec{X: 3, Y: -7, Z: s.AboveM}

		// A moving subject somewhere in front.
		own := r3.Vec{X: between(-15, 15), Y: between(-15, 15), Z: between(-3, 3)}
		local := r3.Vec{X: between(-20, 20), Y: between(-10, 10), Z: between(10, 200)}
		sp, cp := math.Sincos(pitch * math.Pi / 180)
		sh, ch := math.Sincos(heading * math.Pi / 180)
		level := local.Z*cp + local.Y*sp
		world := r3.Add(cam, r3.Vec{X: level*sh + local.X*ch, Y: level*ch - local.X*sh, Z: local.Z*sp - local.Y*cp})
		diff := func(own, at r3.Vec) (du, dv float64) {
			const h = 1e-4
			f := func(t float64) (float64, float64) {
				return pixel(uhdLens, r3.Add(at, r3.Scale(t, own)), r3.Add(cam, r3.Scale(t, vel)), heading+s.YawDegS*t, pitch+s.PitchDegS*t)
			}
			// Fourth-order central difference.
			u1, v1 := f(h)
			u2, v2 := f(-h)
			u3, v3 := f(2 * h)
			u4, v4 := f(-2 * h)
			return (8*(u1-u2) - (u3 - u4)) / (12 * h), (8*(v1-v2) - (v3 - v4)) / (12 * h)
		}
		du, dv, depth, ok := Subject(uhdLens, s, CameraAxes(r3.Sub(world, cam), heading, pitch), CameraAxes(own, heading, pitch))
		wu, wv := diff(own, world)
		if !ok || math.Abs(depth-local.Z) > 1e-9 {
			t.Fatalf("subject at depth %v, ok %v, want %v", depth, ok, local.Z)
		}
		worst = math.Max(worst, math.Hypot(du-wu, dv-wv)/uhdLens.FocalPx)

		// The ground where a random pixel's ray meets it.
		u, v := between(-1920, 1920), between(-1080, 1080)
		gu, gv, ok := groundAt(uhdLens, s, u, v)
		if !ok {
			continue
		}
		x, y := u/uhdLens.FocalPx, v/uhdLens.FocalPx
		ray := r3.Vec{X: (cp+y*sp)*sh + x*ch, Y: (cp+y*sp)*ch - x*sh, Z: sp - y*cp}
		if ray.Z > -0.02 {
			continue // so far away that the difference loses its digits
		}
		at := r3.Add(cam, r3.Scale(-cam.Z/ray.Z, ray))
		wu, wv = diff(r3.Vec{}, at)
		worst = math.Max(worst, math.Hypot(gu-wu, gv-wv)/uhdLens.FocalPx)
	}
	t.Logf("worst difference %.2g focal lengths a second", worst)
	if worst > 1e-6 {
		t.Errorf("formula and projection differ by %.2g focal lengths a second", worst)
	}
}

// An orbit keeps the target's centre still: the turn cancels the slide.
func TestOrbitHoldsTarget(t *testing.T) {
	const r, v = 90.0, 6.0
	s := State{AboveM: 40, YawDegS: -v / r * 180 / math.Pi, Velocity: r3.Vec{X: v}}
	du, dv, _, ok := Subject(uhdLens, s, r3.Vec{Z: r}, r3.Vec{})
	if !ok || math.Hypot(du, dv) > 1e-9 {
		t.Errorf("the target moves by %g, %g px/s", du, dv)
	}
	// A subject that flies along with the camera stands still; one behind is not seen.
	s = State{AboveM: 20, Velocity: r3.Vec{X: 3, Z: 8}}
	if du, dv, _, _ := Subject(uhdLens, s, r3.Vec{X: 4, Y: 9, Z: 60}, s.Velocity); du != 0 || dv != 0 {
		t.Errorf("a subject keeping pace moves by %g, %g px/s", du, dv)
	}
	if _, _, _, ok := Subject(uhdLens, s, r3.Vec{Z: -5}, r3.Vec{}); ok {
		t.Error("a subject behind the camera was seen")
	}
	if !InFrame(uhdLens, r3.Vec{X: 7, Z: 10}) || InFrame(uhdLens, r3.Vec{X: 8, Z: 10}) || InFrame(uhdLens, r3.Vec{Z: -1}) {
		t.Error("the frame's edge at tan 36.85° = 0.749 is not where it should be")
	}
}

// groundAt is the plain form of what [Ground] does fast: the image velocity in px/s of the ground seen at a point of the picture, u px right
// and v px down of its centre. ok is false at and above the horizon.
func groundAt(c Camera, s State, u, v float64) (du, dv float64, ok bool) {
	sa, ca := math.Sincos(-s.PitchDeg * math.Pi / 180)
	x, y := u/c.FocalPx, v/c.FocalPx
	below := sa + y*ca
	if below <= 0 || s.AboveM <= 0 {
		return 0, 0, false
	}
	wx, wy, wz := s.rates()
	du, dv = flow(x, y, r3.Scale(-1, s.Velocity), below/s.AboveM, wx, wy, wz)
	return c.FocalPx * du, c.FocalPx * dv, true
}
