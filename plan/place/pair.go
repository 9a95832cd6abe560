package place

import (
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// kind is what a token is.
type kind byte

const (
	number kind = iota // with its sign
	mark               // ° ' "
	side               // N S E W
	label              // lat or lon, as N or E
	comma              // between values
	semicolon
	blank
)

// token is a piece of a place.
type token struct {
	kind kind
	text string
	char byte // of a mark (d for °), a side or a label
}

// words are the letters and names that stand in a place, by what they are.
var words = map[string]token{
	"n": {side, "n", 'N'}, "north": {side, "north", 'N'}, "s": {side, "s", 'S'}, "south": {side, "south", 'S'},
	"e": {side, "e", 'E'}, "east": {side, "east", 'E'}, "w": {side, "w", 'W'}, "west": {side, "west", 'W'},
	"d": {mark, "d", 'd'}, "deg": {mark, "deg", 'd'}, "degrees": {mark, "degrees", 'd'},
	"m": {mark, "m", '\''}, "min": {mark, "min", '\''}, "minutes": {mark, "minutes", '\''},
	"sec": {mark, "sec", '"'}, "seconds": {mark, "seconds", '"'},
	"lat": {label, "lat", 'N'}, "latitude": {label, "latitude", 'N'},
	"lon": {label, "lon", 'E'}, "lng": {label, "lng", 'E'}, "long": {label, "long", 'E'}, "longitude": {label, "longitude", 'E'},
}

var (
	pointed = regexp.MustCompile(`^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)`)
	commaed = regexp.MustCompile(`^[+-]?(?:[0-9]+(?:[.,][0-9]+|\.)?|\.[0-9]+)`)
)

// lex takes a place apart. commas takes one between two digits for the decimal mark.
func lex(text string, commas bool) ([]token, error) {
	var out []token
	numbers := pointed
	if commas {
		numbers = commaed
	}
	for len(text) > 0 {
		if n := numbers.FindString(text); n != "" {
			if k := len(out); k > 0 && out[k-1].kind == number {
				return nil, ErrShape // 64.05-16.18: a sign does not part two numbers
			}
			out, text = append(out, token{kind: number, text: strings.Replace(n, ",", ".", 1)}), text[len(n):]
			continue
		}
		letters := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
		if letters < 0 {
			letters = len(text)
		}
		switch {
		case letters > 0:
			tokens, err := named(strings.ToLower(text[:letters]))
			if err != nil {
				return nil, err
			}
			out, text = append(out, tokens...), text[letters:]
			continue
		case strings.HasPrefix(text, "°"):
			out, text = append(out, token{mark, "°", 'd'}), text[len("°"):]
			continue
		}
		switch text[0] {
		case '\'', '"':
			out = append(out, token{mark, text[:1], text[0]})
		case ',':
			out = append(out, token{kind: comma})
		case ';':
			out = append(out, token{kind: semicolon})
		case ' ':
			out = append(out, token{kind: blank})
		case '/', '|': // between blanks, as in 64.05 / -16.18
			if k := len(out); k == 0 || out[k-1].kind != blank {
				return nil, ErrShape
			}
			out = append(out, token{kind: semicolon})
		case ':', '=':
			if k := len(out); k == 0 || out[k-1].kind != label {
				return nil, ErrShape
			}
		default:
			return nil, ErrShape
		}
		text = text[1:]
	}
	return out, nil
}

// named returns what a run of letters is: a word, or letters that stand together as in 54sN.
func named(run string) ([]token, error) {
	if t, ok := words[run]; ok {
		return []token{t}, nil
	}
	var out []token
	for _, r := range run {
		t, ok := words[string(r)]
		switch {
		case r == 'o' && len(run) == 1:
			return nil, errO
		case !ok || len(run) > 3:
			return nil, ErrShape
		}
		out = append(out, t)
	}
	return out, nil
}

// part is one number of a value, and the mark behind it: d, ' or ", 0 without.
type part struct {
	text string
	mark byte
}

// value is one of the two: up to three parts, and on which side it lies where a letter says so.
type value struct {
	parts []part
	side  byte // N S E W
	label byte // N E
	bare  bool // it ends at a comma with no blank behind it
}

// axis returns N or E where a letter or a name tells, 0 where nothing does.
func (v *value) axis() byte {
	switch v.side {
	case 'N', 'S':
		return 'N'
	case 'E', 'W':
		return 'E'
	}
	return v.label
}

// spelled tells that a letter or a mark shows where the value ends.
func (v *value) spelled() bool {
	return v.side != 0 || v.parts[len(v.parts)-1].mark != 0
}

// valuesOf collects tokens into values.
func valuesOf(tokens []token) (all []value, err error) {
	var v value
	end := func() {
		if len(v.parts) > 0 {
			all = append(all, v)
			v = value{}
		}
	}
	for i, t := range tokens {
		switch t.kind {
		case number:
			if n := len(v.parts); n > 0 && (t.text[0] == '-' || t.text[0] == '+' || v.parts[n-1].mark == '"') {
				end()
			}
			v.parts = append(v.parts, part{text: t.text})
		case mark:
			n := len(v.parts)
			if n == 0 || v.parts[n-1].mark != 0 {
				return nil, ErrShape
			}
			if t.char == 'd' && n > 1 { // degrees again: of the next value
				last := v.parts[n-1]
				v.parts = v.parts[:n-1]
				end()
				v.parts, n = []part{last}, 1
			}
			if place := map[byte]int{'d': 1, '\'': 2, '"': 3}[t.char]; place != n {
				return nil, errMinutes
			}
			v.parts[n-1].mark = t.char
		case side:
			n := len(v.parts)
			switch {
			case t.text == "s" && n == 3 && v.parts[2].mark == 0 && v.lettered():
				v.parts[2].mark = '"' // 54s behind 02m: seconds
			case n == 0 && v.side == 0:
				v.side = t.char // before its numbers
			case n > 0 && v.side == 0:
				v.side = t.char
				end()
			case n > 0:
				end()
				v.side = t.char
			default:
				return nil, errLetters
			}
		case label:
			end()
			if v.side != 0 || v.label != 0 {
				return nil, ErrShape
			}
			v.label = t.char
		case comma, semicolon:
			if len(v.parts) == 0 && (v.side != 0 || v.label != 0 || i == 0) {
				return nil, ErrShape
			}
			v.bare = t.kind == comma && (i+1 == len(tokens) || tokens[i+1].kind != blank)
			if len(v.parts) == 0 && len(all) > 0 { // behind the letter that ended it
				v.bare = false
			}
			end()
			v = value{}
		}
	}
	end()
	if v.side != 0 || v.label != 0 {
		return nil, errLetters
	}
	return all, nil
}

// lettered tells that minutes are marked by a letter, so that s means seconds.
func (v *value) lettered() bool { return v.parts[1].mark == '\'' }

// degrees works a value out for its axis.
func (v *value) degrees(axis byte) (float64, error) {
	texts := make([]string, len(v.parts))
	for i, p := range v.parts {
		texts[i] = p.text
	}
	if packed := v.axis() != 0 && len(v.parts) == 1 && v.parts[0].mark == 0; packed {
		if cut := cutPacked(texts[0], axis); cut != nil {
			texts = cut
		}
	}
	sign := 1.0
	if strings.HasPrefix(texts[0], "-") {
		sign = -1
		if v.side != 0 {
			return 0, errSign
		}
	}
	if v.side == 'S' || v.side == 'W' {
		sign = -1
	}
	deg, err := sexagesimal(texts)
	return sign * deg, err
}

// sexagesimal adds degrees, minutes and seconds up; a sign of the first is left out of it.
func sexagesimal(texts []string) (float64, error) {
	if len(texts) > 3 {
		return 0, errMany
	}
	sum, unit := 0.0, 1.0
	for i, t := range texts {
		x, err := strconv.ParseFloat(strings.TrimLeft(t, "+-"), 64)
		switch {
		case err != nil:
			return 0, ErrShape
		case i > 0 && x >= 60, i+1 < len(texts) && strings.Contains(t, "."):
			return 0, errMinutes
		}
		sum += x / unit
		unit *= 60
	}
	return sum, nil
}

// cutPacked takes degrees, minutes and seconds apart that stand together, as in 640254 or 01610.8: two digits of
// latitude, three of longitude, two of each of the others (ISO 6709:2008, annex H). nil for degrees alone.
func cutPacked(text string, axis byte) []string {
	sign := ""
	if text[0] == '+' || text[0] == '-' {
		sign, text = text[:1], text[1:]
	}
	deg := 2
	if axis == 'E' {
		deg = 3
	}
	whole, _, _ := strings.Cut(text, ".")
	switch len(whole) - deg {
	case 2:
		return []string{sign + text[:deg], text[deg:]}
	case 4:
		return []string{sign + text[:deg], text[deg : deg+2], text[deg+2:]}
	}
	return nil
}

// pointLocation is ISO 6709:2008, annex H: latitude and longitude with their signs and leading zeros, a height and
// a reference system that may follow, and a solidus.
var pointLocation = regexp.MustCompile(`^([+-](?:[0-9]{2}|[0-9]{4}|[0-9]{6})(?:\.[0-9]+)?)([+-](?:[0-9]{3}|[0-9]{5}|[0-9]{7})(?:\.[0-9]+)?)([+-][0-9]+(?:\.[0-9]+)?)?(?:CRS([A-Za-z0-9_:-]+))?/?$`)

// parseISO reads a point location of ISO 6709; is tells whether the text is one.
func parseISO(text string) (p Point, is bool, err error) {
	m := pointLocation.FindStringSubmatch(text)
	if m == nil {
		return Point{}, false, nil
	}
	if crs := strings.NewReplacer("_", "", ":", "").Replace(strings.ToUpper(m[4])); crs != "" && crs != "WGS84" && crs != "EPSG4326" {
		return Point{}, true, errReference
	}
	var deg [2]float64
	for i, axis := range []byte{'N', 'E'} {
		texts := []string{m[i+1]}
		if cut := cutPacked(m[i+1], axis); cut != nil {
			texts = cut
		}
		if deg[i], err = sexagesimal(texts); err != nil {
			return Point{}, true, err
		}
		if m[i+1][0] == '-' {
			deg[i] = -deg[i]
		}
	}
	p, err = checked(deg[0], deg[1])
	return p, true, err
}

var (
	decimalPoint = regexp.MustCompile(`[0-9]\.[0-9]`)
	digitComma   = regexp.MustCompile(`[0-9],[0-9]`)
)

// parsePair reads two values. A comma between two digits is tried as the decimal mark first, where no point is
// one already; it stands then only where something else parts the two.
func parsePair(text string) (Point, error) {
	var first error
	if digitComma.MatchString(text) && !decimalPoint.MatchString(text) {
		p, err := pairOf(text, true)
		if err == nil {
			return p, nil
		}
		first = err
	}
	p, err := pairOf(text, false)
	if err != nil && first != nil && first != ErrShape {
		return p, first
	}
	return p, err
}

func pairOf(text string, commas bool) (Point, error) {
	tokens, err := lex(text, commas)
	if err != nil {
		return Point{}, err
	}
	values, err := valuesOf(tokens)
	if err != nil {
		return Point{}, err
	}
	if len(values) == 1 && len(values[0].parts) == 2 && values[0].axis() == 0 && values[0].parts[0].mark == 0 { // 64.05 16.18
		v := values[0]
		values = []value{{parts: v.parts[:1]}, {parts: v.parts[1:]}}
	}
	switch {
	case len(values) < 2:
		return Point{}, ErrShape
	case len(values) > 2:
		return Point{}, errMany
	}
	a, b := &values[0], &values[1]
	if a.bare && !a.spelled() && (commas || len(a.parts) > 1 || len(b.parts) > 1) {
		return Point{}, errComma
	}
	x, y := a.axis(), b.axis()
	switch {
	case x == 0 && y == 0:
		x, y = 'N', 'E'
	case x == y || x == 0 || y == 0 || (a.side == 0) != (b.side == 0):
		return Point{}, errLetters
	case a.label != 0 && a.label != x, b.label != 0 && b.label != y:
		return Point{}, errLetters
	}
	p, err := a.degrees(x)
	if err != nil {
		return Point{}, err
	}
	q, err := b.degrees(y)
	if err != nil {
		return Point{}, err
	}
	if x == 'E' {
		p, q = q, p
	}
	return checked(p+0, q+0) // 0, where a sign made it -0
}
