package shot

import (
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Move is what the aircraft does on a leg, by the words of the card.
type Move string

// The moves.
const (
	Push   Move = "push"
	Pull   Move = "pull"
	Slide  Move = "slide"
	Follow Move = "follow"
	Orbit  Move = "orbit"
	Rise   Move = "rise"
	Pan    Move = "pan"
	Tilt   Move = "tilt"
	Hold   Move = "hold"
)

// Purpose is what a leg is for.
type Purpose string

// The purposes.
const (
	Video Purpose = "video"
	Still Purpose = "still"
	Long  Purpose = "long"
)

// Aim is what the polariser is to do.
type Aim string

// The aims.
const (
	AimSky     Aim = "sky"
	AimWater   Aim = "water"
	AimLeaf    Aim = "leaf"
	AimHaze    Aim = "haze"
	AimKeep    Aim = "keep"
	AimBalance Aim = "balance"
)

// Expose is what the exposure of a leg is made for. A checked leg always names one.
type Expose string

// What an exposure can be made for.
const (
	ExposeMiddle     Expose = "middle"     // land and sky by their share of the frame, large highlights held
	ExposeHighlights Expose = "highlights" // what is brightest is held
	ExposeLand       Expose = "land"       // an incident reading on the land alone
)

// WBKind is how the white balance of a leg is chosen.
type WBKind string

// The ways to choose a white balance.
const (
	WBDaylight WBKind = "daylight" // daylight, against the filter's cast: evening stays warm, the blue hour blue
	WBNeutral  WBKind = "neutral"  // the light made grey
	WBKelvin   WBKind = "kelvin"   // as the card says
)

// WhiteBalance is the white balance that a leg is to be flown with. A checked leg always names a kind.
type WhiteBalance struct {
	Kind   WBKind
	Kelvin float64 // 2000 to 12000 with WBKelvin; 0 with the others
}

// Ground is what lies under the flight.
type Ground string

// The grounds.
const (
	Water  Ground = "water"
	Grass  Ground = "grass"
	Forest Ground = "forest"
	Sand   Ground = "sand"
	Rock   Ground = "rock"
	Snow   Ground = "snow"
	Town   Ground = "town"
)

// Shot is a card that was checked, with units and defaults filled in.
type Shot struct {
	Name           string
	LatDeg, LonDeg float64
	ElevationM     float64 // of the take-off place above the sea
	Zone           *time.Location
	TakeOff        time.Time
	Camera         kit.Camera
	Filter         string // "auto", "none" or the name of a filter of the bag
	RingAuto       bool
	RingDeg        float64 // where the mark stands, facing the lens; rear sheet of a variable
	Light          Weather
	TransitS       float64 // out and home together
	Takes          int     // per leg
	ResetS         float64 // flying back between takes
	Legs           []Leg
	Skyline        [][2]float64 // Bearing, altitude, sorted by bearing; nil when open
	DeclinationDeg *float64     // east positive; nil when not given
	Want           *Want        // the light that the shot is for; nil when the card does not say, see [Shot.Wanted]
	Notes          string
	Flown          []Flown
	Settings       kit.Settings // of the bag the card was read with

	own time.Time // the card's own take-off, where [Shot.At] has set another; else zero
}

// Weather is the card's light block.
type Weather struct {
	CloudPct     float64
	OtherState   bool // broken cloud: the state of the sun that the camera is not set for
	Sun          sun.Shine
	Air          sun.AirKind // what the aerosol is
	VisibilityKm float64     // meteorological optical range, 5 % definition
	WindMS       float64
	WindFromDeg  float64
	AirC         float64
}

// Leg is one piece of the flight, everything derived.
type Leg struct {
	Move         Move
	Purpose      Purpose
	Mode         kit.Mode
	FPS          float64
	ShutterS     float64 // the wanted shutter: from the angle, as set, or exposure_s; 0: the program's choice
	ShutterSet   bool    // the card names the shutter itself (shutter_s or exposure_s), no tolerance
	Aim          Aim
	Ground       Ground
	Expose       Expose
	WhiteBalance WhiteBalance
	BiasStops    float64
	Seconds      float64
	Heading      Sweep      // true degrees at the leg's start, and the signed turn over the leg
	HeadingSun   [2]bool    // the end was written relative to the sun
	HeadingOff   [2]float64 // with both ends relative: degrees clockwise from the sun's azimuth at the two ends
	Pitch        [2]float64 // 0 level, −90 straight down; at the two ends
	PitchAuto    bool       // pitch follows the target
	Height       [2]float64 // above take-off
	GroundM      [2]float64 // ground under the aircraft, relative to take-off
	SpeedMS      float64    // over the ground; of an orbit: derived, round the target
	Climb        float64    // m/s
	CourseDeg    float64    // of flight, true; where the heading turns, at the leg's start
	CourseSet    bool       // the card names the course; else it follows from the move and turns with the heading
	SlideLeft    bool       // a slide goes left; else right
	StillsToo    bool
	Target       *Target

	wrote *draft // what the card says of a heading that goes by the sun, for the same leg at another time
}

// Sweep is an angle that changes at a steady rate: From at the start, From+By at the end.
type Sweep struct{ From, By float64 }

// Target is the subject of a leg.
type Target struct {
	DistanceM float64 // over the ground, at the start of the leg
	SpeedMS   float64 // the subject's own movement
	TowardDeg float64 // where it moves, true
	HeightM   float64 // above take-off
}

// Moment is one sample of the path.
type Moment struct {
	Leg        int
	FlightS    float64      // flight time with one take a leg and no transit, resets left out
	Frac       float64      // 0 at the leg's start .. 1 at its end
	Time       [2]time.Time // on the leg's first take and on its last
	Pos        r3.Vec       // metres east, north and up of the take-off point
	Velocity   r3.Vec       // m/s, East-North-Up
	HeadingDeg float64
	PitchDeg   float64
	YawDegS    float64 // rate of heading, clockwise positive
	PitchDegS  float64 // nose up positive
	AboveM     float64 // height above the ground below
	Target     r3.Vec  // position of the subject; meaningful when the leg has one
	TargetVel  r3.Vec
	Away       r3.Vec          // of the subject from the aircraft: the same to the last bit wherever the leg begins
	Sun        [2]sun.Position // at Time
}
