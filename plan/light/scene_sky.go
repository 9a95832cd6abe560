package light

import (
	"math"

	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// The wavelengths that stand for red, green and blue, nm, and the weights of linear red, green and
// blue in the luminance (ITU-R BT.709).
const (
	redNM, greenNM, blueNM       = 650, 550, 450
	redPart, greenPart, bluePart = 0.2126, 0.7152, 0.0722
)

var wavelengths = [3]float64{redNM, greenNM, blueNM}

// RGB is linear red, green and blue.
type RGB [3]float64

// Luminance returns the weighted sum.
func (c RGB) Luminance() float64 { return redPart*c[0] + greenPart*c[1] + bluePart*c[2] }

// times multiplies channel by channel.
func (c RGB) times(o RGB) RGB { return RGB{c[0] * o[0], c[1] * o[1], c[2] * o[2]} }

// at returns the same colour with another luminance.
func (c RGB) at(luminance float64) RGB {
	l := c.Luminance()
	if !(l > 0) {
		return RGB{luminance, luminance, luminance}
	}
	k := luminance / l
	return RGB{c[0] * k, c[1] * k, c[2] * k}
}

// Colour. Channels are radiances at three wavelengths with the sun outside the air as white, divided
// by what is left of that sunlight on the ground about noon, so that white is what a camera set to
// daylight shows as white.
const (
	daylightPath  = 0.8  // air masses that noon's sun and sky together amount to (ours)
	daylightDepth = 0.08 // aerosol depth of that day, 550 nm (ours)
	bandOverlap   = 0.55 // three narrow bands redden more than the broad ones of an eye (ours)

	// A single scattering knows nothing of how red the light is that arrives when the sun is low. The
	// further air path is put near the sun and along the horizon (ours, by eye): so many air masses
	// for each of the sun's own, falling off with the angle to the sun and with the altitude.
	warmSun, warmSunDeg         = 0.30, 35.0
	warmHorizon, warmHorizonDeg = 0.16, 7.0
	warmMasses                  = 20.0 // beyond which the sun's own path adds nothing
	// After sunset the light comes from ever higher air, which the sun reaches along a bluer way: this
	// part of the warmth is gone when the sun is so far down (ours, by eye).
	duskFade, duskFadeDeg = 0.75, 6.0
	// The light of a closed cloud comes out so many mired warmer than a covered sky is taken to be when the
	// white balance is set (ours, from the picture of one).
	cloudMired = -8.0
)

// depthAt returns the depth of the air above an observer.
func depthAt(a sun.Air, nm float64) float64 {
	return sun.RayleighDepth(nm, a.PressureHPa) + sun.AerosolDepthAt(a.AOD, nm)
}

// daylight is what the air leaves of the sun's light about noon, green being 1.
var daylight = func() (w RGB) {
	day := sun.ClearAir(40, 0)
	day.AOD = daylightDepth
	for i, nm := range wavelengths {
		w[i] = math.Exp(-daylightPath * (depthAt(day, nm) - depthAt(day, greenNM)))
	}
	return w
}()

// warmth says how much further the light has come through the air, in air masses: in the part that
// depends on the angle to the sun and the part that depends on the altitude.
type warmth struct{ sun, horizon float64 }

func newWarmth(p sun.Position, cloud float64) warmth {
	m := min(sun.AirPath(max(0, p.AltitudeDeg)), warmMasses) * (1 - cloud) * (1 - cloud)
	m *= 1 - duskFade*max(0, min(1, -p.AltitudeDeg/duskFadeDeg))
	return warmth{warmSun * m, warmHorizon * m}
}

func (w warmth) nearSun(cosSun float64) float64 {
	deg := math.Acos(max(-1, min(1, cosSun))) * 180 / math.Pi
	return w.sun * math.Exp(-deg/warmSunDeg)
}

func (w warmth) nearHorizon(sinAlt float64) float64 {
	deg := math.Asin(max(0, min(1, sinAlt))) * 180 / math.Pi
	return w.horizon * math.Exp(-deg/warmHorizonDeg)
}

// The sky's light is a product of a function of the angle to the sun and one of the altitude, in
// every channel (see [sun.Pattern.Indicatrix]); the dome tabulates the two.
const (
	indicatrixSteps = 256 // over √(1 − cos γ), 0..√2
	gradationSteps  = 256 // over √(sin altitude), 0..1
	indicatrixScale = indicatrixSteps / math.Sqrt2
)

type dome struct {
	pattern sun.Pattern // at 550 nm
	sunDir  r3.Vec
	// red, green, blue, of which green is the luminance; in glow further the degree of airlight
	indicatrix, gradation [indicatrixSteps + 2][4]float64
	low, high             [3]float64 // fill at the horizon and at airlightAltDeg
}

// airlightAltDeg is where the sky's light stands in for that of the air in front of the land: the
// way to the land is shorter than the way out of the air.
const airlightAltDeg = 3

var sinAirlight = math.Sin(airlightAltDeg * math.Pi / 180)

func newDome(p sun.Position, air sun.Air, skyLx, perKm, dulled float64) *dome {
	t := &dome{sunDir: sun.Direction(p.AzimuthDeg, max(0, p.AltitudeDeg))} // as the pattern takes a sun that is down
	warm := newWarmth(p, air.Cloud.Cover)
	green := depthAt(air, greenNM)
	t.pattern = sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, air, greenNM)
	zenith := r3.Vec{Z: 1}
	scale := t.pattern.Sky(skyLx).Luminance(zenith) / t.pattern.Radiance(zenith)
	grey := CastGains(air.Cloud.Cover*cloudMired, 0)
	for c, nm := range wavelengths {
		pattern := sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, air, nm)
		redder := depthAt(air, nm) - green
		for i := range t.indicatrix {
			v := float64(i) / indicatrixScale
			cosSun := max(-1, 1-v*v)
			t.indicatrix[i][c] = pattern.Indicatrix(cosSun) * math.Exp(-redder*warm.nearSun(cosSun))
		}
		for i := range t.gradation {
			z := min(1, float64(i*i)/(gradationSteps*gradationSteps))
			t.gradation[i][c] = scale * grey[c] / daylight[c] * pattern.Gradation(z) * math.Exp(-redder*warm.nearHorizon(z))
		}
		t.low[c] = t.gradation[0][c]
		t.high[c] = scale * grey[c] / daylight[c] * pattern.Gradation(sinAirlight) * math.Exp(-redder*warm.nearHorizon(sinAirlight))
	}
	for i := range t.indicatrix {
		v := float64(i) / indicatrixScale
		// over the squared sine of the angle, which the direction of E brings back
		c := max(-1+1e-6, min(1-1e-6, 1-v*v))
		t.indicatrix[i][3] = dulled * AirlightDegree(c, perKm) / (1 - c*c)
	}
	return t
}

