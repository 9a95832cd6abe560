package picture

import (
	"math"
	"sync"

	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/light"
)

// Developing turns light into the bytes of a screen, in this order:
//
//  1. The light at 650, 550 and 450 nm stands for linear red, green and blue (ITU-R BT.709), scaled
//     so that their weighted sum is the luminance; white is noon's daylight (see [SceneAt]).
//  2. What the filter takes: its loss in that pixel, its cast and its tint.
//  3. What a diffusion layer scatters out of lights that are too bright for the sensor ([haloOf]).
//  4. The white balance that is set, against noon's daylight.
//  5. The exposure, and a tone curve: the metered luminance becomes middle grey, and what clips the
//     sensor is white.
//  6. The sRGB curve (IEC 61966-2-1).

// DevelopOptions say how a picture is turned into colours for a screen. [Report.Development] fills
// them in for a frame.
type DevelopOptions struct {
	FromX    int             // the column from which the filter is in place; 0 all, W none
	Bare     ExposureSetting // the part without the filter
	Filtered ExposureSetting // the part with it

	HighlightStops float64 // over middle grey before white; 0: 3

	CastMired float64 // of the filter, positive warmer
	Tint      float64 // of the filter, positive magenta
	Scatter   float64 // part of the light that a diffusion layer scatters, 0 without one
}

// ExposureSetting is how the camera is set for a part of a picture.
type ExposureSetting struct {
	EV100     float64 // Luminance behind the filter that becomes middle grey, as an exposure value at ISO 100
	WBK       float64 // white balance, kelvin; 0: noon's daylight
	OverClean float64 // stops by which ISO is above the clean one; 0 or less: clean
}

const (
	// meterK is the reflected-light meter constant (ISO 2720:1974, K 12.5).
	meterK      = 12.5
	middle      = .18 // of white's reflectance: what a meter makes of what it sees
	sensorStops = 3.0 // from there to the sensor's clipping: 12.7 % of it (ISO 12232, from memory)

	// The tone curve is vⁿ/(vⁿ + k), made 1 where the camera clips, with k such that middle grey stays:
	// a little more contrast in the middle than the scene has, and a shoulder (ours, by eye).
	toneSlope = 1.3
)

// highlights returns how far over middle grey white lies, in stops.
func (o *DevelopOptions) highlights() float64 {
	if o.HighlightStops > 0 {
		return min(o.HighlightStops, toneHighest)
	}
	return sensorStops
}

// clipAt returns the exposure that clips, middle grey being .18.
func (o *DevelopOptions) clipAt() float64 { return middle * math.Exp2(o.highlights()) }

// MeterEV returns the exposure value at ISO 100 of the bare frame's mean luminance, the mean being
// taken over logarithms so that the sun's disc does not decide.
func (p *Picture) MeterEV() float64 {
	var sum float64
	product := 1.0 // of a few: one logarithm for all of them
	for i, l := range p.Bare {
		product *= min(max(l, 1e-6), 1e12)
		if i%16 == 15 {
			sum += fastlog.Log2(product)
			product = 1
		}
	}
	sum += fastlog.Log2(product)
	return sum/float64(len(p.Bare)) + math.Log2(100/meterK)
}

// MeanLoss returns the stops by which the filter lowers what [Picture.MeterEV] gives.
func (p *Picture) MeanLoss() float64 {
	var sum float64
	for _, l := range p.Loss {
		sum += l
	}
	return sum / float64(len(p.Loss))
}

// perCd returns the exposure that a luminance of 1 cd/m² makes, middle grey being .18.
func (e ExposureSetting) perCd() float64 { return middle / (meterK / 100 * math.Exp2(e.EV100)) }

// gains are what every channel of a part of the picture is multiplied with.
type gains struct{ r, g, b float64 }

func (e ExposureSetting) gains(castMired, tint float64) gains {
	k := e.perCd()
	w := light.WhiteGains(e.WBK)
	c := light.CastGains(castMired, tint)
	return gains{k * w[0] * c[0], k * w[1] * c[1], k * w[2] * c[2]}
}

