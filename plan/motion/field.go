package motion

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Camera is a lens and a picture size in pixels: the video frame's for judder, the still's for blur.
type Camera struct {
	FocalPx float64 // focal length in pixels: width / (2 tan(hfov/2))
	W, H    float64 // picture size in pixels
}

// NewCamera makes a camera from the picture size and the tangent of half the horizontal field.
func NewCamera(widthPx, heightPx, halfWidthTan float64) Camera {
	return Camera{FocalPx: widthPx / (2 * halfWidthTan), W: widthPx, H: heightPx}
}

// State is how a camera moves at one moment.
type State struct {
	AboveM    float64 // height above the flat ground below
	PitchDeg  float64 // 0 level, −90 straight down
	Velocity  r3.Vec  // of the camera, in camera axes, m/s
	YawDegS   float64 // rate of heading, clockwise positive
	PitchDegS float64 // rate of pitch, nose up positive
}

// CameraAxes turns a vector in East-North-Up (a velocity, or a position relative to the camera) into
// camera axes: X right, Y down, Z forward. The heading counts clockwise from north, the pitch is 0
// level and −90 straight down, both in degrees.
func CameraAxes(enu r3.Vec, headingDeg, pitchDeg float64) r3.Vec {
	sh, ch := math.Sincos(headingDeg * math.Pi / 180)
	sp, cp := math.Sincos(pitchDeg * math.Pi / 180)
	ahead := enu.X*sh + enu.Y*ch // level component along the heading
	return r3.Vec{
		X: enu.X*ch - enu.Y*sh,
		Y: ahead*sp - enu.Z*cp,
		Z: ahead*cp + enu.Z*sp,
	}
}

// rates returns the camera's rotation about its right, down and forward axes in radians a second.
func (s State) rates() (wx, wy, wz float64) {
	sa, ca := math.Sincos(-s.PitchDeg * math.Pi / 180)
	w := s.YawDegS * math.Pi / 180
	return s.PitchDegS * math.Pi / 180, w * ca, w * sa
}

// flow returns the image velocity of a point at x = u/F, y = v/F, with rel its velocity less the
// camera's and iz one over its depth, in units of F a second (Longuet-Higgins & Prazdny 1980, with
// the signs of these axes):
//
//	du = (Vx − x Vz)/Z + x y wx − (1+x²) wy + y wz
//	dv = (Vy − y Vz)/Z + (1+y²) wx − x y wy − x wz
func flow(x, y float64, rel r3.Vec, iz, wx, wy, wz float64) (du, dv float64) {
	du = (rel.X-x*rel.Z)*iz + x*y*wx - (1+x*x)*wy + y*wz
	dv = (rel.Y-y*rel.Z)*iz + (1+y*y)*wx - x*y*wy - x*wz
	return du, dv
}

// Subject returns the image velocity in px/s of a point at pos (camera axes, metres from the camera)
// that moves with vel (camera axes, m/s), and its distance along the optical axis in metres. ok is
// false when it is not in front of the camera. It need not be inside the picture.
func Subject(c Camera, s State, pos, vel r3.Vec) (du, dv, depthM float64, ok bool) {
	if pos.Z <= 0 {
		return 0, 0, pos.Z, false
	}
	wx, wy, wz := s.rates()
	du, dv = flow(pos.X/pos.Z, pos.Y/pos.Z, r3.Sub(vel, s.Velocity), 1/pos.Z, wx, wy, wz)
	return c.FocalPx * du, c.FocalPx * dv, pos.Z, true
}

// InFrame tells whether a point at pos (camera axes) is inside the picture.
func InFrame(c Camera, pos r3.Vec) bool {
	return pos.Z > 0 &&
		math.Abs(pos.X/pos.Z)*c.FocalPx <= c.W/2 &&
		math.Abs(pos.Y/pos.Z)*c.FocalPx <= c.H/2
}
