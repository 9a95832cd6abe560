package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image/jpeg"
	"testing"

	"example.org/skywedge/kit/photo/phototest"
)

// build is a way to write a baseline JPEG (ITU-T T.81) whose blocks have a mean and nothing else: the builds that cameras
// write and the pictures under testdata do not have.
type build struct {
	restart int  // units between markers at which a reader may begin anew; 0: none
	apart   bool // each plane in a scan of its own
	half    bool // two planes half as wide, which planes apart have blocks of their own for
	wide    bool // steps of two bytes
	stray   bool // markers that stand alone before the tables
}

// segment is a marker with what belongs to it.
func segment(m byte, body ...byte) []byte {
	return append([]byte{0xff, m, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
}

// Sizes of 0 to 14, each with a code of four bits; and the end of the block alone, with a code of one.
var (
	dcCounts = [16]byte{3: 15}
	acCounts = [16]byte{0: 1}
)

func codes(class byte, counts [16]byte, values ...byte) []byte {
	return segment(mDHT, append(append([]byte{class}, counts[:]...), values...)...)
}

// bits writes the bits of a scan, with a zero behind each 0xff.
type bits struct {
	bytes.Buffer
	acc, n uint32
}

func (b *bits) put(v, n uint32) {
	for i := n; i > 0; i-- {
		b.acc, b.n = b.acc<<1|v>>(i-1)&1, b.n+1
		if b.n == 8 {
			if b.WriteByte(byte(b.acc)); byte(b.acc) == 0xff {
				b.WriteByte(0)
			}
			b.acc, b.n = 0, 0
		}
	}
}

func (b *bits) end() {
	for b.n > 0 {
		b.put(1, 1)
	}
}

const buildWide, buildTall = 152, 104 // 19 by 13 blocks

// meanAt is what a block of a plane is drawn with, in steps.
func meanAt(plane, block int) int { return (block*37+plane*101)%121 - 60 }

func (w build) jpeg() []byte {
	out := []byte{0xff, mSOI}
	if w.stray {
		out = append(out, 0xff, 0x01, 0xff, mRST0+3)
	}
	table := append([]byte{0}, bytes.Repeat([]byte{16}, 64)...)
	if w.wide {
		table = append([]byte{0x10}, bytes.Repeat([]byte{0, 16}, 64)...)
	}
	out = append(out, segment(mDQT, table...)...)
	sampled := byte(0x11)
	if w.half {
		sampled = 0x21
	}
	out = append(out, segment(mSOF0, 8, 0, buildTall, 0, buildWide, 3, 1, sampled, 0, 2, 0x11, 0, 3, 0x11, 0)...)
	out = append(out, codes(0, dcCounts, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14)...)
	out = append(out, codes(0x10, acCounts, 0)...)
	if w.restart > 0 {
		out = append(out, segment(mDRI, 0, byte(w.restart))...)
	}
	scans := [][]int{{0, 1, 2}}
	if w.apart {
		scans = [][]int{{0}, {1}, {2}}
	}
	for _, planes := range scans {
		head := []byte{byte(len(planes))}
		for _, p := range planes {
			head = append(head, byte(p+1), 0)
		}
		out = append(out, segment(mSOS, append(head, 0, 63, 0)...)...)
		var b bits
		var last [3]int
		cols := buildWide / Block
		if w.half && planes[0] > 0 {
			cols = (buildWide/2 + Block - 1) / Block
		}
		for unit := range cols * buildTall / Block {
			if w.restart > 0 && unit > 0 && unit%w.restart == 0 {
				b.end()
				b.Write([]byte{0xff, mRST0 + byte(unit/w.restart-1)%8})
				last = [3]int{}
			}
			for _, p := range planes {
				by := meanAt(p, unit) - last[p]
				last[p] += by
				size, v := uint32(0), by
				for x := max(by, -by); x > 0; x >>= 1 {
					size++
				}
				if by < 0 {
					v += 1<<size - 1
				}
				b.put(size, 4)
				b.put(uint32(v), size)
				b.put(0, 1)
			}
		}
		b.end()
		out = append(out, b.Bytes()...)
	}
	return append(out, 0xff, mEOI)
}

// Every build reads as Go's image/jpeg reads it.
func TestBuildsAgainstTheWholePicture(t *testing.T) {
	for name, w := range map[string]build{"plain": {}, "restarts": {restart: 7}, "planes apart": {apart: true},
		"planes apart with restarts": {restart: 5, apart: true}, "half as wide": {apart: true, half: true}, "wide steps": {wide: true}, "markers alone": {stray: true}} {
		data := w.jpeg()
		m, err := jpeg.Decode(bytes.NewReader(data))
		if w.stray { // which Go refuses; T.81 lets them stand anywhere
			m, err = jpeg.Decode(bytes.NewReader(build{}.jpeg()))
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		l, err := ReadLight(data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		compare(t, name, l, m)
	}
}

// A picture that is damaged in any part of it is refused as that, and one that ends too early as that: the first wants
// another copy, the second a whole one.
func TestDamagedBuilds(t *testing.T) {
	restarts := build{restart: 7}.jpeg()
	plain := build{}.jpeg()
	second := bytes.Index(restarts, []byte{0xff, mRST0 + 1})
	// A marker's segment in the picture, changed.
	in := func(m byte, at int, v ...byte) []byte {
		d := bytes.Clone(plain)
		copy(d[bytes.Index(d, []byte{0xff, m})+4+at:], v)
		return d
	}
	before := func(m byte, seg ...byte) []byte {
		at := bytes.Index(plain, []byte{0xff, m})
		return append(append(bytes.Clone(plain[:at]), seg...), plain[at:]...)
	}
	without := func(m byte) []byte {
		at := bytes.Index(plain, []byte{0xff, m})
		n := 2 + int(binary.BigEndian.Uint16(plain[at+2:]))
		return append(bytes.Clone(plain[:at]), plain[at+n:]...)
	}
	// A marker of a restart that is another marker, and one that is not there.
	other, gone := bytes.Clone(restarts), append(bytes.Clone(restarts[:second]), restarts[second+2:]...)
	other[second+1] = mDRI
	refining := bytes.Clone(in(mSOS, 9, 0x10))
	refining[bytes.Index(refining, []byte{0xff, mSOF0})+1] = mSOF2
	shifted := bytes.Clone(in(mSOS, 9, 0x0e))
	shifted[bytes.Index(shifted, []byte{0xff, mSOF0})+1] = mSOF2
	scans := before(mSOS, bytes.Repeat(segment(mSOS, 1, 1, 0, 1, 63, 0), mostScans)...) // of what a progressive picture adds
	scans[bytes.Index(scans, []byte{0xff, mSOF0})+1] = mSOF2
	for name, tt := range map[string]struct {
		data []byte
		want error
	}{
		"another marker for a restart": {other, errBroken},
		"no marker for a restart":      {gone, errBroken},
		"cut before a restart":         {restarts[:second], errCut},
		"cut within a restart":         {restarts[:second+1], errCut},
		"a restart without its count":  {before(mSOS, segment(mDRI, 1)...), errBroken},
		"a segment shorter than none":  {before(mSOS, 0xff, mDRI, 0, 1), errBroken},
		"cut in a segment's length":    {plain[:bytes.Index(plain, []byte{0xff, mDHT})+3], errCut},
		"a table of steps cut":         {before(mSOS, segment(mDQT, 0x10, 0, 16)...), errBroken},
		"a fifth table of steps":       {before(mSOS, segment(mDQT, append([]byte{4}, make([]byte, 64)...)...)...), errBroken},
		"no steps":                     {without(mDQT), errBroken},
		"steps of nothing":             {in(mDQT, 1, 0), errBroken},
		"a table of codes cut":         {before(mSOS, segment(mDHT, 0, 1, 2)...), errBroken},
		"values of codes cut":          {before(mSOS, codes(0, dcCounts)...), errBroken},
		"a third kind of table":        {in(mDHT, 0, 0x20), errBroken},
		"a fifth table of codes":       {in(mDHT, 0, 4), errBroken},
		"three codes of one bit":       {before(mSOS, codes(0, [16]byte{3}, 0, 1, 2)...), errBroken},
		"a mean of sixteen bits":       {in(mDHT, 17, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16), errBroken},
		"no codes for the means":       {without(mDHT), errBroken},
		"means finer than none":        {refining, errBroken},
		"means out of all range":       {shifted, errBroken},
		"no frame":                     {without(mSOF0), errBroken},
		"two frames":                   {before(mSOS, segment(mSOF0, 8, 0, buildTall, 0, buildWide, 3, 1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0)...), errBroken},
		"a frame cut":                  {before(mSOF0, segment(mSOF0, 8, 0, buildTall)...), errBroken},
		"a frame of a plane less":      {before(mSOF0, segment(mSOF0, 8, 0, buildTall, 0, buildWide, 3, 1, 0x11, 0)...), errBroken},
		"a scan of five planes":        {in(mSOS, 0, 5), errBroken},
		"a scan of a plane unknown":    {in(mSOS, 1, 9), errBroken},
		"a scan by a fifth table":      {in(mSOS, 2, 0x44), errBroken},
		"a plane that never comes":     {append(build{apart: true}.jpeg()[:bytes.LastIndex(build{apart: true}.jpeg(), []byte{0xff, mSOS})], 0xff, mEOI), errCut},
		"a thousand tables of codes":   {before(mSOS, bytes.Repeat(codes(0x10, acCounts, 0), mostTables)...), errBroken},
		"a thousand scans":             {scans, errBroken},
		"more than any camera writes":  {make([]byte, MaxLightBytes+1), errManyBytes},
	} {
		if l, err := ReadLight(tt.data); l != nil || !errors.Is(err, tt.want) {
			t.Errorf("%s: %v, want %v", name, err, tt.want)
		}
	}
}

// What decides whether a picture may be measured is read: how its white was set, and whether its colours are sRGB's.
func TestWhatMeasuringAsks(t *testing.T) {
	type told struct {
		auto  *bool
		white float64
		other bool
	}
	for name, tt := range map[string]struct {
		shot phototest.Shot
		want told
	}{
		"automatic":           {phototest.Shot{WhiteBalance: ptr[uint16](0), ColorSpace: 1}, told{auto: ptr(true)}},
		"set by hand to D65":  {phototest.Shot{WhiteBalance: ptr[uint16](1), LightSource: 21, ColorSpace: 1}, told{auto: ptr(false), white: 6504}},
		"no agreed light":     {phototest.Shot{WhiteBalance: ptr[uint16](1), LightSource: 10}, told{auto: ptr(false)}},
		"nonsense of a white": {phototest.Shot{WhiteBalance: ptr[uint16](7)}, told{}},
		"other colours":       {phototest.Shot{ColorSpace: 65535}, told{other: true}},
		"nothing told":        {phototest.Shot{}, told{}},
	} {
		tt.shot.ISO = 100
		p, err := ReadBytes(tt.shot.JPEG())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if (p.AutoWhiteBalance == nil) != (tt.want.auto == nil) || p.AutoWhiteBalance != nil && *p.AutoWhiteBalance != *tt.want.auto {
			t.Errorf("%s: automatic %v", name, p.AutoWhiteBalance)
		}
		if (p.WhiteBalanceK == nil) != (tt.want.white == 0) || p.WhiteBalanceK != nil && *p.WhiteBalanceK != tt.want.white {
			t.Errorf("%s: white %v", name, p.WhiteBalanceK)
		}
		if p.OtherColours != tt.want.other {
			t.Errorf("%s: other colours %v", name, p.OtherColours)
		}
	}
	south := phototest.Shot{ISO: 100, Place: &[2]float64{-43.3672, 172.5}}
	p, err := ReadBytes(south.JPEG())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a latitude of the south", p.LatDeg, -43.3672)
	near(t, "a longitude of the east", p.LonDeg, 172.5)
}

// A disk that fails while a picture is read is told as that, not as a picture without data.
func TestADiskThatFails(t *testing.T) {
	gone := errors.New("the card was pulled")
	for name, r := range map[string]failing{"reading": {read: gone}, "going back": {seek: gone}} {
		if p, err := Read(r); p != nil || !errors.Is(err, gone) {
			t.Errorf("%s: %v, %v", name, p, err)
		}
	}
}

type failing struct{ read, seek error }

func (f failing) Read(p []byte) (int, error) {
	return copy(p, "\xff\xd8\xff"), f.read
}
func (f failing) Seek(int64, int) (int64, error) { return 0, f.seek }
