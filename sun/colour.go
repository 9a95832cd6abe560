package sun

import "gonum.org/v1/gonum/spatial/r3"

// The wavelengths that stand for red, green and blue, in nanometres.
const redNM, greenNM, blueNM = 650, 550, 450

// Weights of linear red, green and blue in the luminance (ITU-R BT.709).
const redWeight, greenWeight, blueWeight = 0.2126, 0.7152, 0.0722

// Colours is a sky in three channels. The sun's light outside the air counts as white, so that the
// channels differ by what air and haze do to them; cloud is white.
type Colours struct {
	sky       *Sky // green
	red, blue Pattern
}

// NewColours makes a coloured sky; the arguments are those of [NewSky].
func NewColours(sunAzDeg, sunAltDeg float64, a Air, skyLx float64) *Colours {
	return &Colours{
		sky:  NewSky(sunAzDeg, sunAltDeg, a, greenNM, skyLx),
		red:  NewPattern(sunAzDeg, sunAltDeg, a, redNM),
		blue: NewPattern(sunAzDeg, sunAltDeg, a, blueNM),
	}
}

// Sky gives the sky at 550 nm: the one for luminance and for measures.
func (c *Colours) Sky() *Sky { return c.sky }

// At gives the colour of the sky in direction d, in linear red, green and blue weighted so that
// 0.2126·R + 0.7152·G + 0.0722·B is the luminance in cd/m², and the ray at 550 nm.
func (c *Colours) At(d r3.Vec) (rgb [3]float64, ray Ray) {
	v := c.sky.view(d)
	rgb, ray.Luminance = c.colour(v)
	ray.Degree, ray.E = c.sky.polarisation(d, v)
	return rgb, ray
}

// Colour gives the colour alone, which is cheaper.
func (c *Colours) Colour(d r3.Vec) [3]float64 {
	rgb, _ := c.colour(c.sky.view(d))
	return rgb
}

func (c *Colours) colour(v view) (rgb [3]float64, luminance float64) {
	r, g, b := c.red.radiance(v), c.sky.radiance(v), c.blue.radiance(v)
	sum := redWeight*r + greenWeight*g + blueWeight*b
	if !(sum > 0) {
		return rgb, 0
	}
	luminance = c.sky.scale * g
	f := luminance / sum
	return [3]float64{r * f, g * f, b * f}, luminance
}

// Degrees gives the degree of polarisation of each channel in direction d.
func (c *Colours) Degrees(d r3.Vec) [3]float64 {
	return [3]float64{c.red.Degree(d), c.sky.Degree(d), c.blue.Degree(d)}
}

// Stokes gives [Pattern.Stokes] of each channel: the direction of E differs a little between them.
func (c *Colours) Stokes(d, u1, u2 r3.Vec) (cos2, sin2 [3]float64) {
	cos2[0], sin2[0] = c.red.Stokes(d, u1, u2)
	cos2[1], sin2[1] = c.sky.Stokes(d, u1, u2)
	cos2[2], sin2[2] = c.blue.Stokes(d, u1, u2)
	return cos2, sin2
}
