package light

import (
	"math"
	"slices"
	"sync"

	"example.org/skywedge/plan/internal/fastlog"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// Scene is all the light around the aircraft at one moment: sky, sun, air, land and water. It does not
// depend on where the camera looks nor on what is on the lens, so that a ring or a heading step
// draws from the scene there is. It never changes once it is made.
type Scene struct {
	Light sun.Light    // on the ground; behind the skyline without the beam
	Sun   sun.Position // as the scene was asked for

	ground      shot.Ground
	SunDir      r3.Vec
	sinA        float64 // of the sun's azimuth
	cosA        float64
	SunSeen     bool // the sun's disc can be seen, if nothing but the frame's edge hides it
	dome        *dome
	Distance    distances
	dulled      float64 // what cloud leaves of the airlight's polarisation
	perM        float64 // extinction
	land        landLight
	surface     water.Surface
	mirror      *water.Smooth // what the surface mirrors of the sky; nil for a ground that mirrors nothing
	cover       float64       // part of the ground that mirrors
	GlintsApart bool          // the sun's glint is a spot or a path, not a sheen
	ridge       *ridge
}

// sceneKey is all that a scene is made from.
type sceneKey struct {
	position     sun.Position
	light        sun.Light
	low, air     sun.Air
	ground       shot.Ground
	aim          shot.Aim
	aboveM, perM float64
	windMS       float64
}

// Scenes keeps the scenes that were asked for last, because the same one serves while a ring or a heading
// is being tried. It is a value of whoever draws; the zero value is ready, a nil one keeps nothing. Any
// number of goroutines may ask it: a scene follows from its key alone and is never written again.
type Scenes struct {
	mu   sync.Mutex
	kept [4]struct {
		key     sceneKey
		skyline [][2]float64
		scene   *Scene
	}
	next int
}

// At returns the light of a moment, on the leg's first (0) or last (1) take. A nil cache keeps nothing.
func (c *Scenes) At(s *shot.Shot, m shot.Moment, take int) *Scene {
	if c == nil {
		return SceneAt(s, m, take)
	}
	k := keyAt(s, m, take)
	if sc := c.find(k, s.Skyline); sc != nil {
		return sc
	}
	// Built with the lock open: two that ask for the same scene at once both build it, and neither waits.
	sc := k.build(s)
	c.mu.Lock()
	defer c.mu.Unlock()
	e := &c.kept[c.next]
	e.key, e.skyline, e.scene = k, slices.Clone(s.Skyline), sc
	c.next = (c.next + 1) % len(c.kept)
	return sc
}

func (c *Scenes) find(k sceneKey, skyline [][2]float64) *Scene {
	c.mu.Lock()
	defer c.mu.Unlock()
	for i := range c.kept {
		if e := &c.kept[i]; e.scene != nil && e.key == k && slices.Equal(e.skyline, skyline) {
			return e.scene
		}
	}
	return nil
}

// SceneAt returns the light of a moment, on the leg's first (0) or last (1) take.
func SceneAt(s *shot.Shot, m shot.Moment, take int) *Scene { return keyAt(s, m, take).build(s) }

// keyAt returns what the scene of a moment is made from.
func keyAt(s *shot.Shot, m shot.Moment, take int) sceneKey {
	leg := s.Legs[m.Leg]
	p := m.Sun[take]
	moon := NoMoon()
	if p.GeometricDeg < MoonFromDeg {
		moon = sun.MoonAt(m.Time[take], s.LatDeg, s.LonDeg)
	}
	low := AirAt(s, 0, leg.Ground) // the air at the ground makes the light
	return sceneKey{
		position: p, light: OnGround(s, p, moon, low), low: low,
		air:    AirAt(s, max(0, m.AboveM), leg.Ground), // the sky is drawn from the aircraft
		ground: leg.Ground, aim: leg.Aim, aboveM: max(1, m.AboveM),
		perM: ExtinctionPerKm(s.Light.VisibilityKm) / 1000, windMS: s.Light.WindMS,
	}
}

func (k sceneKey) build(s *shot.Shot) *Scene {
	sc := newScene(k)
	sc.ridge = newRidge(NewSkyline(s), sc.perM, sc.Distance, sc.Light, sc.land.sunUp, sc.land.skyTint, sc.land.sunTint)
	return sc
}

func newScene(k sceneKey) *Scene {
	p := k.position
	sc := &Scene{
		Light: k.light, Sun: p, ground: k.ground, SunDir: p.Direction(),
		SunSeen:  k.light.DirectNormalLx > 0 && p.AltitudeDeg > 0,
		Distance: newDistances(k.aboveM),
		dulled:   AirlightUnderCloud(k.air.Cloud.Cover),
		perM:     k.perM,
	}
	sc.sinA, sc.cosA = math.Sincos(p.AzimuthDeg * math.Pi / 180)
	sc.dome = newDome(p, k.air, k.light.SkyLx, k.perM*1000, sc.dulled)
	sc.land = newLandLight(sc, k)
	m := sheenOf(k.ground, k.aim)
	if m.cover == 0 {
		return sc
	}
	sc.cover, sc.GlintsApart = m.cover, m.sigma2 == 0
	sc.surface = m.surface(k.ground, k.windMS, p.AzimuthDeg)
	sc.mirror = water.NewSmooth(&sc.surface, sc.dome.light)
	return sc
}

// earthRadiusM is the mean radius of the earth.
const earthRadiusM = 6371e3

// distances are those from the aircraft to the ground of a round earth. Refraction, which would take
// about a twelfth off the dip and push the horizon as much further, is left out: it changes with the
// air from day to day.
type distances struct {
	radius float64 // of the earth and the height together, metres
	power  float64 // of the aircraft's place to the earth's sphere: the square of the way to the horizon
	SinDip float64 // how far the horizon lies below level
}

func newDistances(aboveM float64) distances {
	d := distances{radius: earthRadiusM + aboveM, power: aboveM * (2*earthRadiusM + aboveM)}
	d.SinDip = math.Sqrt(d.power) / d.radius
	return d
}

// along returns the metres to the ground along a line whose downward part is given; the line must meet it.
func (d *distances) along(down float64) float64 {
	a := d.radius * down
	return d.power / (a + math.Sqrt(max(0, a*a-d.power)))
}

// through returns the part of the light that comes through the air from there, which takes perM of it a metre (Beer and
// Lambert).
func (d *distances) through(perM, down float64) float64 {
	return fastlog.Exp2(max(-1000, -math.Log2E*perM*d.along(down)))
}
