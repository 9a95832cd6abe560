package kit

import (
	"example.org/skywedge/kit/field"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bag is what the pilot owns: cameras, filters and the settings of the program.
type Bag struct {
	File     string
	Doc      *field.Doc // what was read, with its comments: edit and save through it
	Cameras  []Camera
	Filters  []Filter
	Settings Settings
}

// Camera is a drone's camera.
type Camera struct {
	Name        string
	SensorMM    [2]float64 // width, height
	Pixels      [2]int     // of a still
	VideoPixels [2]int
	FocalMM     float64    // real focal length; focal_35_mm is converted by the sensor's width / 36 mm
	Aperture    [2]float64 // f-numbers, widest first; equal when fixed
	Sharpest    [2]float64 // the range of f-numbers with the least blur; zero when not stated
	ISO         ISO
	FastestS    float64 // shortest exposure, seconds
	SlowestS    float64 // longest exposure, seconds

	// How far over middle grey white lies, in stops: of a finished picture and of a raw still.
	HighlightStops      float64
	StillHighlightStops float64

	Modes        []Mode
	GimbalDeg    [2]float64 // lowest, highest pitch; −90 is straight down
	ReadoutMS    float64    // time from the first to the last row of the sensor
	EnduranceMin float64    // of one battery, fresh and warm

	OffsetStops float64 // the owner's own: how much more light there is than planned; 0 none
	OffsetOn    string
}

// ISO is a camera's range of sensitivities.
type ISO struct{ Base, Clean, Limit float64 }

// Mode is a way of recording. What it did not state of sensitivities and highlights was filled in from
// the camera when the bag was read.
type Mode struct {
	Name           string
	FPS            []float64
	ISO            ISO
	BiasStops      float64 // exposure compensation that the mode asks for, positive for brighter
	HighlightStops float64 // over middle grey before its picture is white
	Crop           float64 // 1 uses the full sensor width
}

// Kind is a kind of filter.
type Kind string

// The kinds, by the words of the bag file.
const (
	Polariser Kind = "polariser"
	Density   Kind = "density"
	Hybrid    Kind = "hybrid" // density and polariser in one mount
	Variable  Kind = "variable"
	Diffusion Kind = "diffusion"
)

// RingKind tells how a filter's ring behaves.
type RingKind string

// The rings, by the words of the bag file.
const (
	RingTurns  RingKind = "turns"
	RingFixed  RingKind = "fixed"
	RingClicks RingKind = "clicks"
)

// Filter is one filter of the bag, with all defaults filled in.
type Filter struct {
	Name          string
	Kind          Kind
	Stops         float64 // density: by label, or as measured where the owner measured it (hybrid: less LossStops)
	LossStops     float64 // what the polarising sheet takes from unpolarised light (polariser, hybrid)
	MarkDeg       float64 // from the mark to the pass axis, clockwise, facing the lens
	FromStops     float64 // variable: lightest setting
	ToStops       float64 // variable: heaviest setting
	Marks         []float64
	RearDeg       float64      // variable: like MarkDeg, for the rear sheet
	OpensCW       bool         // variable: the front ring turns clockwise, facing the lens, for less density
	FixedStops    float64      // variable: plain density in the same mount
	Between       bool         // variable: the owner says that settings between the marks are usable
	Grade         string       // diffusion, on any kind: "1/8", "1/4", "1/2", "1"; "" none
	CastMired     float64      // positive is warmer
	Tint          float64      // positive is magenta
	MeasuredStops float64      // owner's measurement of the whole loss, 0 when there is none; in Stops or LossStops already
	Measured      [][2]float64 // variable: setting by the marks, whole loss as the owner measured it
	MeasuredOn    string
	OffsetStops   float64 // the owner's own: how much more light there is behind it than planned; 0 none
	OffsetOn      string
	Ring          RingKind
	FixedDeg      float64
	ClickDeg      float64
}

// Settings are the program's, kept with the bag.
type Settings struct {
	ReservePct          float64    // of the battery
	LandingChangeS      float64    // to land, change a filter and take off
	HeightCautionM      float64    // above the ground below
	ShutterToleranceDeg [2]float64 // shutter angles that still look right
	ViewingUHD          bool       // viewing: uhd (1.5 picture heights) instead of hd (3)
	Steadiness          string     // calm | normal | windy
	TravelKmh           float64
	Weights             Weights
}

// Weights are what a harm or a gain counts, in stops, none below 0; Aim is the one gain, which package plan
// takes off. The zero value is a choice of its own, in which nothing counts: see [DefaultWeights].
type Weights struct {
	ISO, Shutter, Angle, Blur, Unevenness, Swing, Aim, Clipped, Buried, Corners, Cast, SunOneSheet, SunSheets, Landing float64
}

// Answer is what a filter does to light from one direction: of light with luminance L, degree p
// and unit E vector e it passes L·T·(1 + D·p·(2(e·Pass)² − 1)).
type Answer struct {
	T    float64 // mean transmittance, for unpolarised light
	D    float64 // diattenuation, 0 (density) .. 1 (perfect polariser)
	Pass r3.Vec  // unit vector along the E that passes, square to the ray; camera coordinates; zero when D is 0
}
