package shot

import (
	"math"

	"example.org/skywedge/kit"
	"gonum.org/v1/gonum/spatial/r3"
)

// View is a camera's orientation and field in the local East-North-Up system. Camera coordinates
// are right, up, forward as the picture appears; that frame is left-handed, which changes the sign
// of cross products and nothing that is computed from it here.
type View struct {
	Right, Up, Forward r3.Vec
	HalfWidth          float64 // tangent of half the horizontal field
	HalfHeight         float64 // tangent of half the vertical field
}

// NewView points a camera. The heading counts clockwise from true north, the pitch is 0 level and
// −90 straight down, both in degrees. Video is 16:9 over the sensor's full width, divided by the
// mode's crop; a still has the sensor's own shape.
func NewView(c kit.Camera, m kit.Mode, still bool, headingDeg, pitchDeg float64) View {
	sh, ch := math.Sincos(headingDeg * math.Pi / 180)
	sp, cp := math.Sincos(pitchDeg * math.Pi / 180)
	v := View{
		Right:   r3.Vec{X: ch, Y: -sh},
		Up:      r3.Vec{X: -sh * sp, Y: -ch * sp, Z: cp},
		Forward: r3.Vec{X: sh * cp, Y: ch * cp, Z: sp},
	}
	v.HalfWidth, v.HalfHeight = HalfField(c, m, still)
	return v
}

// HalfField returns the tangents of half the horizontal and vertical field of view.
func HalfField(c kit.Camera, m kit.Mode, still bool) (w, h float64) {
	w = c.SensorMM[0] / (2 * c.FocalMM)
	if still {
		return w, w * c.SensorMM[1] / c.SensorMM[0]
	}
	if m.Crop > 0 {
		w /= m.Crop
	}
	return w, w * 9 / 16
}

// Ray returns the unit vector towards a point of the picture, x from −1 (left) to 1, y from −1
// (bottom) to 1.
func (v View) Ray(x, y float64) r3.Vec { return v.World(v.Local(x, y)) }

// Local returns the same in camera coordinates.
func (v View) Local(x, y float64) r3.Vec {
	return r3.Unit(r3.Vec{X: x * v.HalfWidth, Y: y * v.HalfHeight, Z: 1})
}

// World turns camera coordinates into East-North-Up.
func (v View) World(d r3.Vec) r3.Vec {
	return r3.Vec{
		X: d.X*v.Right.X + d.Y*v.Up.X + d.Z*v.Forward.X,
		Y: d.X*v.Right.Y + d.Y*v.Up.Y + d.Z*v.Forward.Y,
		Z: d.X*v.Right.Z + d.Y*v.Up.Z + d.Z*v.Forward.Z,
	}
}

// Camera turns East-North-Up into camera coordinates.
func (v View) Camera(d r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(d, v.Right), Y: r3.Dot(d, v.Up), Z: r3.Dot(d, v.Forward)}
}

// Project returns where a direction (East-North-Up) falls in the picture, in the units of [View.Ray];
// ok is false when it is behind the camera.
func (v View) Project(d r3.Vec) (x, y float64, ok bool) {
	c := v.Camera(d)
	if c.Z <= 1e-9 {
		return 0, 0, false
	}
	return c.X / c.Z / v.HalfWidth, c.Y / c.Z / v.HalfHeight, true
}

// Frames returns the same where the direction is in the picture; in is false elsewhere.
func (v View) Frames(d r3.Vec) (x, y float64, in bool) {
	x, y, ok := v.Project(d)
	return x, y, ok && math.Abs(x) <= 1 && math.Abs(y) <= 1
}
