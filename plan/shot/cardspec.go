package shot

import (
	"fmt"
	"slices"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/sun"
)

// version is the newest format of a card that this program knows.
const version = 1

// Limits of a flight (ours: wide enough for anything that a drone with a camera does).
const (
	maxLegs    = 64
	maxLegS    = 3600
	lowestM    = -200 // a height above take-off, which may be a cliff
	highestM   = 6000
	deepestM   = -1000 // the ground, relative to take-off
	farthestM  = 20000
	leastTurns = 0.01
)

// The words of the card.
var (
	moveWords    = []string{"push", "pull", "slide", "follow", "orbit", "rise", "pan", "tilt", "hold"}
	purposeWords = []string{"video", "still", "long"}
	aimWords     = []string{"sky", "water", "leaf", "haze", "keep", "balance"}
	exposeWords  = []string{string(ExposeMiddle), string(ExposeHighlights), string(ExposeLand)}
	whiteWords   = []string{string(WBDaylight), string(WBNeutral)}
	airWords     = []string{"auto", "sea", "town", "dust"}
	sideWords    = []string{string(SideAny), string(SideFront), string(SideSide), string(SideBack)}
	groundWords  = []string{"water", "grass", "forest", "sand", "rock", "snow", "town"}
)

// CardSpec returns the table of fields of a card: what each means, its unit, its range and its default.
func CardSpec() *field.Spec { return cardTable }

var cardTable = &field.Spec{Kind: field.Map, Help: "a shot: where, when, with what, and the legs of the flight", Fields: cardFields()}

func cardFields() []field.Spec {
	fields := []field.Spec{
		{Key: "skywedge", Kind: field.Integer, Required: true, More: true, Default: "1", Help: "version of the format"},
		{Key: "name", Kind: field.Text, Required: true, Help: "name of the shot", Check: notBlank},
		{Key: "place", Kind: field.Map, Required: true, Help: "where take-off is", Fields: []field.Spec{
			{Key: "lat", Kind: field.Number, Required: true, Unit: "°", Min: -90, Max: 90, Step: 0.001, Help: "latitude, north positive",
				Read: degreesBy(place.Latitude), Also: "degrees as 64°02.9'N"},
			{Key: "lon", Kind: field.Number, Required: true, Unit: "°", Min: -180, Max: 180, Step: 0.001, Help: "longitude, east positive",
				Read: degreesBy(place.Longitude), Also: "degrees as 16°10.8'W"},
			{Key: "zone", Kind: field.Custom, Required: true, Help: "time zone by its IANA name, such as Europe/Madrid", Check: checkZone},
			{Key: "elevation_m", Kind: field.Number, Unit: "m", Min: -430, Max: 6000, Step: 10, Default: "0", More: true, Help: "of take-off above the sea"},
		}},
		{Key: "take_off", Kind: field.Custom, Required: true, Help: "date and time, local to the zone", Check: checkTakeOff},
		{Key: "camera", Kind: field.Text, Required: true, Help: "name of a camera in the bag", Check: notBlank},
		{Key: "filter", Kind: field.Text, Default: "auto", More: true, Help: "auto, none or the name of a filter in the bag", Check: notBlank},
		{Key: "ring_deg", Kind: field.Number, Words: []string{"auto"}, Unit: "°", Min: 0, Max: 360, Step: 15, Default: "auto", More: true,
			Help: "where the mark stands, clockwise from 12 o'clock, facing the lens"},
		{Key: "light", Kind: field.Map, More: true, Help: "sky, air and wind", Fields: []field.Spec{
			{Key: "cloud_pct", Kind: field.Number, Unit: "%", Min: 0, Max: 100, Step: 10, Default: "10", More: true, Help: "of the sky covered by cloud"},
			{Key: "sun", Kind: field.Word, Words: []string{"auto", "shining", "hidden"}, Default: "auto", More: true, Help: "does the sun itself shine through; auto: broken cloud is taken both ways"},
			{Key: "visibility_km", Kind: field.Number, Unit: "km", Min: 0.5, Max: 300, Step: 5, Default: "30", More: true, Help: "how far dark hills can be seen at all (5 % contrast)"},
			{Key: "air", Kind: field.Word, Words: airWords, Default: "auto", More: true, Help: "what makes the haze: sea salt, fresh haze of a town, or dust and smoke; auto: not known"},
			{Key: "wind_ms", Kind: field.Number, Unit: "m/s", Min: 0, Max: 40, Step: 1, Default: "4", More: true, Help: "wind"},
			bearingSpec("wind_from_deg", "250", "where the wind comes from, from true north"),
			{Key: "air_c", Kind: field.Number, Unit: "°C", Min: -50, Max: 55, Step: 1, Default: "14", More: true, Help: "air temperature"},
		}},
		{Key: "flight", Kind: field.Map, More: true, Help: "what the battery pays besides the legs", Fields: []field.Spec{
			{Key: "transit_s", Kind: field.Number, Unit: "s", Min: 0, Max: 3600, Step: 30, Default: "180", More: true, Help: "out and home together"},
			{Key: "takes", Kind: field.Integer, Min: 1, Max: 50, Step: 1, Default: "3", More: true, Help: "how often each leg is flown"},
			{Key: "reset_s", Kind: field.Number, Unit: "s", Min: 0, Max: 1800, Step: 5, Default: "45", More: true, Help: "flying back after a take"},
		}},
	}
	fields = append(fields, sharedFields(true)...)
	return append(fields,
		field.Spec{Key: "legs", Kind: field.List, Required: true, MinItems: 1, MaxItems: maxLegs, Help: "the pieces of the flight, in order",
			Item: &field.Spec{Kind: field.Map, Help: "one piece of the flight", Fields: legFields()}},
		field.Spec{Key: "skyline", Kind: field.Pairs, More: true, MaxItems: 360, Check: checkRidge, Help: "bearing and altitude of a ridge that hides the sun, as seen from take-off; skywedge skyline works it out from elevation tiles"},
		field.Spec{Key: "declination_deg", Kind: field.Number, Unit: "°", Min: -180, Max: 180, Step: 0.1, More: true, Help: "magnetic declination, east positive"},
		field.Spec{Key: "want", Kind: field.Map, More: true, Help: "the light that the shot is for; left out, light as at take-off", Fields: []field.Spec{
			{Key: "sun_height_deg", Kind: field.Number, PairOnly: true, Unit: "°", Min: -90, Max: 90, Step: 1, More: true,
				Help: "how high the sun is to stand, lowest and highest; left out, as at take-off"},
			{Key: "sun_side", Kind: field.Word, Words: sideWords, Default: string(SideAny), More: true,
				Help: "front: the sun behind the camera; side: beside it; back: before it"},
		}},
		field.Spec{Key: "notes", Kind: field.Text, Lines: true, More: true, Help: "anything worth keeping"},
		field.Spec{Key: "flown", Kind: field.List, More: true, Help: "the log: what was flown and what it looked like",
			Item: &field.Spec{Kind: field.Map, Help: "one line of the log", Fields: flownFields()}},
	)
}

