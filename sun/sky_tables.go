package sun

import "math"

// Exponentials stand in every ray's formula, logarithms in a cloudy one's. They are tabulated because
// a frame asks for 60,000 of them; the errors are below 4e−6 and tested.

const (
	haloSteps = 1024
	expSteps  = 32 // per unit
	expReach  = 24 // e^−24 counts as 0
	powSteps  = 32 // per octave
	logBits   = 8  // leading bits of the fraction
)

var (
	haloFront, haloBack [haloSteps + 2]float64
	expTable            [expSteps*expReach + 2]float64
	powTable            [powSteps]float64
	logTable            [1 << logBits]struct{ inverse, log2 float64 }
)

func init() {
	for i := range haloFront {
		// With v = √(1 − cos γ), γ = 2 asin(v/√2): smooth in v, unlike in cos γ. Behind, the same
		// counts from the antisolar point.
		g := 2 * math.Asin(min(1, float64(i)/haloSteps/math.Sqrt2))
		haloFront[i] = math.Exp(-3 * g)
		haloBack[i] = math.Exp(-3 * (math.Pi - g))
	}
	for i := range expTable {
		expTable[i] = math.Exp(-float64(i) / expSteps)
	}
	for i := range powTable {
		powTable[i] = math.Exp2(float64(i) / powSteps)
	}
	for i := range logTable {
		m := 1 + (float64(i)+0.5)/(1<<logBits)
		logTable[i].inverse, logTable[i].log2 = 1/m, math.Log2(m)
	}
}

// haloAt returns e^(−3γ) for the cosine of γ.
func haloAt(cosGamma float64) float64 {
	t := &haloFront
	x := 1 - cosGamma
	if cosGamma < 0 {
		t, x = &haloBack, 1+cosGamma
	}
	v := math.Sqrt(max(x, 0)) * haloSteps
	i := min(int(v), haloSteps)
	f := v - float64(i)
	return t[i] + f*(t[i+1]-t[i])
}

// expNeg returns e^(−y) for y ≥ 0.
func expNeg(y float64) float64 {
	if !(y < expReach) {
		return 0
	}
	i := int(y*expSteps + 0.5)
	f := y - float64(i)*(1.0/expSteps)
	return expTable[i] * (1 - f*(1-f*(0.5-f*(1.0/6))))
}

// fastLog2 returns the binary logarithm of a positive, normal number.
func fastLog2(x float64) float64 {
	b := math.Float64bits(x)
	e := &logTable[b>>(52-logBits)&(1<<logBits-1)]
	m := math.Float64frombits(b&(1<<52-1) | 1023<<52)
	r := m*e.inverse - 1 // within 1/512
	return float64(int(b>>52)-1023) + e.log2 + math.Log2E*r*(1-r*(0.5-r*(1.0/3)))
}

// fastExp2 returns 2^x for x from −1000 to 1000.
func fastExp2(x float64) float64 {
	k := int(math.Floor(x*powSteps + 0.5))
	r := (x - float64(k)*(1.0/powSteps)) * math.Ln2 // within 0.011
	octave := math.Float64frombits(uint64(k>>5+1023) << 52)
	return octave * powTable[k&(powSteps-1)] * (1 + r*(1+r*(0.5+r*(1.0/6))))
}
