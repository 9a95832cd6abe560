package place

import (
	"errors"
	"regexp"
	"strings"
)

var (
	errReference = errors.New("coordinates in WGS 84, as maps and receivers give them")
	errNoPlace   = errors.New("a link with the coordinates in it; this one has none: open it, and copy the numbers")
	errTwoPlaces = errors.New("a link with one place in it; this one has several: copy the numbers of the right one")
)

// geoIn returns the geo: link of a text, "" where there is none.
func geoIn(text string) string {
	for _, f := range strings.Fields(text) {
		f = strings.Trim(f, "<>()[]")
		if len(f) > 4 && strings.EqualFold(f[:4], "geo:") {
			return f
		}
	}
	return ""
}

// The coordinates of a geo: link: decimal degrees with a point, no plus sign, no exponent, a height that may follow
// (RFC 5870, section 3.3).
var geoNumbers = regexp.MustCompile(`^(-?[0-9]+(?:\.[0-9]+)?),(-?[0-9]+(?:\.[0-9]+)?)(?:,-?[0-9]+(?:\.[0-9]+)?)?$`)

var geoName = regexp.MustCompile(`^[A-Za-z0-9-]+$`) // of a parameter

// parseGeo reads a geo: link (RFC 5870). Its parameters are case-insensitive; crs must be wgs84, which is what it is
// where it is left out; the uncertainty and others that it does not know are dropped, as section 4.4 of it asks.
func parseGeo(text string) (Point, error) {
	path, query, asked := strings.Cut(text[4:], "?")
	pieces := strings.Split(path, ";")
	m := geoNumbers.FindStringSubmatch(pieces[0])
	for _, p := range pieces[1:] {
		name, v, _ := strings.Cut(p, "=")
		if strings.EqualFold(name, "crs") && !strings.EqualFold(v, "wgs84") {
			return Point{}, errReference
		}
		if !geoName.MatchString(name) {
			m = nil
		}
	}
	if m == nil {
		return Point{}, errors.New("geo: with latitude and longitude, as geo:64.0484,-16.1794")
	}
	p, err := numbersAt(m[1], m[2])
	if asked && err == nil && p == (Point{}) { // 0,0 stands for no place where a query names one
		return parseLink("?" + query)
	}
	return p, err
}

// linkIn returns the link of a text, which may stand in a sentence; "" where there is none.
func linkIn(text string) string {
	fields := strings.Fields(text)
	for _, f := range fields {
		if strings.Contains(f, "://") {
			return strings.Trim(f, "<>()[]")
		}
	}
	if len(fields) == 1 && strings.ContainsAny(text, "?#@/") && strings.ContainsFunc(text, func(r rune) bool { return r >= 'a' && r <= 'z' }) {
		return text // without its scheme
	}
	return ""
}

// The shapes of coordinates in a link, whatever its host.
var (
	linkNumber = regexp.MustCompile(`^[+-]?[0-9]{1,3}(?:\.[0-9]+)?$`)
	linkPair   = regexp.MustCompile(`^(?:[A-Za-z]+:)?@?([+-]?[0-9]{1,3}(?:\.[0-9]+)?)(?:, *| +)([+-]?[0-9]{1,3}(?:\.[0-9]+)?)(?:[,;/( ].*)?$`)
)

// How far a shape can be trusted to be the place that is meant, the best first: one that was asked for or marked,
// any other, and the middle of a map.
const (
	meant = iota
	shown
	middle
	ranks
)

// found are the places of a link by rank.
type found struct {
	points [ranks][]Point
	err    error // of coordinates out of range
}

func (f *found) add(rank int, lat, lon string) {
	p, err := numbersAt(lat, lon)
	f.put(rank, p, err)
}

func (f *found) put(rank int, p Point, err error) {
	if err != nil {
		f.err = err
		return
	}
	for _, q := range f.points[rank] {
		if p.KmTo(q) < 0.02 { // the same, rounded another way
			return
		}
	}
	f.points[rank] = append(f.points[rank], p)
}

// text adds what stands for a place in a piece of a link: two numbers, or degrees and minutes.
func (f *found) text(rank int, s string) bool {
	s = plain(s)
	if m := linkPair.FindStringSubmatch(s); m != nil {
		f.add(rank, m[1], m[2])
		return true
	}
	if strings.Contains(s, "°") {
		if p, err := parsePair(s); err == nil {
			f.put(meant, p, nil)
			return true
		}
	}
	return false
}

