package route

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/skywedge/kit/field"
)

// reader is a file that is being read.
type reader struct {
	text   []byte
	points int
	out    Drawn

	seenAt, seenLine int // an offset that was asked about, and its line
}

// Read reads a file of any of the three formats, which it knows by what it holds and not by its name. An error is
// [field.Faults]: what was found where, and what is allowed.
func Read(file string, data []byte) (*Drawn, error) {
	r := &reader{text: data, out: Drawn{File: file}, seenLine: 1}
	if len(data) > MaxBytes {
		return nil, r.fault(0, "file", "more than 32 MiB", "a path of at most 32 MiB")
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) {
		return nil, r.fault(0, "file", "a zip archive", "the file that is packed in it: unpack it and give its .kml")
	}
	if err := r.decode(); err != nil {
		return nil, err
	}
	var err error
	switch start := bytes.TrimLeft(r.text, " \t\r\n"); {
	case len(start) == 0:
		err = r.fault(0, "file", "nothing", "a path as GPX, KML or GeoJSON")
	case start[0] == '<':
		err = r.readXML()
	case start[0] == '{':
		err = r.readJSON()
	default:
		err = r.fault(len(r.text)-len(start), "file", field.Quoted(firstLine(start)), "a path as GPX, KML or GeoJSON")
	}
	if err != nil {
		return nil, err
	}
	return &r.out, nil
}

func firstLine(text []byte) string {
	text, _, _ = bytes.Cut(text, []byte("\n"))
	return string(text[:min(len(text), 200)])
}

// fault says what is wrong at an offset of the text.
func (r *reader) fault(off int, name, found, allowed string) error {
	off = min(max(off, 0), len(r.text))
	from := bytes.LastIndexByte(r.text[:off], '\n') + 1
	return one(field.Fault{File: r.out.File, Line: r.line(off), Column: 1 + utf8.RuneCount(r.text[from:off]),
		Field: name, Found: found, Allowed: allowed})
}

// line returns the line of an offset, from 1. Offsets are asked for in their order, so that the text is counted once.
func (r *reader) line(off int) int {
	off = min(max(off, 0), len(r.text))
	if off < r.seenAt {
		r.seenAt, r.seenLine = 0, 1
	}
	r.seenLine += bytes.Count(r.text[r.seenAt:off], []byte("\n"))
	r.seenAt = off
	return r.seenLine
}

// leave notes what is left out; of many of a kind the first few are enough.
func (r *reader) leave(what string, line int) {
	const enough = 5
	switch n := len(r.out.Left); {
	case n < enough:
		r.out.Left = append(r.out.Left, fmt.Sprintf("%s, line %d", what, line))
	case n == enough:
		r.out.Left = append(r.out.Left, "and more")
	}
}

