// Package measure finds out what a filter really does, from the owner's own pictures: how much light it takes, how it
// colours it, what it does to the corners, and where its mark stands.
//
// A set is three pictures of a plain wall in steady light, white balance and focus locked, nothing else moved (common
// practice, no source): one bare, one through the filter and, because nobody knows a camera's tone curve, one more bare
// picture exactly one stop darker (ours). What lies between bare and darker in the file against what lies between them in
// the exposure is how steep the curve is, and by that the picture through the filter is read.
//
// The way of use: [Read] the pictures, ask [Check] what is wrong with a set while it is being put together, [Measure] the
// sets, or [MeasureMark] pictures of glare, show the [Result] and the [Mark], then [Edits] and [Write] put them into a bag.
// Everything is a function of its arguments; nothing here touches disk or clock.
package measure

import (
	"errors"
	"io"
	"math"

	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan/exposure"
)

// Picture is one picture: its light, and what the camera wrote beside it.
type Picture struct {
	Name string // as it is called when something is wrong with it
	*photo.Light
	Data photo.Picture // zero where nothing is written in it
}

// Set is what one measurement is made of. Darker may be nil; while a set is being put together so may the others be, for
// [Check].
type Set struct {
	Bare, Darker, Through *Picture
	SettingStops          float64 // what a variable was set to, by its marks
}

// Note is something that is wrong with a picture or a set, or that lessens what can be said of it.
type Note struct {
	Set     int    // counted from 0; -1 where it is of all of them
	Picture string // "" where it is of the whole set
	Text    string // what is wrong and what to do, lower case
}

// String puts the picture's name before the text.
func (n Note) String() string {
	if n.Picture == "" {
		return n.Text
	}
	return n.Picture + ": " + n.Text
}

// Faults are the reasons why nothing can be measured.
type Faults []Note

// Error says the first of them.
func (f Faults) Error() string {
	if len(f) == 0 {
		return ""
	}
	return f[0].String()
}

// ErrEmpty is returned for a file without anything in it.
var ErrEmpty = errors.New("an empty file; copy it from the camera again")

// ErrMany is returned for a file that is longer than a picture is read.
var ErrMany = errors.New("more than 64 MiB; give the JPEG that the camera wrote")

// Read reads a picture: a JPEG of up to 64 MiB and 100 megapixels. The error says why not, and what helps.
func Read(name string, r io.ReadSeeker) (*Picture, error) {
	size, err := r.Seek(0, io.SeekEnd)
	switch {
	case err != nil:
		return nil, err
	case size == 0:
		return nil, ErrEmpty
	case size > photo.MaxLightBytes:
		return nil, ErrMany
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	bytes := make([]byte, size)
	if _, err := io.ReadFull(r, bytes); err != nil {
		return nil, err
	}
	p := &Picture{Name: name}
	if p.Light, err = photo.ReadLight(bytes); err != nil {
		return nil, err
	}
	if data, err := photo.ReadBytes(bytes); err == nil { // without it Check says what is missing
		p.Data = *data
	}
	return p, nil
}

// Exposed returns how much light the exposure lets in, in stops: log2(t·ISO/N²). Times and apertures that are marks of the
// third-stop series count by their place in it (1/60 is 1/64), others as they are written. A picture that tells no
// aperture counts as f/1: of a lens that has but one none need be told.
func (p *Picture) Exposed() (stops float64, ok bool) {
	if p.Data.ShutterS == nil || p.Data.ISO == nil {
		return 0, false
	}
	stops = marked(exposure.NearestShutter(*p.Data.ShutterS, 0, 0, false), *p.Data.ShutterS, 3) + math.Log2(*p.Data.ISO)
	if n := p.Data.Aperture; n != nil {
		stops -= 2 * marked(exposure.NearestAperture(*n), *n, 6)
	}
	return stops, true
}

// marked is a value's log2, by its place in a series where it is a mark of it: within a hundredth (ours: cameras write 1/60
// as 0.01667), in steps of so many to a doubling.
func marked(s exposure.Step, v, steps float64) float64 {
	if s.Value > 0 && math.Abs(v/s.Value-1) < 0.01 {
		return float64(s.Index) / steps
	}
	return math.Log2(v)
}
