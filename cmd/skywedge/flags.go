package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
)

// pair reads "a,b" as two numbers within their ranges.
func pair(text, names string, lo, hi [2]float64) (a, b float64, err error) {
	parts := strings.Split(text, ",")
	if len(parts) != 2 {
		return 0, 0, fmt.Errorf("%q is not %s: give two numbers with a comma between them", text, names)
	}
	var v [2]float64
	for i, p := range parts {
		v[i], err = strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !(v[i] >= lo[i] && v[i] <= hi[i]) {
			return 0, 0, fmt.Errorf("%q is not %s: the %s number goes from %g to %g", text, names, [2]string{"first", "second"}[i], lo[i], hi[i])
		}
	}
	return v[0], v[1], nil
}

// placed reads --at: a place in any notation.
func placed(text string) (lat, lon float64, err error) {
	p, err := place.Parse(text)
	if err != nil {
		return 0, 0, fmt.Errorf("%q: give %w", text, err)
	}
	return p.LatDeg, p.LonDeg, nil
}

// bearing reads AZ,ALT in degrees.
func bearing(text string, lowest float64) (az, alt float64, err error) {
	return pair(text, "AZ,ALT in degrees", [2]float64{-360, lowest}, [2]float64{360, 90})
}

// instant reads --when: with an offset it stands alone; without one it is local to --zone. The error names
// the flag that is wrong.
func instant(when, zone string, now time.Time) (time.Time, error) {
	var loc *time.Location
	switch {
	case zone != "":
		l, err := shot.LoadZone(zone)
		if err != nil {
			return time.Time{}, fmt.Errorf("--zone %q: give %w", zone, err)
		}
		loc = l
	case strings.HasPrefix(when, "now"):
		loc = time.Local
	default:
		for _, layout := range []string{time.RFC3339, "2006-01-02T15:04Z07:00"} {
			if t, err := time.Parse(layout, when); err == nil {
				return t, nil
			}
		}
		if _, err := shot.ParseTakeOff(when, now, time.UTC); err == nil {
			return time.Time{}, fmt.Errorf("--when: %q has no offset: add one (%s+02:00, or Z), or give --zone", when, when)
		}
		loc = time.UTC
	}
	t, err := shot.ParseTakeOff(when, now, loc)
	if err != nil {
		return time.Time{}, fmt.Errorf("--when %q: give %w", when, err)
	}
	return t.In(loc), nil
}
