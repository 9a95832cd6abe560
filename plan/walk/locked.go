package walk

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// What is worth a word in the hand (ours).
const (
	wordThirds  = 2    // thirds of a stop, of the meter and of the drift: a meter is not surer than that
	clippedFrom = 0.05 // of the frame
	buriedFrom  = 0.10
)

// thirds rounds stops as they are said.
func thirds(stops float64) int { return int(math.Round(3 * math.Abs(stops))) }

// meterWords says what the camera's own meter shows at the right exposure; "" near zero.
func meterWords(stops float64) string {
	if thirds(stops) < wordThirds {
		return ""
	}
	return "meter at " + words.Signed(stops)
}

// isoOf returns the sensitivities that a leg may use: a still is not taken in the film's mode.
func isoOf(r *plan.Report, leg int) kit.ISO {
	if r.Legs[leg].Purpose == shot.Video {
		return r.Shot.Legs[leg].Mode.ISO
	}
	return r.Shot.Camera.ISO
}

// whenWords says when the sun changes to the other state than the one that the leg is set for.
func whenWords(l *plan.LegReport) string {
	if l.SunShines {
		return "when a cloud comes before the sun"
	}
	return "when the sun comes out"
}

// otherWords says what to set in the other state of the sun; "" where there is none, or it is as little off as a
// meter may be.
func otherWords(r *plan.Report, leg int) string {
	l := &r.Legs[leg]
	if l.Other == nil || !l.Other.Feasible {
		return ""
	}
	at := func(x float64) plan.Range { return plan.Range{Min: x, Max: x, OK: true} }
	video := l.Purpose == shot.Video
	shutter, iso := advice.Settable(r, at(l.Other.ShutterS), at(l.Other.ISO), video)
	if thirds(math.Log2(l.Other.ShutterS*l.Other.ISO/(l.Shutter.Max*l.ISO.Max))) < wordThirds {
		return ""
	}
	return whenWords(l) + ": " + shutter + ", ISO " + iso
}

// moves returns what the frame asks for at the first and the last moment of a leg, and the least and the most of it,
// EV100; ok is false of a leg that is not flown.
func moves(r *plan.Report, leg int) (first, last, least, most float64, ok bool) {
	least, most = math.Inf(1), math.Inf(-1)
	for i := range r.Path {
		if r.Path[i].Leg != leg || i >= len(r.Measures) {
			continue
		}
		last = r.Measures[i].FrameEV
		if !ok {
			first, ok = last, true
		}
		least, most = min(least, last), max(most, last)
	}
	return first, last, least, most, ok
}

// cleanWords says until when the ISO stays clean, where the light of a leg's last take is too little for that; ""
// where it is enough.
func cleanWords(r *plan.Report, leg int, f *plan.Flight, first, last *shot.Moment) string {
	l := &r.Legs[leg]
	if l.Headroom >= 0 || math.IsInf(f.LightLeftMin, 1) {
		return ""
	}
	out := r.Shot.TakeOff.Add(time.Duration(f.LightLeftMin * float64(time.Minute)))
	clean := isoOf(r, leg).Clean
	switch {
	case !last.Time[1].After(out):
		return ""
	case out.After(first.Time[0]):
		return "clean-ISO light until " + r.Shot.OnTheClock(out) + ", before its last take ends"
	case l.Other != nil && l.ISO.Max <= clean && l.Other.ISO > clean:
		return "no clean ISO " + whenWords(l)
	}
	return "no clean-ISO light"
}

// driftWords says which way the light moves over a leg and its takes, and by how much; "" where nobody sees it.
func driftWords(r *plan.Report, leg int) string {
	drift := r.Legs[leg].DriftStops
	first, last, least, most, ok := moves(r, leg)
	if !ok || thirds(drift) < wordThirds {
		return ""
	}
	// Of two takes the darker stands in the measures: what they do not show happens from take to take.
	by, change := "the end", last-first
	if most-least < drift/2 {
		by, change = "the last take", r.LightChangeStops
	}
	amount := exposure.FormatStops(drift)
	switch {
	case change < -drift/2 || by == "the last take" && change < 0:
		return amount + " darker by " + by
	case change > drift/2 || by == "the last take" && change > 0:
		return amount + " brighter by " + by
	}
	return "the light moves by " + amount + " on the way"
}

// splitWords says what to do where one exposure is too little for a leg; "" where it will do.
func splitWords(r *plan.Report, leg int) string {
	_, _, least, most, ok := moves(r, leg)
	switch {
	case !ok || r.Legs[leg].DriftStops <= plan.SplitStops:
		return ""
	case most-least > plan.SplitStops:
		return "over 2 stops in one take: split the leg or ride the exposure"
	}
	return "over 2 stops between takes: set the exposure again for each"
}

// toneWords says how much of the frame has no tone, at the worst moment of the leg, where that shows.
func toneWords(l *plan.LegReport) []string {
	var list []string
	if l.Clipped > clippedFrom {
		list = append(list, percent(l.Clipped)+" of the frame is white")
	}
	if l.Buried > buriedFrom {
		list = append(list, percent(l.Buried)+" of the frame is black")
	}
	return list
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }
