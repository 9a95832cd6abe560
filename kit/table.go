package kit

import (
	"fmt"
	"time"

	"example.org/skywedge/kit/field"
)

// bagVersion is the newest form of the bag file that this program reads.
const bagVersion = 1

// BagSpec returns the table of fields of a bag: what each means, its unit, its range and its default.
func BagSpec() *field.Spec { return bagTable }

// bagTable says what each field may be. What several must agree on is in rules.go.
var bagTable = &field.Spec{Kind: field.Map, Fields: []field.Spec{
	{Key: "skywedge_bag", Kind: field.Integer, Required: true, Check: checkVersion,
		Help: "version of the file's form"},
	{Key: "cameras", Kind: field.List, Required: true, MinItems: 1, MaxItems: 50,
		Item: &field.Spec{Kind: field.Map, Fields: cameraFields}, Help: "the cameras you fly"},
	{Key: "filters", Kind: field.List, MaxItems: 200,
		Item: &field.Spec{Kind: field.Map, Fields: filterFields}, Help: "the filters you own"},
	{Key: "settings", Kind: field.Map, Fields: settingFields, More: true,
		Help: "how the program weighs and warns"},
}}

func checkVersion(text string) error {
	if text == fmt.Sprint(bagVersion) {
		return nil
	}
	return fmt.Errorf("%d, the only version that this program knows; it leaves a file of another version alone", bagVersion)
}

var cameraFields = []field.Spec{
	{Key: "name", Kind: field.Text, Required: true, Help: "as cards call it"},
	{Key: "sensor_mm", Kind: field.Number, PairOnly: true, Required: true, Min: 1, Max: 100, Step: 0.1, Unit: "mm",
		Help: "width and height of the sensor"},
	{Key: "pixels", Kind: field.Integer, PairOnly: true, Required: true, Min: 100, Max: 60000, Step: 10,
		Help: "width and height of a still"},
	{Key: "video_pixels", Kind: field.Integer, PairOnly: true, Min: 100, Max: 60000, Step: 10, Default: "3840 2160",
		Help: "width and height of the video frame"},
	{Key: "focal_mm", Kind: field.Number, Min: 0.5, Max: 1000, Step: 0.1, Unit: "mm",
		Help: "real focal length; or give focal_35_mm"},
	{Key: "focal_35_mm", Kind: field.Number, Min: 5, Max: 2000, Step: 1, Unit: "mm",
		Help: "focal length of the same width of view on a frame 36 mm wide; or give focal_mm"},
	{Key: "aperture", Kind: field.Number, Pair: true, Required: true, Min: 0.7, Max: 64, Step: 0.1,
		Help: "f-number, or the range [widest, smallest]"},
	{Key: "sharpest", Kind: field.Number, PairOnly: true, Min: 0.7, Max: 64, Step: 0.1,
		Help: "range of f-numbers where the lens is sharpest"},
	{Key: "iso", Kind: field.Map, Required: true, Help: "range of sensitivities", Fields: []field.Spec{
		{Key: "base", Kind: field.Number, Required: true, Min: 1, Max: 1e6, Step: 100, Help: "lowest"},
		{Key: "clean", Kind: field.Number, Required: true, Min: 1, Max: 1e6, Step: 100, Help: "highest without disturbing noise"},
		{Key: "limit", Kind: field.Number, Required: true, Min: 1, Max: 1e6, Step: 100, Help: "highest that can be used at all"},
	}},
	{Key: "shutter_s", Kind: field.Map, Help: "range of exposure times", Fields: []field.Spec{
		{Key: "fastest", Kind: field.Seconds, Min: 1. / 100000, Max: 1, Default: "1/8000", Help: "shortest exposure"},
		{Key: "slowest", Kind: field.Seconds, Min: 1. / 1000, Max: 120, Default: "8", Help: "longest exposure"},
	}},
	highlightField("2.5", "stops over middle grey before a finished picture is white; a mode may have its own"),
	{Key: "still_highlight_stops", Kind: field.Number, Min: leastHighlight, Max: mostHighlight, Step: 0.1, Unit: "stops", Default: "3",
		Help: "the same of a raw still"},
	{Key: "modes", Kind: field.List, MaxItems: 20, Item: &field.Spec{Kind: field.Map, Fields: modeFields},
		Help: "ways of recording video; without any, normal at the usual frame rates"},
	{Key: "gimbal_deg", Kind: field.Number, PairOnly: true, Min: -180, Max: 90, Step: 1, Unit: "°", Default: "-90 20",
		Help: "lowest and highest pitch, 0 level, -90 straight down"},
	{Key: "readout_ms", Kind: field.Number, Min: 0, Max: 200, Step: 1, Unit: "ms", Default: "20",
		Help: "time from the first to the last row of the sensor"},
	{Key: "endurance_min", Kind: field.Number, Min: 1, Max: 300, Step: 1, Unit: "min", Default: "28",
		Help: "flying time of one warm, fresh battery"},
	offsetField("your own offset: the light that this camera asks for, against the plan; the plan is set so much darker"), offsetOnField,
}