// Develop returns the picture as red, green and blue bytes, three a pixel, row by row. buf is used again
// when large enough.
func (p *Picture) Develop(o DevelopOptions, buf []uint8) []uint8 {
	n := 3 * p.W * p.H
	if cap(buf) < n {
		buf = make([]uint8, n)
	}
	buf = buf[:n]
	bare := o.Bare.gains(0, 0)
	through := o.Filtered.gains(o.CastMired, o.Tint)
	glow := p.haloOf(&o)
	tones := tonesFor(o.highlights())
	inBands(p.W, p.H, bandRows, func(from, to int) { p.developRows(buf, o.FromX, bare, through, glow, tones, from, to) })
	return buf
}

func (p *Picture) developRows(buf []uint8, fromX int, bare, through gains, glow *halo, tones *toneTable, from, to int) {
	split := max(0, min(p.W, fromX))
	var scattered haloLine
	for j := from; j < to; j++ {
		row, end := j*p.W, (j+1)*p.W
		for i, c := range p.Colour[row : row+split] {
			out := buf[3*(row+i):][:3]
			out[0], out[1], out[2] = tones.at(float64(c[0])*bare.r), tones.at(float64(c[1])*bare.g), tones.at(float64(c[2])*bare.b)
		}
		if split == p.W {
			continue
		}
		if glow != nil {
			glow.line(&scattered, j)
		}
		loss, lum := p.Loss[row+split:end], p.Bare[row+split:end]
		for i, c := range p.Colour[row+split : end] {
			k := fastlog.Exp2(-loss[i])
			r, g, b := float64(c[0])*k, float64(c[1])*k, float64(c[2])*k
			if glow != nil {
				if glow.clips(lum[i] * k) {
					r, g, b = r*glow.left, g*glow.left, b*glow.left
				}
				l := scattered.at(glow, split+i)
				r, g, b = r+l[0], g+l[1], b+l[2]
			}
			out := buf[3*(row+split+i):][:3]
			out[0], out[1], out[2] = tones.at(r*through.r), tones.at(g*through.g), tones.at(b*through.b)
		}
	}
}

// The tone curve is tabulated against the leading bits of a float32: its exponent, and 256 steps within
// a stop, so that a smooth sky shows no bands of its own and no logarithm is taken.
const (
	toneBits    = 8
	toneShift   = 23 - toneBits
	toneLow     = -12 // stops around 1 that the table spans
	toneHigh    = 8
	toneHighest = 10 // stops over middle grey at which white may lie, with that span
)

var toneFirst = math.Float32bits(float32(math.Exp2(toneLow))) >> toneShift

// toneTable holds the bytes of a screen for the exposures of a camera.
type toneTable [(toneHigh - toneLow) << toneBits]uint8

// toneTables keeps the table of each way to clip that was asked for: a bag has a few.
var toneTables sync.Map // of float64, stops over middle grey, to *toneTable

func tonesFor(highlightStops float64) *toneTable {
	if t, ok := toneTables.Load(highlightStops); ok {
		return t.(*toneTable)
	}
	t, _ := toneTables.LoadOrStore(highlightStops, newToneTable(highlightStops))
	return t.(*toneTable)
}

func newToneTable(highlightStops float64) *toneTable {
	t := new(toneTable)
	a := math.Pow(middle, toneSlope)
	white := middle * math.Exp2(highlightStops)
	w := math.Pow(white, toneSlope)
	// a/(a+k)·(w+k)/w = middle
	k := a * w * (1 - middle) / (middle*w - a)
	steep := math.Log(middle) / (-highlightStops * math.Ln2)
	for i := range t {
		bits := (toneFirst+uint32(i))<<toneShift | 1<<(toneShift-1)
		x := float64(math.Float32frombits(bits))
		v := math.Pow(x, toneSlope)
		y := math.Min(1, v/(v+k)*(w+k)/w)
		if steep >= toneSlope { // white so near that there is no room for a shoulder: straight into it
			y = math.Min(1, math.Pow(x/white, steep))
		}
		if y <= .0031308 {
			y *= 12.92
		} else {
			y = 1.055*math.Pow(y, 1/2.4) - .055
		}
		t[i] = uint8(math.Round(255 * y))
	}
	return t
}

// at develops one channel; middle grey is .18.
func (t *toneTable) at(v float64) uint8 {
	if !(v > 0) {
		return 0
	}
	i := int(math.Float32bits(float32(v))>>toneShift) - int(toneFirst) // what is too large for it is infinite, and white
	if uint(i) < uint(len(t)) {
		return t[i]
	}
	if i < 0 {
		return t[0]
	}
	return t[len(t)-1]
}
