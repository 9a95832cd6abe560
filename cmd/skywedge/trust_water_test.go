package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

const waterIndex = 1.333

// fresnel are the amplitudes that water mirrors across the plane of incidence and in it (Born & Wolf, Principles of
// Optics, 1.5.2).
func fresnel(cosI float64) (rs, rp float64) {
	cosT := math.Sqrt(1 - (1-cosI*cosI)/(waterIndex*waterIndex))
	return (cosI - waterIndex*cosT) / (cosI + waterIndex*cosT), (waterIndex*cosI - cosT) / (waterIndex*cosI + cosT)
}

// stillCut is what an ideal sheet takes of the light that still water mirrors, its axis anticlockwise from upright.
func stillCut(c calculated, axisDeg float64) float64 {
	rs, rp := fresnel(math.Sin(c.el * rad))
	q, u := c.degree*math.Cos(2*c.eDeg*rad), c.degree*math.Sin(2*c.eDeg*rad)
	upright, level := rp*rp*(1+q)/2, rs*rs*(1-q)/2
	return -((upright-level)*math.Cos(2*axisDeg*rad) + rs*rp*u*math.Sin(2*axisDeg*rad)) / (upright + level)
}

// waterClaims: what a card says of the glare, against Fresnel's equations under a calculated sky.
func waterClaims(t testing.TB) []claim {
	var still tally
	skies := throughCards(t, "water", -1, []float64{10}, func(leg legAnswer, truth calculated, ring float64) {
		if leg.Glare == nil {
			t.Fatalf("no glare in the frame: %+v", truth)
		}
		still.add(.5*(leg.Glare[0]+leg.Glare[1]) - stillCut(truth, ring))
	})
	const under = "Fresnel's equations, sky by " + transfer + " with aerosol"
	return []claim{
		still.typical("still water: glare cut, 0 to 1", "card", under, .05, "", 3).of(skies),
		still.largest("the same, largest", "card", under, .2, "", 2).of(skies),
	}
}

// tableSky reads a calculated sky between the directions of its table. Its light is taken by how it is polarised against
// the plane through the sun, where it changes little from one direction to the next, the zenith included.
type tableSky struct {
	sun   r3.Vec
	at    map[[2]float64][3]float64 // bearing from the sun and height: ln of the light, and its degree across the plane and along its half
	az    float64                   // step of the bearings
	below []float64                 // heights, rising
}

func toward(azDeg, elDeg float64) r3.Vec {
	sa, ca := math.Sincos(azDeg * rad)
	se, ce := math.Sincos(elDeg * rad)
	return r3.Vec{X: sa * ce, Y: ca * ce, Z: se}
}

// upright returns what is to the right and upwards along a line of sight.
func upright(d r3.Vec) (right, up r3.Vec) {
	right = r3.Unit(r3.Cross(d, r3.Vec{Z: 1}))
	return right, r3.Cross(right, d)
}

func newTableSky(sunEl float64, sky []calculated) *tableSky {
	t := &tableSky{sun: toward(0, sunEl), at: map[[2]float64][3]float64{}, az: 20}
	for _, c := range sky {
		if c.az == 0 {
			t.below = append(t.below, c.el)
		}
		d := toward(c.az, c.el)
		right, up := upright(d)
		e := r3.Sub(r3.Scale(math.Cos(c.eDeg*rad), up), r3.Scale(math.Sin(c.eDeg*rad), right))
		across, along := t.axes(d)
		turn := 2 * math.Atan2(r3.Dot(e, along), r3.Dot(e, across))
		t.at[[2]float64{c.az, c.el}] = [3]float64{math.Log(c.light), c.degree * math.Cos(turn), c.degree * math.Sin(turn)}
	}
	return t
}

// axes are across the plane of the sun and a direction, and in it.
func (t *tableSky) axes(d r3.Vec) (across, along r3.Vec) {
	if across = r3.Cross(t.sun, d); r3.Norm(across) < 1e-9 {
		across, _ = upright(d)
	}
	across = r3.Unit(across)
	return across, r3.Cross(across, d)
}