// sharedFields may stand on the card and on a leg, which then wins. Only on the card do they have
// defaults.
func sharedFields(card bool) []field.Spec {
	fields := []field.Spec{
		{Key: "purpose", Kind: field.Word, Words: purposeWords, Default: "video", Help: "video, still or long exposure", More: !card},
		{Key: "mode", Kind: field.Text, Default: "normal", More: true, Help: "a mode of the camera", Check: notBlank},
		{Key: "fps", Kind: field.Number, Min: 1, Max: 1000, Step: 1, Default: "24", More: true, Help: "frames a second, of those the mode has"},
		{Key: "shutter_angle_deg", Kind: field.Number, Unit: "°", Min: 1, Max: 360, Step: 45, More: true, Help: "of video: 180 is the usual; left out, the program chooses"},
		{Key: "shutter_s", Kind: field.Seconds, Unit: "s", Min: 1.0 / 64000, Max: 60, More: true, Help: "of video or a still, as 1/50; left out, the program chooses"},
		{Key: "exposure_s", Kind: field.Seconds, Unit: "s", Min: 1.0 / 100, Max: 120, More: true, Help: "of a long exposure; left out, the program chooses"},
		{Key: "aim", Kind: field.Word, Words: aimWords, Default: "water", More: true, Help: "what a polariser is to do; keep cuts least"},
		{Key: "expose", Kind: field.Word, Words: exposeWords, Default: string(ExposeMiddle), More: true,
			Help: "what the exposure is for: middle weighs land and sky, highlights holds the brightest, land reads land alone"},
		{Key: "white_balance", Kind: field.Number, Words: whiteWords, Unit: "K", Min: 2000, Max: 12000, Step: 100, Default: string(WBDaylight), More: true,
			Help: "daylight (5500 K less the filter's cast), neutral (the light made grey) or kelvin"},
		{Key: "ground", Kind: field.Word, Words: groundWords, Default: "water", More: true, Help: "what lies under the flight"},
		{Key: "bias_stops", Kind: field.Number, Unit: "stops", Min: -4, Max: 4, Step: 1.0 / 3, Default: "0", More: true, Help: "wanted over-exposure"},
	}
	if !card {
		for i := range fields {
			fields[i].Default = ""
			fields[i].Help += "; as the card says where it is left out"
		}
	}
	return fields
}

