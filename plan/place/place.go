// Package place reads where a place is, in the notations that people write, copy and paste, and says it back in one.
//
// The one hard idea is that a text is taken only where it can mean one place. A comma may be the decimal mark or
// stand between two numbers; an S may be seconds or south; a link may hold the middle of a map beside the place
// itself. Where two readings are left the answer is an error that says what to write instead, never a guess.
//
// Latitude and longitude are degrees in WGS 84, north and east positive. Heights that come along are dropped: those
// of a geo: link are above the ellipsoid, not above the sea.
package place

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Point is a place on the earth, degrees, north and east positive.
type Point struct{ LatDeg, LonDeg float64 }

// Digits behind the point that a place is written with: the sixth is a tenth of a metre.
const Digits = 6

// String writes the place in the one form in which it is said back: "64.0484, -16.1794".
func (p Point) String() string { return figure(p.LatDeg) + ", " + figure(p.LonDeg) }

// figure writes degrees without a tail of zeros, and nothing as 0 and never as -0.
func figure(deg float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(deg, 'f', Digits, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// earthKm is the earth's mean radius (IUGG, 6371.0088 km).
const earthKm = 6371.0088

// KmTo returns the distance over a round earth, right to ½ % (haversine).
func (p Point) KmTo(q Point) float64 {
	const rad = math.Pi / 180
	half := func(deg float64) float64 { s := math.Sin(deg * rad / 2); return s * s }
	h := half(q.LatDeg-p.LatDeg) + math.Cos(p.LatDeg*rad)*math.Cos(q.LatDeg*rad)*half(q.LonDeg-p.LonDeg)
	return 2 * earthKm * math.Asin(math.Sqrt(math.Min(1, h)))
}

// What may be written, for messages that go on after "allowed:" or "give".
const (
	allowed    = `a place as 64.0484, -16.1794 or 64°02'54"N 16°10'46"W, as geo:64.0484,-16.1794, or a link with the coordinates in it`
	allowedLat = `a latitude from -90 to 90°, as 64.0484 or 64°02'54"N`
	allowedLon = `a longitude from -180 to 180°, as -16.1794 or 16°10'46"W`
)

// ErrShape is the error of a text that is nothing like a place. Every other error of [Parse] says what is wrong
// with one that is.
var ErrShape = errors.New(allowed)

var (
	errLat     = errors.New("a latitude from -90 to 90°; it comes first")
	errLon     = errors.New("a longitude from -180 to 180°")
	errComma   = errors.New("a blank or a semicolon between two numbers with decimal commas: 64,0484 -16,1794")
	errMinutes = errors.New("minutes and seconds from 0 to below 60, with a fraction only in the last: 64°02'54.2\"N")
	errLetters = errors.New("one latitude with N or S and one longitude with E or W, or no letters at all")
	errSign    = errors.New("a sign or a letter, not both: -16.1794 or 16.1794 W")
	errO       = errors.New("east or west as E or W; O is east in some languages and west in others")
	errMany    = errors.New("two numbers, the latitude first, with a comma or a semicolon between them")
)

// longest is more than any link needs.
const longest = 8192

// Parse reads a whole place: two numbers, latitude first, parted by a comma, a semicolon or a blank; degrees,
// minutes and seconds with N, S, E or W before or behind; a point location of ISO 6709; a geo: link (RFC 5870); or
// any other link that holds the coordinates. The error says what is allowed.
func Parse(text string) (Point, error) {
	if len(text) > longest || !utf8.ValidString(text) {
		return Point{}, ErrShape
	}
	text = plain(text)
	if token := geoIn(text); token != "" {
		return parseGeo(token)
	}
	if token := linkIn(text); token != "" {
		return parseLink(token)
	}
	if p, is, err := parseISO(text); is {
		return p, err
	}
	return parsePair(text)
}

// Latitude reads a latitude alone: a number, with a decimal point or comma, or degrees, minutes and seconds with a
// sign or N or S.
func Latitude(text string) (float64, error) { return one(text, 'N', errors.New(allowedLat)) }

// Longitude reads a longitude alone.
func Longitude(text string) (float64, error) { return one(text, 'E', errors.New(allowedLon)) }

// one reads a value for the axis that north or east is the positive side of.
func one(text string, axis byte, wrong error) (float64, error) {
	if len(text) > longest || !utf8.ValidString(text) {
		return 0, wrong
	}
	text = plain(text)
	for _, commas := range []bool{true, false} {
		tokens, err := lex(text, commas)
		if err != nil {
			continue
		}
		values, err := valuesOf(tokens)
		if err != nil || len(values) != 1 {
			continue
		}
		v := values[0]
		if a := v.axis(); a != 0 && a != axis {
			return 0, wrong
		}
		deg, err := v.degrees(axis)
		switch {
		case err != nil && err != ErrShape:
			return 0, err
		case err != nil || math.Abs(deg) > most(axis):
			return 0, wrong
		}
		return deg, nil
	}
	return 0, wrong
}

// most is how far the degrees of an axis go.
func most(axis byte) float64 {
	if axis == 'N' {
		return 90
	}
	return 180
}

// checked returns a place whose numbers may be out of range.
func checked(lat, lon float64) (Point, error) {
	switch {
	case !(math.Abs(lat) <= 90):
		return Point{}, errLat
	case !(math.Abs(lon) <= 180):
		return Point{}, errLon
	}
	return Point{lat, lon}, nil
}

// usual are the characters that people and programs put for those of a keyboard: minus signs, primes and
// quotation marks for minutes and seconds, rings for degrees.
var usual = strings.NewReplacer(
	"−", "-", "–", "-", "‐", "-", "‑", "-", "－", "-",
	"º", "°", "˚", "°",
	"″", `"`, "”", `"`, "“", `"`, "ʺ", `"`, "''", `"`, "′′", `"`, "’’", `"`,
	"′", "'", "’", "'", "‘", "'", "ʹ", "'", "´", "'", "`", "'",
	"，", ",", "；", ";",
)

// plain puts a text into the characters of a keyboard: blanks of one kind, no marks of direction that pages put
// around numbers, no brackets around the whole, no full stop behind it.
func plain(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.In(r, unicode.Cf): // marks of direction, of no width
			return -1
		}
		return r
	}, text)
	text = strings.TrimSpace(usual.Replace(text))
	for len(text) > 1 && (text[0] == '(' && text[len(text)-1] == ')' || text[0] == '[' && text[len(text)-1] == ']') {
		text = strings.TrimSpace(text[1 : len(text)-1])
	}
	return strings.TrimRight(text, ".,; ")
}
