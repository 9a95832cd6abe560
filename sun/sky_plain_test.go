package sun

import (
	"encoding/csv"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The plain forms of the sky's formulas, in angles, as an oracle for the fast ones: slow, with poles
// and without a table.

// plainW is the complex field of Berry, Dennis & Lee 2004, eq. 4.2, in stereographic coordinates,
// homogeneous so that it does not blow up when a neutral point passes the zenith.
func plainW(sunEl, dAbove, dBelow, el, az float64) complex128 {
	zeta := cmplx.Rect(math.Tan((90-el)/2*rad), az*rad)
	za := complex(math.Tan((90-sunEl-dAbove)/2*rad), 0)
	zr := complex(math.Tan((90-sunEl+dBelow)/2*rad), 0)
	n := 1 + real(zeta)*real(zeta) + imag(zeta)*imag(zeta)
	return -4 * (zeta - za) * (zeta - zr) * (1 + zeta*za) * (1 + zeta*zr) /
		(complex(n*n, 0) * (1 + za*za) * (1 + zr*zr))
}

// plainAngleDeg is the direction of E from that field.
func plainAngleDeg(w complex128, az float64) float64 { return cmplx.Phase(w)/2/rad - az }

type plainRay struct{ degree, angleDeg, radiance, pmax, dAbove, dBelow float64 }

// plainSky works one direction out from angles; az counts clockwise from the sun.
func plainSky(o optics, sunEl, el, az float64) plainRay {
	h := sunEl * rad
	var r plainRay
	r.dAbove = 35.86 * math.Pow(o.tauR, 0.3024) * math.Pow(math.Cos(h), 1.053) * (1 - 0.251*math.Sin(h))
	r.dBelow = 39.88 * math.Pow(o.tauR, 0.3496) * math.Pow(math.Cos(h), 1.2886) * (1 + 0.154*math.Sin(h))
	r.pmax = 1 / ((1.06 + 0.77*o.tauR + o.albedo*(2.50*math.Sin(h)+0.10)) * (1 + o.k*o.tauA))
	w := plainW(sunEl, r.dAbove, r.dBelow, el, az)
	r.angleDeg = plainAngleDeg(w, az)

	se, ce := math.Sincos(el * rad)
	ca := math.Cos(az * rad)
	cosGamma := math.Sin(h)*se + math.Cos(h)*ce*ca
	gamma := math.Acos(math.Max(-1, math.Min(1, cosGamma)))
	cosU := math.Cos(h)*se - math.Sin(h)*ce*ca
	c2 := cosU * cosU / math.Max(math.Sin(gamma)*math.Sin(gamma), 1e-12)
	sa, sb := math.Sin(r.dAbove*rad), math.Sin(r.dBelow*rad)
	m := math.Min(1, cmplx.Abs(w)/math.Sqrt((1-sa*sa*c2)*(1-sb*sb*c2)))

	beta := o.tauA / (o.tauA + o.tauR)
	f5 := 1 + 16*(math.Exp(-3*gamma)-math.Exp(-3*math.Pi/2)) + 0.30*cosGamma*cosGamma
	dull := 1 - 0.35*(1-math.Exp(-o.tauA/0.12))*math.Exp(-se/0.17)
	r.degree = r.pmax * m * dull / ((1-beta)*(1+r.pmax*(1-m)) + beta*f5)
	r.radiance = ((1-beta)*(1+r.pmax*cosGamma*cosGamma) + beta*f5) * (1 - math.Exp(-(o.tauA+o.tauR)/se))
	return r
}

// axisDiffDeg is the difference of two directions that have no sign, 0..90.
func axisDiffDeg(a, b float64) float64 {
	return math.Abs(math.Remainder(a-b, 180))
}

// skyTable reads a file of testdata into rows by column name.
func skyTable(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, v := range line {
			row[lines[0][i]] = v
		}
		rows = append(rows, row)
	}
	if len(rows) < 10 {
		t.Fatalf("%s holds only %d rows", name, len(rows))
	}
	return rows
}

// num reads a number of a row.
func num(t testing.TB, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return x
}

// stat gathers differences.
type stat struct {
	n            int
	sum, sq, top float64
}

func (s *stat) add(x float64) {
	s.n++
	s.sum += x
	s.sq += x * x
	s.top = math.Max(s.top, math.Abs(x))
}
func (s *stat) rms() float64  { return math.Sqrt(s.sq / float64(s.n)) }
func (s *stat) mean() float64 { return s.sum / float64(s.n) }
func (s *stat) sd() float64   { return math.Sqrt(math.Max(0, s.sq/float64(s.n)-s.mean()*s.mean())) }

// atMost fails when a figure is above what is asked, or is no number.
func atMost(t *testing.T, what string, got, asked float64) {
	t.Helper()
	t.Logf("%s: %.4g (asked: %g)", what, got, asked)
	if !(got <= asked) {
		t.Errorf("%s is %.4g, more than %g", what, got, asked)
	}
}

// degree is the degree of polarisation alone.
func (p *Pattern) degree(d r3.Vec) float64 {
	degree, _ := p.Polarisation(d)
	return degree
}

// scatteringDeg is the angle between a direction and the sun, which counts as one on the horizon when
// it is below.
func (p *Pattern) scatteringDeg(d r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(d, p.sun)), r3.Dot(d, p.sun)) / rad
}

// relativeLuminance is a standard sky's luminance over that of the zenith, all angles in degrees.
func relativeLuminance(s StandardSky, zenithDeg, chiDeg, sunZenithDeg float64) float64 {
	cos := func(deg float64) float64 { return math.Cos(deg * rad) }
	return s.Indicatrix(cos(chiDeg)) * s.Gradation(cos(zenithDeg)) / (s.Indicatrix(cos(sunZenithDeg)) * s.Gradation(1))
}

// skyAt returns degree, direction of E and radiance of a pattern whose sun stands at azimuth 30.
func skyAt(p *Pattern, el, az float64) (degree, angleDeg, radiance float64, d r3.Vec) {
	d = Direction(sunAzTest+az, el)
	degree, e := p.Polarisation(d)
	return degree, EVectorDeg(d, e), p.Radiance(d), d
}

const sunAzTest = 30
