package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
)

// A picture of a wall is measured by means over hundreds of thousands of pixels, so no pixel is ever made here. In a JPEG
// (ITU-T T.81) a block of eight by eight values begins with its mean, the rest says how the block differs from it: reading
// the means and stepping over the rest takes an eighth of the time and a sixty-fourth of the memory of the whole picture.
//
// What is read: baseline and progressive pictures with Huffman codes and eight bits, which is what cameras write.

// The reasons why a picture's light cannot be read.
var (
	errNotJPEG   = errors.New("not a JPEG; give the JPEG that the camera wrote")
	errCut       = errors.New("the file ends in the middle of the picture; copy it from the camera again")
	errBroken    = errors.New("the picture is damaged; copy it from the camera again")
	errCoding    = errors.New("a kind of JPEG that no camera writes; give the file that the camera wrote")
	errGrey      = errors.New("a picture in grey tells no colour; give the camera's own JPEG")
	errPrint     = errors.New("a picture for print, in four inks; give the camera's own JPEG")
	errManyPix   = errors.New("more than 100 megapixels; set the camera to a smaller picture")
	errFewPix    = errors.New("too small to be measured: at least 144 by 96 pixels; set the camera to a larger picture")
	errManyBytes = errors.New("more than 64 MiB; give the JPEG that the camera wrote")
)

// The markers of a JPEG, ITU-T T.81 table B.1, as far as they matter.
const (
	mSOF0, mSOF1, mSOF2   = 0xc0, 0xc1, 0xc2
	mDHT, mJPG, mDAC      = 0xc4, 0xc8, 0xcc
	mRST0, mRST7          = 0xd0, 0xd7
	mSOI, mEOI, mSOS      = 0xd8, 0xd9, 0xda
	mDQT, mDRI, mAPP14    = 0xdb, 0xdd, 0xee
	mostTables, mostScans = 1000, 1000 // of a hostile file (ours); a progressive picture has about ten of each
)

// component is one of a picture's three planes: the means of its blocks.
type component struct {
	id, h, v, table byte
	wide, tall      int // blocks in memory, which fill whole units of all planes
	cols, rows      int // blocks that hold some of the picture
	dc              []int32
	seen            bool
}

// jpegReader is the state of reading one picture.
type jpegReader struct {
	data        []byte
	pos         int
	wide, tall  int
	hmax, vmax  int
	progressive bool
	planes      []component
	quant       [4]float64 // the step of the means, by table
	dcCodes     [4]*dcTable
	acCodes     [4]*acTable
	tables      int
	restart     int
	adobe       int // -1: not told; 0: RGB
}

// readJPEG reads a whole JPEG in memory.
func readJPEG(data []byte) (*jpegReader, error) {
	d := &jpegReader{data: data, adobe: -1}
	if !bytes.HasPrefix(data, []byte{0xff, mSOI, 0xff}) {
		return nil, errNotJPEG
	}
	d.pos = 2
	for scans := 0; ; {
		m, ok := d.marker()
		if !ok {
			return nil, errCut
		}
		switch {
		case m == mEOI:
			for i := range d.planes {
				if !d.planes[i].seen {
					return nil, errCut
				}
			}
			if len(d.planes) == 0 {
				return nil, errBroken
			}
			return d, nil
		case m == mSOI, m >= mRST0 && m <= mRST7, m == 0x01:
			continue // they stand alone
		}
		if d.pos+2 > len(data) {
			return nil, errCut
		}
		n := int(binary.BigEndian.Uint16(data[d.pos:]))
		if n < 2 {
			return nil, errBroken
		}
		if d.pos+n > len(data) {
			return nil, errCut
		}
		seg := data[d.pos+2 : d.pos+n]
		d.pos += n
		var err error
		switch {
		case m == mDQT:
			err = d.readQuant(seg)
		case m == mDHT:
			err = d.readCodes(seg)
		case m == mDRI:
			if len(seg) < 2 {
				return nil, errBroken
			}
			d.restart = int(binary.BigEndian.Uint16(seg))
		case m == mAPP14 && len(seg) >= 12 && bytes.HasPrefix(seg, []byte("Adobe")):
			d.adobe = int(seg[11])
		case m == mSOF0, m == mSOF1, m == mSOF2:
			d.progressive = m == mSOF2
			err = d.readFrame(seg)
		case m >= mSOF0 && m <= 0xcf && m != mJPG:
			err = errCoding
		case m == mSOS:
			if scans++; scans > mostScans {
				return nil, errBroken
			}
			err = d.readScan(seg)
		}
		if err != nil {
			return nil, err
		}
	}
}

// marker finds the next marker and steps behind it. What stands before it is the rest of a scan.
func (d *jpegReader) marker() (byte, bool) {
	for {
		i := bytes.IndexByte(d.data[d.pos:], 0xff)
		if i < 0 || d.pos+i+1 >= len(d.data) {
			return 0, false
		}
		d.pos += i + 1
		if m := d.data[d.pos]; m != 0 && m != 0xff {
			d.pos++
			return m, true
		}
	}
}

