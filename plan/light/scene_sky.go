package light

import (
	"math"
	"sync"

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

// warmTables holds how the further path falls off, over the places of a [dome]'s tables.
type warmTables struct {
	nearSun     [indicatrixSteps + 2]float64
	nearHorizon [gradationSteps + 2]float64
}

var warm = sync.OnceValue(func() *warmTables {
	t := new(warmTables)
	for i := range t.nearSun {
		t.nearSun[i] = math.Exp(-math.Acos(indicatrixAt(i)) * 180 / math.Pi / warmSunDeg)
	}
	for i := range t.nearHorizon {
		t.nearHorizon[i] = nearHorizon(gradationAt(i))
	}
	return t
})

func nearHorizon(sinAlt float64) float64 {
	return math.Exp(-math.Asin(sinAlt) * 180 / math.Pi / warmHorizonDeg)
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
	quick   *sun.Quick  // of that
	scale   float64     // cd/m² of its unit
	sunDir  r3.Vec
	// red, green, blue, of which green is the luminance; in glow further the degree of airlight
	indicatrix, gradation [indicatrixSteps + 2][4]float64
	low, high             [3]float64 // fill at the horizon and at airlightAltDeg
}

// indicatrixAt returns the cosine of the angle to the sun of a place in the table.
func indicatrixAt(i int) float64 {
	v := float64(i) / indicatrixScale
	return max(-1, 1-v*v)
}

// gradationAt returns the sine of the altitude of a place in the table.
func gradationAt(i int) float64 { return min(1, float64(i*i)/(gradationSteps*gradationSteps)) }

// airlightAltDeg is where the sky's light stands in for that of the air in front of the land: the
// way to the land is shorter than the way out of the air.
const airlightAltDeg = 3

var sinAirlight = math.Sin(airlightAltDeg * math.Pi / 180)

func newDome(p sun.Position, air sun.Air, skyLx, perKm, dulled float64) *dome {
	t := &dome{sunDir: sun.Direction(p.AzimuthDeg, max(0, p.AltitudeDeg))} // as the pattern takes a sun that is down
	further, tables := newWarmth(p, air.Cloud.Cover), warm()
	green := depthAt(air, greenNM)
	t.pattern = sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, air, greenNM)
	t.quick = t.pattern.Quick()
	scale := t.pattern.Scale(skyLx)
	grey := CastGains(air.Cloud.Cover*cloudMired, 0)
	for c, nm := range wavelengths {
		pattern := sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, air, nm)
		redder := depthAt(air, nm) - green // of green itself 0, and the exponentials are 1
		level := scale * grey[c] / daylight[c]
		if nm == greenNM {
			t.scale = level
		}
		for i := range t.indicatrix {
			t.indicatrix[i][c] = pattern.Indicatrix(indicatrixAt(i)) * math.Exp(-redder*further.sun*tables.nearSun[i])
		}
		for i := range t.gradation {
			t.gradation[i][c] = level * pattern.Gradation(gradationAt(i)) * math.Exp(-redder*further.horizon*tables.nearHorizon[i])
		}
		t.low[c] = t.gradation[0][c]
		t.high[c] = level * pattern.Gradation(sinAirlight) * math.Exp(-redder*further.horizon*nearHorizon(sinAirlight))
	}
	for i := range t.indicatrix {
		// over the squared sine of the angle, which the direction of E brings back
		v := float64(i) / indicatrixScale
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
	luminance, cos2, sin2 = t.quick.Light(d, u1, u2)
	return t.scale * luminance, cos2, sin2
}

// mean returns the colour of the whole sky's light on the horizontal, with the luminance 1.
func (t *dome) mean() RGB {
	var sum RGB
	level := math.Sqrt(t.sunDir.X*t.sunDir.X + t.sunDir.Y*t.sunDir.Y)
	for _, d := range skyDirections() {
		for c, v := range t.colour(d.up*t.sunDir.Z+d.along*level, d.up) {
			sum[c] += d.weight * v
		}
	}
	return sum.at(1)
}

// skyDirection is one that stands for a piece of the sky: along the sun's azimuth and up. The other half of the sky is
// the same.
type skyDirection struct{ along, up, weight float64 }

var skyDirections = sync.OnceValue(func() (all []skyDirection) {
	const rings, around = 8, 12
	for i := range rings {
		sin, cos := math.Sincos((float64(i) + .5) * math.Pi / 2 / rings)
		for j := range around {
			all = append(all, skyDirection{cos * math.Cos((float64(j)+.5)*math.Pi/around), sin, sin * cos})
		}
	}
	return all
})
