package route

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/skywedge/kit/field"
)

// scanner goes through the tokens of a GeoJSON text. Members come in any order, so an object is kept until it ends; only
// what a path needs of it is kept, and places are counted as they come.
type scanner struct {
	*reader
	dec     *json.Decoder
	depth   int
	objects int
}

// mostObjects is what a feature for every point takes, with room to spare (ours).
const mostObjects = 4 * MaxPoints

// object is what is kept of one object, whatever its type.
type object struct {
	off      int
	kind     string // "" while no type was seen
	shape    *nest
	shapeOff int
	geometry *object
	within   []*object // geometries, or features
	name     string
	keys     keys
	when     [2]string // begin and end, or the one moment of a point
	whenOff  int
}

// nest are coordinates, as deep as they are nested.
type nest struct {
	at     *Point // of a position
	off    int
	inside []*nest
}

func (r *reader) readJSON() error {
	r.out.Format = GeoJSON
	s := &scanner{reader: r, dec: json.NewDecoder(bytes.NewReader(r.text))}
	s.dec.UseNumber()
	t, err := s.token()
	if err != nil {
		return err
	}
	if t != json.Delim('{') {
		return r.fault(0, "file", "no object", "a GeoJSON object (RFC 7946)")
	}
	o, err := s.object()
	if err != nil {
		return err
	}
	if _, err := s.dec.Token(); !errors.Is(err, io.EOF) {
		return r.fault(s.at(), "file", "more behind the end of the object", "one GeoJSON object")
	}
	r.out.Name = o.name
	return s.take(o, true)
}

func (s *scanner) at() int { return int(s.dec.InputOffset()) }

func (s *scanner) token() (json.Token, error) {
	t, err := s.dec.Token()
	var wrong *json.SyntaxError
	switch {
	case errors.As(err, &wrong):
		return nil, s.fault(int(wrong.Offset), "file", field.Clean(strings.TrimPrefix(wrong.Error(), "json: "), 120), "JSON (RFC 8259)")
	case err != nil:
		return nil, s.fault(s.at(), "file", "an end in the middle", "a whole JSON text")
	}
	return t, nil
}

// deeper counts an object or array that was opened.
func (s *scanner) deeper() error {
	if s.depth++; s.depth > MaxDepth {
		return s.fault(s.at(), "file", "arrays and objects more than 64 deep", fmt.Sprintf("at most %d inside each other", MaxDepth))
	}
	return nil
}

// members visits the members of an object that was just opened; a visit reads the value.
func (s *scanner) members(visit func(name string) error) error {
	if err := s.deeper(); err != nil {
		return err
	}
	defer func() { s.depth-- }()
	for {
		t, err := s.token()
		if err != nil {
			return err
		}
		name, is := t.(string)
		if !is {
			return nil // the end
		}
		if err := visit(name); err != nil {
			return err
		}
	}
}

// items visits the first token of each item of an array that was just opened; a visit reads the rest.
func (s *scanner) items(visit func(t json.Token) error) error {
	if err := s.deeper(); err != nil {
		return err
	}
	defer func() { s.depth-- }()
	for {
		t, err := s.token()
		if err != nil {
			return err
		}
		if t == json.Delim(']') {
			return nil
		}
		if err := visit(t); err != nil {
			return err
		}
	}
}

// skip reads over a value whose first token was read.
func (s *scanner) skip(t json.Token) error {
	switch t {
	case json.Delim('{'):
		return s.members(func(string) error { return s.skipNext() })
	case json.Delim('['):
		return s.items(s.skip)
	}
	return nil
}

func (s *scanner) skipNext() error {
	t, err := s.token()
	if err != nil {
		return err
	}
	return s.skip(t)
}

// object reads the members of an object that was just opened.
func (s *scanner) object() (*object, error) {
	o := &object{off: s.at() - 1}
	if s.objects++; s.objects > mostObjects {
		return o, s.fault(o.off, "file", "more than 400000 objects", "at most 100000 points in a file: thin the line, or split it")
	}
	return o, s.members(func(name string) error {
		t, err := s.token()
		if err != nil {
			return err
		}
		switch name {
		case "type":
			o.kind, _ = t.(string)
			return s.skip(t)
		case "coordinates":
			o.shapeOff = s.at() - 1
			if t != json.Delim('[') {
				return s.fault(o.shapeOff, "coordinates", fmt.Sprint(t), "an array")
			}
			o.shape, err = s.nest()
			return err
		case "geometry":
			if t == json.Delim('{') {
				o.geometry, err = s.object()
				return err
			}
			return s.skip(t)
		case "geometries", "features":
			if t != json.Delim('[') {
				return s.skip(t)
			}
			return s.items(func(t json.Token) error {
				if t != json.Delim('{') {
					return s.fault(s.at(), name, "no object", "an array of objects")
				}
				in, err := s.object()
				o.within = append(o.within, in)
				return err
			})
		case "properties":
			if t == json.Delim('{') {
				return s.properties(o)
			}
			return s.skip(t)
		case "crs":
			return s.otherEarth(t)
		case "name":
			o.name, _ = t.(string)
			o.name = field.Clean(o.name, 200)
			return s.skip(t)
		}
		return s.skip(t)
	})
}