func (d *jpegReader) readQuant(seg []byte) error {
	for len(seg) > 0 {
		size, at := 64, seg[0]&15
		if seg[0]>>4 > 0 {
			size = 128
		}
		if len(seg) < 1+size || at > 3 {
			return errBroken
		}
		if d.quant[at] = float64(seg[1]); size == 128 {
			d.quant[at] = float64(binary.BigEndian.Uint16(seg[1:]))
		}
		seg = seg[1+size:]
	}
	return nil
}

// readFrame reads how large the picture is, before anything is made for it.
func (d *jpegReader) readFrame(seg []byte) error {
	if len(d.planes) > 0 || len(seg) < 6 {
		return errBroken
	}
	d.tall, d.wide = int(binary.BigEndian.Uint16(seg[1:])), int(binary.BigEndian.Uint16(seg[3:]))
	n := int(seg[5])
	switch {
	case seg[0] != 8, d.tall == 0:
		return errCoding
	case d.wide*d.tall > MaxPixels:
		return errManyPix
	case d.wide < leastWide || d.tall < leastTall:
		return errFewPix
	case n == 1:
		return errGrey
	case n == 4:
		return errPrint
	case n != 3:
		return errCoding
	case len(seg) < 6+3*n:
		return errBroken
	}
	planes := make([]component, n)
	for i := range planes {
		s := seg[6+3*i:]
		c := component{id: s[0], h: s[1] >> 4, v: s[1] & 15, table: s[2]}
		if c.h < 1 || c.h > 4 || c.v < 1 || c.v > 4 || c.table > 3 {
			return errBroken
		}
		planes[i] = c
		d.hmax, d.vmax = max(d.hmax, int(c.h)), max(d.vmax, int(c.v))
	}
	unitsX, unitsY := d.units()
	for i := range planes {
		c := &planes[i]
		c.wide, c.tall = unitsX*int(c.h), unitsY*int(c.v)
		c.cols = ceil(ceil(d.wide*int(c.h), d.hmax), 8)
		c.rows = ceil(ceil(d.tall*int(c.v), d.vmax), 8)
		c.dc = make([]int32, c.wide*c.tall)
	}
	d.planes = planes
	return nil
}

func ceil(a, b int) int { return (a + b - 1) / b }

// units counts the units that a scan of several planes is written in.
func (d *jpegReader) units() (x, y int) { return ceil(d.wide, 8*d.hmax), ceil(d.tall, 8*d.vmax) }

// scanPlane is a plane within one scan.
type scanPlane struct {
	*component
	dc   *dcTable
	ac   *acTable
	last int32
}

// readScan reads the means that a scan brings; what a progressive picture adds in later scans is stepped over.
func (d *jpegReader) readScan(seg []byte) error {
	if len(d.planes) == 0 || len(seg) < 1 || int(seg[0]) < 1 || int(seg[0]) > 4 || len(seg) < 4+2*int(seg[0]) {
		return errBroken
	}
	n := int(seg[0])
	from, high, low := seg[1+2*n], seg[3+2*n]>>4, seg[3+2*n]&15
	if !d.progressive {
		from, high, low = 0, 0, 0
	}
	if from > 0 {
		return nil // marker steps over what follows
	}
	if low > 13 {
		return errBroken
	}
	planes := make([]scanPlane, n)
	for i := range planes {
		id, use := seg[1+2*i], seg[2+2*i]
		for k := range d.planes {
			if d.planes[k].id == id {
				planes[i].component = &d.planes[k]
			}
		}
		if planes[i].component == nil || use>>4 > 3 || use&15 > 3 {
			return errBroken
		}
		planes[i].dc, planes[i].ac = d.dcCodes[use>>4], d.acCodes[use&15]
		if high == 0 && planes[i].dc == nil || !d.progressive && planes[i].ac == nil {
			return errBroken
		}
		if high > 0 && !planes[i].seen {
			return errBroken // nothing is there to be made finer
		}
	}
	in := &bitReader{data: d.data, pos: d.pos}
	block := func(p *scanPlane, x, y int) {
		at := &p.component.dc[y*p.wide+x]
		if high > 0 {
			*at |= int32(in.take(1)) << low
			return
		}
		p.last += p.dc.read(in)
		*at = p.last << low
		if !d.progressive {
			p.ac.skip(in)
		}
	}
	unitsX, unitsY := d.units()
	if n == 1 {
		unitsX, unitsY = planes[0].cols, planes[0].rows
	}
	for unit := range unitsX * unitsY {
		if d.restart > 0 && unit > 0 && unit%d.restart == 0 {
			if !in.restart() {
				return in.trouble()
			}
			for i := range planes {
				planes[i].last = 0
			}
		}
		ux, uy := unit%unitsX, unit/unitsX
		for i := range planes {
			p := &planes[i]
			if n == 1 {
				block(p, ux, uy)
				continue
			}
			for y := range int(p.v) {
				for x := range int(p.h) {
					block(p, ux*int(p.h)+x, uy*int(p.v)+y)
				}
			}
		}
		if in.bad || in.spent() {
			return in.trouble()
		}
	}
	d.pos = in.pos
	for i := range planes {
		planes[i].seen = true
	}
	return nil
}
