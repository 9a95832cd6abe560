package plan

import "math"

// DevelopOptions say how a picture is turned into colours for a screen.
type DevelopOptions struct {
	EV100     float64 // what the exposure is set for; [Picture.MeterEV] gives the frame's own
	Gain      float64 // stops by which the filtered part is opened up, usually the filter's loss
	FromX     int     // the column from which the filter is in place; 0 all, W none
	CastMired float64 // of the filter against the set white balance, positive warmer
}

// meterK is the reflected-light meter constant (ISO 2720:1974, K 12.5).
const meterK = 12.5

// MeterEV gives the exposure value at ISO 100 of the bare frame's mean luminance, the mean being
// taken over logarithms so that the sun's disc does not decide.
func (p *Picture) MeterEV() float64 {
	var sum float64
	for _, l := range p.Bare {
		sum += math.Log2(math.Max(l, 1e-6))
	}
	return sum/float64(len(p.Bare)) + math.Log2(100/meterK)
}

// Develop gives the picture as red, green and blue bytes, three a pixel, row by row. A luminance at
// the metered value becomes middle grey (18 %); above it a shoulder leaves 4.5 stops to white [ours],
// and the result is encoded by the sRGB curve (IEC 61966-2-1). buf is used again when large enough.
func (p *Picture) Develop(o DevelopOptions, buf []uint8) []uint8 {
	n := 3 * p.W * p.H
	if cap(buf) < n {
		buf = make([]uint8, n)
	}
	buf = buf[:n]
	scale := .18 / (meterK / 100 * math.Exp2(o.EV100))
	warm, cool := castGains(o.CastMired)
	for i, c := range p.Colour {
		k := scale
		gr, gb := 1.0, 1.0
		if i%p.W >= o.FromX {
			k *= math.Exp2(o.Gain - p.Loss[i])
			gr, gb = warm, cool
		}
		r, g, b := float64(c[0])*k*gr, float64(c[1])*k, float64(c[2])*k*gb
		buf[3*i], buf[3*i+1], buf[3*i+2] = encode(r), encode(g), encode(b)
	}
	return buf
}

// castGains turns a colour cast in mired into gains of red and blue: about 1 % a mired near
// daylight, from Planck's law at 650 and 450 nm around 5600 K.
func castGains(mired float64) (red, blue float64) {
	const c2 = 0.014388 // m·K, second radiation constant
	d := c2 * mired * 1e-6
	return math.Exp(-d * (1/650e-9 - 1/550e-9)), math.Exp(-d * (1/450e-9 - 1/550e-9))
}

// toneSteps is the length of the table that stands for the tone curve: two hundred steps a stop, so
// that a smooth sky shows no bands of its own.
const toneSteps = 4096

// toneTable holds the tone curve against log2 of the light, from −12 to +8 stops around 1.
var toneTable = func() (t [toneSteps]uint8) {
	for i := range t {
		v := math.Exp2(float64(i)/toneSteps*20 - 12)
		const white = 4.0
		y := math.Min(1, v*(1+v/(white*white))/(1+v))
		if y <= .0031308 {
			y *= 12.92
		} else {
			y = 1.055*math.Pow(y, 1/2.4) - .055
		}
		t[i] = uint8(math.Round(255 * y))
	}
	return t
}()

func encode(v float64) uint8 {
	if !(v > 0) {
		return 0
	}
	i := int((math.Log2(v) + 12) / 20 * toneSteps)
	return toneTable[min(toneSteps-1, max(0, i))]
}