// otherEarth reads a crs, which RFC 7946 (appendix B.1) took out: all coordinates are WGS 84. One that says just that
// is let pass.
func (s *scanner) otherEarth(t json.Token) error {
	off := s.at()
	if t == nil {
		return nil
	}
	if t != json.Delim('{') {
		return s.skip(t)
	}
	var named string
	var look func(t json.Token) error
	look = func(t json.Token) error {
		if text, is := t.(string); is {
			named += " " + text
			return nil
		}
		switch t {
		case json.Delim('{'):
			return s.members(func(string) error {
				t, err := s.token()
				if err != nil {
					return err
				}
				return look(t)
			})
		case json.Delim('['):
			return s.items(look)
		}
		return nil
	}
	if err := look(t); err != nil {
		return err
	}
	if strings.Contains(named, "CRS84") || strings.Contains(named, "4326") {
		return nil
	}
	return s.fault(off, "crs", field.Quoted(strings.TrimSpace(named)), "longitude and latitude in WGS 84, as RFC 7946 has them")
}

// properties reads the words of a card, and a name, among the properties of a feature.
func (s *scanner) properties(o *object) error {
	return s.members(func(name string) error {
		t, err := s.token()
		if err != nil {
			return err
		}
		off := s.at()
		text, plain := scalar(t)
		switch {
		case plain && name == "name":
			o.name = field.Clean(text, 200)
		case plain && (name == "begin" || name == "time"):
			o.when[0], o.whenOff = text, off
		case plain && name == "end":
			o.when[1], o.whenOff = text, off
		case plain:
			o.keys.set(name, text, off)
		case t == json.Delim('[') && slices.Contains(ownKeys, name):
			var list []string
			err := s.items(func(t json.Token) error {
				text, _ := scalar(t)
				if len(list) < 4 {
					list = append(list, text)
				}
				return s.skip(t)
			})
			o.keys.set(name, strings.Join(list, " "), off)
			return err
		default:
			return s.skip(t)
		}
		return nil
	})
}

// scalar returns a text or number as it stands there.
func scalar(t json.Token) (text string, is bool) {
	switch t := t.(type) {
	case string:
		return t, true
	case json.Number:
		return t.String(), true
	}
	return "", false
}

// nest reads coordinates whose bracket was opened.
func (s *scanner) nest() (*nest, error) {
	n := &nest{off: s.at() - 1}
	var numbers []string
	err := s.items(func(t json.Token) error {
		switch {
		case t == json.Delim('['):
			in, err := s.nest()
			if n.inside = append(n.inside, in); len(numbers) > 0 && err == nil {
				return s.fault(n.off, "coordinates", "numbers and arrays side by side", "positions as [longitude, latitude] or [longitude, latitude, height]")
			}
			return err
		case len(numbers) == 3: // RFC 7946, section 3.1.1: what is more may be ignored
			return s.skip(t)
		}
		text, is := t.(json.Number)
		if !is || n.inside != nil {
			return s.fault(s.at(), "coordinates", field.Quoted(fmt.Sprint(t)), "numbers: [longitude, latitude] or [longitude, latitude, height]")
		}
		numbers = append(numbers, text.String())
		return nil
	})
	switch {
	case err != nil:
		return n, err
	case len(numbers) == 1:
		return n, s.fault(n.off, "coordinates", "one number", "positions as [longitude, latitude] or [longitude, latitude, height]")
	case len(numbers) > 1:
		p, err := s.point(n.off, numbers[1], numbers[0], strings.Join(numbers[2:], ""))
		n.at = &p
		return n, err
	case len(n.inside) == 0: // nothing; it counts, or a file of brackets alone would be kept
		if s.points++; s.points > MaxPoints {
			return n, s.fault(n.off, "points", "more than 100000", "at most 100000 points in a file: thin the line, or split it")
		}
	}
	return n, nil
}
