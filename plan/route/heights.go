package route

import (
	"math"
	"slices"

	"example.org/skywedge/kit/field"
)

// heights is how the heights of a path are counted from take-off.
type heights struct {
	lines chain // with heights above take-off, where they are known
	known bool
	datum Datum
	zero  float64  // what is taken off
	sea   *float64 // take-off above the sea
}

// of returns how high a mark is above take-off.
func (h *heights) of(m Mark) (float64, bool) {
	switch {
	case !m.HasHeight || m.Datum == NoHeights:
		return 0, false
	case m.Datum == AboveTakeOff:
		return m.HeightM, true
	case h.known && m.Datum == h.datum:
		return round(m.HeightM-h.zero, 1), true
	}
	return 0, false
}

var datumWords = map[Datum]string{AboveGround: "the ground below", AboveSea: "the sea", AboveEllipsoid: "the ellipsoid of WGS 84"}

// heightsOf counts the heights of a path from take-off.
func (d *Drawn) heightsOf(c chain, w Wish, note, miss noter) heights {
	h := heights{lines: append(chain(nil), c...), datum: c[0].Datum, sea: d.ElevationM}
	home := d.home()
	if home != nil && home.HasHeight && home.Datum == AboveSea {
		sea := home.HeightM
		h.sea = &sea
	}
	for _, l := range c {
		if l.Datum != h.datum {
			h.datum = NoHeights
		}
	}
	first := c[0].Points[0].HeightM
	low, high := math.Inf(1), math.Inf(-1)
	with, without := false, false
	for _, l := range c {
		for _, p := range l.Points {
			with, without = with || p.HasHeight, without || !p.HasHeight
			low, high = math.Min(low, p.HeightM), math.Max(high, p.HeightM)
		}
	}
	h.known = true
	lack := "not in the file"
	switch {
	case with && without:
		lack = "not for every point in the file"
	case with:
		lack = "not counted from one level in the file"
		if c[0].Datum == NoHeights && (len(d.Lines) > 0 || !slices.ContainsFunc(d.Marks, func(m Mark) bool { return m.Datum != NoHeights })) {
			lack = "the file lays the line on the ground"
		}
	}
	of := datumWords[h.datum]
	switch {
	case h.datum == NoHeights && w.HeightM != nil:
		note("legs", "height: %s; %s m above take-off all along", lack, field.Figure(*w.HeightM, 1))
		for i := range h.lines {
			points := append([]Point(nil), h.lines[i].Points...)
			for k := range points {
				points[k].HeightM, points[k].HasHeight = *w.HeightM, true
			}
			h.lines[i].Points, h.lines[i].Datum = points, AboveTakeOff
		}
		return h
	case h.datum == NoHeights:
		h.known = false
		miss("legs", "height: %s, so the card's %d m above take-off; say another with --height", lack, usualM)
		return h
	case w.HeightM != nil:
		h.zero = first - *w.HeightM
		note("legs", "heights as in the file, with the first point %s m above take-off", field.Figure(*w.HeightM, 1))
	case h.datum == AboveTakeOff:
		note("legs", "heights above take-off as in the file")
	case h.datum == AboveGround:
		miss("legs", "heights in the file are above the ground below: taken as above take-off; add ground_m where the land rises or falls")
	case home != nil && home.HasHeight && home.Datum == h.datum:
		h.zero = home.HeightM
		note("legs", "heights in the file are above %s: counted from the mark %q at %s m", of, homeName, field.Figure(home.HeightM, 1))
	case timed(c[0]) && first <= low+groundM && high >= first+risesM:
		h.zero = low
		miss("legs", "heights in the file are above %s: it was flown, begins low and rises, so its lowest point is taken for take-off; say with --height how high the first point is", of)
	default:
		h.zero = first - usualM
		if low < h.zero { // it goes down further: nothing is to be below take-off
			h.zero = low
		}
		miss("legs", "heights in the file are above %s, and take-off is not in it: the first point is taken as %s m above take-off; say another with --height", of, field.Figure(first-h.zero, 1))
	}
	for i := range h.lines {
		points := append([]Point(nil), h.lines[i].Points...)
		for k := range points {
			points[k].HeightM -= h.zero
		}
		h.lines[i].Points = points
	}
	return h
}

// home returns the mark at take-off.
func (d *Drawn) home() *Mark {
	for i := range d.Marks {
		if isHome(d.Marks[i].Name) {
			return &d.Marks[i]
		}
	}
	return nil
}
