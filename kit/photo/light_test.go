package photo

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit/photo/phototest"
)

// The means of blocks against the whole picture as Go's image/jpeg decodes it, for every build of JPEG that is read.
func TestLightAgainstTheWholePicture(t *testing.T) {
	files, _ := filepath.Glob("testdata/jpeg/*.jpeg")
	n := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		l, err := ReadLight(data)
		switch name := filepath.Base(file); {
		case strings.Contains(name, "cmyk"):
			if !errors.Is(err, errPrint) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		case strings.Contains(name, "gray"):
			if !errors.Is(err, errGrey) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", file, err)
			continue
		}
		m, err := jpeg.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		n++
		compare(t, file, l, m)
	}
	if n < 8 {
		t.Errorf("only %d pictures were compared", n)
	}
}

// compare holds means against a decoded picture: of each plane over the block that covers the place. A picture in RGB that
// was decoded has lost its planes; of it only the mean of all is compared.
func compare(t *testing.T, name string, l *Light, m image.Image) {
	t.Helper()
	planes, _ := m.(*image.YCbCr)
	var sums, whole [3]float64
	worst, total := 0.0, 0.0
	for row := range l.Rows {
		for col := range l.Cols {
			got := l.Codes(col, row)
			want := meanOf(m, col, row)
			if planes != nil {
				want = coverOf(planes, col, row)
			}
			for i := range got {
				off := math.Abs(float64(got[i]) - want[i])
				sums[i], whole[i] = sums[i]+float64(got[i]), whole[i]+want[i]
				worst, total = max(worst, off), total+off/3
			}
		}
	}
	blocks := float64(l.Cols * l.Rows)
	if planes != nil && (worst > 6 || total/blocks > 0.6) {
		t.Errorf("%s: off by %.2f at worst, %.2f in the mean", name, worst, total/blocks)
	}
	for i := range sums {
		if math.Abs(sums[i]-whole[i])/blocks > 0.6 {
			t.Errorf("%s: channel %d has a mean of %.2f, want %.2f", name, i, sums[i]/blocks, whole[i]/blocks)
		}
	}
}

// meanOf is the mean of a block of pixels.
func meanOf(m image.Image, col, row int) (mean [3]float64) {
	for y := range Block {
		for x := range Block {
			r, g, b, _ := m.At(col*Block+x, row*Block+y).RGBA()
			for i, v := range []uint32{r, g, b} {
				mean[i] += float64(v>>8) / (Block * Block)
			}
		}
	}
	return mean
}

// coverOf is the colour of the blocks of the three planes that cover a place; the decoder keeps them whole beyond the edge.
func coverOf(m *image.YCbCr, col, row int) [3]float64 {
	mean := func(p []uint8, stride, x, y int) (v float64) {
		for j := range Block {
			for i := range Block {
				v += float64(p[(y+j)*stride+x+i]) / (Block * Block)
			}
		}
		return v
	}
	at := m.COffset(col*Block, row*Block)
	x, y := at%m.CStride/Block*Block, at/m.CStride/Block*Block
	lum := mean(m.Y, m.YStride, col*Block, row*Block)
	cb, cr := mean(m.Cb, m.CStride, x, y)-128, mean(m.Cr, m.CStride, x, y)-128
	v := [3]float64{lum + 1.402*cr, lum - 0.344136*cb - 0.714136*cr, lum + 1.772*cb}
	for i := range v {
		v[i] = min(max(v[i], 0), 255)
	}
	return v
}

// Values of the transfer function of sRGB: IEC 61966-2-1 has 0.04045 for the end of its straight part and 12.92 for its slope;
// that a code of 118 is a middle grey of 18 % is common practice, no source.
func TestLinear(t *testing.T) {
	for code, want := range map[float32]float64{0: 0, 255: 1, 10.31475: 0.0031308, 118: 0.1812, 5: 5. / 255 / 12.92} {
		if got := Linear(code); math.Abs(got-want) > 1e-4 {
			t.Errorf("code %g is %g, want %g", code, got, want)
		}
	}
	for code := float32(0); code < 255; code += 0.3 { // against the other direction, written by another hand
		if got := 255 * phototest.SRGB(Linear(code)); math.Abs(got-float64(code)) > 0.02 {
			t.Errorf("code %g comes back as %g", code, got)
		}
	}
}

func drawn(w, h int) []byte {
	return phototest.Wall{Wide: w, Tall: h, Light: [3]float64{0.2, 0.2, 0.2}}.JPEG(phototest.Shot{Shutter: [2]uint32{1, 1}, ISO: 100})
}

// What is no picture of a camera is refused with a reason.
func TestLightRefuses(t *testing.T) {
	whole := drawn(160, 104)
	sof := bytes.Index(whole, []byte{0xff, mSOF0})
	with := func(at int, v ...byte) []byte {
		d := bytes.Clone(whole)
		copy(d[sof+at:], v)
		return d
	}
	for name, tt := range map[string]struct {
		data []byte
		want error
	}{
		"empty":         {nil, errNotJPEG},
		"a PNG":         {[]byte("\x89PNG\r\n\x1a\n and so on"), errNotJPEG},
		"text":          {[]byte("skywedge: 1\n"), errNotJPEG},
		"huge":          {with(5, 0xff, 0xff, 0xff, 0xff), errManyPix},
		"tiny":          {drawn(40, 40), errFewPix},
		"no height":     {with(5, 0, 0), errCoding},
		"twelve bits":   {with(4, 12), errCoding},
		"arithmetic":    {with(1, 0xc9), errCoding},
		"lossless":      {with(1, 0xc3), errCoding},
		"two planes":    {with(9, 2), errCoding},
		"no such table": {with(12, 9), errBroken},
		"sampled by 0":  {with(11, 0), errBroken},
		"head alone":    {whole[:sof+30], errCut},
		"half":          {whole[:len(whole)*3/4], errCut},
		"end missing":   {whole[:len(whole)-2], errCut},
		"only a head":   {[]byte{0xff, 0xd8, 0xff, 0xd9}, errBroken},
	} {
		if l, err := ReadLight(tt.data); l != nil || !errors.Is(err, tt.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if l, err := ReadLight(whole); err != nil || l.Cols != 20 || l.Rows != 13 {
		t.Errorf("%v %v", l, err)
	}
}

// Whatever comes, there is an answer, and every mean in it is a code.
func FuzzLight(f *testing.F) {
	f.Add(drawn(160, 104))
	files, _ := filepath.Glob("testdata/jpeg/*.jpeg")
	for _, file := range files {
		if data, err := os.ReadFile(file); err == nil {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err == nil && c.Width*c.Height > 1e6 {
			return // would take too long here
		}
		l, err := ReadLight(data)
		if (l == nil) == (err == nil) {
			t.Fatal(l, err)
		}
		if l == nil {
			return
		}
		for row := range l.Rows {
			for col := range l.Cols {
				for _, v := range l.Codes(col, row) {
					if !(v >= 0 && v <= 255) {
						t.Fatalf("block %d, %d has %g", col, row, v)
					}
				}
			}
		}
	})
}

func BenchmarkLight(b *testing.B) {
	data := phototest.Wall{Wide: 2400, Tall: 1600, Noise: 4, Light: [3]float64{0.2, 0.2, 0.2}}.JPEG(phototest.Shot{Shutter: [2]uint32{1, 1}, ISO: 100})
	b.SetBytes(2400 * 1600)
	for b.Loop() {
		if _, err := ReadLight(data); err != nil {
			b.Fatal(err)
		}
	}
}
