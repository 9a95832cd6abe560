package frame

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
)

// uniform is a frame of a sky and a land of one luminance each.
func uniform(skyShare, skyLum, landLum float64) *Lit {
	const n = 50
	l := &Lit{skyKept: skyShare, skyKey: math.Inf(-1), whole: 1}
	if skyShare > 0 {
		for range n {
			l.sky = append(l.sky, skyLum)
			l.part = append(l.part, skyShare/n)
		}
		l.skyKey = exposure.EV100OfLuminance(skyLum) - skyOverMiddle
	}
	if skyShare < 1 {
		for range n {
			l.ground = append(l.ground, water.Stokes{I: landLum})
			l.part = append(l.part, (1-skyShare)/n)
		}
	}
	l.kept = l.part
	return l
}

// Uniform parts, worked apart from the definition: share of sky, its luminance, the reading of the land, and what
// the frame asks for. The land is dark enough not to be the brightest.
func TestUniformPartsAreMetered(t *testing.T) {
	for _, c := range []struct {
		name                     string
		skyShare, skyLum, landEV float64
		landLum                  float64
		middle                   float64
	}{
		{"a clear sky over sunlit land", .5, 4000, 12, 100, 12.983},
		{"a glaring sky over dark land", .5, 40000, 8, 10, 12.644},
		{"a third of evening sky", .3, 2000, 7.5, 10, 11.466},
		{"no sky", 0, 0, 13, exposure.LuminanceOfEV100(15.3), 13},
	} {
		var tones Tones
		tones.Through(uniform(c.skyShare, c.skyLum, c.landLum), Behind{}, Behind{})
		m := Meter{Expose: shot.ExposeMiddle, UprightEV100: c.landEV, FlatEV100: math.Inf(-1), HighlightStops: 2.5}
		if got := tones.Read(m); math.Abs(got-c.middle) > 5e-4 {
			t.Errorf("%s: EV %.3f, want %.3f", c.name, got, c.middle)
		}
		m.Expose = shot.ExposeLand
		if got := tones.Read(m); got != c.landEV {
			t.Errorf("%s, for the land: EV %.3f, want %.3f", c.name, got, c.landEV)
		}
	}
}

// What is exposed for the highlights clips nothing but by the brightest part's own spread; what is exposed for
// dark land under a glaring sky clips the sky and says so.
func TestPlacedTones(t *testing.T) {
	var tones Tones
	tones.Through(uniform(.5, 40000, 10), Behind{}, Behind{})
	m := Meter{Expose: shot.ExposeHighlights, UprightEV100: 8, FlatEV100: math.Inf(-1), HighlightStops: 2.5}
	high := tones.Read(m)
	if p := tones.Place(high+.01, 2.5); p.Clipped != 0 || math.Abs(p.Buried-.5) > 1e-9 {
		t.Errorf("for the highlights: %+v", p)
	}
	p := tones.Place(8, 2.5)
	if math.Abs(p.Clipped-.5) > 1e-9 {
		t.Errorf("for the land: %+v", p)
	}
	// half the frame at white, 2½ stops over, half at EV 6.32
	if want := math.Log2((math.Exp2(2.5) + 10/exposure.LuminanceOfEV100(8)) / 2); math.Abs(p.Meter-want) > 1e-9 {
		t.Errorf("the meter shows %.3f, want %.3f", p.Meter, want)
	}
}

// Looking at the brightest pixels alone finds the same brightest part as looking at all, to the last bit.
func TestTheBrightestPartIsThePlainOne(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 9))
	short := 0
	for i := range 3000 {
		n := 20 + r.IntN(300)
		l := &Lit{}
		tones := Tones{lit: l}
		spread := 8 * r.Float64()
		for range n {
			tones.lum = append(tones.lum, max(leastLight, 5000*math.Exp2(-spread*r.ExpFloat64())))
			p := r.Float64()
			if r.IntN(9) == 0 {
				p = 0
			}
			l.kept = append(l.kept, p)
			l.whole += p
		}
		most := leastLight
		for k, p := range l.kept {
			if p > 0 {
				most = max(most, tones.lum[k])
			}
		}
		plain, whole := tones.highFrom(most, highBins/binsPerStop)
		if !whole {
			t.Fatal("looking at all is not all")
		}
		for _, stops := range highWithin {
			if sum, whole := tones.highFrom(most, stops); whole && sum != plain {
				t.Fatalf("frame %d: within %d stops %.17g, plainly %.17g", i, stops, sum, plain)
			} else if whole && stops == 1 {
				short++
			}
		}
	}
	if short < 300 {
		t.Errorf("only %d of 3000 frames were found within a stop", short)
	}
}