var modeFields = []field.Spec{
	{Key: "name", Kind: field.Text, Required: true, Help: "as cards call it"},
	{Key: "fps", Kind: field.List, Required: true, MinItems: 1, MaxItems: 20,
		Item: &field.Spec{Kind: field.Number, Min: 1, Max: 1000, Step: 1}, Help: "frames per second it records at"},
	{Key: "iso_base", Kind: field.Number, Min: 1, Max: 1e6, Step: 100, Help: "lowest sensitivity, if not the camera's"},
	{Key: "iso_clean", Kind: field.Number, Min: 1, Max: 1e6, Step: 100, Help: "highest clean sensitivity, if not the camera's"},
	{Key: "iso_limit", Kind: field.Number, Min: 1, Max: 1e6, Step: 100, Help: "highest sensitivity, if not the camera's"},
	{Key: "bias_stops", Kind: field.Number, Min: -5, Max: 5, Step: 1. / 3, Unit: "stops", Default: "0",
		Help: "over-exposure that the mode wants"},
	highlightField("", "stops over middle grey before it is white, if not the camera's"),
	{Key: "crop", Kind: field.Number, Min: 1, Max: 10, Step: 0.1, Default: "1",
		Help: "1 uses the full width of the sensor, 2 half of it"},
}

var filterFields = []field.Spec{
	{Key: "name", Kind: field.Text, Required: true, Help: "as cards call it; auto and none are taken"},
	{Key: "kind", Kind: field.Word, Required: true, Help: "how it is built",
		Words: []string{string(Polariser), string(Density), string(Hybrid), string(Variable), string(Diffusion)}},
	{Key: "stops", Kind: field.Number, Min: 0.1, Max: 24, Step: 1. / 3, Unit: "stops",
		Help: "light that its grey glass takes; of a hybrid without the polariser"},
	{Key: "loss_stops", Kind: field.Number, Min: 1, Max: 2, Step: 0.1, Unit: "stops", Default: fmt.Sprint(defaultLossStops),
		Help: "what the polarising sheet takes from plain light"},
	{Key: "mark_deg", Kind: field.Number, Min: -360, Max: 360, Step: 5, Unit: "°", Default: "0",
		Help: "from the mark to the pass axis, clockwise facing the lens"},
	{Key: "from_stops", Kind: field.Number, Min: 1, Max: pairLimitStops, Step: 0.5, Unit: "stops",
		Help: "lightest setting of a variable"},
	{Key: "to_stops", Kind: field.Number, Min: 1, Max: pairLimitStops, Step: 0.5, Unit: "stops",
		Help: "heaviest setting of a variable"},
	{Key: "marks", Kind: field.List, MaxItems: 30,
		Item: &field.Spec{Kind: field.Number, Min: 1, Max: pairLimitStops, Step: 0.5, Unit: "stops"},
		Help: "settings engraved on a variable"},
	{Key: "between", Kind: field.Bool, Default: "false", Help: "use half stops between the marks too"},
	{Key: "rear_deg", Kind: field.Number, Min: -360, Max: 360, Step: 5, Unit: "°", Default: "0",
		Help: "mark_deg of the rear sheet of a variable"},
	{Key: "opens", Kind: field.Word, Words: []string{"cw", "ccw"}, Default: "cw",
		Help: "the way its front ring turns for less density, facing the lens"},
	{Key: "fixed_stops", Kind: field.Number, Min: 0, Max: 12, Step: 0.5, Unit: "stops",
		Help: "plain density in a variable's mount; left out: from_stops less 2 from 4 stops on, else none"},
	{Key: "grade", Kind: field.Word, Words: []string{"1/8", "1/4", "1/2", "1"}, Help: "strength of a diffusion layer, on any kind"},
	{Key: "cast_mired", Kind: field.Number, Min: -200, Max: 200, Step: 1, Unit: "mired", Default: "0", More: true,
		Help: "colour cast, positive warmer"},
	{Key: "tint", Kind: field.Number, Min: -100, Max: 100, Step: 1, Default: "0", More: true,
		Help: "colour cast, positive magenta"},
	{Key: "measured_stops", Kind: field.Number, Min: 0.1, Max: 30, Step: 0.1, Unit: "stops", More: true,
		Help: "the whole loss as you measured it; wins over the label"},
	{Key: "measured", Kind: field.Pairs, MaxItems: 30, Check: checkMeasured, More: true,
		Help: "of a variable: its settings by the marks, each with the whole loss as you measured it; these win over the marks"},
	{Key: "measured_on", Kind: field.Custom, Check: checkDate, More: true, Help: "when you measured it"},
	{Key: "measured_error_stops", Kind: field.Number, Min: 0, Max: 10, Step: 0.1, Unit: "stops", More: true,
		Help: "how far the measured loss may be off"},
	{Key: "cast_error_mired", Kind: field.Number, Min: 0, Max: 400, Step: 1, Unit: "mired", More: true,
		Help: "how far the measured colour cast may be off"},
	{Key: "mark_error_deg", Kind: field.Number, Min: 0, Max: 90, Step: 1, Unit: "°", More: true,
		Help: "how far the measured mark_deg may be off"},
	offsetField("your own offset: the light behind this filter, against the plan; the plan is set so much darker"), offsetOnField,
	{Key: "ring", Kind: field.Word, Words: []string{string(RingTurns), string(RingFixed), string(RingClicks)}, Default: string(RingTurns),
		More: true, Help: "how the ring of a polarising filter behaves"},
	{Key: "fixed_deg", Kind: field.Number, Min: 0, Max: 360, Step: 5, Unit: "°", More: true,
		Help: "where the mark of a fixed ring stands, clockwise from 12 o'clock facing the lens"},
	{Key: "click_deg", Kind: field.Number, Min: 1, Max: 90, Step: 1, Unit: "°", More: true,
		Help: "from one click to the next of a ring that clicks"},
}

