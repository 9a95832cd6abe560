package plan

import (
	"math"
	"slices"
	"sync"

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

	ground   Ground
	sunDir   r3.Vec
	sinA     float64 // of the sun's azimuth
	cosA     float64
	disc     bool // the sun's disc can be seen, if nothing but the frame's edge hides it
	dome     *dome
	distance distances
	dulled   float64 // what cloud leaves of the airlight's polarisation
	perM     float64 // extinction
	land     landLight
	surface  water.Surface
	table    *water.Table // what the surface mirrors; nil for a ground that mirrors nothing
	cover    float64      // part of the ground that mirrors
	glints   bool         // the glint is too small for the table
	ridge    *ridge
}

// sceneKey is all that a scene is made from.
type sceneKey struct {
	position     sun.Position
	light        sun.Light
	low, air     sun.Air
	ground       Ground
	aim          Aim
	aboveM, perM float64
	windMS       float64
}

// Scene gives the light of a moment, on the leg's first (0) or last (1) take. Scenes asked for
// lately are kept, because the same one serves while a ring or a heading is being tried.
func (s *Shot) Scene(m Moment, take int) *Scene {
	leg := s.Legs[m.Leg]
	p := m.Sun[take]
	moon := moonless
	if p.GeometricDeg < moonFromDeg {
		moon = sun.MoonAt(m.Time[take], s.LatDeg, s.LonDeg)
	}
	low := s.AirAt(0, leg.Ground) // the air at the ground makes the light
	k := sceneKey{
		position: p, light: s.lightAt(p, moon, low), low: low,
		air:    s.AirAt(max(0, m.AboveM), leg.Ground), // the sky is drawn from the aircraft
		ground: leg.Ground, aim: leg.Aim, aboveM: max(1, m.AboveM),
		perM: extinctionPerKm(s.Light.VisibilityKm) / 1000, windMS: s.Light.WindMS,
	}
	return recent.get(k, s.Skyline, func() *Scene {
		sc := newScene(k)
		sc.ridge = newRidge(s, sc)
		return sc
	})
}

func newScene(k sceneKey) *Scene {
	p := k.position
	sc := &Scene{
		Light: k.light, Sun: p, ground: k.ground, sunDir: p.Direction(),
		disc:     k.light.DirectNormalLx > 0 && p.AltitudeDeg > 0,
		distance: newDistances(k.aboveM),
		dulled:   airlightUnder(k.air.Cloud.Cover),
		perM:     k.perM,
	}
	sc.sinA, sc.cosA = math.Sincos(p.AzimuthDeg * math.Pi / 180)
	sc.dome = newDome(p, k.air, k.light.SkyLx, k.perM*1000, sc.dulled)
	sc.land = newLandLight(sc, k)
	m := mirrorsOf(k.ground, k.aim)
	if m.cover == 0 {
		return sc
	}
	sc.cover, sc.glints = m.cover, m.sigma2 == 0
	if m.sigma2 > 0 {
		sc.surface = water.NewRough(m.sigma2, m.index, p.AzimuthDeg)
	} else if k.ground == Water {
		sc.surface = water.NewSurface(k.windMS, p.AzimuthDeg)
	} else {
		sc.surface = water.NewRough(filmSigma2, m.index, p.AzimuthDeg)
	}
	sc.table = water.NewTable(&sc.surface, sc.dome.light)
	if !sc.glints && sc.disc {
		sc.table.AddSun(&sc.surface, sc.sunDir, k.light.DirectNormalLx)
	}
	return sc
}

// recentScenes keeps the scenes that were asked for last. A scene follows from its key alone and is
// never written again, so that any number of goroutines may share it.
type recentScenes struct {
	sync.Mutex
	kept [4]struct {
		key     sceneKey
		skyline [][2]float64
		scene   *Scene
	}
	next int
}

var recent recentScenes

func (r *recentScenes) get(k sceneKey, skyline [][2]float64, build func() *Scene) *Scene {
	r.Lock()
	defer r.Unlock()
	for i := range r.kept {
		if e := &r.kept[i]; e.scene != nil && e.key == k && slices.Equal(e.skyline, skyline) {
			return e.scene
		}
	}
	sc := build()
	e := &r.kept[r.next]
	e.key, e.skyline, e.scene = k, slices.Clone(skyline), sc
	r.next = (r.next + 1) % len(r.kept)
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
	sinDip float64 // how far the horizon lies below level
}

func newDistances(aboveM float64) distances {
	d := distances{radius: earthRadiusM + aboveM, power: aboveM * (2*earthRadiusM + aboveM)}
	d.sinDip = math.Sqrt(d.power) / d.radius
	return d
}

// along gives the metres to the ground along a line whose downward part is given; the line must meet it.
func (d *distances) along(down float64) float64 {
	a := d.radius * down
	return d.power / (a + math.Sqrt(max(0, a*a-d.power)))
}
