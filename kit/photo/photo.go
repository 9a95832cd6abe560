// Package photo reads what a camera wrote beside a picture: when and where it was taken, how it was exposed and which
// way the camera looked. It reads what it is handed, touches no disk, and never asks who made the camera.
//
// The one hard idea: a picture's time may have no offset. It is then the clock of the camera, and only who knows the
// place can say which instant it was: see [Picture.At].
package photo

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// MaxBytes is the most of a picture that has to be handed over (ours): what is read stands before the picture itself.
const MaxBytes = 4 << 20

// Picture is what is known of a picture. A value that it does not tell, or that no camera can mean, is nil.
type Picture struct {
	Clock     time.Time // as the camera's clock showed it, in UTC unless HasOffset; zero where it is not told
	HasOffset bool      // Clock is an instant

	ShutterS      *float64 // seconds
	ISO           *float64
	Aperture      *float64 // f-number
	BiasStops     *float64 // compensation that was dialled in, positive brighter
	AutoExposure  *bool    // the camera chose the exposure
	LatDeg        *float64 // north positive; told together with LonDeg
	LonDeg        *float64
	HeadingDeg    *float64 // where the camera looked, clockwise, 0 up to 360
	MagneticNorth bool     // the heading counts from magnetic north

	// What matters to who measures the light of it. These alone are no reason to call a picture known.
	AutoWhiteBalance *bool
	WhiteBalanceK    *float64 // where it was set to a light whose colour temperature is agreed on
	OtherColours     bool     // it says that its colours are not those of sRGB
	Focal35MM        *float64 // focal length of the same width of view on a frame 36 mm wide
}

// known tells whether anything of when, where and how a picture was taken is in it.
func (p *Picture) known() bool {
	q := *p
	q.AutoWhiteBalance, q.WhiteBalanceK, q.OtherColours, q.Focal35MM = nil, nil, false, nil
	return q != Picture{}
}

// The reasons why nothing is known of a picture.
var (
	ErrNoPicture = errors.New("not a picture that can be read here: give a JPEG, TIFF, DNG or HEIF")
	ErrNoData    = errors.New("no time and no exposure are written in it")
)

// At returns when the picture was taken. Where the picture has no offset its clock is taken for one of the zone.
func (p *Picture) At(zone *time.Location) time.Time {
	if p.HasOffset || p.Clock.IsZero() {
		return p.Clock
	}
	c := p.Clock
	return time.Date(c.Year(), c.Month(), c.Day(), c.Hour(), c.Minute(), c.Second(), c.Nanosecond(), zone)
}

// Read reads a picture, or as much of its beginning as [MaxBytes].
func Read(r io.ReadSeeker) (*Picture, error) {
	head := make([]byte, 16)
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	format, ok := formatOf(head[:n])
	if !ok {
		return nil, ErrNoPicture
	}
	tags := map[string]any{}
	_, err = imagemeta.Decode(imagemeta.Options{
		R: r, ImageFormat: format, Sources: imagemeta.EXIF, LimitNumTags: 2000, LimitTagSize: 1000,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool { return wanted[t.Tag] && strings.HasPrefix(t.Namespace, "IFD0") },
		HandleTag: func(t imagemeta.TagInfo) error {
			if _, known := tags[t.Tag]; !known {
				tags[t.Tag] = t.Value
			}
			return nil
		},
	})
	p := pictureOf(tags)
	switch {
	case p.known(): // what was read before something broke is as good as ever
		return p, nil
	case err != nil && !imagemeta.IsInvalidFormat(err):
		return nil, err
	}
	return nil, ErrNoData
}

// ReadBytes is the same of a picture in memory.
func ReadBytes(data []byte) (*Picture, error) { return Read(bytes.NewReader(data)) }

// formatOf knows a format by the bytes that it begins with (JPEG: ITU-T T.81; TIFF 6.0; HEIF: ISO 23008-12).
func formatOf(head []byte) (imagemeta.ImageFormat, bool) {
	switch {
	case bytes.HasPrefix(head, []byte{0xff, 0xd8, 0xff}):
		return imagemeta.JPEG, true
	case bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return imagemeta.TIFF, true
	case len(head) >= 12 && string(head[4:8]) == "ftyp":
		return imagemeta.HEIF, true
	}
	return 0, false
}

// wanted are the tags that are read, by their names in the library; their meaning is that of CIPA DC-008 (Exif).
var wanted = map[string]bool{
	"DateTimeOriginal": true, "OffsetTimeOriginal": true, "ModifyDate": true, "OffsetTime": true,
	"ExposureTime": true, "FNumber": true, "ISO": true, "ISOSpeed": true, "ExposureCompensation": true, "ExposureMode": true,
	"GPSLatitude": true, "GPSLatitudeRef": true, "GPSLongitude": true, "GPSLongitudeRef": true,
	"GPSImgDirection": true, "GPSImgDirectionRef": true,
	"WhiteBalance": true, "LightSource": true, "ColorSpace": true, "FocalLengthIn35mmFormat": true,
}

