package shot

import (
	"errors"
	"strconv"
	"strings"
	"time"
)

// timeStep is one nudge of a time of day (ours).
const timeStep = 5 * time.Minute

// mostNowMin is how far from now a relative take-off may lie, in minutes.
const mostNowMin = 24 * 60

// nudgeTime returns a written date and time moved by n steps of five minutes, and whether it could be
// moved. The instant moves, not the figures: over a change of the clocks the time goes on from the last
// one before it to the first one after. Seconds and the letter between date and time stay as written. An
// offset stays where it is not the zone's own; the zone's own is written for both of two times that the
// clocks show the same, and only there. What counts from now goes on doing so, and does not go back
// before now from now or later.
func nudgeTime(text string, n int, zone *time.Location) (next string, moved bool) {
	text = strings.TrimSpace(text)
	if next, relative := nudgeNow(text, n); relative {
		return next, next != ""
	}
	m := takeOffForm.FindStringSubmatch(text)
	was, err := parseTakeOffTime(text, zone)
	if twice := (*twiceError)(nil); errors.As(err, &twice) {
		was, err = twice.first, nil // what is written says no more; what is nudged says which
	}
	if m == nil || err != nil {
		return "", false
	}
	at := was.Add(time.Duration(n) * timeStep)
	layout := "2006-01-02" + text[10:11] + "15:04"
	if m[6] != "" || at.Second() != 0 {
		layout += ":05"
	}
	if own := offsetOf(m[7]); own != nil && !sameOffset(was, own, zone) {
		next = at.In(own).Format(layout + "Z07:00")
	} else {
		next = at.Format(layout)
		if back, err := parseTakeOffTime(next, zone); err != nil || !back.Equal(at) {
			next = at.Format(layout + "-07:00")
		}
	}
	if back, err := parseTakeOffTime(next, zone); err != nil || !back.Equal(at) {
		return "", false // outside the years that are accepted
	}
	return next, true
}

// nudgeNow moves what counts from now; relative is false for anything else.
func nudgeNow(text string, n int) (next string, relative bool) {
	rest, ok := strings.CutPrefix(strings.ToLower(text), "now")
	if !ok {
		return "", false
	}
	if _, err := ParseTakeOff(text, time.Unix(0, 0), time.UTC); err != nil {
		return "", true
	}
	was, _ := strconv.Atoi(rest) // nothing is 0
	to := max(min(was, 0), was+n*int(timeStep/time.Minute))
	if to = min(to, mostNowMin); to == 0 {
		return "now", true
	} else if to < 0 {
		return "now" + strconv.Itoa(to), true
	}
	return "now+" + strconv.Itoa(to), true
}

// offsetOf returns the place of a written offset from UTC, nil where none is written.
func offsetOf(text string) *time.Location {
	if text == "" {
		return nil
	}
	t, err := time.Parse("Z07:00", text)
	if err != nil {
		return nil
	}
	_, seconds := t.Zone()
	return time.FixedZone(text, seconds)
}

// sameOffset tells whether clocks in two zones show the same at an instant.
func sameOffset(at time.Time, a, b *time.Location) bool {
	_, x := at.In(a).Zone()
	_, y := at.In(b).Zone()
	return x == y
}
