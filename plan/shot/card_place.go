package shot

import (
	"errors"
	"regexp"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/place"
)

var asTyped = regexp.MustCompile(`^[+-]?[0-9]*\.?[0-9]*$`)

const latPath, lonPath = "place.lat", "place.lon"

// IsPlace tells whether a path is that of the latitude or the longitude.
func IsPlace(path string) bool { return path == latPath || path == lonPath }

// degreesBy reads degrees with a mark or a letter in a file. A number with a decimal comma is not one of them: two of
// them in a row are three or four numbers to another reader of YAML.
func degreesBy(read func(string) (float64, error)) func(string) (float64, bool) {
	return func(text string) (float64, bool) {
		if !strings.ContainsFunc(text, func(r rune) bool { return r > 127 && r != '−' || r >= 'A' || r == '\'' }) {
			return 0, false
		}
		deg, err := read(text)
		return deg, err == nil
	}
}

// readPlace reads what is typed for latitude or longitude: a number that stays as it is (typed), one value in another
// notation, or a whole place.
func readPlace(path, text string) (typed bool, one float64, whole *place.Point, err error) {
	if asTyped.MatchString(strings.TrimSpace(text)) { // or nothing
		return true, 0, nil, nil
	}
	read := place.Latitude
	if path == lonPath {
		read = place.Longitude
	}
	if one, err = read(text); err == nil {
		return false, one, nil, nil
	}
	p, err := place.Parse(text)
	return false, 0, &p, err
}

// saidPlace says what a text for latitude or longitude was understood as, "" where it is what was typed.
func saidPlace(path, text string) string {
	switch typed, one, whole, err := readPlace(path, text); {
	case typed || err != nil:
		return ""
	case whole != nil:
		return whole.String()
	default:
		return degrees(one) + "°"
	}
}

// setPlace sets latitude or longitude, or both where the text is a whole place.
func (e *edit) setPlace(path, text string) {
	switch typed, one, p, err := readPlace(path, text); {
	case typed, errors.Is(err, place.ErrShape): // of the second the table says what may stand there
		e.set(path, text)
	case err == nil && p == nil:
		e.set(path, degrees(one))
	case err == nil:
		e.set(latPath, degrees(p.LatDeg))
		e.set(lonPath, degrees(p.LonDeg))
	default:
		e.refuse(path, field.Quoted(text), err.Error())
	}
}

// Place returns where take-off is, in degrees, north and east positive, and its zone as it is written; ok
// is false while latitude or longitude are not numbers.
func (c *Card) Place() (latDeg, lonDeg float64, zone string, ok bool) {
	degrees := func(path string) (float64, bool) { return c.Doc.SpecAt(path).Float(c.Doc.At(path).Text()) }
	latDeg, isLat := degrees(latPath)
	lonDeg, isLon := degrees(lonPath)
	return latDeg, lonDeg, c.Doc.At("place.zone").Text(), isLat && isLon
}

// Point returns where take-off is; ok is false while that is not written out.
func (c *Card) Point() (p place.Point, ok bool) {
	p.LatDeg, p.LonDeg, _, ok = c.Place()
	return p, ok
}

// TakeOff returns the moment of take-off and the zone that it is written in; ok is false while one of the two cannot
// be read.
func (c *Card) TakeOff() (at time.Time, zone *time.Location, ok bool) {
	zone, err := LoadZone(c.Doc.At("place.zone").Text())
	if err != nil {
		return at, nil, false
	}
	at, err = parseTakeOffTime(c.Doc.At("take_off").Text(), zone)
	return at, zone, err == nil
}
