package compass

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// throughOnly is a report of a shot flown with one filter at one ring, without working the flight out.
func throughOnly(s *shot.Shot, filter string, ringDeg float64) *plan.Report {
	return &plan.Report{Shot: s, Bag: kit.Generic(), Call: plan.Call{Filter: filter, RingDeg: ringDeg}}
}

// The polar stereographic projection of a sphere, Snyder 1987 eq. (21-33), from memory, scaled to 1 at the horizon:
// the radius is tan of half the zenith distance. North is up and east to the right.
func TestMapIsStereographic(t *testing.T) {
	for _, alt := range []float64{0, 10, 41.81, 45, 60, 89} {
		for az := 0.0; az < 360; az += 30 {
			x, y := onMap(sun.Direction(az, alt))
			r := math.Tan((90 - alt) / 2 * math.Pi / 180)
			s, c := math.Sincos(az * math.Pi / 180)
			if math.Hypot(x-r*s, y-r*c) > 1e-12 {
				t.Fatalf("%g°, %g°: at %g, %g", az, alt, x, y)
			}
			if back := fromMap(x, y); r3.Norm(r3.Sub(back, sun.Direction(az, alt))) > 1e-12 {
				t.Fatalf("%g°, %g° comes back as %v", az, alt, back)
			}
		}
	}
	if x, _ := onMap(sun.Direction(90, 0)); math.Abs(x-1) > 1e-12 {
		t.Error("east is not on the right")
	}
	if x, y := onMap(r3.Vec{Z: -1}); math.IsNaN(x) || math.IsNaN(y) {
		t.Error("the nadir is not a number")
	}
}

// The map is the sky model's own degree, and its strokes are E carried over by the projection, which is
// taken apart here by finite differences.
func TestMapIsTheModels(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30))
	r := throughOnly(s, "CPL", 30)
	m := SkyMapAt(r, 7, 41)
	mo := s.MomentAt(7)
	pattern := sun.NewPattern(mo.Sun[0].AzimuthDeg, mo.Sun[0].AltitudeDeg, light.AirAt(s, mo.AboveM, ""), 550)
	var seen int
	for k := range m.Degree {
		x, y := m.Place(k)
		if x*x+y*y > 1 {
			if !math.IsNaN(m.Degree[k]) || !math.IsNaN(m.E[k]) || !math.IsNaN(m.Effect[k]) {
				t.Fatalf("place %d is below the horizon and has a value", k)
			}
			continue
		}
		seen++
		d := fromMap(x, y)
		p, e := pattern.Polarisation(d)
		if math.Abs(m.Degree[k]-p) > 1e-9 {
			t.Fatalf("degree %g at %v, the model has %g", m.Degree[k], d, p)
		}
		if p < 0.02 {
			continue
		}
		const step = 1e-5
		x1, y1 := onMap(r3.Unit(r3.Add(d, r3.Scale(step, e))))
		x0, y0 := onMap(r3.Unit(r3.Sub(d, r3.Scale(step, e))))
		want := math.Atan2(x1-x0, y1-y0) * 180 / math.Pi
		if off := math.Abs(math.Remainder(m.E[k]-want, 180)); off > 1e-4 {
			t.Fatalf("E at %v drawn along %g°, is along %g°", d, m.E[k], want)
		}
		if m.E[k] < 0 || m.E[k] >= 180 {
			t.Fatalf("E along %g°", m.E[k])
		}
	}
	if seen < 1200 {
		t.Errorf("%d places in the sky, want most of π/4 of 1681", seen)
	}
}

