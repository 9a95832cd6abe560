// Command compare makes tables of what benchmarks print: ours against others, how the cost grows with the work, and now
// against before. It is for whoever works on this program; .ci/compare feeds it.
//
// Usage: compare [-before FILE] FILE
//
// In a benchmark named Against…, the part named "ours" is held against the other parts. In one named Grow…, the last part
// is how much work there is, and the exponent that fits the times is printed: 1 is linear. Of several runs the quickest
// counts.
package main

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
)

func main() {
	before := flag.String("before", "", "what the benchmarks printed before")
	flag.Parse()
	if err := run(os.Stdout, flag.Arg(0), *before); err != nil {
		fmt.Fprintln(os.Stderr, "compare:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, now, before string) error {
	b, err := readFile(now)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "Machine: %s, %d processors, %s/%s, %s.\n", b.cpu, runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version())
	b.writeAgainst(w)
	b.writeGrowth(w)
	if before == "" {
		return nil
	}
	old, err := readFile(before)
	if err != nil {
		return err
	}
	b.writeBefore(w, old)
	return nil
}

// result is what the quickest of a benchmark's runs took.
type result struct {
	name    string
	ns      float64
	allocs  float64
	counted bool // allocations were
}

// results are those of one output, in the order in which they came.
type results struct {
	cpu  string
	list []result
}

func readFile(name string) (*results, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return read(f)
}

var (
	line = regexp.MustCompile(`^Benchmark(\S+?)(?:-\d+)?\s+\d+\s+(.*)$`)
	pair = regexp.MustCompile(`([\d.e+]+) (\S+)`)
)

func read(r io.Reader) (*results, error) {
	b := &results{cpu: "a processor of no name"}
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		if cpu, ok := strings.CutPrefix(lines.Text(), "cpu: "); ok {
			b.cpu = cpu
		}
		m := line.FindStringSubmatch(lines.Text())
		if m == nil {
			continue
		}
		one := result{name: m[1]}
		for _, p := range pair.FindAllStringSubmatch(m[2], -1) {
			x, err := strconv.ParseFloat(p[1], 64)
			if err != nil {
				continue
			}
			switch p[2] {
			case "ns/op":
				one.ns = x
			case "allocs/op":
				one.allocs, one.counted = x, true
			}
		}
		if i := slices.IndexFunc(b.list, func(o result) bool { return o.name == one.name }); i < 0 {
			b.list = append(b.list, one)
		} else if one.ns < b.list[i].ns {
			b.list[i] = one
		}
	}
	if len(b.list) == 0 && lines.Err() == nil {
		return nil, fmt.Errorf("no benchmark in what was printed")
	}
	return b, lines.Err()
}

func (b *results) find(name string) (result, bool) {
	for _, r := range b.list {
		if r.name == name {
			return r, true
		}
	}
	return result{}, false
}

// writeAgainst holds ours against the others.
func (b *results) writeAgainst(w io.Writer) {
	fmt.Fprintf(w, "\n| ours against | ours | theirs | ours ÷ theirs |\n| --- | ---: | ---: | ---: |\n")
	for _, r := range b.list {
		what, part, ok := strings.Cut(r.name, "/")
		what, is := strings.CutPrefix(what, "Against")
		ours, known := b.find("Against" + what + "/ours")
		if ok && is && known && part != "ours" {
			fmt.Fprintf(w, "| %s, %s | %s | %s | %.2f |\n", what, part, span(ours.ns), span(r.ns), ours.ns/r.ns)
		}
	}
}

// writeGrowth fits how the cost grows.
func (b *results) writeGrowth(w io.Writer) {
	fmt.Fprintf(w, "\n| grows with | from | to | exponent | of the last step |\n| --- | ---: | ---: | ---: | ---: |\n")
	var done []string
	for _, r := range b.list {
		what, _, _ := strings.Cut(r.name, "/")
		if !strings.HasPrefix(what, "Grow") || slices.Contains(done, what) {
			continue
		}
		done = append(done, what)
		var sizes, times []float64
		for _, o := range b.list {
			if size, ok := strings.CutPrefix(o.name, what+"/"); ok {
				if n, err := strconv.ParseFloat(size, 64); err == nil && n > 0 {
					sizes, times = append(sizes, n), append(times, o.ns)
				}
			}
		}
		if last := len(sizes) - 1; last > 0 {
			fmt.Fprintf(w, "| %s | %g: %s | %g: %s | %.2f | %.2f |\n", strings.ToLower(what[len("Grow"):]), sizes[0], span(times[0]),
				sizes[last], span(times[last]), exponent(sizes, times), exponent(sizes[last-1:], times[last-1:]))
		}
	}
}

// writeBefore holds now against before.
func (b *results) writeBefore(w io.Writer, old *results) {
	fmt.Fprintf(w, "\n| benchmark | before | now | now ÷ before | allocations before | now |\n| --- | ---: | ---: | ---: | ---: | ---: |\n")
	for _, r := range b.list {
		if o, ok := old.find(r.name); ok {
			allocs := "| |"
			if r.counted && o.counted {
				allocs = fmt.Sprintf("%.0f | %.0f |", o.allocs, r.allocs)
			}
			fmt.Fprintf(w, "| %s | %s | %s | %.2f | %s\n", r.name, span(o.ns), span(r.ns), r.ns/o.ns, allocs)
		}
	}
}

// exponent returns the slope of the line through the logarithms that leaves the least squares.
func exponent(sizes, times []float64) float64 {
	var sx, sy, sxx, sxy float64
	n := float64(len(sizes))
	for i := range sizes {
		x, y := math.Log(sizes[i]), math.Log(times[i])
		sx, sy, sxx, sxy = sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

// span says a time in nanoseconds with three digits.
func span(ns float64) string {
	for _, u := range []struct {
		ns   float64
		name string
	}{{1e9, "s"}, {1e6, "ms"}, {1e3, "µs"}} {
		if ns >= u.ns {
			return fmt.Sprintf("%.3g %s", ns/u.ns, u.name)
		}
	}
	return fmt.Sprintf("%.3g ns", ns)
}
