// Package route reads a path that was drawn or flown elsewhere and drafts the legs of a card from it, and gives a
// card's path back. It knows three open standards: GPX 1.1, KML 2.2 (OGC 07-147r2) and GeoJSON (RFC 7946).
//
// The one hard idea is that a line says where an aircraft is and nothing else. So a draft is a line cut into pieces
// that a leg can fly, straight or round, each held against every point of the line; and what the line cannot say (the
// zone, the hour, the speed, where the camera looks) is taken from the pilot, or named as missing where it stands.
// Paths that are written from a card carry what a line cannot, under the card's own words, in the place that each
// standard keeps for more: extensions, ExtendedData, properties.
//
// Places are degrees in WGS 84, north and east positive, within 89° of latitude. On the ground everything is metres
// east and north of the path's first point; see [Plane] for how far that holds.
package route

import (
	"strings"
	"time"

	"example.org/skywedge/kit/field"
)

// Limits of what is read.
const (
	MaxBytes  = 32 << 20
	MaxPoints = 100_000 // lines and marks together
	MaxDepth  = 64      // of elements, of arrays and objects
)

// Format is one of the standards.
type Format uint8

// The formats.
const (
	GPX Format = iota
	KML
	GeoJSON
)

func (f Format) String() string { return [...]string{"GPX", "KML", "GeoJSON"}[f] }

// Datum is what the heights of a line count from.
type Datum uint8

// The datums.
const (
	NoHeights      Datum = iota
	AboveTakeOff         // as on a card
	AboveGround          // below each point
	AboveSea             //
	AboveEllipsoid       // of WGS 84, which lies up to 100 m above or below the sea
)

// Point is one point of a line.
type Point struct {
	LatDeg, LonDeg float64
	HeightM        float64 // from the line's datum
	HasHeight      bool
	Time           time.Time // zero when it is not known

	line int // of the file, from 1
}

// Line is one line of a path.
type Line struct {
	Name   string
	Points []Point // two at least, which may be one place
	Datum  Datum
	Looks  *Looks // where the camera looks; nil where the file does not say
}

// Looks is what a card says of a leg and a line cannot: where the camera looks from its start to its end, and what at.
type Looks struct {
	HeadingDeg, TurnDeg float64 // at the start, and the signed turn to the end, clockwise positive
	HasHeading          bool
	PitchDeg            [2]float64
	HasPitch            bool
	HeightM             [2]float64 // above take-off
	HasHeight           bool
	GroundM             [2]float64 // under the aircraft, relative to take-off
	Subject             string     // the name of a mark, where it is at the line's start; "" for none
	SubjectSpeedMS      float64
	SubjectTowardDeg    float64
}

// Mark is a point that stands alone.
type Mark struct {
	Name string
	Point
	Datum Datum
}

// Drawn is what a file holds, or what is to be written into one.
type Drawn struct {
	File       string
	Format     Format
	Name       string // "" when it has none
	Lines      []Line
	Marks      []Mark
	Left       []string // what was left out, in words
	ElevationM *float64 // of take-off above the sea; nil when it is not known
	Zone       string   // of take-off, by its IANA name; "" when it is not known
}

// homeName is the name of the mark at take-off.
const homeName = "take-off"

// isHome tells whether a mark's name is that of take-off, however it is written.
func isHome(name string) bool { return strings.EqualFold(name, homeName) }

// one is a single fault as an error.
func one(f field.Fault) error { return field.Faults{f} }
