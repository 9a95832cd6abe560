package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// pixel returns the ray of a point of the picture in units of the focal length.
func pixel(x, y float64) r3.Vec { return r3.Unit(r3.Vec{X: x, Y: y, Z: 1}) }

// inCamera turns a direction into the coordinates of a camera.
func inCamera(d r3.Vec, headingDeg, pitchDeg float64) r3.Vec {
	c := kit.Camera{SensorMM: [2]float64{16, 9}, FocalMM: 10}
	return shot.NewView(c, kit.Mode{}, false, headingDeg, pitchDeg).Camera(d)
}

// corners is the largest less the smallest loss over a 16:9 frame of unpolarised light, rear axis
// upright, by diagonal field and setting: a pair of sheets without fixed density.
func corners(fieldDeg, setting float64) float64 {
	m := kit.Filter{Kind: kit.Variable, FromStops: 1.7, ToStops: 9, OpensCW: true}.Mount(kit.RingFor(0, 0), setting)
	h := math.Tan(fieldDeg/2*rad) / math.Hypot(16, 9)
	low, high := math.Inf(1), math.Inf(-1)
	for j := -36; j <= 36; j++ {
		for i := -64; i <= 64; i++ {
			loss := -math.Log2(m.Answer(pixel(16*h*float64(i)/64, 9*h*float64(j)/36)).T)
			low, high = min(low, loss), max(high, loss)
		}
	}
	return high - low
}

// cornersTruth was worked out apart from this code from the geometry of two tilted sheets; the values
// have the digits given.
var cornersTruth = []struct {
	fieldDeg float64
	stops    [8]string // settings 2 to 9
}{
	{84, [8]string{"0.15", "0.53", "1.01", "1.66", "2.6", "4.2", "6.9", "7.1"}},
	{60, [8]string{"0.08", "0.26", "0.50", "0.83", "1.28", "1.9", "2.8", "4.3"}},
	{40, [8]string{"0.03", "0.11", "0.22", "0.37", "0.56", "0.83", "1.2", "1.7"}},
}

