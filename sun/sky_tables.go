package sun

import "math"

// Two exponentials stand in every ray's formula. They are tabulated because a frame asks for them
// 30,000 times; the errors are below 4e−6 and tested.

const (
	haloSteps = 1024
	expSteps  = 32 // per unit
	expReach  = 24 // e^−24 counts as 0
)

var (
	haloFront, haloBack [haloSteps + 2]float64
	expTable            [expSteps*expReach + 2]float64
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
}

// haloAt gives e^(−3γ) for the cosine of γ.
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

// expNeg gives e^(−y) for y ≥ 0.
func expNeg(y float64) float64 {
	if !(y < expReach) {
		return 0
	}
	i := int(y*expSteps + 0.5)
	f := y - float64(i)*(1.0/expSteps)
	return expTable[i] * (1 - f*(1-f*(0.5-f*(1.0/6))))
}