// around looks up the factors that depend on the angle to the sun; air is the degree of airlight
// divided by the squared sine of that angle.
func (t *dome) around(cosSun float64) (r, g, b, air float64) {
	v := math.Sqrt(max(0, 1-cosSun)) * indicatrixScale
	i := min(int(v), indicatrixSteps)
	f := v - float64(i)
	a, e := &t.indicatrix[i], &t.indicatrix[i+1]
	return a[0] + f*(e[0]-a[0]), a[1] + f*(e[1]-a[1]), a[2] + f*(e[2]-a[2]), a[3] + f*(e[3]-a[3])
}

// up looks up the factors that depend on the altitude.
func (t *dome) up(sinAlt float64) (r, g, b float64) {
	v := math.Sqrt(max(0, min(1, sinAlt))) * gradationSteps
	i := int(v)
	f := v - float64(i)
	a, e := &t.gradation[i], &t.gradation[i+1]
	return a[0] + f*(e[0]-a[0]), a[1] + f*(e[1]-a[1]), a[2] + f*(e[2]-a[2])
}

// levelled scales a colour whose green is the luminance so that its weighted sum is.
func levelled(r, g, b float64) (float64, float64, float64) {
	sum := redPart*r + greenPart*g + bluePart*b
	if !(sum > 0) {
		return 0, 0, 0
	}
	f := g / sum
	return r * f, g * f, b * f
}

// colour returns the sky's colour, with its luminance in cd/m² as the weighted sum.
func (t *dome) colour(cosSun, sinAlt float64) RGB {
	r, g, b, _ := t.around(cosSun)
	fr, fg, fb := t.up(sinAlt)
	r, g, b = levelled(r*fr, g*fg, b*fb)
	return RGB{r, g, b}
}

// light is the sky for a mirror.
func (t *dome) light(d, u1, u2 r3.Vec) (luminance, cos2, sin2 float64) {
	_, g, _, _ := t.around(r3.Dot(d, t.sunDir))
	_, fg, _ := t.up(d.Z)
	cos2, sin2 = t.pattern.Stokes(d, u1, u2)
	return g * fg, cos2, sin2
}

// mean returns the colour of the whole sky's light on the horizontal, with the luminance 1.
func (t *dome) mean() RGB {
	const rings, around = 8, 12
	var sum RGB
	az := math.Atan2(t.sunDir.X, t.sunDir.Y) * 180 / math.Pi
	for i := range rings {
		alt := (float64(i) + .5) * 90 / rings
		for j := range around {
			d := sun.Direction(az+(float64(j)+.5)*180/around, alt)
			w := d.Z * math.Cos(alt*math.Pi/180)
			for c, v := range t.colour(r3.Dot(d, t.sunDir), d.Z) {
				sum[c] += w * v
			}
		}
	}
	return sum.at(1)
}
