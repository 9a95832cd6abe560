package route

import (
	"encoding/xml"
	"strings"

	"example.org/skywedge/kit/field"
)

// The names of the namespaces: GPX's own (https://www.topografix.com/GPX/1/1/gpx.xsd), and ours for what a card says
// beyond it.
const (
	gpxSpace = "http://www.topografix.com/GPX/1/1"
	ownSpace = "https://example.org/skywedge/path/1"
)

// gpx reads the file's element: way points, routes, tracks.
func (w *walker) gpx(root xml.StartElement, off int) error {
	if v := attr(root, "version"); v != "1.1" {
		return w.fault(off, "version", found(v), "1.1: save the path as GPX 1.1")
	}
	return w.each(func(e xml.StartElement, off int) error {
		if e.Name.Space != root.Name.Space {
			return w.skip()
		}
		switch e.Name.Local {
		case "metadata":
			return w.each(func(e xml.StartElement, _ int) (err error) {
				if e.Name.Local == "name" {
					w.out.Name, _, err = w.words()
					w.out.Name = field.Clean(strings.TrimSpace(w.out.Name), 200)
					return err
				}
				return w.skip()
			})
		case "wpt":
			f := feature{off: off}
			p, err := w.gpxPoint(e, off, &f)
			if err != nil {
				return err
			}
			f.marks = []part{{[]Point{p}, AboveSea}}
			return w.add(f)
		case "rte", "trk":
			return w.gpxLine(off)
		}
		return w.skip()
	})
}

// gpxLine reads a route, or a track with its segments.
func (w *walker) gpxLine(off int) error {
	f := feature{off: off}
	route := part{datum: AboveSea}
	err := w.each(func(e xml.StartElement, off int) (err error) {
		switch e.Name.Local {
		case "name":
			f.name, _, err = w.words()
			return err
		case "extensions":
			return w.gpxKeys(&f)
		case "rtept":
			p, err := w.gpxPoint(e, off, nil)
			route.points = append(route.points, p)
			return err
		case "trkseg":
			segment := part{datum: AboveSea}
			err := w.each(func(e xml.StartElement, off int) error {
				if e.Name.Local != "trkpt" {
					return w.skip()
				}
				p, err := w.gpxPoint(e, off, nil)
				segment.points = append(segment.points, p)
				return err
			})
			f.lines = append(f.lines, segment)
			return err
		}
		return w.skip()
	})
	if err != nil {
		return err
	}
	f.lines = append(f.lines, route)
	lines := f.lines[:0]
	for _, l := range f.lines { // a receiver that loses its signal leaves segments of one point
		if len(l.points) > 1 {
			lines = append(lines, l)
		} else if len(l.points) == 1 {
			w.leave("a segment of one point", l.points[0].line)
		}
	}
	f.lines = lines
	return w.add(f)
}

// gpxPoint reads any of the three kinds of points. What only a way point has goes into the feature.
func (w *walker) gpxPoint(e xml.StartElement, off int, f *feature) (Point, error) {
	var height, when string
	whenOff := off
	err := w.each(func(e xml.StartElement, _ int) (err error) {
		switch {
		case e.Name.Local == "ele":
			height, _, err = w.words()
		case e.Name.Local == "time":
			when, whenOff, err = w.words()
		case e.Name.Local == "name" && f != nil:
			f.name, _, err = w.words()
		case e.Name.Local == "extensions" && f != nil:
			err = w.gpxKeys(f)
		default:
			err = w.skip()
		}
		return err
	})
	if err != nil {
		return Point{}, err
	}
	p, err := w.point(off, attr(e, "lat"), attr(e, "lon"), height)
	if err != nil || strings.TrimSpace(when) == "" {
		return p, err
	}
	var ok bool
	if p.Time, ok = moment(when, true); !ok {
		return p, w.fault(whenOff, "time", found(when), aTime)
	}
	return p, nil
}

func (w *walker) gpxKeys(f *feature) error {
	return w.each(func(e xml.StartElement, off int) error {
		if e.Name.Space != ownSpace {
			return w.skip()
		}
		text, _, err := w.words()
		f.keys.set(e.Name.Local, text, off)
		return err
	})
}
