package cells

// Ramp is a row of colours of evenly rising lightness, safe for colour-blind eyes.
type Ramp struct {
	anchors [9]Colour
	steps   [8]uint8 // of the 256-colour palette
}

// Cividis (Nuñez, Anderton & Renslow 2018) and viridis (van der Walt & Smith 2015): nine anchors of
// the published tables. The 256-colour steps are picked so that lightness never falls, which the
// nearest colour of each sample does not give.
var (
	Cividis = Ramp{
		anchors: [9]Colour{hex(0x002051), hex(0x12376c), hex(0x3d4d6e), hex(0x63646f), hex(0x807c75), hex(0x9a9478), hex(0xbbae71), hex(0xe2cb5c), hex(0xfdea45)},
		steps:   [8]uint8{24, 60, 242, 243, 102, 144, 179, 221},
	}
	Viridis = Ramp{
		anchors: [9]Colour{hex(0x440154), hex(0x472d7b), hex(0x3b528b), hex(0x2c728e), hex(0x21918c), hex(0x27ad81), hex(0x5cc863), hex(0xaadc32), hex(0xfde725)},
		steps:   [8]uint8{53, 61, 31, 67, 36, 42, 113, 184},
	}
)

func hex(v uint32) Colour { return kindRGB | Colour(v) }

// Levels is how many different colours a ramp or a picture's channel uses. A smooth gradient costs
// 110 kB a frame at 200x60, one cut to 64 levels less than half of that; at 32 the eye sees steps in
// a clear sky.
const Levels = 64

// At gives the colour at v, 0 (dark) to 1 (bright), cut to Levels.
func (r *Ramp) At(v float64) Colour {
	if !(v > 0) { // also NaN
		v = 0
	}
	return r.Smooth(float64(int(min(v, 1)*(Levels-1)+0.5)) / (Levels - 1))
}

// Smooth gives the colour at v, 0 (dark) to 1 (bright), as exact as it is.
func (r *Ramp) Smooth(v float64) Colour {
	f := 8 * max(0, min(v, 1))
	i := min(int(f), 7)
	f -= float64(i)
	r0, g0, b0 := r.anchors[i].parts()
	r1, g1, b1 := r.anchors[i+1].parts()
	return RGB(mix(r0, r1, f), mix(g0, g1, f), mix(b0, b1, f))
}

func mix(a, b uint8, f float64) uint8 { return uint8(float64(a) + (float64(b)-float64(a))*f + 0.5) }

// Step256 gives the number of the 256-colour palette at v.
func (r *Ramp) Step256(v float64) uint8 {
	if !(v > 0) {
		v = 0
	}
	return r.steps[min(int(min(v, 1)*8), 7)]
}

// Quantise cuts an 8-bit channel to Levels.
func Quantise(v uint8) uint8 {
	return uint8((int(v)*(Levels-1) + 127) / 255 * 255 / (Levels - 1))
}

// chromaStep is how finely the colour of a picture is cut, in steps of 8 bits: as finely as its brightness. At 8 the eye
// sees patches of another green in a wood.
const chromaStep = 4

// PictureColour returns what a picture shows of a pixel: its brightness cut to Levels, and how far red and blue lie from
// that. Where each channel is cut for itself, the three of a sky step at three places, and every step is a code to be sent:
// this way a nudge at 200x60 is 30 kB instead of 41.
func PictureColour(r, g, b uint8) Colour {
	y := RGB(r, g, b).Luma()
	light := int(Quantise(uint8(y)))
	red, blue := light+chroma(int(r)-y), light+chroma(int(b)-y)
	green := (lumaWhole*light - lumaRed*red - lumaBlue*blue + lumaGreen/2) / lumaGreen
	return RGB(byteOf(red), byteOf(green), byteOf(blue))
}

// chroma cuts a difference to the brightness, the same way on both sides of none.
func chroma(d int) int {
	if d < 0 {
		return -chroma(-d)
	}
	return (d + chromaStep/2) / chromaStep * chromaStep
}

func byteOf(v int) uint8 { return uint8(max(0, min(v, 255))) }