func legFields() []field.Spec {
	metres := func(key, def, help string, lo, hi float64, required bool) field.Spec {
		return field.Spec{Key: key, Kind: field.Number, Unit: "m", Min: lo, Max: hi, Step: 5, Default: def, Required: required, Help: help}
	}
	ground := metres("ground_m", "0", "the ground under the aircraft, relative to take-off", deepestM, highestM, false)
	ground.Pair, ground.More = true, true
	height := metres("height_m", "40", "above take-off; left out, as the leg before ended (the first: 40)", lowestM, highestM, false)
	height.Pair = true
	course := bearingSpec("course_deg", "", "where the aircraft flies to, when the move does not say it")
	toward := bearingSpec("toward_deg", "0", "where the subject moves, from true north")
	return append([]field.Spec{
		{Key: "move", Kind: field.Word, Words: moveWords, Required: true, Help: "what the aircraft does"},
		{Key: "heading_deg", Kind: field.Custom, Pair: true, Required: true, Unit: "°", Step: 5, Check: checkHeading,
			Help: "where the camera looks, from true north; also NW or sun+90; a pair turns"},
		{Key: "turn", Kind: field.Word, Words: []string{"cw", "ccw"}, More: true, Help: "way round of a heading pair; left out, the shorter"},
		{Key: "turns", Kind: field.Number, Min: leastTurns, Max: 20, Step: 0.25, More: true, Help: "how many whole turns, where it is more than the pair says"},
		{Key: "seconds", Kind: field.Number, Required: true, Unit: "s", Min: 1, Max: maxLegS, Step: 5, Help: "length of one take"},
		{Key: "speed_ms", Kind: field.Number, Unit: "m/s", Min: 0, Max: maxSpeedMS, Step: 0.5, Help: "over the ground; an orbit and a follow derive it"},
		height,
		ground,
		{Key: "pitch_deg", Kind: field.Number, Pair: true, Unit: "°", Min: -90, Max: 90, Step: 5,
			Help: "0 level, -90 straight down; left out, level, or at the target where there is one"},
		{Key: "to", Kind: field.Word, Words: []string{"left", "right"}, More: true, Help: "which way a slide goes"},
		course,
		{Key: "target", Kind: field.Map, More: true, Help: "the subject, ahead along the heading at the leg's start", Fields: []field.Spec{
			metres("distance_m", "", "to the subject over the ground, at the leg's start", 0, farthestM, true),
			{Key: "speed_ms", Kind: field.Number, Unit: "m/s", Min: 0, Max: 100, Step: 0.5, Default: "0", More: true, Help: "the subject's own"},
			toward,
			{Key: "height_m", Kind: field.Number, Unit: "m", Min: deepestM, Max: highestM, Step: 5, More: true,
				Help: "of the subject above take-off; left out, on the ground"},
		}},
		{Key: "stills_too", Kind: field.Bool, Default: "false", More: true, Help: "a still taken on this leg is to be sharp as well"},
	}, sharedFields(false)...)
}

func bearingSpec(key, def, help string) field.Spec {
	return field.Spec{Key: key, Kind: field.Custom, Unit: "°", Step: 5, Default: def, More: true, Help: help, Check: checkBearing}
}

func notBlank(text string) error {
	for _, r := range text {
		if r != ' ' && r != '\t' {
			return nil
		}
	}
	return fmt.Errorf("a text that is not empty")
}

// checkRidge takes a point of the skyline: "250 4".
func checkRidge(text string) error {
	var az, alt float64
	if _, err := fmt.Sscan(text, &az, &alt); err != nil || az < 0 || az > 360 || alt < -10 || alt > 90 {
		return fmt.Errorf("a bearing from 0 to 360° and an altitude from -10 to 90°")
	}
	return nil
}

func checkZone(text string) error    { _, err := LoadZone(text); return err }
func checkHeading(text string) error { _, err := parseHeading(text); return err }
func checkBearing(text string) error { _, err := parseBearing(text); return err }

// checkTakeOff takes the form of a date and time; whether clocks in the place's zone show it, only
// the zone can say.
func checkTakeOff(text string) error { _, err := parseTakeOffTime(text, time.UTC); return err }

// GroundNames returns the words for what lies under a flight.
func GroundNames() []string { return slices.Clone(groundWords) }

// AirNames returns the words for what the aerosol is.
func AirNames() []string { return slices.Clone(airWords) }

// AirByName returns what the aerosol is by its word.
func AirByName(name string) (kind sun.AirKind, ok bool) {
	kind, ok = airs[name]
	return kind, ok
}
