// Package phototest writes pictures for tests: a JPEG of one grey pixel block with what a camera would write beside it. It
// writes the tables of CIPA DC-008 (Exif) and TIFF 6.0 byte by byte, so that what reads them is held against another
// hand.
package phototest

import (
	"bytes"
	"encoding/binary"
	"math"
	"sort"
)

// Shot is what stands in a picture; what is empty, or zero, is left out.
type Shot struct {
	Clock, Offset string    // "2026:09:18 19:41:30", "+02:00"
	Shutter       [2]uint32 // seconds, as a ratio
	ISO           uint16
	Aperture      float64
	Bias          *[2]int32
	Mode          *uint16     // 0 automatic, 1 manual, 2 bracket
	Place         *[2]float64 // degrees north and east
	Heading       *float64
	Magnetic      bool
	BigEndian     bool

	WhiteBalance *uint16 // 0 automatic, 1 set by hand
	LightSource  uint16  // 17 standard light A, 21 D65
	ColorSpace   uint16  // 1 sRGB
	Focal35MM    uint16
}

// The types of TIFF 6.0.
const (
	ascii, short, long, rational, srational = 2, 3, 4, 5, 10
)

type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

// JPEG returns the picture.
func (s Shot) JPEG() []byte {
	return s.Around([]byte{0xff, 0xd8, 0xff, 0xda, 0, 2, 0xff, 0xd9}) // a scan without a picture: nobody looks at it
}

// Around returns a JPEG that was drawn, with what stands in the shot written into it.
func (s Shot) Around(drawn []byte) []byte {
	tiff := s.TIFF()
	var b bytes.Buffer
	b.Write([]byte{0xff, 0xd8, 0xff, 0xe1})
	binary.Write(&b, binary.BigEndian, uint16(2+6+len(tiff)))
	b.WriteString("Exif\x00\x00")
	b.Write(tiff)
	b.Write(drawn[2:])
	return b.Bytes()
}

// TIFF returns the tables alone, which are a picture's file of their own.
func (s Shot) TIFF() []byte {
	var order binary.ByteOrder = binary.LittleEndian
	mark := "II"
	if s.BigEndian {
		order, mark = binary.BigEndian, "MM"
	}
	num := func(tag uint16, kind uint16, values ...any) entry {
		var b bytes.Buffer
		for _, v := range values {
			binary.Write(&b, order, v)
		}
		n := uint32(len(values))
		if kind == rational || kind == srational {
			n /= 2
		}
		return entry{tag, kind, n, b.Bytes()}
	}
	text := func(tag uint16, t string) entry {
		return entry{tag, ascii, uint32(len(t) + 1), append([]byte(t), 0)}
	}
	var exif, gps []entry
	if s.Clock != "" {
		exif = append(exif, text(0x9003, s.Clock))
	}
	if s.Offset != "" {
		exif = append(exif, text(0x9011, s.Offset))
	}
	if s.Shutter[1] != 0 {
		exif = append(exif, num(0x829a, rational, s.Shutter[0], s.Shutter[1]))
	}
	if s.ISO != 0 {
		exif = append(exif, num(0x8827, short, s.ISO))
	}
	if s.Aperture != 0 {
		exif = append(exif, num(0x829d, rational, uint32(math.Round(s.Aperture*10)), uint32(10)))
	}
	if s.Bias != nil {
		exif = append(exif, num(0x9204, srational, s.Bias[0], s.Bias[1]))
	}
	if s.Mode != nil {
		exif = append(exif, num(0xa402, short, *s.Mode))
	}
	if s.WhiteBalance != nil {
		exif = append(exif, num(0xa403, short, *s.WhiteBalance))
	}
	for tag, v := range map[uint16]uint16{0x9208: s.LightSource, 0xa001: s.ColorSpace, 0xa405: s.Focal35MM} {
		if v != 0 {
			exif = append(exif, num(tag, short, v))
		}
	}
	if s.Place != nil {
		for i, letters := range []string{"NS", "EW"} {
			v, ref := s.Place[i], letters[:1]
			if v < 0 {
				v, ref = -v, letters[1:]
			}
			d := math.Floor(v)
			m := math.Floor((v - d) * 60)
			sec := (v - d - m/60) * 3600
			gps = append(gps, text(uint16(1+2*i), ref),
				num(uint16(2+2*i), rational, uint32(d), uint32(1), uint32(m), uint32(1), uint32(math.Round(sec*10000)), uint32(10000)))
		}
	}
	if s.Heading != nil {
		north := "T"
		if s.Magnetic {
			north = "M"
		}
		gps = append(gps, text(0x10, north), num(0x11, rational, uint32(math.Round(*s.Heading*100)), uint32(100)))
	}
	var b bytes.Buffer
	b.WriteString(mark)
	binary.Write(&b, order, uint16(42))
	binary.Write(&b, order, uint32(8))
	// The first table holds the ways to the others, which follow one after the other.
	first := 2
	if len(gps) == 0 {
		first = 1
	}
	exifAt := uint32(8 + 2 + 12*first + 4)
	exifTable := table(order, exif, exifAt)
	ways := []entry{num(0x8769, long, exifAt)}
	if len(gps) > 0 {
		ways = append(ways, num(0x8825, long, exifAt+uint32(len(exifTable))))
	}
	b.Write(table(order, ways, 8))
	b.Write(exifTable)
	if len(gps) > 0 {
		b.Write(table(order, gps, exifAt+uint32(len(exifTable))))
	}
	return b.Bytes()
}

// table writes one table that stands at an offset: its entries by their tags, then what is longer than four bytes.
func table(order binary.ByteOrder, list []entry, at uint32) []byte {
	sort.Slice(list, func(i, j int) bool { return list[i].tag < list[j].tag })
	var head, tail bytes.Buffer
	binary.Write(&head, order, uint16(len(list)))
	end := at + 2 + 12*uint32(len(list)) + 4
	for _, e := range list {
		binary.Write(&head, order, e.tag)
		binary.Write(&head, order, e.kind)
		binary.Write(&head, order, e.count)
		if len(e.value) <= 4 {
			head.Write(append(e.value, make([]byte, 4-len(e.value))...))
			continue
		}
		binary.Write(&head, order, end+uint32(tail.Len()))
		tail.Write(e.value)
		if len(e.value)%2 == 1 {
			tail.WriteByte(0)
		}
	}
	binary.Write(&head, order, uint32(0)) // no table after this one
	return append(head.Bytes(), tail.Bytes()...)
}
