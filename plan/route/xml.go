package route

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/skywedge/kit/field"
)

// walker goes through the elements of a file. The decoder knows no entities but XML's own five and never fetches
// anything; a document type, which could define more, is refused whole.
type walker struct {
	*reader
	dec   *xml.Decoder
	depth int
}

func (r *reader) readXML() error {
	w := &walker{reader: r, dec: xml.NewDecoder(bytes.NewReader(r.text))}
	w.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // it is UTF-8 by now
	for {
		off := w.at()
		t, err := w.token()
		if errors.Is(err, io.EOF) {
			return r.fault(off, "file", "no element", "<gpx> (GPX 1.1) or <kml> (KML 2.2)")
		} else if err != nil {
			return err
		}
		e, is := t.(xml.StartElement)
		if !is {
			continue
		}
		switch e.Name.Local {
		case "gpx":
			r.out.Format = GPX
			err = w.gpx(e, off)
		case "kml":
			r.out.Format = KML
			err = w.container()
		default:
			return r.fault(off, "file", "<"+field.Clean(e.Name.Local, 40)+">", "<gpx> (GPX 1.1) or <kml> (KML 2.2)")
		}
		if err != nil {
			return err
		}
		break
	}
	for { // nothing but blanks and comments may follow
		if _, err := w.token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

func (w *walker) at() int { return int(w.dec.InputOffset()) }

// token returns the next token. The end of the file is an error inside an element, and io.EOF behind it.
func (w *walker) token() (xml.Token, error) {
	off := w.at()
	t, err := w.dec.Token()
	var wrong *xml.SyntaxError
	switch {
	case errors.As(err, &wrong):
		return nil, w.fault(w.at(), "file", field.Clean(wrong.Msg, 120), "well-formed XML")
	case errors.Is(err, io.EOF): // only behind the last element
		return nil, err
	case err != nil: // a version of XML, an encoding
		return nil, w.fault(w.at(), "file", field.Clean(strings.TrimPrefix(err.Error(), "xml: "), 120), "well-formed XML")
	}
	if _, is := t.(xml.Directive); is {
		return nil, w.fault(off, "file", "a document type (<!DOCTYPE …>)", "a path without one: entities of its own are not read")
	}
	return t, nil
}

// each visits the elements inside the one that was just opened; a visit reads its element to the end.
func (w *walker) each(visit func(e xml.StartElement, off int) error) error {
	if w.depth++; w.depth > MaxDepth {
		return w.fault(w.at(), "file", "elements more than 64 deep", fmt.Sprintf("at most %d elements inside each other", MaxDepth))
	}
	defer func() { w.depth-- }()
	for {
		off := w.at()
		t, err := w.token()
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.StartElement:
			if err := visit(t, off); err != nil {
				return err
			}
		case xml.EndElement:
			return nil
		}
	}
}

func (w *walker) skip() error {
	return w.each(func(xml.StartElement, int) error { return w.skip() })
}

// words returns the text of the element that was just opened, and where it begins.
func (w *walker) words() (text string, off int, err error) {
	var b strings.Builder
	off = w.at()
	for {
		t, err := w.token()
		if err != nil {
			return "", off, err
		}
		switch t := t.(type) {
		case xml.CharData:
			b.Write(t)
		case xml.StartElement:
			if err := w.skip(); err != nil {
				return "", off, err
			}
		case xml.EndElement:
			return b.String(), off, nil
		}
	}
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}