// parseLink looks for coordinates in a link by their shape: ?q=lat,lon and any other parameter that holds two
// numbers, lat=…&lon=…, /lat/lon, @lat,lon, and #map=zoom/lat/lon.
func parseLink(link string) (Point, error) {
	var f found
	if _, rest, ok := strings.Cut(link, "://"); ok {
		link = rest
	}
	link, fragment, _ := strings.Cut(link, "#")
	path, query, _ := strings.Cut(link, "?")
	f.parameters(query)
	f.path(path, shown)
	if _, more, ok := strings.Cut(fragment, "?"); ok {
		f.parameters(more)
	} else {
		f.parameters(fragment)
	}
	for _, p := range strings.Split(fragment, "&") {
		_, v, ok := strings.Cut(p, "=")
		if !ok {
			v = p
		}
		f.path(v, middle)
	}
	for _, points := range f.points {
		switch {
		case len(points) == 1:
			return points[0], nil
		case len(points) > 1:
			return Point{}, errTwoPlaces
		}
	}
	if f.err != nil {
		return Point{}, f.err
	}
	return Point{}, errNoPlace
}

// parameters looks at name=value pairs.
func (f *found) parameters(query string) {
	lats, lons := map[string]string{}, map[string]string{}
	for _, p := range strings.Split(query, "&") {
		name, v, ok := strings.Cut(p, "=")
		if !ok {
			continue
		}
		name, v = strings.ToLower(unescaped(name)), unescaped(v)
		if stem, ok := cutAny(name, "latitude", "lat"); ok && linkNumber.MatchString(v) {
			lats[stem] = v
			continue
		}
		if stem, ok := cutAny(name, "longitude", "long", "lng", "lon"); ok && linkNumber.MatchString(v) {
			lons[stem] = v
			continue
		}
		rank := shown
		if name == "q" || name == "query" {
			rank = meant
		}
		f.text(rank, v)
	}
	for stem, lat := range lats {
		if lon, ok := lons[stem]; ok {
			rank := shown
			if stem != "" { // mlat: of a mark, where lat is that of the map
				rank = meant
			}
			f.add(rank, lat, lon)
		}
	}
}

// cutAny takes one of some endings off a name.
func cutAny(name string, endings ...string) (stem string, ok bool) {
	for _, e := range endings {
		if stem, ok = strings.CutSuffix(name, e); ok {
			return stem, true
		}
	}
	return "", false
}

// path looks at the pieces between solidi: "lat,lon", and two or more numbers in a row. A number without a point
// before two with one is the zoom of a map.
func (f *found) path(path string, rank int) {
	var row []string
	flush := func() {
		if len(row) > 2 && (rank == middle || !strings.Contains(row[0], ".")) {
			row = row[1:]
		}
		if len(row) >= 2 && strings.Contains(row[0], ".") && strings.Contains(row[1], ".") {
			f.add(rank, row[0], row[1])
		}
		row = nil
	}
	for _, s := range strings.Split(path, "/") {
		s = unescaped(s)
		if linkNumber.MatchString(s) {
			row = append(row, s)
			continue
		}
		flush()
		at := rank
		if strings.HasPrefix(s, "@") {
			at = middle
		}
		f.text(at, s)
	}
	flush()
}

// unescaped puts back what a link spells with %, and blanks for plus signs before what is no digit; +64.05 stays.
func unescaped(s string) string {
	var b strings.Builder
	hex := func(c byte) int { return strings.IndexByte("0123456789abcdef", c|0x20) }
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] == '%' && i+2 < len(s) && hexDigit(s[i+1]) && hexDigit(s[i+2]):
			b.WriteByte(byte(hex(s[i+1])<<4 | hex(s[i+2])))
			i += 2
		case s[i] == '+' && i > 0:
			b.WriteByte(' ')
		default:
			b.WriteByte(s[i])
		}
	}
	return strings.ToValidUTF8(b.String(), "?")
}

func hexDigit(c byte) bool {
	return c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'f'
}

// numbersAt makes a place of two plain decimal numbers.
func numbersAt(lat, lon string) (Point, error) {
	x, err := sexagesimal([]string{lat})
	if err != nil {
		return Point{}, err
	}
	y, err := sexagesimal([]string{lon})
	if err != nil {
		return Point{}, err
	}
	if lat[0] == '-' {
		x = -x
	}
	if lon[0] == '-' {
		y = -y
	}
	return checked(x+0, y+0)
}