// row reads between the bearings of one height; left of the sun is the image of its right.
func (t *tableSky) row(azDeg, el float64) (out [3]float64) {
	azDeg = math.Remainder(azDeg, 360)
	a := math.Abs(azDeg) / t.az
	i := math.Min(math.Floor(a), 180/t.az-1)
	p, q := t.at[[2]float64{i * t.az, el}], t.at[[2]float64{(i + 1) * t.az, el}]
	for k := range out {
		out[k] = p[k] + (a-i)*(q[k]-p[k])
	}
	if azDeg < 0 {
		out[2] = -out[2]
	}
	return out
}

// look returns the light along a direction, its degree and E. Under the lowest height it is as there.
func (t *tableSky) look(d r3.Vec) (light, degree float64, e r3.Vec) {
	az, el := math.Atan2(d.X, d.Y)/rad, math.Asin(max(-1, min(1, d.Z)))/rad
	n := len(t.below)
	lo, hi, part := t.row(az, t.below[0]), t.row(az, t.below[0]), 0.
	switch top := t.below[n-1]; {
	case el >= top: // over the zenith to the other side
		lo, hi, part = t.row(az, top), t.row(az+180, top), (el-top)/(180-2*top)
	case el > t.below[0]:
		i := 0
		for t.below[i+1] < el {
			i++
		}
		lo, hi, part = t.row(az, t.below[i]), t.row(az, t.below[i+1]), (el-t.below[i])/(t.below[i+1]-t.below[i])
	}
	var v [3]float64
	for k := range v {
		v[k] = lo[k] + part*(hi[k]-lo[k])
	}
	across, along := t.axes(d)
	sin, cos := math.Sincos(math.Atan2(v[2], v[1]) / 2)
	return math.Exp(v[0]), math.Hypot(v[1], v[2]), r3.Add(r3.Scale(cos, across), r3.Scale(sin, along))
}

// roughCut is what an ideal sheet takes of the light that rough water mirrors towards a camera: the slopes of Cox & Munk
// 1954, normal, with the variance .003 + .00512 W in all, added up on a fine grid.
func roughCut(sky *tableSky, azDeg, downDeg, windMS, axisDeg float64) float64 {
	d := toward(azDeg, -downDeg)
	right, up := upright(d)
	pass := r3.Sub(r3.Scale(math.Cos(axisDeg*rad), up), r3.Scale(math.Sin(axisDeg*rad), right))
	sigma := math.Sqrt((.003 + .00512*windMS) / 2)
	var passed, all float64
	const n = 41
	for i := range n {
		for j := range n {
			u, v := 8*(float64(i)/(n-1)-.5), 8*(float64(j)/(n-1)-.5)
			normal := r3.Unit(r3.Vec{X: -u * sigma, Y: -v * sigma, Z: 1})
			cosI := -r3.Dot(d, normal)
			if cosI <= 0 {
				continue
			}
			from := r3.Add(d, r3.Scale(2*cosI, normal)) // the direction that is mirrored
			light, degree, e := sky.look(from)
			light *= math.Exp(-(u*u+v*v)/2) * cosI / normal.Z
			rs, rp := fresnel(cosI)
			s := r3.Cross(from, normal)
			if r3.Norm(s) < 1e-9 {
				s = right
			}
			s = r3.Unit(s)
			in, out := r3.Cross(s, r3.Scale(-1, from)), r3.Cross(s, r3.Scale(-1, d))
			mirrored := r3.Add(r3.Scale(rs*r3.Dot(e, s), s), r3.Scale(rp*r3.Dot(e, in), out))
			plain := light * (1 - degree) / 2
			all += plain*(rs*rs+rp*rp) + light*degree*r3.Norm2(mirrored)
			passed += plain*(math.Pow(rs*r3.Dot(s, pass), 2)+math.Pow(rp*r3.Dot(out, pass), 2)) + light*degree*math.Pow(r3.Dot(mirrored, pass), 2)
		}
	}
	return 1 - 2*passed/all
}

