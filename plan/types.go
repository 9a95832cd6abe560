package plan

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

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
	SkyOK      bool    // Enough sky in the frame for the three above
	LandEV     float64 // EV100 of the subject or land
	SkyEV      float64 // EV100 of the mean sky
	FrameEV    float64 // EV100 that the frame asks for, through the filter
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
	Move              shot.Move
	Purpose           shot.Purpose
	FromS, ToS        float64 // Flight time
	Heading, Pitch    [2]float64
	SunRelative       [2]float64 // from, to; positive: sun to the right; −180..180
	Strength, Effect  Range
	Swing             Range // [0] = [1]: one number for the leg
	Unevenness        Range
	GlareCut, HazeCut Range
	LandEV, SkyEV     Range   // in bare light
	FrameEV           Range   // as metered, through the filter
	WBK               float64 // white balance to lock, kelvin
	MeterStops        float64 // what the camera's own meter should show, stops over
	Clipped, Buried   float64 // share of the frame that is white, and black, at its worst moment
	DriftStops        float64 // how far the light moves over the leg's takes
	Headroom          float64 // stops the light may still fall before ISO leaves clean, at the darkest moment
	Feasible          bool
	ShortStops        float64     // short of light, positive; too much of it, negative; 0 where it can be exposed
	SunShines         bool        // the state of the sun that the leg is set for
	Other             *OtherState // the leg in the other state under broken cloud; nil where there is one state
	ISO, Shutter      Range       // one exposure a leg: both ends are the same
	Step, BlurPx      Range       // the step of whatever moves fastest
	SubjectStep       Range       // of the subject alone, where it is in the frame
	Judder            Range       // by the scale of Chapiro, Atkins & Daly 2019, where that holds; one number
	SafeShutterS      float64     // the slowest exposure of a still that stays sharp; 0: not a still, +Inf: any
	FramesToKeepOne   int         // of a long exposure, to have a sharp one nine times in ten; 0: not a long exposure
	BurstFrames       int         // short exposures that average to the long one; 0: not a long exposure
	BurstShutterS     float64
	Band              MotionBand // by the subject where there is one in the frame
	BlurWanted        bool
	Facing            string   // front, side or back light; "" after sunset
	OwnBest           *OwnBest // what the filter's ring would do for this leg alone; nil without a ring to set
	Notes             []string // what to expect, in words
	LookOut           []string // those of the notes that a pilot should look out for
}

// OtherState is a leg when a cloud comes before the sun, or leaves it.
type OtherState struct {
	LandEV, FrameEV Range
	ISO, ShutterS   float64
	Feasible        bool
	ShortStops      float64
	Words           string // what to set then; "" where that is what is set anyway
}

// Call is what the program recommends.
type Call struct {
	Filter          string  // "none" for bare
	SettingStops    float64 // of a variable; 0 otherwise
	HasRing         bool    // there is a ring, and where it stands matters
	RingDeg         float64 // where the mark stands, facing the lens
	PassAxisDeg     float64 // seen from behind
	ShutterS        float64 // of the leg that decided
	ShutterAngleDeg float64 // 0 for stills
	ISO             float64 // settable
	Aperture        float64
	WBK             float64
	BlurNeeded      bool
	AsDensity       bool     // a polariser or hybrid whose polariser earns nothing, used for its density
	Reasons         []string // merits first
	ReasonsSigned   []Reason // the same, with what each did to the result
	Cautions        []string
	Ladder          []string
	RingHelp        []string // how to set, find and check the mark; none without a ring to set
	Confidence      string   // holds | close | depends
	ConfidenceWhy   string
}

// Reason is one line of why a call is what it is.
type Reason struct {
	Sign  int     // +1 speaks for it, −1 is what it costs
	Stops float64 // by which it moved the result, never negative; 0 for what has no figure
	Text  string
}

// Candidate is one filter (at one setting and ring) judged on the whole flight.
type Candidate struct {
	Filter       string // "none" for bare
	Kind         kit.Kind
	SettingStops float64
	HasRing      bool // there is a ring, and where it stands matters
	AsDensity    bool // its polariser earns nothing
	RingDeg      float64
	Score        float64 // stops of penalty, lower is better
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

// ScoreLine is one penalty (positive) or gain (negative) in a candidate's score.
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
	AsDensity bool
	GainStops float64 // stops a leg against one filter for every leg; 0 where one flight is enough

	SettingStops float64 // of a variable
	Change       string  // what the landing before this flight is for, in words; "" for the first
	Set          Call    // what to set on this flight: shutter, ISO, white balance, reasons, ladder
	LightLeftMin float64 // minutes from take-off until its exposure runs out; +Inf never
}

// Report is everything that is known of a shot.
type Report struct {
	Shot             *shot.Shot
	Bag              *kit.Bag
	Path             []shot.Moment
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
