package cells

import "math"

// The 256-colour palette above the first 16: a cube of six levels a channel (0, 95, 135, 175, 215, 255) and a row of
// greys (8 to 238 in tens). It has few pale or dull colours but greys, so nearness alone turns half of a clear sky
// violet or green: a wrong hue counts for more than a wrong lightness, and a grey for less than either.

// lab is a colour in Oklab (Ottosson 2020; the matrices from memory), where distance is about what the eye sees.
type lab struct{ l, a, b, chroma float64 }

func labOf(c Colour) lab {
	r, g, b := c.parts()
	lr, lg, lb := linear(r), linear(g), linear(b)
	l := math.Cbrt(.4122214708*lr + .5363325363*lg + .0514459929*lb)
	m := math.Cbrt(.2119034982*lr + .6806995451*lg + .1073969566*lb)
	s := math.Cbrt(.0883024619*lr + .2817188376*lg + .6299787005*lb)
	o := lab{
		l: .2104542553*l + .7936177850*m - .0040720468*s,
		a: 1.9779984951*l - 2.4285922050*m + .4505937099*s,
		b: .0259040371*l + .7827717662*m - .8086757660*s,
	}
	o.chroma = math.Hypot(o.a, o.b)
	return o
}

// linear undoes the sRGB curve (IEC 61966-2-1).
func linear(v uint8) float64 {
	x := float64(v) / 255
	if x <= .04045 {
		return x / 12.92
	}
	return math.Pow((x+.055)/1.055, 2.4)
}

// How much each part of a difference counts, squared (ours, by eye on the frames of the demo trip).
const (
	weighLightness = 0.5
	weighChroma    = 1.0
	weighHue       = 3.0
)

// apart tells how unlike two colours look.
func (c lab) apart(d *lab) float64 {
	l, a, b, chroma := c.l-d.l, c.a-d.a, c.b-d.b, c.chroma-d.chroma
	hue := a*a + b*b - chroma*chroma
	return weighLightness*l*l + weighChroma*chroma*chroma + weighHue*hue
}

// paletteColour returns the usual colour of a number from 16 on.
func paletteColour(n int) Colour {
	if n >= 232 {
		v := uint8(8 + 10*(n-232))
		return RGB(v, v, v)
	}
	n -= 16
	return RGB(cubeLevel(n/36), cubeLevel(n/6%6), cubeLevel(n%6))
}

func cubeLevel(i int) uint8 {
	if i == 0 {
		return 0
	}
	return uint8(55 + 40*i)
}

// firstExact is the first number of the palette whose colour is the same on every terminal.
const firstExact = 16

var paletteLab = func() (p [256]lab) {
	for n := firstExact; n < len(p); n++ {
		p[n] = labOf(paletteColour(n))
	}
	return p
}()

// violets are the pale dull ones that a blue sky comes near to: they look like clouds in it. They stand only for
// themselves. Dark blue has no other neighbour but greys, so the dark one among them stays.
var violets = [256]bool{103: true, 146: true, 189: true}

// own returns the number of a colour that the palette has.
func own(c Colour) (n uint8, ok bool) {
	r, g, b := c.parts()
	for _, v := range [...]uint8{r, g, b} {
		if v != 0 && (v < 95 || (v-55)%40 != 0) {
			return uint8(232 + (int(r)-8)/10), r == g && g == b && r >= 8 && r <= 238 && (r-8)%10 == 0
		}
	}
	step := func(v uint8) uint8 { return uint8(max(0, int(v)-55) / 40) }
	return firstExact + 36*step(r) + 6*step(g) + step(b), true
}

// nearest256 gives the number of the palette that looks most like an exact colour.
func nearest256(c Colour) uint8 {
	if n, ok := own(c); ok {
		return n
	}
	of, best, least := labOf(c), firstExact, math.Inf(1)
	for n := firstExact; n < len(paletteLab); n++ {
		if violets[n] {
			continue
		}
		if d := of.apart(&paletteLab[n]); d < least {
			best, least = n, d
		}
	}
	return uint8(best)
}

// numbers keeps what was looked for, by the six leading bits of each channel: as many as a picture has ([Levels]).
// 0 stands for not yet.
type numbers []uint8

func (k *numbers) of(c Colour) uint8 {
	if *k == nil {
		*k = make(numbers, Levels*Levels*Levels)
	}
	if n, ok := own(c); ok {
		return n
	}
	r, g, b := c.parts()
	n := &(*k)[int(r>>2)<<12|int(g>>2)<<6|int(b>>2)]
	if *n == 0 {
		full := func(v uint8) uint8 { return uint8(int(v>>2) * 255 / (Levels - 1)) }
		*n = nearest256(RGB(full(r), full(g), full(b)))
	}
	return *n
}
