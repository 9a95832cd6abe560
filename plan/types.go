package plan

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
	Skyline        [][2]float64 // bearing, altitude, sorted by bearing; nil when open
	DeclinationDeg *float64     // east positive; nil when not given
	Notes          string
	Flown          []Flown
	Settings       kit.Settings // of the bag the card was read with

	airKind sun.AirKind // where another is tried than nothing is known of
}

// Flown is one line of the card's log: what was flown, and whether it looked as foretold.
type Flown struct {
	When     time.Time // zero when it was not written
	Leg      int       // index into Shot.Legs; −1: the whole flight
	Filter   string
	RingDeg  float64 // meaningful when RingSet
	RingSet  bool
	ShutterS float64
	ISO      float64
	Worked   string // yes | partly | no; "" not said
	Saw      string
}

// Weather is the card's light block.
type Weather struct {
	CloudPct     float64
	Sun          sun.Shine
	VisibilityKm float64 // meteorological optical range, 5 % definition
	WindMS       float64
	WindFromDeg  float64
	AirC         float64
}

// Leg is one piece of the flight, everything derived.
type Leg struct {
	Move       Move
	Purpose    Purpose
	Mode       kit.Mode
	FPS        float64
	ShutterS   float64 // the wanted shutter: from the angle, as set, or exposure_s; 0: the program's choice
	ShutterSet bool    // the card names the shutter itself (shutter_s or exposure_s), no tolerance
	Aim        Aim
	Ground     Ground
	BiasStops  float64
	Seconds    float64
	Heading    Sweep      // true degrees at the leg's start, and the signed turn over the leg
	HeadingSun [2]bool    // the end was written relative to the sun
	HeadingOff [2]float64 // with both ends relative: degrees clockwise from the sun's azimuth at the two ends
	Pitch      [2]float64 // 0 level, −90 straight down; at the two ends
	PitchAuto  bool       // pitch follows the target
	Height     [2]float64 // above take-off
	GroundM    [2]float64 // ground under the aircraft, relative to take-off
	SpeedMS    float64    // over the ground; of an orbit: derived, round the target
	Climb      float64    // m/s
	CourseDeg  float64    // of flight, true; where the heading turns, at the leg's start
	CourseSet  bool       // the card names the course; else it follows from the move and turns with the heading
	SlideLeft  bool       // a slide goes left; else right
	StillsToo  bool
	Target     *Target

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
	Sun        [2]sun.Position // at Time
}

// Range is a [min, max] pair; null in JSON when nothing could be measured.
type Range struct {
	Min, Max float64
	OK       bool
}

// Measure is what one moment of the flight looks like with one filter at one ring.
type Measure struct {
	Strength   float64 // stops between the weakest and the strongest ring, median over the sky in the frame
	Effect     float64 // stops against a density of the same loss, mean over the sky; negative darkens
	Unevenness float64 // stops, 95th − 5th percentile over the sky in the frame
	SkyOK      bool    // enough sky in the frame for the three above
	LandEV     float64 // EV100 of the subject or land
	SkyEV      float64 // EV100 of the mean sky
	StepArcmin float64 // image step a frame, 90th percentile below the horizon (or the subject's)
	BlurPx     float64
	ISO        float64 // that the metered exposure asks for at the leg's shutter
	ShutterS   float64
	HeadroomEV float64 // stops the light may still fall before ISO leaves clean
}

// MotionBand is how image motion reads to a viewer.
type MotionBand string

// The bands.
const (
	Calm    MotionBand = "calm"
	Flowing MotionBand = "flowing"
	Fast    MotionBand = "fast"
	Whip    MotionBand = "whip"
)

// LegReport is one leg under the chosen filter. Ranges are over its moments, both ends of the takes.
type LegReport struct {
	Move              Move
	Purpose           Purpose
	FromS, ToS        float64 // flight time
	Heading, Pitch    [2]float64
	SunRelative       [2]float64 // from, to; positive: sun to the right; −180..180
	Strength, Effect  Range
	Swing             Range // [0] = [1]: one number for the leg
	Unevenness        Range
	GlareCut, HazeCut Range
	LandEV, SkyEV     Range
	ISO, Shutter      Range
	Step, BlurPx      Range   // the step of whatever moves fastest
	SubjectStep       Range   // of the subject alone, where it is in the frame
	Judder            Range   // by the scale of Chapiro, Atkins & Daly 2019, where that holds; one number
	SafeShutterS      float64 // the slowest exposure of a still that stays sharp; 0: not a still, +Inf: any
	FramesToKeepOne   int     // of a long exposure, to have a sharp one nine times in ten; 0: not a long exposure
	BurstFrames       int     // short exposures that average to the long one; 0: not a long exposure
	BurstShutterS     float64
	Band              MotionBand // by the subject where there is one in the frame
	BlurWanted        bool
	Facing            string   // front, side or back light; "" after sunset
	OwnBest           *OwnBest // what the filter's ring would do for this leg alone; nil without a ring to set
	Notes             []string // what to expect, in words
	LookOut           []string // those of the notes that a pilot should look out for
}

