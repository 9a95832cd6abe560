package photo

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit/photo/phototest"
)

func ptr[T any](v T) *T { return &v }

func near(t *testing.T, what string, got *float64, want float64) {
	t.Helper()
	if got == nil || math.Abs(*got-want) > 1e-6*max(1, math.Abs(want)) {
		t.Errorf("%s is %v, want %g", what, got, want)
	}
}

var whole = phototest.Shot{
	Clock: "2026:09:18 19:41:30", Offset: "+02:00", Shutter: [2]uint32{1, 50}, ISO: 200, Aperture: 2.8,
	Bias: &[2]int32{-2, 3}, Mode: ptr[uint16](0), Place: &[2]float64{43.3672, -8.4604}, Heading: ptr(330.25),
}

// What stands in a picture is read, in both orders of bytes, from a JPEG and from the tables alone.
func TestAWholePicture(t *testing.T) {
	for _, big := range []bool{false, true} {
		s := whole
		s.BigEndian = big
		for _, data := range [][]byte{s.JPEG(), s.TIFF()} {
			p, err := ReadBytes(data)
			if err != nil {
				t.Fatal(err)
			}
			if want := time.Date(2026, 9, 18, 17, 41, 30, 0, time.UTC); !p.Clock.Equal(want) || !p.HasOffset || !p.At(time.UTC).Equal(want) {
				t.Errorf("taken at %v, has an offset: %v", p.Clock, p.HasOffset)
			}
			near(t, "shutter", p.ShutterS, 1./50)
			near(t, "ISO", p.ISO, 200)
			near(t, "aperture", p.Aperture, 2.8)
			near(t, "bias", p.BiasStops, -2./3)
			near(t, "latitude", p.LatDeg, 43.3672)
			near(t, "longitude", p.LonDeg, -8.4604)
			near(t, "heading", p.HeadingDeg, 330.25)
			if p.AutoExposure == nil || !*p.AutoExposure || p.MagneticNorth {
				t.Errorf("automatic %v, magnetic %v", p.AutoExposure, p.MagneticNorth)
			}
		}
	}
}

// Without an offset the clock is that of the zone that is asked for.
func TestATimeWithoutAnOffset(t *testing.T) {
	s := whole
	s.Offset = ""
	p, err := ReadBytes(s.JPEG())
	if err != nil || p.HasOffset {
		t.Fatal(p, err)
	}
	madrid, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		t.Fatal(err)
	}
	if want := time.Date(2026, 9, 18, 17, 41, 30, 0, time.UTC); !p.At(madrid).Equal(want) {
		t.Errorf("taken at %v", p.At(madrid))
	}
	for offset, has := range map[string]bool{"-03:30": true, "Z": true, "+99:00": false, "summer": false, "   :  ": false} {
		s.Offset = offset
		if p, err = ReadBytes(s.JPEG()); err != nil || p.HasOffset != has {
			t.Errorf("offset %q: %v, has one: %v", offset, err, p.HasOffset)
		}
	}
}

// What no camera can mean is not told; the rest is.
func TestNonsenseIsLeftOut(t *testing.T) {
	s := whole
	s.Clock, s.Shutter, s.Place, s.Heading, s.Magnetic, s.Mode = "0000:00:00 00:00:00", [2]uint32{0, 1}, &[2]float64{97, 10}, ptr(360.), true, ptr[uint16](1)
	p, err := ReadBytes(s.JPEG())
	if err != nil {
		t.Fatal(err)
	}
	if !p.Clock.IsZero() || p.ShutterS != nil || p.LatDeg != nil || p.LonDeg != nil || *p.AutoExposure || !p.MagneticNorth {
		t.Errorf("%+v", p)
	}
	near(t, "heading", p.HeadingDeg, 0)
	near(t, "ISO", p.ISO, 200)
}

// What is no picture, or has nothing in it, is refused; half a picture gives what it has or is refused.
func TestNoPicture(t *testing.T) {
	for text, want := range map[string]error{
		"": ErrNoPicture, "\xff\xd8": ErrNoPicture, "skywedge: 1\n": ErrNoPicture, "GIF89a, of some length": ErrNoPicture,
		"\xff\xd8\xff\xda\x00\x02": ErrNoData, "II*\x00\x08\x00\x00\x00": ErrNoData, "MM\x00*\xff\xff\xff\xff": ErrNoData,
		string(phototest.Shot{}.JPEG()): ErrNoData, "\x00\x00\x00\x18ftypheic" + strings.Repeat("\x00", 40): ErrNoData,
	} {
		if p, err := ReadBytes([]byte(text)); !errors.Is(err, want) {
			t.Errorf("%.12q: %v, %v; want %v", text, p, err, want)
		}
	}
	data := whole.JPEG()
	for n := range data {
		if p, err := ReadBytes(data[:n]); (p == nil) == (err == nil) {
			t.Errorf("%d bytes: %v, %v", n, p, err)
		}
	}
}

// Whatever comes, there is an answer, and every number in it is one that a camera can mean.
func FuzzRead(f *testing.F) {
	big := whole
	big.BigEndian = true
	f.Add(whole.JPEG())
	f.Add(big.JPEG())
	f.Add(whole.TIFF())
	f.Add([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic\x00\x00\x00\x10meta"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadBytes(data)
		if (p == nil) == (err == nil) {
			t.Fatalf("%v, %v", p, err)
		}
		if p == nil {
			return
		}
		for what, v := range map[string]*float64{"shutter": p.ShutterS, "ISO": p.ISO, "aperture": p.Aperture, "bias": p.BiasStops,
			"latitude": p.LatDeg, "longitude": p.LonDeg, "heading": p.HeadingDeg} {
			if v != nil && !(math.Abs(*v) <= 1e7) {
				t.Errorf("%s is %g", what, *v)
			}
		}
		if !p.Clock.IsZero() && p.Clock.Year() < 1989 {
			t.Errorf("the time is %v", p.Clock)
		}
	})
}
