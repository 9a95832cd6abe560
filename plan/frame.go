package plan

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// FrameOptions say which frame is drawn, through which filter.
type FrameOptions struct {
	Second   float64 // of flight time: one take a leg, no transit
	LastTake bool    // the light of the last take instead of the first
	Filter   string  // a name of the bag, "none", or "" for the call's
	Setting  float64 // stops of a variable; 0 takes the call's or its lightest
	Ring     float64 // where the mark stands, facing the lens; NaN takes the call's or 0
	W, H     int     // any size samples the same field
}

// sunSolidAngle is that of the sun's disc, in steradians; its radius on the sky in radians.
const (
	sunSolidAngle = 6.8e-5
	sunRadius     = 4.65e-3
)

// airlightAltDeg is where the sky's light stands in for that of the air in front of the land.
const airlightAltDeg = 3

// groundTint is the colour of a ground's own light: red, green and blue against its luminance
// (ours, by eye; the luminance itself is the albedo's).
var groundTint = map[Ground][3]float64{
	Water:  {.55, 1.05, 1.6},
	Grass:  {.80, 1.12, .45},
	Forest: {.75, 1.15, .50},
	Sand:   {1.22, .97, .70},
	Rock:   {1.06, .99, .93},
	Snow:   {.99, 1.0, 1.05},
	Town:   {1.08, .98, .90},
}

// Frame draws the frame through the lens at one second of the flight. It gives nil when the filter
// is not in the bag.
func (r *Report) Frame(o FrameOptions) (*Picture, error) {
	if o.W < 1 || o.H < 1 || o.W > 8192 || o.H > 8192 {
		return nil, fmt.Errorf("a picture of %d by %d is not drawn: each side goes from 1 to 8192", o.W, o.H)
	}
	mount, err := r.mountFor(o)
	if err != nil {
		return nil, err
	}
	m := r.Shot.MomentAt(o.Second)
	leg := r.Shot.Legs[m.Leg]
	take := 0
	if o.LastTake {
		take = 1
	}
	sc := r.Shot.sceneAt(m, take)
	v := NewView(r.Shot.Camera, leg.Mode, leg.Purpose != Video, m.HeadingDeg, m.PitchDeg)
	return sc.draw(v, mount, o.W, o.H), nil
}

// mountFor puts a filter before the lens: the one named, or the call's. Bare gives nil.
func (r *Report) mountFor(o FrameOptions) (*kit.Mount, error) {
	name, setting, ring := o.Filter, o.Setting, o.Ring
	if name == "" || name == r.Call.Filter {
		name = r.Call.Filter
		if setting == 0 {
			setting = r.Call.SettingStops
		}
		if math.IsNaN(ring) {
			ring = r.Call.RingDeg
		}
	}
	if name == "none" || name == "" {
		return nil, nil
	}
	f, ok := r.Bag.FilterByName(name)
	if !ok {
		return nil, fmt.Errorf("there is no filter %q in the bag", name)
	}
	if math.IsNaN(ring) {
		ring = 0
	}
	if setting == 0 {
		setting = f.Settings()[0]
	}
	mount := f.Mount(ring, setting)
	return &mount, nil
}

// scene is all the light around the aircraft at one moment.
type scene struct {
	ground  Ground
	albedo  float64
	above   float64 // metres above the ground below
	light   sun.Light
	sunDir  r3.Vec
	sunAz   float64
	colours *sun.Colours
	sky     *sun.Sky
	surface water.Surface
	table   *water.Table // nil when no water is near
	beta    float64      // extinction, per metre
	skyline [][2]float64
}

// sceneAt gathers the light of a moment, on the leg's first (0) or last (1) take.
func (s *Shot) sceneAt(m Moment, take int) *scene {
	leg := s.Legs[m.Leg]
	p := m.Sun[take]
	low := s.AirAt(0, leg.Ground) // the ground's air makes the light ...
	light := sun.LightAt(p, sun.MoonAt(m.Time[take], s.LatDeg, s.LonDeg), low)
	air := s.AirAt(m.Pos.Z, leg.Ground) // ... and the sky is drawn from the drone
	sc := &scene{
		ground: leg.Ground, albedo: low.Albedo, above: math.Max(1, m.AboveM),
		light: light, sunDir: p.Direction(), sunAz: p.AzimuthDeg,
		colours: sun.NewColours(p.AzimuthDeg, p.AltitudeDeg, air, light.SkyLx),
		sky:     sun.NewSky(p.AzimuthDeg, p.AltitudeDeg, air, 550, light.SkyLx),
		beta:    2.996 / (s.Light.VisibilityKm * 1000),
	}
	if leg.Ground == Water {
		sc.surface = water.NewSurface(s.Light.WindMS, p.AzimuthDeg)
		sc.table = water.NewTable(&sc.surface, sc.sky.At)
	}
	return sc
}

// glow is light from one direction as the picture needs it.
type glow struct {
	stokes    water.Stokes // at 550 nm, in the axes of the ray
	right, up r3.Vec
	colour    [3]float64 // linear red, green, blue with luminance stokes.I
	sky       bool
}

