package route

import (
	"strings"

	"example.org/skywedge/kit/field"
)

// take makes features of an object.
func (s *scanner) take(o *object, top bool) error {
	switch o.kind {
	case "FeatureCollection":
		for _, in := range o.within {
			if err := s.take(in, false); err != nil {
				return err
			}
		}
		return nil
	case "Feature":
		f := feature{off: o.off, name: o.name, keys: o.keys}
		for i, at := range []*string{&o.when[0], &o.when[1]} {
			// A date alone, or a time without an offset, is no moment: it stays unknown.
			if t, ok := moment(*at, false); ok && i == 0 {
				f.begin = t
			} else if ok {
				f.end = t
			}
		}
		if o.geometry != nil {
			if err := s.geometryOf(o.geometry, &f, 0); err != nil {
				return err
			}
		}
		return s.add(f)
	}
	f := feature{off: o.off}
	if err := s.geometryOf(o, &f, 0); err != nil {
		return err
	}
	return s.add(f)
}

// geometryOf reads a geometry into a feature.
func (s *scanner) geometryOf(o *object, f *feature, depth int) error {
	switch o.kind {
	case "GeometryCollection":
		for _, in := range o.within {
			if err := s.geometryOf(in, f, depth+1); err != nil {
				return err
			}
		}
	case "Point":
		if o.shape == nil || o.shape.at == nil {
			return s.badShape(o, "one position: [longitude, latitude]")
		}
		f.marks = append(f.marks, part{[]Point{*o.shape.at}, AboveEllipsoid})
	case "LineString", "MultiPoint":
		points, ok := o.shape.positions()
		if !ok {
			return s.badShape(o, "an array of positions: [[longitude, latitude], …]")
		}
		if o.kind == "LineString" {
			f.lines = append(f.lines, part{points, AboveEllipsoid})
			break
		}
		for _, p := range points {
			f.marks = append(f.marks, part{[]Point{p}, AboveEllipsoid})
		}
	case "MultiLineString":
		if o.shape == nil || o.shape.at != nil {
			return s.badShape(o, "an array of lines: [[[longitude, latitude], …], …]")
		}
		for _, in := range o.shape.inside {
			points, ok := in.positions()
			if !ok {
				return s.badShape(o, "an array of lines: [[[longitude, latitude], …], …]")
			}
			f.lines = append(f.lines, part{points, AboveEllipsoid})
		}
	case "Polygon", "MultiPolygon":
		s.leave("a "+strings.ToLower(o.kind), s.line(o.off))
	default:
		found := field.Quoted(o.kind)
		if o.kind == "" {
			found = "nothing"
		}
		return s.fault(o.off, "type", found, "a type of RFC 7946: LineString, MultiLineString, Point, Feature, FeatureCollection, GeometryCollection …")
	}
	return nil
}

func (s *scanner) badShape(o *object, allowed string) error {
	found := "an array of another depth"
	switch {
	case o.shape == nil:
		return s.fault(o.off, "coordinates", "nothing", allowed)
	case o.shape.at == nil && len(o.shape.inside) == 0:
		found = "an empty array"
	}
	return s.fault(o.shapeOff, "coordinates", found, allowed)
}

// positions returns an array of positions; ok is false for anything else.
func (n *nest) positions() (points []Point, ok bool) {
	if n == nil || n.at != nil || len(n.inside) == 0 {
		return nil, false
	}
	for _, in := range n.inside {
		if in.at == nil {
			return nil, false
		}
		points = append(points, *in.at)
	}
	return points, true
}