// cornersTable writes the model's own table.
func cornersTable() string {
	var b strings.Builder
	b.WriteString("Corners of a variable filter: the largest less the smallest loss over a 16:9 frame of plain light, in\n" +
		"stops, by setting and by the lens's diagonal field:\n\n| field | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	for _, row := range cornersTruth {
		fmt.Fprintf(&b, "| %g° |", row.fieldDeg)
		for i := range row.stops {
			fmt.Fprintf(&b, " %.2f |", corners(row.fieldDeg, float64(i+2)))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func glassClaims(t testing.TB) []claim {
	out := append([]claim{heading("Filters")}, polariserClaims()...)
	return append(out, variableClaims(t)...)
}

// polariserClaims: a tilted sheet under light scattered once, of degree 0.75 sin²γ/(1 + cos²γ) at γ
// from the sun, worked out apart from this code by angles; effects are against a density.
func polariserClaims() []claim {
	var ideal, real tally
	for _, c := range []struct{ heading, pitch, sunAz, sunAlt, psi, x, y, stops float64 }{
		{0, 0, 90, 0, 0, 0, 0, .8074}, {0, 0, 90, 0, 90, 0, 0, -2}, {0, 0, 90, 30, 60, 0, 0, -2},
		{0, 10, 90, 30, 60, .5, .3, -.6793}, {40, 15, 180, 25, 120, -.7, .4, .4229}, {300, 5, 120, 60, 10, .78, -.2, -.8509},
	} {
		s, d := inCamera(sun.Direction(c.sunAz, c.sunAlt), c.heading, c.pitch), pixel(c.x, c.y)
		e, cos2 := r3.Unit(r3.Cross(s, d)), r3.Dot(s, d)*r3.Dot(s, d)
		p := .75 * (1 - cos2) / (1 + cos2)
		m := kit.Filter{Kind: kit.Polariser, LossStops: 1.5}.Mount(kit.RingFor(c.psi, 0), 0)
		a := m.Answer(d)
		te := r3.Dot(a.Pass, e)
		ideal.add(math.Log2(1+p*(2*te*te-1)) - c.stops)
		real.add(math.Log2(a.Passed(p, e)/a.T) - c.stops)
	}
	var loss, slant tally
	for _, c := range []struct{ k1, stops float64 }{{1, 1}, {.9, 1.15}, {.8, 1.32}, {.7, 1.51}} {
		m := kit.Filter{Kind: kit.Polariser, LossStops: c.stops}.Mount(0, 0)
		a := m.Answer(r3.Vec{Z: 1})
		loss.add(a.T*(1+a.D) - c.k1) // k1: what passes of light along the axis
	}
	for _, stops := range []float64{1, 3, 6, 9.97} {
		m := kit.Filter{Kind: kit.Density, Stops: stops}.Mount(0, 0)
		st, ct := math.Sincos(42 * rad)
		slant.add((-math.Log2(m.Answer(r3.Vec{X: .8 * st, Y: .6 * st, Z: ct}).T)-stops)/stops - .117)
	}
	return []claim{
		ideal.worst("effect of an ideal tilted sheet on the sky", "tilted-sheet rule of Korger et al. 2013 in a film of n 1.5, worked apart", .0001, "stop", 5),
		real.worst("the same, a real sheet with its leak", "the ideal sheet", .01, "stop", 3),
		loss.worst("light passed along the axis, from the loss on the label", "1.00, 1.15, 1.32, 1.51 stops for 1.0, 0.9, 0.8, 0.7, worked apart", .005, "", 4),
		slant.worst("corner of a density, 84° lens, per stop", "0.117 stop by the longer way through the glass, worked apart", .0005, "stop", 5),
	}
}

func variableClaims(t testing.TB) []claim {
	var table, pair, sky, jones, jones9 tally
	for _, row := range cornersTruth {
		for i, word := range row.stops {
			var want float64
			if _, err := fmt.Sscan(word, &want); err != nil {
				t.Fatal(err)
			}
			rounding := .5 * math.Pow(10, -float64(len(word)-strings.Index(word, ".")-1))
			table.add(math.Max(0, math.Abs(corners(row.fieldDeg, float64(i+2))-want)-rounding))
		}
	}
	f := kit.Filter{Kind: kit.Variable, FromStops: 1.7, ToStops: 9, OpensCW: true}
	for _, c := range []struct{ setting, corner, sky float64 }{{2, .07, .51}, {3, .46, -.26}, {4, .98, -.88}, {5, 1.66, -1.34}} {
		m := f.Mount(kit.RingFor(0, 0), c.setting)
		pair.add(math.Log2(m.Answer(pixel(.785, .4414)).T/m.Answer(pixel(-.785, .4414)).T) - c.corner)
		a := m.Answer(r3.Vec{Z: 1})
		sky.add(math.Log2(a.Passed(.75, r3.Vec{Y: 1})/a.T) - c.sky)
		jonesErrors(f, c.setting, &jones)
	}
	jonesErrors(f, 9, &jones9)
	const amplitudes = "amplitude matrices of the two sheets (Jones calculus)"
	return []claim{
		table.worst("variable filter, largest less smallest loss at settings 2 to 9, fields of 84, 60 and 40°, beyond the rounding",
			"two tilted sheets, worked apart", .03, "stop", 3),
		pair.worst("the same, dark against light corner at settings 2 to 5", "two tilted sheets, worked apart", .03, "stop", 3),
		sky.worst("variable filter on a sky of degree .75, sun abeam, settings 2 to 5", "worked apart", .02, "stop", 3),
		jones.worst("variable filter on polarised light, degree .75, settings 2 to 5", amplitudes, .11, "stop", 2),
		jones9.worst("the same at setting 9", amplitudes, .48, "stop", 2),
	}
}

// jonesErrors compares what passes of light of degree .75, at every angle of E, with the product of
// the sheets' amplitude matrices, on the axis.
func jonesErrors(f kit.Filter, setting float64, s *tally) {
	const k1, k2 = kit.PairK1, kit.PairK1 * kit.Extinction
	m := f.Mount(kit.RingFor(0, 0), setting)
	a := m.Answer(r3.Vec{Z: 1})
	theta := math.Acos(math.Sqrt((math.Exp2(-setting) - k1*k2) / (.5*(k1*k1+k2*k2) - k1*k2)))
	g1, g2 := math.Sqrt(k1), math.Sqrt(k2)
	for at := 0.0; at < 180; at++ {
		e := at * rad
		u, v := g1*math.Cos(e-theta), g2*math.Sin(e-theta)
		p, q := g1*(u*math.Cos(theta)-v*math.Sin(theta)), g2*(u*math.Sin(theta)+v*math.Cos(theta))
		exact := .75*(p*p+q*q) + .25*a.T
		s.add(math.Log2(a.Passed(.75, r3.Vec{X: math.Sin(e), Y: math.Cos(e)}) / exact))
	}
}
