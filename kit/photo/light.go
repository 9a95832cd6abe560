package photo

import "math"

// The most that is read of a picture whose light is measured (ours), and the least: two blocks for each of nine by six
// patches.
const (
	MaxPixels            = 100e6
	MaxLightBytes        = 64 << 20
	leastWide, leastTall = 144, 96
)

// Block is the side of the blocks that a picture's light is told in, pixels.
const Block = 8

// Light is the light of a picture: the mean of every block of [Block] by [Block] pixels that lies wholly inside it.
type Light struct {
	Wide, Tall int // pixels
	Cols, Rows int // whole blocks

	codes [][3]float32 // red, green, blue as they are coded, 0 to 255
}

// ReadLight reads the light of a JPEG. The error says why it cannot be, and what helps.
func ReadLight(data []byte) (*Light, error) {
	if len(data) > MaxLightBytes {
		return nil, errManyBytes
	}
	d, err := readJPEG(data)
	if err != nil {
		return nil, err
	}
	for i := range d.planes {
		if d.quant[d.planes[i].table] == 0 {
			return nil, errBroken
		}
	}
	l := &Light{Wide: d.wide, Tall: d.tall, Cols: d.wide / Block, Rows: d.tall / Block}
	l.codes = make([][3]float32, l.Cols*l.Rows)
	isRGB := d.adobe == 0 || d.adobe < 0 && d.planes[0].id == 'R' && d.planes[1].id == 'G' && d.planes[2].id == 'B'
	for row := range l.Rows {
		for col := range l.Cols {
			var v [3]float32
			for i := range v {
				c := &d.planes[i]
				at := row*int(c.v)/d.vmax*c.wide + col*int(c.h)/d.hmax
				v[i] = float32(float64(c.dc[at])*d.quant[c.table]/Block) + 128
			}
			if !isRGB { // ITU-R BT.601 in full range, as JFIF has it (ITU-T T.871)
				y, cb, cr := v[0], v[1]-128, v[2]-128
				v = [3]float32{y + 1.402*cr, y - 0.344136*cb - 0.714136*cr, y + 1.772*cb}
			}
			for i := range v {
				v[i] = min(max(v[i], 0), 255)
			}
			l.codes[row*l.Cols+col] = v
		}
	}
	return l, nil
}

// Codes returns a block's mean red, green and blue as they are coded, 0 to 255.
func (l *Light) Codes(col, row int) [3]float32 { return l.codes[row*l.Cols+col] }

// fine is how many steps of [Linear]'s table there are between two codes.
const fine = 8

var linearTable = func() (t [255*fine + 2]float64) {
	for i := range t {
		t[i] = decode(float64(i) / fine / 255)
	}
	return t
}()

// decode is the inverse of the transfer function of sRGB, IEC 61966-2-1.
func decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Linear returns the light that a code of sRGB stands for, 0 to 1, between the table's steps in a straight line.
func Linear(code float32) float64 {
	x := float64(min(max(code, 0), 255)) * fine
	i := int(x)
	return linearTable[i] + (x-float64(i))*(linearTable[i+1]-linearTable[i])
}
