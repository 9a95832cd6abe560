package light

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// raysOf lays out the rays of a moment as the meter does: what the ground shows of the sky comes from the table of
// the nearest even degree of the sun.
func raysOf(s *shot.Shot, m *shot.Moment) *Rays {
	leg, p := &s.Legs[m.Leg], m.Sun[0]
	moon := NoMoon()
	if p.GeometricDeg < MoonFromDeg {
		moon = sun.MoonAt(m.Time[0], s.LatDeg, s.LonDeg)
	}
	pattern := sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, AirAt(s, m.AboveM, leg.Ground), MeasureNM)
	var mirrored Reflector
	if kind := ShownBy(leg.Ground, leg.Aim); kind != NoMirror {
		k := MirrorKey{Kind: kind, Ground: leg.Ground, AltDeg: 2 * int(math.Round(p.AltitudeDeg/2))}
		table := MirrorTableFor(s, k, m.AboveM).Turned(p.AzimuthDeg)
		mirrored = table.At
	}
	rays := RaysAt(s, m, 0, OnGround(s, p, moon, AirAt(s, 0, leg.Ground)), &pattern, mirrored, NewSkyline(s))
	return &rays
}

// raysFrame is a frame of rays: its mean luminance in both ways of working it out, and how far single rays are
// apart.
type raysFrame struct {
	mean, want float64
	worst, sum float64 // stops
	polarised  float64 // the largest difference of the polarised part, of the luminance
	n          int
}

func (f *raysFrame) add(lum, want, pol, wantPol float64) {
	f.mean, f.want = f.mean+lum, f.want+want
	off := math.Abs(math.Log2(lum / want))
	f.worst, f.sum = max(f.worst, off), f.sum+off
	f.polarised = max(f.polarised, math.Abs(pol-wantPol)/want)
	f.n++
}

func (f *raysFrame) merge(o *raysFrame) {
	f.worst, f.polarised = max(f.worst, o.worst), max(f.polarised, o.polarised)
	f.sum, f.n = f.sum+o.sum, f.n+o.n
}

// The rays that a meter reads are those of the picture's scene: over every ground and a skyline, haze, state of the
// cloud, and heights of the sun from −5 to 60°, away from the sun and its glint as the meter is. The sky and bare
// land agree to .01 stop a ray. Where a ground mirrors, the table of the nearest even degree stands for the sun's
// own height: a frame's mean luminance is off by no more than .03 stop there. A wet ground is as flat as a mirror to
// the meter and a little rough in the picture: .12 stop.
func TestRaysAreTheScenes(t *testing.T) {
	var sky, land, mirroring raysFrame
	for _, ground := range []shot.Ground{shot.Water, shot.Grass, shot.Forest, shot.Sand, shot.Rock, shot.Snow, shot.Town} {
		for _, alt := range []float64{-5, -1, 1, 3, 9, 21, 40} {
			for _, weather := range []struct {
				cloud, km float64
				other     bool
				aim       shot.Aim
			}{{0, 10, false, shot.AimSky}, {0, 80, false, shot.AimWater}, {40, 30, false, shot.AimLeaf}, {40, 30, true, shot.AimSky}, {80, 20, true, shot.AimSky}, {100, 8, false, shot.AimSky}} {
				for _, ridge := range []bool{false, true} {
					s := plantest.SeaShot(ground, 0, 0)
					s.Light.CloudPct, s.Light.VisibilityKm, s.Light.OtherState = weather.cloud, weather.km, weather.other
					s.Legs[0].Aim = weather.aim
					if ridge {
						s.Skyline = [][2]float64{{0, 4}, {120, 9}, {240, 2}, {359, 6}}
					}
					m := plantest.TurnedFromSun(t, s, alt, 0, 0)
					rays, sc := raysOf(s, &m), SceneAt(s, m, 0)
					for _, off := range []float64{0, 80, 180} {
						for _, pitch := range []float64{0, -30, -80} {
							var ofSky, below raysFrame
							v := shot.NewView(s.Camera, s.Legs[0].Mode, false, m.Sun[0].AzimuthDeg+off, pitch)
							for k := range 16 * 9 {
								d := v.Ray((2*float64(k%16)-15)/16, (8-2*float64(k/16))/9)
								if rays.NearSun(d) {
									continue
								}
								right, up := water.Axes(d)
								sn, c := math.Sincos(float64(k)) // any direction of a sheet
								pass := r3.Add(r3.Scale(c, right), r3.Scale(sn, up))
								var g Seen
								sc.Look(&g, d, pass, true, &Disc{cosEdge: 2})
								if rays.IsSky(d) != g.Sky {
									t.Fatalf("%v: sky %v, in the picture %v", d, rays.IsSky(d), g.Sky)
								}
								if g.Sky {
									ofSky.add(rays.Sky(d), g.Luminance, 0, 0)
									continue
								}
								r := rays.Ground(d, right, up)
								below.add(r.I, g.Luminance, r.Q*(c*c-sn*sn)+2*r.U*c*sn, g.Polarised)
							}
							sky.merge(&ofSky)
							if ShownBy(ground, weather.aim) == NoMirror {
								land.merge(&below)
								continue
							}
							mirroring.merge(&below)
							if below.n == 0 {
								continue
							}
							off := math.Abs(math.Log2(below.mean / below.want))
							most := .03
							if ShownBy(ground, weather.aim) == WetGround {
								most = .12
							}
							if off > most {
								t.Errorf("%s, sun %g°, %+v, %g° off the sun, pitch %g°: the mean is off by %.3f stop", ground, alt, weather, off, pitch, off)
							}
						}
					}
				}
			}
		}
	}
	for _, c := range []struct {
		what  string
		of    raysFrame
		stops float64
	}{{"sky", sky, .01}, {"bare land", land, .01}, {"mirroring ground", mirroring, math.Inf(1)}} {
		t.Logf("%s: %d rays, mean %.4f, worst %.4f stop, polarised part %.3f of the light at worst", c.what, c.of.n, c.of.sum/float64(c.of.n), c.of.worst, c.of.polarised)
		if c.of.n == 0 || c.of.worst > c.stops {
			t.Errorf("%s: %d rays, off by up to %.3f stop", c.what, c.of.n, c.of.worst)
		}
	}
	if land.polarised > .005 || mirroring.polarised > .12 {
		t.Errorf("the polarised part is off by %.4f of the light of bare land, %.3f of mirroring ground", land.polarised, mirroring.polarised)
	}
}