// windClaims: the same of rough water, the sun behind or abeam, so that none of its glitter is in the frame.
func windClaims(t testing.TB) []claim {
	bag := trustBag(t)
	const sunEl = 10.0
	var cut tally
	skies := 0
	for i, haze := range hazySkies {
		if haze.depth != "0.1" {
			continue
		}
		all := calculatedSky(t, "sky_truth_aerosol.csv", sunEl, haze.aerosol, haze.depth)
		sky := newTableSky(sunEl, all)
		var to []calculated
		for _, c := range all {
			if (c.az == 100 || c.az == 160) && (c.el == 20 || c.el == 32 || c.el == 50) {
				to = append(to, c)
			}
		}
		for k, wind := range []float64{3, 7, 12} {
			ring := rings[(i/3+k)%len(rings)]
			light := fmt.Sprintf("cloud_pct: 0, visibility_km: %s, wind_ms: %g", haze.visibility, wind)
			for n, leg := range lookingCard(sunEl, ring.deg, ring.turn, light, "water", to, -1).legsOf(t, "--bag", bag) {
				cut.add(.5*(leg.Glare[0]+leg.Glare[1]) - roughCut(sky, ring.turn*to[n].az, to[n].el, wind, ring.deg))
			}
		}
		skies++
	}
	const over = "the same over the slopes of Cox & Munk 1954"
	return []claim{
		cut.typical("3, 7 and 12 m/s of wind: glare cut", "card", over, .1, "", 3).of(skies),
		cut.largest("the same, largest", "card", over, .2, "", 2).of(skies),
	}
}

// A sky read from its table is the table where it is given, and the slopes of no wind are still water.
func TestTableSky(t *testing.T) {
	all := calculatedSky(t, "sky_truth_aerosol.csv", 10, "maritime_1", "0.1")
	sky := newTableSky(10, all)
	for _, c := range all {
		if c.az == 0 || c.az == 180 {
			continue // E may turn by a right angle there
		}
		light, degree, e := sky.look(toward(c.az, c.el))
		right, up := upright(toward(c.az, c.el))
		turned := math.Remainder(math.Atan2(-r3.Dot(e, right), r3.Dot(e, up))/rad-c.eDeg, 180)
		if math.Abs(light/c.light-1) > 1e-6 || math.Abs(degree-c.degree) > 1e-6 || math.Abs(turned)*degree > 1e-4 {
			t.Errorf("%+v: %g %g, E off by %g°", c, light, degree, turned)
		}
		if rough, still := roughCut(sky, c.az, c.el, -.5859, 30), stillCut(c, 30); c.el > 10 && c.el < 70 && math.Abs(rough-still) > .002 {
			t.Errorf("%+v: without slopes %.4f, still %.4f", c, rough, still)
		}
	}
}

// brokenCloudTable says how far the two states of the sun lie apart, and the furthest of it.
func brokenCloudTable(t testing.TB) (table, apart string) {
	const lat = 25.0
	noon := noonOf(6, 21, lat)
	heights := []float64{10, 25, 45, 65}
	var b strings.Builder
	b.WriteString("Under broken cloud a card gives both states of the sun, each to be exposed for by itself. EV of the land, front-lit,\nsun shining and hidden, as `card` has it; which of them it will be it cannot know:\n\n| cloud |")
	for _, h := range heights {
		fmt.Fprintf(&b, " sun %g° |", h)
	}
	b.WriteString(" apart |\n| ---: |" + strings.Repeat(" ---: |", len(heights)+1) + "\n")
	furthest := 0.0
	for _, cloud := range []float64{30, 50, 70} {
		fmt.Fprintf(&b, "| %g %% |", cloud)
		least, most := math.Inf(1), 0.0
		for _, h := range heights {
			leg := guideCard(lat, sinks(noon, lat, geometric, h), "land", fmt.Sprintf("cloud_pct: %g, visibility_km: 30", cloud), "grass", "sun+180", 0).legsOf(t)[0]
			if leg.Other == nil {
				t.Fatalf("%g %% of cloud, sun %g°: one state only", cloud, h)
			}
			shining, hidden := leg.Land[1], leg.Other.Land[1]
			if leg.State == "hidden" {
				shining, hidden = hidden, shining
			}
			fmt.Fprintf(&b, " %.1f, %.1f |", shining, hidden)
			least, most = min(least, shining-hidden), max(most, shining-hidden)
		}
		fmt.Fprintf(&b, " %.1f to %.1f |\n", least, most)
		furthest = max(furthest, most)
	}
	return b.String(), fmt.Sprintf("%.1f stops", furthest)
}