// number reads a decimal number, and nothing else that only a compiler would take for one.
func number(text string) (float64, bool) {
	text = strings.TrimSpace(text)
	if text == "" || strings.Trim(text, "0123456789.+-eE") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// The highest and lowest that a height may be (ours: no path of a drone leaves them).
const (
	lowestM  = -12000
	highestM = 100000
)

// point checks and counts a place. The texts are what stands in the file; height is "" where there is none.
func (r *reader) point(off int, lat, lon, height string) (Point, error) {
	if r.points++; r.points > MaxPoints {
		return Point{}, r.fault(off, "points", "more than 100000", "at most 100000 points in a file: thin the line, or split it")
	}
	p := Point{line: r.line(off)}
	var ok bool
	if p.LatDeg, ok = number(lat); !ok || math.Abs(p.LatDeg) > 90 {
		return p, r.fault(off, "latitude", found(lat), "a number from -90 to 90°")
	}
	if p.LonDeg, ok = number(lon); !ok || math.Abs(p.LonDeg) > 180 {
		return p, r.fault(off, "longitude", found(lon), "a number from -180 to 180°")
	}
	if strings.TrimSpace(height) == "" {
		return p, nil
	}
	if p.HeightM, p.HasHeight = number(height); !p.HasHeight || p.HeightM < lowestM || p.HeightM > highestM {
		return p, r.fault(off, "height", found(height), fmt.Sprintf("a number of metres from %d to %d", lowestM, highestM))
	}
	return p, nil
}

func found(text string) string {
	if strings.TrimSpace(text) == "" {
		return "nothing"
	}
	return field.Quoted(strings.TrimSpace(text))
}

// moment reads a date and time. One without an offset is taken as UTC where the standard says so, and else is none.
func moment(text string, utc bool) (time.Time, bool) {
	text = strings.TrimSpace(text)
	t, err := time.Parse(time.RFC3339, text)
	if err != nil && utc {
		t, err = time.Parse("2006-01-02T15:04:05", text)
	}
	return t, err == nil && t.Year() >= 1 && t.Year() <= 9999
}

// aTime is what a moment may be.
const aTime = "a date and time as 2026-09-18T17:40:00Z"

// part is one geometry of a feature.
type part struct {
	points []Point
	datum  Datum
}

// feature is what one placemark, track or feature holds.
type feature struct {
	off        int
	name       string
	lines      []part
	marks      []part // of one point each
	keys       keys
	begin, end time.Time
}

// add takes a feature into the path. Lines of it that end where the next begins are one line: that is how a line is cut
// at the antimeridian.
func (r *reader) add(f feature) error {
	looks, err := r.looks(f.off, f.keys)
	if err != nil {
		return err
	}
	name := field.Clean(strings.TrimSpace(f.name), 200)
	if len(f.marks) > 0 && isHome(name) {
		if err := r.home(f.keys); err != nil {
			return err
		}
	}
	var joined []part
	for _, p := range f.lines {
		if len(p.points) == 0 {
			continue
		}
		if n := len(joined); n > 0 && joined[n-1].datum == p.datum && samePlace(last(joined[n-1].points), p.points[0]) {
			joined[n-1].points = append(joined[n-1].points, p.points[1:]...)
			continue
		}
		joined = append(joined, p)
	}
	for _, p := range joined {
		l := Line{Name: name, Points: p.points, Datum: p.datum, Looks: looks}
		if len(l.Points) < 2 {
			return r.fault(f.off, "line", "one point", "a line of two points at least")
		}
		if len(joined) > 1 { // what was said of the whole holds for no part of it
			l.Looks = nil
		}
		whole(&l, f.begin, f.end, len(joined) == 1)
		r.out.Lines = append(r.out.Lines, l)
	}
	for _, p := range f.marks {
		m := Mark{Name: name, Point: p.points[0], Datum: p.datum}
		if m.Datum != NoHeights && !m.HasHeight {
			m.Datum = NoHeights
		}
		if looks != nil && looks.HasHeight {
			m.Datum, m.HeightM, m.HasHeight = AboveTakeOff, looks.HeightM[0], true
		}
		if m.Time.IsZero() {
			m.Time = f.begin
		}
		r.out.Marks = append(r.out.Marks, m)
	}
	return nil
}

// whole makes one thing of what only some points of a line have, and spreads what is known of its ends.
func whole(l *Line, begin, end time.Time, alone bool) {
	for _, p := range l.Points {
		if !p.HasHeight {
			l.Datum = NoHeights
		}
	}
	share := lengthShares(l.Points)
	if alone && !begin.IsZero() && end.After(begin) && l.Points[0].Time.IsZero() {
		for i := range l.Points {
			l.Points[i].Time = begin.Add(time.Duration(share[i] * float64(end.Sub(begin))))
		}
	}
	if k := l.Looks; k != nil && k.HasHeight {
		l.Datum = AboveTakeOff
		for i := range l.Points {
			l.Points[i].HeightM, l.Points[i].HasHeight = k.HeightM[0]+(k.HeightM[1]-k.HeightM[0])*share[i], true
		}
	}
}

// lengthShares returns how far along a line each point lies, 0 to 1; by count where the line has no length.
func lengthShares(points []Point) []float64 {
	g := NewPlane(points[0].LatDeg, points[0].LonDeg)
	share := make([]float64, len(points))
	for i := range points[1:] {
		a, b := g.Metres(points[i].LatDeg, points[i].LonDeg), g.Metres(points[i+1].LatDeg, points[i+1].LonDeg)
		share[i+1] = share[i] + math.Hypot(b.X-a.X, b.Y-a.Y)
	}
	whole := share[len(share)-1]
	for i := range share {
		if whole > 0.01 {
			share[i] /= whole
		} else {
			share[i] = float64(i) / float64(len(share)-1)
		}
	}
	return share
}

func last[T any](list []T) T { return list[len(list)-1] }

// samePlace tells whether two points are one, to a centimetre, on either side of the antimeridian.
func samePlace(a, b Point) bool {
	const sameDeg = 1e-7
	return math.Abs(a.LatDeg-b.LatDeg) <= sameDeg && math.Abs(math.Remainder(a.LonDeg-b.LonDeg, 360)) <= sameDeg
}