func (sc *scene) draw(v View, mount *kit.Mount, w, h int) *Picture {
	n := w * h
	p := &Picture{W: w, H: h, Bare: make([]float64, n), Loss: make([]float64, n), Sky: make([]bool, n),
		Colour: make([][3]float32, n), Horizon: make([]float64, w)}
	if x, y, ok := v.Project(sc.sunDir); ok && math.Abs(x) <= 1 && math.Abs(y) <= 1 && sc.sunDir.Z > 0 {
		p.SunX, p.SunY, p.SunIn = x, y, true
	}
	for i := range w {
		x := (2*float64(i) + 1 - float64(w)) / float64(w)
		p.Horizon[i] = horizonY(v)
		for j := range h {
			y := (float64(h) - 2*float64(j) - 1) / float64(h)
			local := v.Local(x, y)
			g := sc.look(v.World(local))
			k := j*w + i
			p.Bare[k], p.Sky[k] = g.stokes.I, g.sky
			p.Colour[k] = [3]float32{float32(g.colour[0]), float32(g.colour[1]), float32(g.colour[2])}
			if mount == nil {
				continue
			}
			a := mount.Answer(local)
			passed := a.T
			if a.D > 0 && g.stokes.I > 0 {
				t := v.World(a.Pass)
				f := g.stokes.Passed(t, g.right, g.up)
				passed *= 1 + a.D*(2*f/g.stokes.I-1)
			}
			p.Loss[k] = -math.Log2(math.Max(passed, 1e-9))
		}
	}
	return p
}

// horizonY gives the height of the level horizon in the picture; the camera never rolls, so it is
// the same in every column. It may lie outside −1..1.
func horizonY(v View) float64 {
	if v.Up.Z < 1e-9 {
		return 10 // straight down: far above the frame
	}
	return math.Max(-10, math.Min(10, -v.Forward.Z/v.Up.Z/v.HalfHeight))
}

// look gives the light from one direction.
func (sc *scene) look(d r3.Vec) glow {
	if d.Z > 0 {
		return sc.lookUp(d)
	}
	return sc.lookDown(d)
}

func (sc *scene) lookUp(d r3.Vec) glow {
	rgb, ray := sc.colours.At(d)
	g := glow{colour: rgb, sky: true}
	g.right, g.up = water.Axes(d)
	a, b := r3.Dot(ray.E, g.right), r3.Dot(ray.E, g.up)
	g.stokes = water.Stokes{I: ray.Luminance, Q: ray.Luminance * ray.Degree * (a*a - b*b), U: 2 * ray.Luminance * ray.Degree * a * b}
	if sc.light.DirectNormalLx > 0 && sc.sunDir.Z > 0 && r3.Dot(d, sc.sunDir) > math.Cos(sunRadius) {
		disc := sc.light.DirectNormalLx / sunSolidAngle
		g.stokes.I += disc
		for i := range g.colour {
			g.colour[i] += disc
		}
	}
	return g
}

// lookDown gives the land or water along a ray that meets it, seen through the air between.
func (sc *scene) lookDown(d r3.Vec) glow {
	var g glow
	g.right, g.up = water.Axes(d)
	own := sc.albedo * sc.light.TotalLx / math.Pi
	if sc.ground == Water {
		own = water.LeavingLuminance(sc.light.TotalLx)
	}
	tint := groundTint[sc.ground]
	norm := .2126*tint[0] + .7152*tint[1] + .0722*tint[2]
	for i := range g.colour {
		g.colour[i] = own * tint[i] / norm
	}
	g.stokes.I = own
	if sc.table != nil {
		sc.addReflection(d, &g)
	}
	// through the air: what is left of the surface, and the airlight in front of it
	dist := 1e6
	if d.Z < -1e-6 {
		dist = math.Min(dist, sc.above/-d.Z)
	}
	t := math.Exp(-sc.beta * dist)
	az := math.Atan2(d.X, d.Y) * 180 / math.Pi
	rgb, ray := sc.colours.At(sun.Direction(az, airlightAltDeg))
	for i := range g.colour {
		g.colour[i] = g.colour[i]*t + rgb[i]*(1-t)
	}
	g.stokes = g.stokes.Times(t)
	g.stokes.I += ray.Luminance * (1 - t)
	p := airlightDegree(r3.Dot(d, sc.sunDir), sc.beta*1000)
	e := r3.Cross(d, sc.sunDir)
	if l := r3.Norm(e); l > 1e-9 {
		a, b := r3.Dot(e, g.right)/l, r3.Dot(e, g.up)/l
		g.stokes.Q += ray.Luminance * (1 - t) * p * (a*a - b*b)
		g.stokes.U += 2 * ray.Luminance * (1 - t) * p * a * b
	}
	return g
}

// addReflection adds the mirrored sky and the sun's glint.
func (sc *scene) addReflection(d r3.Vec, g *glow) {
	mirrored := r3.Vec{X: d.X, Y: d.Y, Z: math.Max(-d.Z, .01)}
	rgb, ray := sc.colours.At(r3.Unit(mirrored))
	st := sc.table.At(d)
	glint := sc.surface.Glint(d, sc.sunDir, sc.light.DirectNormalLx)
	if ray.Luminance > 0 {
		for i := range g.colour {
			g.colour[i] += rgb[i]/ray.Luminance*st.I + glint.I
		}
	}
	g.stokes = g.stokes.Plus(st).Plus(glint)
}

// airlightDegree is the degree of polarisation of the light that the air between the camera and
// the land adds, for the cosine of the angle to the sun and the extinction per km (5 % definition of
// the visibility). It is not the sky's: a path near the ground is mostly aerosol [ours, ±50 %; the
// phase functions are Rayleigh's and that of Henyey & Greenstein 1941 with g 0.7].
func airlightDegree(cosSun, betaPerKm float64) float64 {
	const rayleighPerKm = 0.0116
	c2 := cosSun * cosSun
	fr := rayleighPerKm * .75 * (1 + c2)
	fa := math.Max(betaPerKm-rayleighPerKm, 0) * .51 / math.Pow(1.49-1.4*cosSun, 1.5)
	return .85 * (1 - c2) / (1 + c2) * (.94*fr + .10*fa) / (fr + fa)
}
