package plantest

import (
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// SingleScatter is the textbook sky: light scattered once by small particles, of greatest degree
// peak, equally bright everywhere. E stands square to the plane through the sun.
type SingleScatter struct {
	Sun  r3.Vec
	Peak float64
}

// Stokes returns Q/I and U/I in a basis square to the ray.
func (s SingleScatter) Stokes(d, u1, u2 r3.Vec) (q, u float64) {
	c := r3.Dot(d, s.Sun)
	n := r3.Cross(d, s.Sun)
	if r3.Norm(n) < 1e-12 {
		return 0, 0
	}
	e := r3.Unit(n)
	p := s.Peak * (1 - c*c) / (1 + c*c)
	x, y := r3.Dot(e, u1), r3.Dot(e, u2)
	return p * (x*x - y*y), 2 * p * x * y
}

// Radiance is the same everywhere.
func (s SingleScatter) Radiance(r3.Vec) float64 { return 1 }

// Lens is a camera with a 16:9 frame of so many degrees across.
func Lens(fieldDeg float64) kit.Camera {
	const w = 16.0
	return kit.Camera{SensorMM: [2]float64{w, 9}, FocalMM: w / 2 / math.Tan(fieldDeg*math.Pi/360)}
}

// Ray makes the textbook sky answer like a sky.
func (s SingleScatter) Ray(d r3.Vec) sun.Ray {
	c := r3.Dot(d, s.Sun)
	n := r3.Cross(d, s.Sun)
	if r3.Norm(n) < 1e-9 {
		return sun.Ray{Luminance: 1, E: r3.Vec{X: 1}}
	}
	return sun.Ray{Luminance: 1, Degree: s.Peak * (1 - c*c) / (1 + c*c), E: r3.Unit(n)}
}

// DetailContrast returns the contrast that is left of detail of contrast 1 behind air that lets a share of
// the light through: bare and with a polariser crossed to the airlight, whose degree is p (after Schechner,
// Narasimhan & Nayar 2001, from memory). The land is j times as bright as the horizon sky.
func DetailContrast(through, p, j float64) (bare, crossed float64) {
	t := through
	return j * t / (j*t + 1 - t), j * t / (j*t + (1-t)*(1-p))
}