// How far over middle grey white may lie, stops (ours: from a picture with half a stop of room to the
// widest recording).
const leastHighlight, mostHighlight = 0.5, 10

// highlightField is the row that a camera and its modes share. The defaults are ours; that of a raw still
// is near the saturation of ISO 12232, 2.96 stops over middle grey (78/H against 10/H, from memory).
func highlightField(fallback, help string) field.Spec {
	return field.Spec{Key: "highlight_stops", Kind: field.Number, Min: leastHighlight, Max: mostHighlight, Step: 0.1, Unit: "stops",
		Default: fallback, Help: help}
}

// offsetField is the row of what was learned from flights; offsetOnField says when.
func offsetField(help string) field.Spec {
	return field.Spec{Key: "offset_stops", Kind: field.Number, Min: -4, Max: 4, Step: 0.1, Unit: "stops", Default: "0", More: true, Help: help}
}

var offsetOnField = field.Spec{Key: "offset_on", Kind: field.Custom, Check: checkDate, More: true, Help: "when you learned it from what was flown"}

// checkMeasured looks at a pair of a variable's measurements: "2 2.3".
func checkMeasured(text string) error {
	var setting, loss float64
	if _, err := fmt.Sscan(text, &setting, &loss); err != nil || !(setting >= 1 && setting <= pairLimitStops && loss >= 0.1 && loss <= 30) {
		return fmt.Errorf("a setting from 1 to %g and a loss from 0.1 to 30 stops, as [3, 3.2]", pairLimitStops)
	}
	return nil
}

func checkDate(text string) error {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return fmt.Errorf("a date as 2026-09-18")
	}
	return nil
}
