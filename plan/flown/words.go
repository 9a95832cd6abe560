package flown

import (
	"strings"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Set says how a flight was exposed: "1/60, ISO 100, f/2.8".
func Set(f *shot.Flown) string {
	var list []string
	if f.ShutterS > 0 {
		list = append(list, exposure.FormatShutter(f.ShutterS))
	}
	if f.ISO > 0 {
		list = append(list, "ISO "+exposure.FormatISO(f.ISO))
	}
	if f.Aperture > 0 {
		list = append(list, exposure.FormatAperture(f.Aperture))
	}
	return strings.Join(list, ", ")
}

// Seen says what a line of the log tells of how it looked, thing by thing.
func Seen(f *shot.Flown) (list []string) {
	add := func(ok bool, text string) {
		if ok {
			list = append(list, text)
		}
	}
	add(f.Auto, "the camera's own exposure")
	if f.MeterStops != nil {
		add(true, "meter at "+words.Signed(*f.MeterStops))
	}
	if f.OffStops != nil {
		add(true, off(*f.OffStops))
	}
	add(f.Worked != "", map[string]string{shot.WorkedYes: "worked", shot.WorkedPartly: "worked partly", shot.WorkedNo: "did not work"}[f.Worked])
	add(f.Sky != "", "sky "+f.Sky)
	add(f.Glare != "", "glare "+f.Glare)
	add(f.Saw != "", strings.Join(strings.Fields(f.Saw), " "))
	return list
}

// off says how a picture should have been exposed.
func off(stops float64) string {
	switch {
	case stops > 0:
		return "should have been " + exposure.FormatStops(stops) + " brighter"
	case stops < 0:
		return "should have been " + exposure.FormatStops(-stops) + " darker"
	}
	return "exposed right"
}