// The map of light scattered once (Rayleigh 1871): with the sun low in the west the sky overhead is
// polarised north to south, the one low in the north and south upright, and the one about the sun not
// at all.
func TestMapOfAWesternSun(t *testing.T) {
	m := &SkyMap{N: 101}
	m.fill(plantest.SingleScatter{Sun: sun.Direction(270, 0), Peak: 0.8}, kit.Answer{T: 1})
	at := func(az, alt float64) int {
		x, y := onMap(sun.Direction(az, alt))
		return int((1-y)/2*101)*101 + int((1+x)/2*101)
	}
	for _, c := range []struct{ az, alt, degree, e float64 }{
		{0, 90, 0.8, 0}, {0, 3, 0.8, 0}, {180, 3, 0.8, 0}, {0, 45, 0.8, 0}, {270, 3, 0, -1}, {90, 3, 0, -1},
		{315, 2, 0.8 / 3, -1}, // 45° off: sin²/(1+cos²) = 1/3
	} {
		k := at(c.az, c.alt)
		if math.Abs(m.Degree[k]-c.degree) > 0.02 {
			t.Errorf("%g°, %g°: degree %.3f, want %.3f", c.az, c.alt, m.Degree[k], c.degree)
		}
		if c.e >= 0 && math.Abs(math.Remainder(m.E[k]-c.e, 180)) > 2 {
			t.Errorf("%g°, %g°: E along %.1f°, want %g°", c.az, c.alt, m.E[k], c.e)
		}
	}
}

// Everything about the sky is a mirror image on the two sides of the sun's vertical.
func TestMapIsMirroredAboutTheSun(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		// With the sun in the north or south the mirror is east for west, place by place.
		az := []float64{0, 180}[rnd.IntN(2)]
		p := sun.NewPattern(az, 70*rnd.Float64(), sun.Air{AOD: 0.3 * rnd.Float64(), Albedo: rnd.Float64(), Cloud: sun.Cloud{Cover: 0.5 * rnd.Float64()}}, 550)
		m := &SkyMap{N: 24}
		m.fill(&p, kit.Answer{T: 0.5, D: 0.9, Pass: r3.Vec{Y: 1}}) // pass axis upright
		for k := range m.Degree {
			i, j := k%m.N, k/m.N
			o := j*m.N + m.N - 1 - i
			if math.IsNaN(m.Degree[k]) {
				if !math.IsNaN(m.Degree[o]) {
					t.Fatal("the horizon is not round")
				}
				continue
			}
			if math.Abs(m.Degree[k]-m.Degree[o]) > 1e-9 || math.Abs(m.Effect[k]-m.Effect[o]) > 1e-9 {
				t.Fatalf("place %d: degree %g and effect %g, its mirror has %g and %g", k, m.Degree[k], m.Effect[k], m.Degree[o], m.Effect[o])
			}
			if m.Degree[k] > 1e-3 && math.Abs(math.Remainder(m.E[k]+m.E[o], 180)) > 1e-6 {
				t.Fatalf("place %d: E along %g°, its mirror along %g°", k, m.E[k], m.E[o])
			}
		}
	}
}

// The effect on the map is what the picture through the lens shows in its middle, which goes another way
// through the code, with its own sky and Stokes parameters.
func TestMapEffectIsThePictures(t *testing.T) {
	for _, c := range []struct {
		place  int // of a map of 11 by 11
		filter string
		ring   float64
	}{{2*11 + 5, "CPL", 0}, {2*11 + 4, "CPL", 60}, {7*11 + 3, "ND16/PL", 105}, {6*11 + 9, "variable 1.6-5", 30}, {4*11 + 1, "CPL", 135}} {
		x, y := (&SkyMap{N: 11}).Place(c.place)
		at := skyBearing(fromMap(x, y))
		r := &plan.Report{Shot: plantest.SeaShot(shot.Grass, at.AzimuthDeg, at.AltitudeDeg), Bag: kit.Generic()}
		r.Call = plan.Call{Filter: c.filter, RingDeg: c.ring}
		f, ok := r.Bag.FilterByName(c.filter)
		if !ok {
			t.Fatalf("no %s", c.filter)
		}
		if s := f.Settings(); len(s) > 0 {
			r.Call.SettingStops = s[0]
		}
		p, err := r.Frame(plan.FrameOptions{Second: 5, Filter: c.filter, Ring: c.ring, W: 33, H: 19})
		if err != nil {
			t.Fatal(err)
		}
		mount := f.Mount(c.ring, r.Call.SettingStops)
		want := -p.Loss[9*33+16] - math.Log2(mount.Answer(r3.Vec{Z: 1}).T)
		m := SkyMapAt(r, 5, 11)
		if math.Abs(m.Effect[c.place]-want) > 0.01 {
			t.Errorf("%s at %g looking to %g°, %g°: %.4f on the map, %.4f in the picture", c.filter, c.ring, at.AzimuthDeg, at.AltitudeDeg, m.Effect[c.place], want)
		}
		if !m.Useful || !m.Vouched {
			t.Error("a clear evening is of no use")
		}
	}
}

