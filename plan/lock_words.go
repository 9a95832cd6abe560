package plan

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
)

// A pilot locks shutter, ISO and white balance for a leg, and wants to know what the camera's own meter will show
// then: it disagrees with the plan where the frame is not middle grey in the mean, and that is no mistake.

// meterFrom is the least that a meter is told to be off by: half a third of a stop, what a dial rounds away.
const meterFrom = 1.0 / 6

// MeterSigned returns what a meter shows in signed thirds of a stop: "+⅓", "−1", "0".
func MeterSigned(stops float64) string {
	text := strings.TrimSuffix(strings.TrimSuffix(exposure.FormatStops(stops), "s"), " stop")
	if stops >= meterFrom {
		text = "+" + text
	}
	return text
}

// Lock returns what is locked on a leg: "1/50, ISO 100, 5500 K". It is "" for a leg that is not flown.
func (l *LegReport) Lock() string {
	if !l.Shutter.OK || !l.ISO.OK {
		return ""
	}
	text := exposure.FormatShutter(l.Shutter.Min) + ", ISO " + exposure.FormatISO(l.ISO.Min)
	if l.WBK > 0 {
		text += fmt.Sprintf(", %.0f K", l.WBK)
	}
	return text
}

// Tones returns how much of a leg's frame is white and black at its worst moment, where that is more than a picture
// takes without harm: "12 % white, 30 % black"; else "".
func (l *LegReport) Tones() string {
	var parts []string
	if l.Clipped > clippedFrom {
		parts = append(parts, fmt.Sprintf("%.0f %% white", 100*l.Clipped))
	}
	if l.Buried > buriedFrom {
		parts = append(parts, fmt.Sprintf("%.0f %% black", 100*l.Buried))
	}
	return strings.Join(parts, ", ")
}

// Short says that a leg cannot be exposed, by how much, and where only the other state of the sun is to blame when; ""
// of a leg that can.
func (r *Report) Short(leg int) string {
	l := &r.Legs[leg]
	if l.Feasible || !l.Shutter.OK {
		return ""
	}
	c := r.Shot.Camera
	spec := withDefaults(r.Shot.Legs[leg], c)
	iso := spec.Mode.ISO
	if spec.Purpose != shot.Video {
		iso = withDefaults(shot.Leg{}, c).Mode.ISO
	}
	shutter, when := l.Shutter.Min, ""
	if l.ShortOfOther() {
		shutter, when = l.Other.ShutterS, " when the sun comes out"
		if l.SunShines {
			when = " when a cloud comes before the sun"
		}
	}
	at := iso.Limit
	amount := exposure.FormatStops(math.Abs(l.ShortStops)) + " short"
	if l.ShortStops < 0 {
		at, amount = iso.Base, exposure.FormatStops(-l.ShortStops)+" too much light"
	}
	return fmt.Sprintf("cannot be exposed%s: %s at ISO %s and %s", when, amount, exposure.FormatISO(at), exposure.FormatShutter(shutter))
}

// ShortOfOther tells whether it is the other state of the sun in which a leg cannot be exposed.
func (l *LegReport) ShortOfOther() bool {
	return l.Other != nil && !l.Other.Feasible && l.Other.ShortStops == l.ShortStops
}

// Metered says what a leg's meter, tones and light do at the locked exposure, what matters of it: "meter at +⅓", "12 %
// white", "light drifts by ⅓ stop".
func (l *LegReport) Metered() string {
	if !l.Shutter.OK {
		return ""
	}
	parts := []string{"meter at " + MeterSigned(l.MeterStops)}
	if t := l.Tones(); t != "" {
		parts = append(parts, t)
	}
	if l.DriftStops >= meterFrom {
		parts = append(parts, "light drifts by "+exposure.FormatStops(l.DriftStops))
	}
	return strings.Join(parts, ", ")
}

// CleanLight says how long the clean ISO holds: "clean light until 20:41". Past that there is light, but none for a
// clean picture.
func (r *Report) CleanLight() string {
	switch m := r.LightLeftMin; {
	case r.lightHolds():
		return "clean light without end"
	case m < 0.5:
		return "ISO above clean from the start"
	default:
		return "clean light until " + r.Shot.ClockAt(m)
	}
}

// CleanUntil says the same in one word or two, for a place that is named "light".
func (r *Report) CleanUntil() string {
	switch m := r.LightLeftMin; {
	case r.lightHolds():
		return "no end"
	case m < 0.5:
		return "past clean"
	default:
		return "until " + r.Shot.ClockAt(m)
	}
}

func (r *Report) lightHolds() bool { return math.IsInf(r.LightLeftMin, 1) || r.LightLeftMin > 24*60 }

// SureWord returns how sure a call is as a pilot says it: a close one is a toss-up.
func SureWord(confidence string) string {
	if confidence == "close" {
		return "toss-up"
	}
	return confidence
}
