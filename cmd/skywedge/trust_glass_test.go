package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
)

// The numbers of a frame are those of the middles of its pixels: of one whose sensor is so much larger the outermost lie
// where the edges of the field are.
const (
	figureGrid = "64x64"
	toEdge     = 64. / 63
)

// trustBag is a bag of plain lenses, three by their diagonal fields and one so long that its frame is one direction, and
// plain filters.
func trustBag(t testing.TB) string {
	t.Helper()
	const lens = `  - {name: %s, sensor_mm: [%.6f, %.6f], pixels: [3840, 2160], video_pixels: [3840, 2160], focal_mm: %.6f, aperture: 2.8, iso: {base: 100, clean: 400, limit: 6400}, shutter_s: {fastest: 1/8000, slowest: 8}, modes: [{name: normal, fps: [24, 25]}], gimbal_deg: [-90, 90], endurance_min: 30}
`
	var b strings.Builder
	b.WriteString("skywedge_bag: 1\ncameras:\n")
	fmt.Fprintf(&b, lens, "narrow", 12., 6.75, 600.)
	for _, field := range []float64{84, 60, 40} {
		fmt.Fprintf(&b, lens, fmt.Sprintf("lens %g", field), 12*toEdge, 6.75*toEdge, math.Hypot(12, 6.75)/2/math.Tan(field/2*rad))
	}
	b.WriteString(`filters:
  - {name: CPL, kind: polariser, loss_stops: 1.5, mark_deg: 0}
  - {name: ND64, kind: density, stops: 6}
  - {name: pair, kind: variable, from_stops: 1.7, to_stops: 9, marks: [2, 3, 4, 5, 6, 7, 8, 9], rear_deg: 0, opens: cw}
`)
	path := filepath.Join(t.TempDir(), "bag.yaml")
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// calculated is one direction of a calculated sky.
type calculated struct{ az, el, light, degree, eDeg float64 }

// calculatedSky has the directions of one sky of a table, by the sun's height and where there is one its haze.
func calculatedSky(t testing.TB, file string, sunEl float64, aerosol, depth string) (out []calculated) {
	for _, r := range skyData(t, file) {
		if r.num(t, "sun_el") == sunEl && r["aerosol"] == aerosol && r["aod550"] == depth {
			out = append(out, calculated{r.num(t, "az_from_sun_cw"), r.num(t, "view_el"), r.num(t, "I_over_Izenith"), r.num(t, "DoP"), r.num(t, "AoP_ccw_from_vertical_deg")})
		}
	}
	return out
}

// looked picks the directions that cards look to: not within 15° of the sun, and few enough to be quick.
func looked(sky []calculated, sunEl float64) (out []calculated) {
	for _, c := range sky {
		switch c.az {
		case 30, 90, 150, 40, 100, 160: // of the two tables' grids
			switch c.el {
			case 10, 30, 50, 70, 11, 32, 71:
				if c.az >= 40 || math.Abs(c.el-sunEl) > 15 {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// evening is when the sun stands at a height on the card of a June day, which has all of them.
func evening(height float64) (lat float64, at time.Time) {
	const from = 25.0
	return from, sinks(noonOf(time.June, 21, from), from, apparent, height)
}

// lookingCard has a leg of a second for each direction, to the right of the sun, or to the left for turn −1.
func lookingCard(sunEl, ring, turn float64, light, ground string, to []calculated, pitch float64) written {
	lat, at := evening(sunEl)
	var legs strings.Builder
	for _, c := range to {
		fmt.Fprintf(&legs, "  - {move: hold, seconds: 1, heading_deg: sun%+g, height_m: 20, pitch_deg: %g}\n", turn*c.az, pitch*c.el)
	}
	// the sun sinks a degree in five minutes: it stands right in the middle of the card
	at = at.Add(-time.Duration(len(to)) * time.Second / 2)
	return written{lat, at, fmt.Sprintf("narrow\nfps: 25\nfilter: CPL\nring_deg: %g", ring), light, ground, legs.String()}
}

type ringTurn struct{ deg, turn float64 }

// rings are looked through on either side of the sun.
var rings = []ringTurn{{0, 1}, {45, 1}, {90, -1}, {120, -1}}

// hazySkies are calculated skies and the visibility at which a card has as much haze: 1.2 (2.996/V − .0116) is its depth.
var hazySkies = []struct{ aerosol, depth, visibility string }{
	{"urban_fine_1", "0.1", "31.5"}, {"urban_fine_1", "0.2", "16.8"}, {"urban_fine_1", "0.4", "8.7"},
	{"urban_fine_0.3", "0.1", "31.5"}, {"urban_fine_0.3", "0.2", "16.8"}, {"urban_fine_0.3", "0.4", "8.7"},
	{"maritime_1", "0.1", "31.5"}, {"maritime_1", "0.2", "16.8"}, {"maritime_1", "0.4", "8.7"},
}

// throughCards looks at hazy skies through a polariser, up or at their image in still water, and hands over each leg.
func throughCards(t testing.TB, ground string, pitch float64, suns []float64, each func(leg legAnswer, truth calculated, ring float64)) (skies int) {
	bag := trustBag(t)
	for i, haze := range hazySkies {
		for k, sunEl := range suns {
			if len(suns) == 1 && i%2 == 1 {
				sunEl = 60
			}
			to := looked(calculatedSky(t, "sky_truth_aerosol.csv", sunEl, haze.aerosol, haze.depth), sunEl)
			if len(to) == 0 {
				t.Fatalf("no sky of %v with the sun at %g°", haze, sunEl)
			}
			ring := rings[(i+k)%len(rings)]
			light := "cloud_pct: 0, wind_ms: 0, visibility_km: " + haze.visibility
			for n, leg := range lookingCard(sunEl, ring.deg, ring.turn, light, ground, to, pitch).legsOf(t, "--bag", bag) {
				truth := to[n]
				truth.eDeg *= ring.turn
				each(leg, truth, ring.deg)
			}
			skies++
		}
	}
	return skies
}

// polariserClaims: what a card says of a polariser on the sky, against an ideal sheet before a calculated sky: with the
// axis at an angle from E it changes the sky by log2(1 + p cos 2·angle) against a density.
func polariserClaims(t testing.TB) []claim {
	var effect tally
	skies := throughCards(t, "grass", 1, []float64{10}, func(leg legAnswer, truth calculated, ring float64) {
		if leg.Effect == nil {
			t.Fatalf("no sky in the frame: %+v", truth)
		}
		// facing the lens the mark goes clockwise; behind it the axis goes anticlockwise, as E is counted
		effect.add(.5*(leg.Effect[0]+leg.Effect[1]) - math.Log2(1+truth.degree*math.Cos(2*(ring-truth.eDeg)*rad)))
	})
	const through = "ideal sheet, sky by " + transfer + " with aerosol"
	return []claim{
		effect.typical("polariser on a hazy sky: effect", "card", through, .2, "stop", 2).of(skies),
		effect.largest("the same, largest", "card", through, .6, "stop", 2).of(skies),
	}
}

// lossesOf are what a filter takes of the frame of a card, in stops.
func lossesOf(t testing.TB, c written, bag, size string, flags ...string) frameNumbers {
	t.Helper()
	return asksOf[frameNumbers](t, c.text(), append([]string{"frame", "-", "--second", "0", "--size", size, "--bag", bag}, flags...)...)
}

// plainFrame is a card whose frame has hardly any polarised light: snow, straight down.
func plainFrame(field float64) written {
	lat, at := evening(40)
	return written{lat, at, fmt.Sprintf("lens %g\nfps: 25\nfilter: auto", field), "cloud_pct: 100, visibility_km: 300", "snow",
		"  - {move: hold, seconds: 2, heading_deg: 0, height_m: 20, pitch_deg: -90}\n"}
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

// cornerSpread is the largest less the smallest loss over a 16:9 frame of unpolarised light, by diagonal field and setting.
func cornerSpread(t testing.TB, bag string, field, setting float64) float64 {
	loss := lossesOf(t, plainFrame(field), bag, figureGrid, "--filter", "pair", "--setting", figureText(setting), "--ring", "0").Loss
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range loss {
		low, high = min(low, l), max(high, l)
	}
	return high - low
}

// cornersTable writes what the frames say, and tells how far that is from the truth beyond its rounding.
func cornersTable(t testing.TB) (table string, off tally) {
	bag := trustBag(t)
	var b strings.Builder
	b.WriteString("Corners of a variable filter as `frame` has them: the largest less the smallest loss over a 16:9 frame of plain\n" +
		"light, in stops, by setting and by the lens's diagonal field:\n\n| field | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	for _, row := range cornersTruth {
		fmt.Fprintf(&b, "| %g° |", row.fieldDeg)
		for i, word := range row.stops {
			var want float64
			if _, err := fmt.Sscan(word, &want); err != nil {
				t.Fatal(err)
			}
			rounding := .5 * math.Pow(10, -float64(len(word)-strings.Index(word, ".")-1))
			got := cornerSpread(t, bag, row.fieldDeg, float64(i+2))
			off.add(max(0, math.Abs(got-want)-rounding))
			fmt.Fprintf(&b, " %.2f |", got)
		}
		b.WriteString("\n")
	}
	return b.String(), off
}

// glassClaims: a pair of sheets in a frame.
func glassClaims(t testing.TB) []claim {
	bag := trustBag(t)
	var jones, jones9 tally
	// light of a clear sky abeam, as sky tells it
	const sunAlt, az, el = 20.0, 90.0, 30.0
	lat, at := evening(sunAlt)
	sky := skyAnswer(t, sunAlt, az, el, "--visibility", "300", "--ground", "grass")
	abeam := written{lat, at, "narrow\nfps: 25\nfilter: pair", "cloud_pct: 0, visibility_km: 300", "grass",
		fmt.Sprintf("  - {move: hold, seconds: 2, heading_deg: sun+%g, height_m: 20, pitch_deg: %g}\n", az, el)}
	for _, setting := range []float64{2, 3, 4, 5, 9} {
		for ring := 0.0; ring < 180; ring += 15 {
			got := lossesOf(t, abeam, bag, "1x1", "--setting", figureText(setting), "--ring", figureText(ring)).Loss[0]
			off := got - amplitudes(setting, sky.Degree, ring-sky.EVectorDeg)
			if setting == 9 {
				jones9.add(off)
			} else {
				jones.add(off)
			}
		}
	}
	const amplitude = "amplitude matrices of the two sheets (Jones calculus)"
	return []claim{
		jones.largest(fmt.Sprintf("variable filter on a clear sky abeam, degree %.2f, settings 2 to 5: loss", sky.Degree), "frame", amplitude, .11, "stop", 2),
		jones9.largest("the same at setting 9", "frame", amplitude, .48, "stop", 2),
	}
}

// slantClaim: a density's falloff in a frame.
func slantClaim(t testing.TB) claim {
	var slant tally
	// the longer way through the glass: of a corner at 42° .117 of what the axis loses
	nd := lossesOf(t, plainFrame(84), trustBag(t), figureGrid, "--filter", "ND64").Loss
	slant.add((nd[0]-6)/6 - .117)
	return slant.largest("corner of a density of 6 stops, 84° lens, per stop", "frame", ".117 by the longer way through the glass", .0005, "stop", 4)
}

// amplitudes is what two sheets in a row take of light of a degree, E at an angle clockwise from the rear axis, in stops,
// on the axis: the front one is turned as far as makes the setting for plain light. The sheets' own light and leak are the
// program's.
func amplitudes(setting, degree, eDeg float64) float64 {
	const k1, k2 = kit.PairK1, kit.PairK1 * kit.Extinction
	theta := math.Acos(math.Sqrt((math.Exp2(-setting) - k1*k2) / (.5*(k1*k1+k2*k2) - k1*k2)))
	g1, g2, e := math.Sqrt(k1), math.Sqrt(k2), eDeg*rad
	u, v := g1*math.Cos(e-theta), g2*math.Sin(e-theta)
	p, q := g1*(u*math.Cos(theta)-v*math.Sin(theta)), g2*(u*math.Sin(theta)+v*math.Cos(theta))
	return -math.Log2(degree*(p*p+q*q) + (1-degree)*math.Exp2(-setting))
}
