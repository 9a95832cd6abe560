package sun

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/sixdouglas/suncalc"
	"gonum.org/v1/gonum/spatial/r3"
)

// What .ci/compare makes a table of: in a benchmark named Against…, "ours" is held against the others.

// Where the sun is: against the plain formulas, and the sun module of the dependency graph, which is up to half a degree off.
func BenchmarkAgainstSunAt(b *testing.B) {
	at := time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		ask  func(time.Time)
	}{
		{"ours", func(t time.Time) { sink += At(t, 43.4, -8.4).AltitudeDeg }},
		{"plain", func(t time.Time) { sink += plainAt(t, 43.4, -8.4).AltitudeDeg }},
		{"module", func(t time.Time) { sink += suncalc.GetPosition(t, 43.4, -8.4).Altitude }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				c.ask(at.Add(time.Duration(i) * time.Second))
			}
		})
	}
}

// The passages of a day: against halving and golden section.
func BenchmarkAgainstDay(b *testing.B) {
	p, noon := newSite(43.4, -8.4), secondsOf(time.Date(2026, 9, 18, 12, 30, 0, 0, time.UTC))
	levels := []float64{HorizonDeg, CivilDeg, NauticalDeg, LowSunDeg}
	b.Run("ours", func(b *testing.B) {
		var room [pieces]crossing
		for b.Loop() {
			c := courseOf(p, noon-daySeconds/2, noon+daySeconds/2)
			for _, level := range levels {
				sink += float64(len(c.crossings(room[:0], level)))
			}
		}
	})
	b.Run("plain", func(b *testing.B) {
		for b.Loop() {
			c := plainCourseOf(p, noon-daySeconds/2, noon+daySeconds/2)
			for _, level := range levels {
				sink += float64(len(c.crossings(level)))
			}
		}
	})
}

func clearSky() Pattern {
	return NewPattern(70, 20, Air{AOD: 0.08, PressureHPa: 1013, Albedo: 0.15}, 550)
}

func overFrame(p *Pattern, ds []r3.Vec) (sum float64) {
	for _, d := range ds {
		degree, e := p.Polarisation(d)
		sum += degree + e.X + e.Y + e.Z + p.Radiance(d)
	}
	return sum
}

// The sky along the rays of a frame: against plain C (testdata/sky.c), where a C compiler is present.
func BenchmarkAgainstSkyKernel(b *testing.B) {
	ds, p := frame(), clearSky()
	b.Run("ours", func(b *testing.B) {
		best := time.Duration(math.MaxInt64) // as the C program counts
		for b.Loop() {
			start := time.Now()
			skySink += overFrame(&p, ds)
			best = min(best, time.Since(start))
		}
		b.ReportMetric(float64(best.Nanoseconds()), "ns/op")
	})
	b.Run("C", func(b *testing.B) {
		run := inC(b, &p, ds)
		best := math.Inf(1)
		for b.Loop() { // each a hundred rounds
			ns, _ := run(100)
			best = min(best, ns)
		}
		b.ReportMetric(best, "ns/op")
	})
}

// The C program computes the same sky.
func TestCSkyIsTheSame(t *testing.T) {
	ds, p := frame(), clearSky()
	_, sum := inC(t, &p, ds)(1)
	if ours := overFrame(&p, ds); math.Abs(sum/ours-1) > 1e-5 {
		t.Errorf("C adds up to %.9g, Go to %.9g", sum, ours)
	}
}

// inC builds the C program and returns what runs it so many rounds; it skips where there is no compiler.
func inC(t testing.TB, p *Pattern, ds []r3.Vec) func(rounds int) (ns, sum float64) {
	cc, err := exec.LookPath("cc")
	if err != nil {
		t.Skip("no C compiler")
	}
	dir := t.TempDir()
	program, rays := filepath.Join(dir, "sky"), filepath.Join(dir, "rays")
	if out, err := exec.Command(cc, "-O3", "-march=native", "-o", program, "testdata/sky.c", "-lm").CombinedOutput(); err != nil {
		t.Skipf("the C compiler: %v\n%s", err, out)
	}
	var file bytes.Buffer
	write := func(list ...float64) {
		for _, x := range list {
			_ = binary.Write(&file, binary.NativeEndian, x)
		}
	}
	for _, v := range append([]r3.Vec{p.sun, p.square, p.above, p.below}, r3.Vec{X: p.between, Y: p.sin2Above, Z: p.sin2Below}) {
		write(v.X, v.Y, v.Z)
	}
	write(p.pmax, p.beta, p.dulling, p.tau, sinFloor, haloOffset)
	for _, d := range ds {
		write(d.X, d.Y, d.Z)
	}
	if err := os.WriteFile(rays, file.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return func(rounds int) (ns, sum float64) {
		out, err := exec.Command(program, rays, fmt.Sprint(rounds)).Output()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := fmt.Sscan(string(out), &ns, &sum); err != nil {
			t.Fatal(err)
		}
		return ns, sum
	}
}
