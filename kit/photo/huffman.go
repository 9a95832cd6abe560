package photo

import "encoding/binary"

// bitReader reads the bits of a scan. It never reads over a marker: there it gives zeros and counts them.
type bitReader struct {
	data []byte
	pos  int
	acc  uint64 // the next bits, the first in the highest place
	n    int    // how many of them there are
	over int    // of these, zeros that stand for data that is not there
	bad  bool   // a code that there is none of
}

// fill makes sure of at least 48 bits.
func (b *bitReader) fill() {
	for b.n <= 48 {
		if b.n <= 32 && b.pos+4 <= len(b.data) {
			// Four bytes at once where none of them is 0xff (the usual trick of a carry into the top bit).
			w := binary.BigEndian.Uint32(b.data[b.pos:])
			if x := ^w; (x-0x01010101)&^x&0x80808080 == 0 {
				b.acc |= uint64(w) << (32 - b.n)
				b.n, b.pos = b.n+32, b.pos+4
				continue
			}
		}
		c := uint64(0)
		switch {
		case b.pos >= len(b.data), b.data[b.pos] == 0xff && (b.pos+1 >= len(b.data) || b.data[b.pos+1] != 0):
			b.over += 8
		case b.data[b.pos] == 0xff:
			c, b.pos = 0xff, b.pos+2
		default:
			c, b.pos = uint64(b.data[b.pos]), b.pos+1
		}
		b.acc |= c << (56 - b.n)
		b.n += 8
	}
}

// drop steps over bits that are there.
func (b *bitReader) drop(n int) {
	b.acc <<= n
	b.n -= n
}

// take reads up to 16 bits.
func (b *bitReader) take(n int) uint32 {
	if b.n < n {
		b.fill()
	}
	v := uint32(b.acc >> (64 - n))
	if n == 0 {
		v = 0
	}
	b.drop(n)
	return v
}

// spent tells whether bits were read that are not there.
func (b *bitReader) spent() bool { return b.n < b.over }

// restart steps over a marker that lets the reader begin anew.
func (b *bitReader) restart() bool {
	b.acc, b.n, b.over = 0, 0, 0
	if b.pos+1 >= len(b.data) || b.data[b.pos] != 0xff || b.data[b.pos+1] < mRST0 || b.data[b.pos+1] > mRST7 {
		return false
	}
	b.pos += 2
	return true
}

// trouble says what ended a scan too early: the end of the file, or something that should not be there.
func (b *bitReader) trouble() error {
	if !b.bad && b.pos >= len(b.data)-1 {
		return errCut
	}
	return errBroken
}

// lookBits is how many bits a table looks at in one step; longer codes are rare (ours).
const lookBits = 11

// codeTable is a table of Huffman codes (ITU-T T.81 annex C and F.2.2.3).
type codeTable struct {
	fast  [1 << lookBits]uint16 // length<<8 | symbol; 0 for longer codes
	value [256]byte
	first [17]int32 // the smallest code of a length, and where its symbols begin
	index [17]int32
	count [17]int32
}

func newCodeTable(counts, values []byte) (*codeTable, bool) {
	t := &codeTable{}
	copy(t.value[:], values)
	code, k := int32(0), int32(0)
	for n := 1; n <= 16; n++ {
		t.first[n], t.index[n], t.count[n] = code, k, int32(counts[n-1])
		if code+t.count[n] > 1<<n { // more codes than there are of this length
			return nil, false
		}
		for range t.count[n] {
			if n <= lookBits {
				lo := code << (lookBits - n)
				for i := lo; i < lo+1<<(lookBits-n); i++ {
					t.fast[i] = uint16(n)<<8 | uint16(t.value[k])
				}
			}
			code, k = code+1, k+1
		}
		code <<= 1
	}
	return t, true
}

// symbol reads one symbol; 0 where there is no such code.
func (t *codeTable) symbol(b *bitReader) byte {
	if b.n < 32 {
		b.fill()
	}
	if f := t.fast[b.acc>>(64-lookBits)]; f != 0 {
		b.drop(int(f >> 8))
		return byte(f)
	}
	for n := lookBits + 1; n <= 16; n++ {
		if at := int32(b.acc>>(64-n)) - t.first[n]; at >= 0 && at < t.count[n] {
			b.drop(n)
			return t.value[t.index[n]+at]
		}
	}
	b.bad = true
	b.drop(1)
	return 0
}

// dcTable is a table of the sizes of means.
type dcTable struct{ codeTable }

// read reads by how much a mean differs from that of the block before (T.81 F.2.2.1).
func (t *dcTable) read(b *bitReader) int32 {
	size := int(t.symbol(b))
	if size > 15 {
		b.bad = true
		return 0
	}
	v := int32(b.take(size))
	if size > 0 && v < 1<<(size-1) {
		v += -1<<size + 1
	}
	return v
}

// acTable is a table of what follows a mean; step is what one look says of it: how many bits to step over in all, and how
// many of the 63 values they stand for (0: a longer code).
type acTable struct {
	codeTable
	step [1 << lookBits]struct{ bits, values uint8 }
}

func newACTable(c *codeTable) *acTable {
	t := &acTable{codeTable: *c}
	for i, f := range t.fast {
		if f != 0 {
			bits, values := acStep(byte(f))
			t.step[i].bits, t.step[i].values = uint8(f>>8)+bits, values
		}
	}
	return t
}

// acStep tells how many bits follow a symbol, and how many values it stands for (T.81 F.2.2.2).
func acStep(symbol byte) (bits, values uint8) {
	switch run, size := symbol>>4, symbol&15; {
	case size > 0:
		return size, run + 1
	case run == 15:
		return 0, 16
	}
	return 0, 64 // the end of the block
}

// skip steps over what follows a mean.
func (t *acTable) skip(b *bitReader) {
	for k := 1; k < 64; {
		if b.n < 32 {
			b.fill()
		}
		if s := t.step[b.acc>>(64-lookBits)]; s.values != 0 {
			b.drop(int(s.bits))
			k += int(s.values)
			continue
		}
		bits, values := acStep(t.symbol(b))
		b.take(int(bits))
		k += int(values)
	}
}

// readCodes reads tables of codes.
func (d *jpegReader) readCodes(seg []byte) error {
	for len(seg) > 0 {
		if len(seg) < 17 {
			return errBroken
		}
		class, at, n := seg[0]>>4, seg[0]&15, 0
		for _, c := range seg[1:17] {
			n += int(c)
		}
		if d.tables++; class > 1 || at > 3 || n > 256 || len(seg) < 17+n || d.tables > mostTables {
			return errBroken
		}
		t, ok := newCodeTable(seg[1:17], seg[17:17+n])
		switch {
		case !ok:
			return errBroken
		case class == 0:
			d.dcCodes[at] = &dcTable{*t}
		default:
			d.acCodes[at] = newACTable(t)
		}
		seg = seg[17+n:]
	}
	return nil
}