// What is left out of a reading because it cannot make it higher changes nothing: every frame reads as when all of it is
// worked out.
func TestReadingLeavesNothingOut(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 23))
	var held, spared int
	for range 4000 {
		l := uniform(r.Float64(), 1000*math.Exp2(6*r.Float64()-3), 100*math.Exp2(6*r.Float64()-3))
		for i := range l.ground {
			l.ground[i].I *= math.Exp2(3 * r.NormFloat64())
		}
		var tones Tones
		tones.Through(l, Behind{}, Behind{})
		m := Meter{UprightEV100: 6 + 8*r.Float64(), FlatEV100: 6 + 8*r.Float64(), HighlightStops: 1 + 3*r.Float64()}
		land := m.LandEV100()
		want := land
		if l.skyKept > 0 {
			want += l.skyKept * max(0, l.skyKey-land)
		}
		if over := tones.over(land + m.HighlightStops); over > 0 {
			if high := min(tones.high()-m.HighlightStops, land+mostOver*min(1, over/fullyOver)); high > want {
				want = high
				held++
			}
		} else {
			spared++
		}
		if got := tones.Read(m); got != want {
			t.Fatalf("EV %v, want %v", got, want)
		}
	}
	if held < 400 || spared < 400 {
		t.Errorf("%d frames are held down and %d need no look: too few to tell", held, spared)
	}
}

// A filter over a frame, one sample after the other: what passes of plain light, and of polarised light; with sky and land,
// with one of them alone, and through glass that does not polarise or lets all through alike.
func TestThroughIsThePlainOne(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 30))
	list := func(n int, from, to float64) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = from + (to-from)*r.Float64()
		}
		return x
	}
	var tones Tones
	for round := range 400 {
		n, m, first := 30*r.IntN(3), 40*r.IntN(3), 5+r.IntN(20)
		if n+m == 0 {
			continue
		}
		l := &Lit{sky: list(n, 0, 5000), q: list(n, -.6, .6), u: list(n, -.6, .6), First: first, kept: list(n+m, -.5, 1), whole: 1}
		for range m {
			x := 3000 * r.Float64()
			l.ground = append(l.ground, water.Stokes{I: x, Q: x * (r.Float64() - .5), U: x * (r.Float64() - .5)})
		}
		for i, p := range l.kept {
			l.kept[i] = max(0, p)
		}
		var sky, ground Behind
		if round%3 > 0 {
			sky.Answers = &Answers{c: list(n+9, -1, 1), s: list(n+9, -1, 1), t: list(n+9, .5, 1)}
			base := first - r.IntN(4)
			ground.Answers = &Answers{base: base, c: list(m+9, -1, 1), s: list(m+9, -1, 1), t: list(m+9, .5, 1)}
		}
		if round%2 > 0 {
			sky.Passes, ground.Passes = list(n+m+first, .5, 1), list(n+m+first, .5, 1)
		}
		if round%5 == 0 {
			l.q, l.u = nil, nil // a sky without a pattern
		}
		tones.Through(l, sky, ground)
		top := leastLight
		for i := range n + m {
			var want float64
			if i < n {
				want = l.sky[i]
				if a := sky.Answers; a != nil && l.q != nil {
					want *= a.t[i] * (1 + a.c[i]*l.q[i] + a.s[i]*l.u[i])
				}
				if sky.Passes != nil {
					want *= sky.Passes[i]
				}
			} else {
				g := l.ground[i-n]
				want = g.I
				if a := ground.Answers; a != nil {
					k := first + i - n - a.base
					want = a.t[k] * (g.I + a.c[k]*g.Q + a.s[k]*g.U)
				}
				if ground.Passes != nil {
					want *= ground.Passes[first+i-n]
				}
			}
			want = max(want, leastLight)
			if l.kept[i] > 0 {
				top = max(top, want)
			}
			if tones.lum[i] != want {
				t.Fatalf("round %d, sample %d of %d and %d: %v, want %v", round, i, n, m, tones.lum[i], want)
			}
		}
		if tones.top != top || len(tones.lum) != n+m {
			t.Fatalf("round %d: the brightest is %v, want %v", round, tones.top, top)
		}
	}
}
