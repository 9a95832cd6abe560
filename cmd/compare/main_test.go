package main

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const printed = `goos: linux
goarch: amd64
cpu: Some Processor
BenchmarkAgainstSun/ours-2         	 1000	       250.0 ns/op	       0 B/op	       0 allocs/op
BenchmarkAgainstSun/module-2       	 1000	       500.0 ns/op
BenchmarkAgainstSun/module-2       	 1000	       400.0 ns/op
BenchmarkGrowLegs/1-2              	    5	   1000000 ns/op
BenchmarkGrowLegs/4-2              	    5	   4000000 ns/op
BenchmarkGrowLegs/16-2             	    5	  64000000 ns/op
BenchmarkOne-2                     	    5	      3000 ns/op	     100 B/op	       7 allocs/op
PASS
`

func TestTables(t *testing.T) {
	dir := t.TempDir()
	now, before := filepath.Join(dir, "now"), filepath.Join(dir, "before")
	for name, text := range map[string]string{now: printed, before: "BenchmarkOne-2 5 6000 ns/op 100 B/op 70 allocs/op\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out strings.Builder
	if err := run(&out, now, before); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Machine: Some Processor, ",
		"| Sun, module | 250 ns | 400 ns | 0.62 |", // the quicker of two runs
		"| legs | 1: 1 ms | 16: 64 ms | 1.50 | 2.00 |",
		"| One | 6 µs | 3 µs | 0.50 | 70 | 7 |",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	if err := run(&out, filepath.Join(dir, "nothing"), ""); err == nil {
		t.Error("no error of a file that is not there")
	}
	if _, err := read(strings.NewReader("PASS\n")); err == nil {
		t.Error("no error of an output without benchmarks")
	}
}

func TestExponent(t *testing.T) {
	sizes := []float64{1, 3, 10, 50}
	for _, e := range []float64{0, .5, 1, 2} {
		var times []float64
		for _, n := range sizes {
			times = append(times, 7*math.Pow(n, e))
		}
		if got := exponent(sizes, times); math.Abs(got-e) > 1e-9 {
			t.Errorf("%g fits as %g", e, got)
		}
	}
}
