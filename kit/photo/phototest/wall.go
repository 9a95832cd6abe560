package phototest

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
)

// Wall draws pictures of a wall, or of anything whose light is known in every place, as a camera would: light, exposure, the
// fall towards the corners, noise, a tone curve, a JPEG. It shares no line with what measures such pictures.
type Wall struct {
	Wide, Tall int
	Light      [3]float64                    // red, green, blue at one second, ISO 100 and f/1, in parts of what is white
	Filter     func(u, v float64) [3]float64 // what passes in a place, -1 to 1 to the right and down; nil: all
	Vignette   float64                       // stops lost in the corners
	Noise      float64                       // standard deviation, in codes
	Curve      func(light float64) float64   // 0..1 to 0..1; nil: that of sRGB
	Thirds     int                           // the real exposure time, 2^(Thirds/3) s; the shot has the marked one
	Seed       uint64
	Encode     func(m image.Image) ([]byte, error) // nil: a JPEG of quality 92
}

// SRGB is the transfer function of IEC 61966-2-1.
func SRGB(light float64) float64 {
	if light <= 0.0031308 {
		return 12.92 * light
	}
	return 1.055*math.Pow(light, 1/2.4) - 0.055
}

// SCurve is what many cameras put over it: darker shadows, brighter lights (ours).
func SCurve(light float64) float64 {
	v := SRGB(light)
	return v + 0.6*v*(1-v)*(v-0.4)
}

// Steep is as hard a curve as a camera is set to (ours): at middle grey half as steep again as sRGB.
func Steep(light float64) float64 {
	v := SRGB(light)
	return v - 0.09*math.Sin(2*math.Pi*v)
}

// JPEG draws the wall as a shot has it.
func (w Wall) JPEG(s Shot) []byte {
	r := noise(w.Seed)
	curve := w.Curve
	if curve == nil {
		curve = SRGB
	}
	m := image.NewRGBA(image.Rect(0, 0, w.Wide, w.Tall))
	exposure := math.Exp2(float64(w.Thirds)/3) * float64(s.ISO) / 100
	if s.Aperture > 0 {
		exposure /= s.Aperture * s.Aperture
	}
	for y := range w.Tall {
		for x := range w.Wide {
			u, v := (2*float64(x)+1)/float64(w.Wide)-1, (2*float64(y)+1)/float64(w.Tall)-1
			passed := [3]float64{1, 1, 1}
			if w.Filter != nil {
				passed = w.Filter(u, v)
			}
			var c [3]uint8
			here := exposure * math.Exp2(-w.Vignette*(u*u+v*v)/2)
			for i := range c {
				light := w.Light[i] * passed[i] * here
				code := 255*curve(min(light, 1)) + w.Noise*r.next()
				c[i] = uint8(math.Round(min(max(code, 0), 255)))
			}
			m.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	if w.Encode != nil {
		b, err := w.Encode(m)
		if err != nil {
			panic(err)
		}
		return s.Around(b)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 92}); err != nil {
		panic(err)
	}
	return s.Around(b.Bytes())
}

// noise is a source of numbers about 0 with a standard deviation of 1, the same for the same seed.
type noise uint64

// next returns the sum of twelve even numbers from -1/2 to 1/2, which is as good as a bell curve here.
func (n *noise) next() (sum float64) {
	for range 12 {
		*n = *n*6364136223846793005 + 1442695040888963407 // Knuth's generator, from memory
		sum += float64(*n>>11)/(1<<53) - 0.5
	}
	return sum
}
