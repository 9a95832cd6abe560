package light

import (
	"math"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Rays is the light of one moment along single lines of sight: the same as a [Scene]'s, without colour and
// without its tables. It costs a hundredth of a scene to make and three times as much a ray, which pays for the
// hundred rays that a meter reads (TestRaysAreTheScenes holds the two together).
type Rays struct {
	pattern  *sun.Pattern
	scale    float64 // cd/m² of the pattern's unit
	domeSun  r3.Vec  // the sun as the sky's pattern takes it, never below the horizon
	sunDir   r3.Vec
	distance distances
	perM     float64
	dulled   float64
	low3     [2]float64 // the sky's gradation at the horizon and 3° above it, cd/m² of the indicatrix' unit
	ridge    *ridge

	relief           relief
	sunUp            float64
	landSky, landSun float64 // own luminance of level ground, by the sky and by the sun
	mirrored         Reflector
	surface          water.Surface
	cover            float64
	beamLx           float64 // normal to the beam, where it can glint; 0 without
	mirrorSun        r3.Vec  // where level water shows the sun; the zero vector without
}

// RaysAt lays out the light of a moment on a leg's first (0) or last (1) take. onGround is the light there
// ([OnGround]), pattern the sky seen from the aircraft, mirrored what the ground shows of it in the pattern's
// unit, nil for a ground without.
func RaysAt(s *shot.Shot, m *shot.Moment, take int, onGround sun.Light, pattern *sun.Pattern, mirrored Reflector, line *Skyline) Rays {
	leg := &s.Legs[m.Leg]
	p := m.Sun[take]
	r := Rays{
		pattern: pattern, mirrored: mirrored,
		scale:   pattern.Scale(onGround.SkyLx),
		domeSun: sun.Direction(p.AzimuthDeg, max(0, p.AltitudeDeg)), sunDir: p.Direction(),
		distance: newDistances(max(1, m.AboveM)),
		perM:     ExtinctionPerKm(s.Light.VisibilityKm) / 1000,
		relief:   reliefs[leg.Ground],
	}
	r.dulled = AirlightUnderCloud(s.Light.CloudPct / 100)
	r.low3 = [2]float64{r.scale * pattern.Gradation(0), r.scale * pattern.Gradation(sinAirlight)}
	r.sunUp = max(0, r.sunDir.Z)
	sheen := sheenOf(leg.Ground, leg.Aim)
	share := landShare(leg.Ground, leg.Aim)
	beam := onGround.DirectNormalLx * r.sunUp
	r.landSky = share * max(0, onGround.TotalLx-beam) / math.Pi
	r.landSun = share * beam / math.Pi
	if sheen.cover > 0 {
		r.cover, r.surface = sheen.cover, sheen.surface(leg.Ground, s.Light.WindMS, p.AzimuthDeg)
		if onGround.DirectNormalLx > 0 && p.AltitudeDeg > 0 {
			r.beamLx = onGround.DirectNormalLx
			if sheen.sigma2 == 0 {
				r.mirrorSun = r3.Vec{X: r.sunDir.X, Y: r.sunDir.Y, Z: -r.sunDir.Z}
			}
		}
	}
	white := RGB{1, 1, 1}
	r.ridge = newRidge(line, r.perM, r.distance, onGround, r.sunUp, white, white)
	return r
}

// nearSunDeg is how far from the sun, and from its image in water, a meter's pixels are left out: nobody
// expects the sun itself to hold detail (ours).
const nearSunDeg = 5

var cosNearSun = math.Cos(nearSunDeg * math.Pi / 180)

// NearSun tells whether a direction lies within 5° of the sun or of its image in water.
func (r *Rays) NearSun(d r3.Vec) bool {
	return dot(d, r.sunDir) > cosNearSun || r.mirrorSun != (r3.Vec{}) && dot(d, r.mirrorSun) > cosNearSun
}

// SkyShare returns the share of a frame above the horizon, with or without a skyline before it.
func (r *Rays) SkyShare(v shot.View) float64 {
	u, f, s := v.Up.Z, v.Forward.Z, r.distance.SinDip
	if u < 1e-6 { // straight down
		return 0
	}
	// A horizon below level is a shallow arc; its height at half the width (rms) stands for the whole of it.
	side := 1 + v.HalfWidth*v.HalfWidth/3
	y := -(f + s*math.Sqrt(side)) / u
	y = -(f + s*math.Sqrt(side+y*y)) / u
	return max(0, min(1, (1-y/v.HalfHeight)/2))
}

// glintReachDeg is how far outside of a frame's middle the sun's image in water may stand for its glitter to
// reach far into the frame (ours: half a diagonal, and some way beside it).
const glintReachDeg = 55

var cosGlintReach = math.Cos(glintReachDeg * math.Pi / 180)

// Glitters tells whether the sun's glitter on water may stand in a frame: its light changes by stops from one
// sample to the next, so a meter takes more of them.
func (r *Rays) Glitters(v shot.View) bool {
	return r.mirrorSun != (r3.Vec{}) && dot(v.Forward, r.mirrorSun) > cosGlintReach
}

// IsSky tells whether a line of sight ends in the sky, above the horizon and the card's skyline.
func (r *Rays) IsSky(d r3.Vec) bool {
	if g := r.ridge; g != nil && d.Z < g.highest && d.Z > -g.foot {
		if top := g.at(d.X, d.Y); top > 0 && d.Z < top {
			return false
		}
	}
	return d.Z >= -r.distance.SinDip
}

// Sky returns the luminance of the sky along d, cd/m².
func (r *Rays) Sky(d r3.Vec) float64 { return r.scale * r.pattern.Radiance(d) }

// Ground returns the light from below the horizon or the skyline along d: luminance in cd/m² and its polarised
// part in the axes of the ray, which are those of [water.Axes].
func (r *Rays) Ground(d, right, up r3.Vec) water.Stokes {
	c := dot(d, r.sunDir)
	var s water.Stokes
	through, f := 0.0, 1.0
	if g := r.ridge; g != nil && -d.Z < g.foot && g.at(d.X, d.Y) > 0 {
		s.I = g.sky.Luminance() + g.sun.Luminance()*g.facing(c, r.sunUp)
		through = g.transmittance
	} else {
		down := max(-d.Z, r.distance.SinDip+1e-9) // just above the dipped horizon there is next to no ground to see
		lit := 0.0
		if r.sunUp > 0 {
			lit = r.relief.sunlit(c, r.sunUp)
		}
		s.I = r.landSky + r.landSun*lit
		if r.cover > 0 {
			if r.mirrored != nil {
				s = s.Plus(r.mirrored(d).Times(r.cover * r.scale))
			}
			if r.beamLx > 0 {
				s = s.Plus(r.surface.Glint(d, r.sunDir, r.beamLx).Times(r.cover))
			}
		}
		through = r.distance.through(r.perM, down)
		f = min(1, (down-r.distance.SinDip)/sinAirlight)
	}
	// the air in front of it, as bright as the sky at the horizon or a little above
	cd := dot(d, r.domeSun)
	lum := (r.low3[0] + f*(r.low3[1]-r.low3[0])) * r.pattern.Indicatrix(cd) * (1 - through)
	s = s.Times(through)
	q, u := r.airlight(d, right, up, cd)
	return water.Stokes{I: s.I + lum, Q: s.Q + lum*q, U: s.U + lum*u}
}

// airlight returns the degree of polarisation of the light of the air along d, in the axes of the ray; cosSun is
// the cosine of the angle to the sun.
func (r *Rays) airlight(d, right, up r3.Vec, cosSun float64) (q, u float64) {
	n := r3.Cross(d, r.domeSun)
	n2 := r3.Norm2(n)
	if n2 < 1e-12 {
		return 0, 0
	}
	deg := r.dulled * AirlightDegree(cosSun, r.perM*1000) / n2
	a, b := r3.Dot(n, right), r3.Dot(n, up)
	return deg * (a*a - b*b), 2 * deg * a * b
}

// IsLow tells whether the sky along d is so low that its polarisation is that of the air before the land, at least in
// part.
func (r *Rays) IsLow(d r3.Vec) bool { return d.Z < sinAirlight }

// LowSky returns how far the polarisation of the sky along d is that of the air in front of the land, which it is
// low down, and that polarisation, in the axes of the ray, [water.Axes].
func (r *Rays) LowSky(d, right, up r3.Vec) (part, q, u float64) {
	if !r.IsLow(d) {
		return 0, 0, 0
	}
	q, u = r.airlight(d, right, up, dot(d, r.domeSun))
	return 1 - max(0, d.Z)/sinAirlight, q, u
}
