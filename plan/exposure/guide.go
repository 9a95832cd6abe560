package exposure

// GuideRow is one row of the published daylight exposure guide.
type GuideRow struct {
	Sky   string
	EV100 float64
}

// Guide is the daylight exposure guide of ANSI PH2.7 as reproduced publicly: the EV at ISO 100 for a
// front-lit subject from two hours after sunrise to two hours before sunset. It serves as an outside
// check of the model of light, not as an input.
var Guide = []GuideRow{
	{"full sun", 15},
	{"hazy sun, soft shadows", 14},
	{"cloudy bright, no shadows", 13},
	{"overcast, or open shade under a clear sky", 12},
}

// Corrections of the guide in stops for light from the side and from behind.
const (
	GuideSideStops = -1.0
	GuideBackStops = -2.0
)

// GuideSunsetSky gives the guide's EV100 around sunset: the sky near the sun before, at and after
// sunset, as [low, high]. The land is far darker by then.
var GuideSunsetSky = struct{ Before, At, After [2]float64 }{
	Before: [2]float64{12, 14}, At: [2]float64{12, 12}, After: [2]float64{9, 11},
}
