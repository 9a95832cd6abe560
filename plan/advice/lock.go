// Package advice says in a pilot's words what a report holds: what to lock on a leg and what its meter will show, how long
// the light lasts, what a filter does, and by how much what cannot be flown falls short.
package advice

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// A pilot locks shutter, ISO and white balance for a leg, and wants to know what the camera's own meter will show
// then: it disagrees with the plan where the frame is not middle grey in the mean, and that is no mistake.

// aThirdAtAll is the least that a meter is told to be off by: half a third of a stop, what a dial rounds away.
const aThirdAtAll = 1.0 / 6

// Lock returns what is locked on a leg: "1/50, ISO 100, 5500 K". It is "" for a leg that is not flown.
func Lock(l *plan.LegReport) string {
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
func Tones(l *plan.LegReport) string {
	var parts []string
	if l.Clipped > plan.ClippedFrom {
		parts = append(parts, fmt.Sprintf("%.0f %% white", 100*l.Clipped))
	}
	if l.Buried > plan.BuriedFrom {
		parts = append(parts, fmt.Sprintf("%.0f %% black", 100*l.Buried))
	}
	return strings.Join(parts, ", ")
}

// Short says that a leg cannot be exposed, by how much, and where only the other state of the sun is to blame when; ""
// of a leg that can.
func Short(r *plan.Report, leg int) string {
	l := &r.Legs[leg]
	if l.Feasible || !l.Shutter.OK {
		return ""
	}
	c := r.Shot.Camera
	spec := r.Shot.Legs[leg].WithDefaults(c)
	iso := spec.Mode.ISO
	if spec.Purpose != shot.Video {
		iso = shot.Leg{}.WithDefaults(c).Mode.ISO
	}
	shutter, when := l.Shutter.Min, ""
	if ShortOfOther(l) {
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

// ShortOfOther tells whether it is in the other state of the sun alone that a leg cannot be exposed.
func ShortOfOther(l *plan.LegReport) bool {
	o := l.Other
	switch {
	case o == nil || o.Feasible || o.ShortStops != l.ShortStops:
		return false
	case l.ShortStops > 0: // what the state that is set for is short of
		return l.ShortStops-(l.FrameEV.Min-o.FrameEV.Min) <= setting.ExposureSlack
	}
	return -l.ShortStops-(o.FrameEV.Max-l.FrameEV.Max) <= setting.ExposureSlack
}

// Metered says what a leg's meter, tones and light do at the locked exposure, what matters of it: "meter at +⅓", "12 %
// white", "light drifts by ⅓ stop".
func Metered(l *plan.LegReport) string {
	if !l.Shutter.OK {
		return ""
	}
	parts := []string{"meter at " + words.Signed(l.MeterStops)}
	if t := Tones(l); t != "" {
		parts = append(parts, t)
	}
	if l.DriftStops >= aThirdAtAll {
		parts = append(parts, "light drifts by "+exposure.FormatStops(l.DriftStops))
	}
	return strings.Join(parts, ", ")
}

// Locked is what is locked on legs that follow one another and have one exposure in common.
type Locked struct {
	Legs  []int  // counted from 0
	Set   string // "1/50, ISO 100, 5500 K"; "" where the legs cannot be exposed
	Notes string // what the meter will show, what is lost, and what cannot be
	Short bool   // they cannot be exposed, or not in both states of the sun
}

// Name returns the legs' name: "leg 1", "legs 2 and 3".
func (l *Locked) Name() string { return words.Legs(l.numbers()) }

// Numbers returns their numbers alone: "1", "2-3".
func (l *Locked) Numbers() string {
	n := l.numbers()
	if len(n) < 2 {
		return strings.Join(n, "")
	}
	return n[0] + "-" + n[len(n)-1]
}

func (l *Locked) numbers() (list []string) {
	for _, i := range l.Legs {
		list = append(list, fmt.Sprint(i+1))
	}
	return list
}

// Locks returns what is locked on all legs in their order.
func Locks(r *plan.Report) []Locked {
	var list []Locked
	for i := range r.Legs {
		l, short := &r.Legs[i], Short(r, i)
		k := Locked{Legs: []int{i}, Set: Lock(l), Notes: Metered(l), Short: short != ""}
		switch {
		case ShortOfOther(l) && short != "":
			k.Notes += ", " + short
		case short != "":
			k.Set, k.Notes = "", short
		}
		if n := len(list); n > 0 && list[n-1].Set == k.Set && list[n-1].Notes == k.Notes {
			list[n-1].Legs = append(list[n-1].Legs, i)
			continue
		}
		list = append(list, k)
	}
	return list
}

// CleanLight says how long the clean ISO holds: "clean-ISO light until 20:41". Past that there is light, but none for a
// clean picture.
func CleanLight(r *plan.Report) string {
	switch m := r.LightLeftMin; {
	case lightHolds(r):
		return "clean-ISO light without end"
	case m < 0.5:
		return "no clean-ISO light"
	default:
		return "clean-ISO light until " + r.Shot.ClockAt(m)
	}
}

// CleanUntil says the same in one word or two, for a place that is named "light".
func CleanUntil(r *plan.Report) string {
	if clock := CleanClock(r); clock != "" {
		return "until " + clock
	}
	if lightHolds(r) {
		return "no end"
	}
	return "past clean"
}

// CleanClock returns when the clean ISO ends by the clock; "" where it is past already, or no end is in sight.
func CleanClock(r *plan.Report) string {
	if lightHolds(r) || r.LightLeftMin < 0.5 {
		return ""
	}
	return r.Shot.ClockAt(r.LightLeftMin)
}

func lightHolds(r *plan.Report) bool { return math.IsInf(r.LightLeftMin, 1) || r.LightLeftMin > 24*60 }
