package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo/phototest"
	"gonum.org/v1/gonum/spatial/r3"
)

// measuredFilter is what is read of an answer of measure.
type measuredFilter struct {
	Stops        float64    `json:"stops"`
	CastMired    float64    `json:"cast_mired"`
	Corners      [4]float64 `json:"corner_stops"`
	ModelCorners [4]float64 `json:"model_corner_stops"`
	Mark         float64    `json:"mark_deg"`
}

// measureClaims hold what is measured of a filter against pictures that were drawn with known filters, by a drawer that
// shares nothing with what measures: three tone curves, noise, dark corners, up to half a stop apart.
func measureClaims(t testing.TB) []claim {
	dir := t.TempDir()
	bag := filepath.Join(dir, "bag.yaml")
	if err := os.WriteFile(bag, []byte(`skywedge_bag: 1
cameras:
  - {name: wall, sensor_mm: [15, 10], pixels: [240, 160], video_pixels: [240, 160], focal_mm: 10, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}, shutter_s: {fastest: 1/8000, slowest: 8}, modes: [{name: normal, fps: [24]}], gimbal_deg: [-90, 20], endurance_min: 30}
filters:
  - {name: f, kind: density, stops: 3}
  - {name: v, kind: variable, from_stops: 2, to_stops: 6, marks: [2, 3, 4, 5, 6], rear_deg: 0, opens: cw}
  - {name: p, kind: polariser, loss_stops: 1.5, mark_deg: 0}
`), 0o644); err != nil {
		t.Fatal(err)
	}
	named := 0
	take := func(curve func(float64) float64, shutter [2]uint32, thirds int, filter func(u, v float64) [3]float64) string {
		named++
		light := 0.2 * math.Exp2(6) * 8 // a middle grey at 1/60 and f/2.8
		w := phototest.Wall{Wide: 240, Tall: 160, Light: [3]float64{light, light * 1.02, light * 0.97}, Vignette: 0.7, Noise: 3,
			Curve: curve, Thirds: thirds, Filter: filter, Seed: uint64(1000 + thirds)}
		path := filepath.Join(dir, fmt.Sprintf("%d.jpg", named))
		if err := os.WriteFile(path, w.JPEG(phototest.Shot{Shutter: shutter, ISO: 100, Aperture: 2.8}), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	var loss, warm, corner, mark tally
	variable := kit.Filter{Name: "v", Kind: kit.Variable, FromStops: 2, ToStops: 6, OpensCW: true}
	for _, curve := range []func(float64) float64{phototest.SRGB, phototest.SCurve, phototest.Steep} {
		wall := []string{"--bag", bag, "--bare", take(curve, [2]uint32{1, 60}, -18, nil), "--darker", take(curve, [2]uint32{1, 125}, -21, nil)}
		measured := func(filter, through string, flags ...string) measuredFilter {
			args := append(append([]string{"measure", filter}, wall...), flags...)
			return asks[measuredFilter](t, append(args, "--through", through)...)
		}
		for _, f := range [][3]float64{{2.9, 3, 3.15}, {3.1, 3, 2.9}, {2.6, 2.55, 2.6}, {3.4, 3.5, 3.6}, {2.45, 2.6, 2.9}} {
			r := measured("f", take(curve, [2]uint32{1, 8}, -9, func(u, v float64) [3]float64 {
				return [3]float64{math.Exp2(-f[0]), math.Exp2(-f[1]), math.Exp2(-f[2])}
			}))
			passed := 0.2126*math.Exp2(-f[0]) + 0.7152*math.Exp2(-f[1]) + 0.0722*math.Exp2(-f[2])
			loss.add(r.Stops + math.Log2(passed))
			warm.add(r.CastMired - castOf(f))
			for _, v := range r.Corners {
				corner.add(v)
			}
		}
		m := variable.Mount(30, 4)
		r := measured("v", take(curve, [2]uint32{1, 4}, -6, func(u, v float64) [3]float64 {
			p, _, _ := m.Parts(r3.Unit(r3.Vec{X: u * .75, Y: -v * .5, Z: 1}))
			return [3]float64{p, p, p}
		}), "--setting", "4", "--ring", "30", "--camera", "wall")
		for i, v := range r.Corners {
			corner.add(v - r.ModelCorners[i])
		}
		for _, brightest := range []float64{12, 77, 133} {
			args := []string{"measure", "p", "--bag", bag}
			for clock, ring := range map[string]float64{"9:00": 270, "10:30": 315, "12:00": 0, "1:30": 45} {
				p := 0.5 * (1 + 0.7*math.Cos(2*(ring-brightest)*math.Pi/180))
				args = append(args, "--glare", clock+"="+take(curve, [2]uint32{1, 60}, -18, func(u, v float64) [3]float64 { return [3]float64{p, p, p} }))
			}
			mark.add(math.Remainder(asks[measuredFilter](t, args...).Mark-(90-brightest), 180))
		}
	}
	const drawn = "pictures drawn with known filters: three tone curves, noise, up to ½ stop apart"
	return []claim{
		loss.largest("loss of a filter, measured with a darker picture", "measure", drawn, 0.1, "stop", 2),
		warm.largest("its colour cast", "measure", "the same; the cast worked apart, on the locus of Kang et al. 2002 (from memory)", 10, "mired", 0),
		corner.largest("its corners, of plain glass and of a variable", "measure", "the same", 0.15, "stop", 2),
		mark.largest("where its mark stands, four exact positions, one exposure", "measure", "pictures drawn of glare of a known direction", 2, "°", 1),
	}
}

// castOf works the cast of a filter apart: its loss in red, green and blue, under 5500 K. The locus is that of Kang et al.
// 2002 (from memory), the adaptation is Bradford's, solved by elimination.
func castOf(lossRGB [3]float64) float64 {
	locus := func(k float64) (x, y float64) {
		if k < 4000 {
			x = -0.2661239e9/(k*k*k) - 0.2343589e6/(k*k) + 0.8776956e3/k + 0.179910
			return x, -0.9549476*x*x*x - 1.37418593*x*x + 2.09137015*x - 0.16748867
		}
		x = -3.0258469e9/(k*k*k) + 2.1070379e6/(k*k) + 0.2226347e3/k + 0.240390
		return x, 3.0817580*x*x*x - 5.87338670*x*x + 3.75112997*x - 0.37001483
	}
	cones := func(x, y, z float64) [3]float64 {
		return [3]float64{0.8951*x + 0.2664*y - 0.1614*z, -0.7502*x + 1.7135*y + 0.0367*z, 0.0389*x - 0.0685*y + 1.0296*z}
	}
	r, g, b := math.Exp2(-lossRGB[0]), math.Exp2(-lossRGB[1]), math.Exp2(-lossRGB[2])
	seen := cones(0.4124*r+0.3576*g+0.1805*b, 0.2126*r+0.7152*g+0.0722*b, 0.0193*r+0.1192*g+0.9505*b)
	x, y := locus(5500)
	own, d65 := cones(x/y, 1, (1-x-y)/y), cones(0.9505, 1, 1.0890)
	// The colour under 5500 K has these cones; a black body is compared with it in cones turned back to XYZ.
	m := [3][4]float64{{0.8951, 0.2664, -0.1614, seen[0] * own[0] / d65[0]}, {-0.7502, 1.7135, 0.0367, seen[1] * own[1] / d65[1]}, {0.0389, -0.0685, 1.0296, seen[2] * own[2] / d65[2]}}
	for i := range 3 {
		for j := range 3 {
			if f := m[j][i] / m[i][i]; j != i {
				for k := range 4 {
					m[j][k] -= f * m[i][k]
				}
			}
		}
	}
	bigX, bigY, bigZ := m[0][3]/m[0][0], m[1][3]/m[1][1], m[2][3]/m[2][2]
	sum := bigX + 15*bigY + 3*bigZ
	u, v := 4*bigX/sum, 6*bigY/sum
	best, off := 0.0, math.Inf(1)
	for mired := 60.0; mired < 500; mired += 0.02 {
		x, y := locus(1e6 / mired)
		if d := math.Hypot(u-4*x/(-2*x+12*y+3), v-6*y/(-2*x+12*y+3)); d < off {
			best, off = mired, d
		}
	}
	return best - 1e6/5500
}