// Bare and a density do nothing to any direction; an overcast and the twilight are told.
func TestMapWithoutARing(t *testing.T) {
	s := plantest.Flight(16, 40, plantest.Push(200, 4, 30))
	for _, name := range []string{"none", "ND16"} {
		m := SkyMapAt(throughOnly(s, name, 0), 0, 21)
		for k, e := range m.Effect {
			if !math.IsNaN(e) && e != 0 {
				t.Fatalf("%s changes place %d by %g", name, k, e)
			}
		}
	}
	s.Light.CloudPct = 100
	if SkyMapAt(throughOnly(s, "CPL", 0), 0, 3).Useful {
		t.Error("an overcast is said to be of use")
	}
	late := plantest.Flight(19, 0, plantest.Push(200, 4, 30))
	if SkyMapAt(throughOnly(late, "CPL", 0), 0, 3).Vouched {
		t.Error("nothing is known of the twilight")
	}
}

func BenchmarkSkyMap90(b *testing.B) {
	r := throughOnly(plantest.Flight(16, 40, plantest.Push(200, 4, 30)), "CPL", 30)
	for range b.N {
		SkyMapAt(r, 7, 90)
	}
}

// Whatever the flight, everything that is drawn of it is finite and in its range.
func TestCompassOfAnyShot(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 4))
	bag := kit.Generic()
	for range 60 {
		s := plantest.AnyShot(rnd, bag)
		r := plan.Solve(s, bag, plan.Options{PerLeg: 4, SkipSureness: true})
		second := s.FlightSeconds() * rnd.Float64()
		m := SkyMapAt(r, second, 12)
		for k := range m.Degree {
			x, y := m.Place(k)
			if x*x+y*y > 1 {
				continue
			}
			if !(m.Degree[k] >= 0 && m.Degree[k] <= 1 && m.E[k] >= 0 && m.E[k] < 180 && m.Effect[k] > -16 && m.Effect[k] <= 1) {
				t.Fatalf("%s: degree %g, E along %g°, effect %g", plantest.Describe(s), m.Degree[k], m.E[k], m.Effect[k])
			}
		}
		if len(Footprints(r)) != 2*len(s.Legs) {
			t.Fatalf("%s: %d footprints", plantest.Describe(s), len(Footprints(r)))
		}
		for _, f := range append(Footprints(r), FootprintAt(r, second)) {
			if !(f.Share >= 0 && f.Share <= 1) || (f.Share > 0) != (len(f.Outline) > 0) {
				t.Fatalf("%s: share %g, %d points", plantest.Describe(s), f.Share, len(f.Outline))
			}
			for _, b := range f.Outline {
				if !(b.AltitudeDeg >= 0 && b.AltitudeDeg <= 90 && b.AzimuthDeg >= 0 && b.AzimuthDeg < 360) {
					t.Fatalf("%s: %+v", plantest.Describe(s), b)
				}
			}
		}
		a := FromAbove(r)
		if len(a.Legs) != len(s.Legs) || !(a.WidthM() >= 0 && a.HeightM() >= 0) || math.IsInf(a.WidthM()+a.HeightM(), 0) {
			t.Fatalf("%s: %d legs, %g by %g m", plantest.Describe(s), len(a.Legs), a.WidthM(), a.HeightM())
		}
		if tr := SunTrackOf(r); math.IsNaN(tr.SweptDeg) || len(tr.Points) < 2 {
			t.Fatalf("%s: swept %g°, %d points", plantest.Describe(s), tr.SweptDeg, len(tr.Points))
		}
	}
}