// sourceK are the lights of the tag LightSource whose correlated colour temperature is agreed on: the CIE's standard
// illuminants A, B, C, D55, D65, D75 and D50, kelvin (CIE 15, from memory).
var sourceK = map[int]float64{17: 2856, 18: 4874, 19: 6774, 20: 5503, 21: 6504, 22: 7504, 23: 5003}

func pictureOf(tags map[string]any) *Picture {
	p := &Picture{
		ShutterS: within(tags["ExposureTime"], 1e-6, 3600), Aperture: within(tags["FNumber"], 0.5, 128),
		ISO: within(tags["ISO"], 1, 1e7), BiasStops: within(tags["ExposureCompensation"], -15, 15),
	}
	if p.ISO == nil || *p.ISO == math.MaxUint16 { // more than sixteen bits hold: then it stands elsewhere
		p.ISO = within(tags["ISOSpeed"], 1, 1e7)
	}
	p.Clock, p.HasOffset = clock(tags["DateTimeOriginal"], tags["OffsetTimeOriginal"])
	if p.Clock.IsZero() {
		p.Clock, p.HasOffset = clock(tags["ModifyDate"], tags["OffsetTime"])
	}
	if mode := within(tags["ExposureMode"], 0, 2); mode != nil { // 0 automatic, 1 manual, 2 a bracket, automatic as well
		auto := *mode != 1
		p.AutoExposure = &auto
	}
	if wb := within(tags["WhiteBalance"], 0, 1); wb != nil { // 0 automatic, 1 set by hand
		auto := *wb == 0
		p.AutoWhiteBalance = &auto
	}
	if source := within(tags["LightSource"], 0, 255); source != nil {
		if k, ok := sourceK[int(*source)]; ok {
			p.WhiteBalanceK = &k
		}
	}
	if space := within(tags["ColorSpace"], 0, math.MaxUint16); space != nil {
		p.OtherColours = *space != 1
	}
	p.Focal35MM = within(tags["FocalLengthIn35mmFormat"], 1, 5000)
	lat, lon := within(tags["GPSLatitude"], -90, 90), within(tags["GPSLongitude"], -180, 180)
	south, ns := ref(tags["GPSLatitudeRef"], "S", "N")
	west, ew := ref(tags["GPSLongitudeRef"], "W", "E")
	if lat != nil && lon != nil && ns && ew {
		if south {
			*lat = -*lat
		}
		if west {
			*lon = -*lon
		}
		p.LatDeg, p.LonDeg = lat, lon
	}
	if p.HeadingDeg = within(tags["GPSImgDirection"], 0, 360); p.HeadingDeg != nil {
		*p.HeadingDeg = math.Mod(*p.HeadingDeg, 360)
		p.MagneticNorth, _ = ref(tags["GPSImgDirectionRef"], "M", "T")
	}
	return p
}

// within returns a number that lies between two; nil of anything else. A list of one is its number.
func within(v any, lo, hi float64) *float64 {
	var x float64
	switch n := v.(type) {
	case interface{ Float64() float64 }:
		x = n.Float64()
	case float64:
		x = n
	case uint8:
		x = float64(n)
	case uint16:
		x = float64(n)
	case uint32:
		x = float64(n)
	case int16:
		x = float64(n)
	case int32:
		x = float64(n)
	case []any:
		if len(n) == 0 {
			return nil
		}
		return within(n[0], lo, hi)
	default:
		return nil
	}
	if !(x >= lo && x <= hi) { // also where it is no number
		return nil
	}
	return &x
}

// ref reads a reference of one letter; ok is false where it is neither of the two.
func ref(v any, this, other string) (is, ok bool) {
	text, _ := v.(string)
	text = strings.ToUpper(strings.Trim(text, " \x00"))
	return text == this, text == this || text == other
}

// clock reads a date and time, and an offset where there is one that is right.
func clock(v, offset any) (t time.Time, hasOffset bool) {
	text, _ := v.(string)
	text = strings.Trim(text, " \x00")
	off, _ := offset.(string)
	const layout = "2006:01:02 15:04:05"
	if t, err := time.Parse(layout+"Z07:00", text+strings.Trim(off, " \x00")); err == nil && off != "" && usual(t) {
		return t, true
	}
	if t, err := time.Parse(layout, text); err == nil && usual(t) {
		return t, false
	}
	return time.Time{}, false
}

// usual refuses the date of a clock that was never set: of years before there was such a camera, or far ahead (ours).
func usual(t time.Time) bool { return t.Year() >= 1990 && t.Year() <= 2100 }