// Call is what the program recommends.
type Call struct {
	Filter          string  // "none" for bare
	SettingStops    float64 // of a variable; 0 otherwise
	HasRing         bool
	RingDeg         float64 // where the mark stands, facing the lens
	PassAxisDeg     float64 // seen from behind
	ShutterS        float64 // of the leg that decided
	ShutterAngleDeg float64 // 0 for stills
	ISO             float64 // settable
	Aperture        float64
	WBK             float64
	BlurNeeded      bool
	Reasons         []string
	Cautions        []string
	Ladder          []string
	RingHelp        []string // how to set, find and check the mark; none without a ring to set
	Confidence      string   // holds | close | depends
	ConfidenceWhy   string
}

// Candidate is one filter (at one setting and ring) judged on the whole flight.
type Candidate struct {
	Filter       string // "none" for bare
	Kind         kit.Kind
	SettingStops float64
	HasRing      bool
	RingDeg      float64
	Score        float64 // stops of harm, lower is better
	Feasible     bool
	Effect       Range
	Unevenness   Range
	Headroom     Range
	GlareCut     Range
	HazeCut      Range
	Swing        Range // the largest during a leg; one number
	ISO, Shutter Range // over the legs' darkest and brightest light, exact
	Lines        []ScoreLine
	Reasons      []string
	WhyNot       string // what lost it, against the winner
}

// ScoreLine is one harm (positive) or gain (negative) in a candidate's score.
type ScoreLine struct {
	Name  string
	Stops float64
	Words string
}

// Flight is a run of legs flown with one filter.
type Flight struct {
	Legs      []int
	Filter    string
	RingDeg   float64
	HasRing   bool
	GainStops float64 // stops a leg against one filter for every leg; 0 where one flight is enough

	SettingStops float64 // of a variable
	Change       string  // what the landing before this flight is for, in words; "" for the first
	Set          Call    // what to set on this flight: shutter, ISO, white balance, reasons, ladder
	LightLeftMin float64 // minutes from take-off until its exposure runs out; +Inf never
}

// Report is everything that is known of a shot.
type Report struct {
	Shot             *Shot
	Bag              *kit.Bag
	Path             []Moment
	Measures         []Measure // one a moment, under the call's filter: the worse of the two takes
	Legs             []LegReport
	Call             Call
	Candidates       []Candidate // ranked, best first; all of them
	Flights          []Flight
	LightChangeStops float64 // from the first take's start to the last take's end, negative falls
	FlightMin        float64
	Batteries        int
	LightLeftMin     float64 // minutes from take-off until the call's exposure runs out; +Inf never
	LatestStartMin   float64 // minutes from the planned take-off to the latest with which every take still has light; negative: too late already; +Inf: the light does not run out

	Sure *Sureness // what little errors would change; nil until it is worked out
}

// Picture is the frame through the lens, bare and as the filter changes it. Pixels run row by row
// from the top left.
type Picture struct {
	W, H    int
	Bare    []float64    // luminance, cd/m²
	Loss    []float64    // light lost in the filter, stops, positive
	Sky     []bool       // the ray meets the sky
	Colour  [][3]float32 // linear red, green, blue of the bare frame, with luminance Bare
	SunX    float64      // where the sun is, −1..1 across and up; meaningful when SunIn
	SunY    float64
	SunIn   bool
	Horizon []float64  // per column, the y (−1..1) of the horizon, with its dip
	Shadow  FramePoint // where the aircraft's own shadow falls; none without a sun that shines
	Mirror  FramePoint // where level water shows the sun; none over ground that has no glint
}

// FramePoint is a place in a picture, −1..1 across and up; X and Y mean something when In.
type FramePoint struct {
	X, Y float64
	In   bool
}
