package sun

import (
	"math"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// Position is where a body stands in the local sky.
type Position struct {
	GeometricDeg float64 // altitude above the horizon without refraction, parallax taken off
	AltitudeDeg  float64 // apparent altitude: with refraction
	AzimuthDeg   float64 // from true north, clockwise, 0 <= a < 360
}

// Direction returns the unit vector towards the body (apparent), in East-North-Up.
func (p Position) Direction() r3.Vec { return Direction(p.AzimuthDeg, p.AltitudeDeg) }

// Moon is the moon in the local sky.
type Moon struct {
	Position
	LitFraction float64 // 0 new .. 1 full
	DistanceKm  float64
}

// DayKind tells what the sun does on a calendar date at a place.
type DayKind int

// The kinds of day. RisesOnly and SetsOnly happen near the ends of polar day and night.
const (
	RisesAndSets DayKind = iota
	UpAllDay
	DownAllDay
	RisesOnly
	SetsOnly
)

// Day holds the sun's events on one local calendar date. An event that does not happen is the zero
// time.Time on every architecture.
type Day struct {
	Noon                 time.Time // transit: hour angle 0
	NoonAltitudeDeg      float64   // geometric
	Sunrise, Sunset      time.Time // geometric altitude -0.8333°
	CivilDawn, CivilDusk time.Time // -6°
	NauticalDawn         time.Time // -12°
	NauticalDusk         time.Time
	LowMorningEnd        time.Time // +6° rising: the end of the low sun in the morning
	LowEveningStart      time.Time // +6° falling
	Kind                 DayKind
	Note                 string // one sentence when some event is missing, "" otherwise
}

// Light is what falls on a place, from sun, moon and sky, in lux. TotalLx is SkyLx and both beams
// together on the horizontal.
type Light struct {
	TotalLx        float64 // on the horizontal
	SkyLx          float64 // the sky's part of it
	DirectNormalLx float64 // from the sun's disc on a surface square to it
	SunAltDeg      float64 // apparent altitude used for direct light
	SunAzDeg       float64
	MoonNormalLx   float64 // from the moon's disc on a surface square to it
	MoonAltDeg     float64 // apparent
	MoonAzDeg      float64
}

// Ray is the light that comes from one direction.
type Ray struct {
	Luminance float64 // cd/m²
	Degree    float64 // degree of linear polarisation, 0..1
	E         r3.Vec  // unit vector along the electric field, square to the direction; sign free
}

// Direction returns the unit vector in East-North-Up towards an azimuth (from north, clockwise) and
// an altitude, both in degrees.
func Direction(azimuthDeg, altitudeDeg float64) r3.Vec {
	sa, ca := math.Sincos(azimuthDeg * math.Pi / 180)
	sh, ch := math.Sincos(altitudeDeg * math.Pi / 180)
	return r3.Vec{X: ch * sa, Y: ch * ca, Z: sh}
}
