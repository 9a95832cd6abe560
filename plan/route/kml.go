package route

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"example.org/skywedge/kit/field"
)

const kmlSpace = "http://www.opengis.net/kml/2.2"

// container reads what stands in <kml>, <Document> or <Folder>. Styles, views, overlays and links to other files are
// left alone.
func (w *walker) container() error {
	return w.each(func(e xml.StartElement, off int) (err error) {
		switch e.Name.Local {
		case "Document", "Folder":
			return w.container()
		case "Placemark":
			return w.placemark(off)
		case "name":
			var name string
			name, _, err = w.words()
			if w.out.Name == "" {
				w.out.Name = field.Clean(strings.TrimSpace(name), 200)
			}
			return err
		}
		return w.skip()
	})
}

func (w *walker) placemark(off int) error {
	f := feature{off: off}
	err := w.each(func(e xml.StartElement, off int) (err error) {
		switch e.Name.Local {
		case "name":
			f.name, _, err = w.words()
			return err
		case "TimeSpan", "TimeStamp":
			return w.each(func(e xml.StartElement, _ int) error {
				text, _, err := w.words()
				// A date alone, or a time without an offset, is no moment: it stays unknown.
				switch t, ok := moment(text, false); {
				case !ok:
				case e.Name.Local == "end":
					f.end = t
				case e.Name.Local == "begin" || e.Name.Local == "when":
					f.begin = t
				}
				return err
			})
		case "ExtendedData":
			return w.each(func(e xml.StartElement, off int) error {
				if e.Name.Local != "Data" {
					return w.skip()
				}
				name := attr(e, "name")
				return w.each(func(e xml.StartElement, _ int) error {
					if e.Name.Local != "value" {
						return w.skip()
					}
					text, _, err := w.words()
					f.keys.set(name, text, off)
					return err
				})
			})
		}
		return w.geometry(e, off, &f)
	})
	if err != nil {
		return err
	}
	return w.add(f)
}

// geometry reads a geometry into a feature, and leaves out what is none.
func (w *walker) geometry(e xml.StartElement, off int, f *feature) error {
	switch e.Name.Local {
	case "MultiGeometry", "MultiTrack":
		return w.each(func(e xml.StartElement, off int) error { return w.geometry(e, off, f) })
	case "LineString", "Point":
		p, err := w.shape(off, e.Name.Local == "Point")
		switch {
		case err != nil || len(p.points) == 0:
			return err
		case e.Name.Local == "Point":
			f.marks = append(f.marks, p)
		default:
			f.lines = append(f.lines, p)
		}
		return nil
	case "Track":
		p, err := w.track(off)
		f.lines = append(f.lines, p)
		return err
	case "Polygon", "LinearRing", "Model":
		w.leave("a "+strings.ToLower(e.Name.Local), w.line(off))
	}
	return w.skip()
}

// shape reads a line or a point: its coordinates and what their heights count from.
func (w *walker) shape(off int, single bool) (part, error) {
	var p part
	mode := "clampToGround" // OGC 07-147r2, section 9.20: what holds when it is not said
	err := w.each(func(e xml.StartElement, _ int) (err error) {
		switch e.Name.Local {
		case "altitudeMode":
			mode, _, err = w.words()
		case "coordinates":
			var text string
			var at int
			if text, at, err = w.words(); err == nil {
				p.points, err = w.tuples(text, at)
			}
		default:
			err = w.skip()
		}
		return err
	})
	switch {
	case err != nil:
		return p, err
	case len(p.points) == 0:
		return p, w.fault(off, "coordinates", "nothing", "longitude,latitude or longitude,latitude,height, with blanks between the points")
	case single && len(p.points) != 1:
		return p, w.fault(off, "coordinates", fmt.Sprintf("%d points", len(p.points)), "one point in a <Point>")
	}
	p.datum = kmlDatum(mode)
	return p, nil
}

func kmlDatum(mode string) Datum {
	switch strings.TrimSpace(mode) {
	case "absolute":
		return AboveSea
	case "relativeToGround":
		return AboveGround
	}
	return NoHeights
}

// tuples reads "lon,lat,height lon,lat,height".
func (w *walker) tuples(text string, at int) ([]Point, error) {
	var points []Point
	from := -1
	for i := 0; i <= len(text); i++ {
		blank := i == len(text) || strings.IndexByte(" \t\r\n", text[i]) >= 0
		switch {
		case !blank && from < 0:
			from = i
		case blank && from >= 0:
			tuple := text[from:i]
			c := strings.Split(tuple, ",")
			if len(c) < 2 || len(c) > 3 || slices.Contains(c, "") {
				return nil, w.fault(at+from, "coordinates", field.Quoted(tuple), "longitude,latitude or longitude,latitude,height without blanks")
			}
			p, err := w.point(at+from, c[1], c[0], strings.Join(c[2:], ""))
			if err != nil {
				return nil, err
			}
			points = append(points, p)
			from = -1
		}
	}
	return points, nil
}

// track reads a track: moments, and as many places.
func (w *walker) track(off int) (part, error) {
	var p part
	var when []string
	mode := "clampToGround"
	err := w.each(func(e xml.StartElement, off int) error {
		text, at, err := w.words()
		switch {
		case err != nil:
			return err
		case e.Name.Local == "altitudeMode":
			mode = text
		case e.Name.Local == "when":
			if len(when) >= MaxPoints {
				return w.fault(off, "points", "more than 100000", "at most 100000 points in a file: thin the line, or split it")
			}
			when = append(when, text)
		case e.Name.Local == "coord":
			c := strings.Fields(text)
			if len(c) < 2 || len(c) > 3 {
				return w.fault(at, "coord", found(text), "longitude, latitude and height with blanks between them")
			}
			pt, err := w.point(at, c[1], c[0], strings.Join(c[2:], ""))
			if err != nil {
				return err
			}
			p.points = append(p.points, pt)
		}
		return nil
	})
	if err != nil {
		return p, err
	}
	if len(when) != len(p.points) {
		return p, w.fault(off, "when", fmt.Sprintf("%d moments for %d places", len(when), len(p.points)), "as many as places")
	}
	for i := range p.points {
		p.points[i].Time, _ = moment(when[i], false)
	}
	p.datum = kmlDatum(mode)
	return p, nil
}
