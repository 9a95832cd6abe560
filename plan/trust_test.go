package plan_test

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the table of errors")

// This file and its neighbours trust_*_test.go hold the program's figures against what is known from
// outside it, through the exported functions alone, and write what they find into TRUST.md.
// "go test ./plan -run TestTrust -update" writes it; otherwise the page must say what is found.

// claim is one figure of the model against truth.
type claim struct {
	what, source string
	n            int     // values compared
	asked        float64 // largest error allowed; of a share the least allowed
	reached      float64
	unit         string
	digits       int  // decimals that the page shows
	share        bool // asked and reached are percentages that should be large
	title        bool // a heading inside the table
}

// holds tells whether the figure is as good as asked.
func (c claim) holds() bool {
	if c.share {
		return c.reached >= c.asked
	}
	return c.reached <= c.asked // false for NaN too
}

// figure writes a number as the page shows it; what was reached is rounded to the worse side, so
// that the table does not flatter and does not change from machine to machine.
func (c claim) figure(v float64, found bool) string {
	if found {
		k := math.Pow(10, float64(c.digits))
		if c.share {
			v = math.Floor(v*k+1e-6) / k
		} else {
			v = math.Ceil(v*k-1e-6) / k
		}
	}
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if found {
		s = strconv.FormatFloat(v, 'f', c.digits, 64)
	}
	switch {
	case c.share && !found:
		s = "≥ " + s
	case found && v == 0:
		s = "0"
	}
	if c.unit == "" || c.unit == "°" || c.unit == "′" {
		return s + c.unit
	}
	return s + " " + c.unit
}

func heading(text string) claim { return claim{what: text, title: true} }

// trustTable writes claims as Markdown.
func trustTable(claims []claim) string {
	var b strings.Builder
	b.WriteString("| what | against | values | error asked | error reached |\n| --- | --- | ---: | ---: | ---: |\n")
	for _, c := range claims {
		if c.title {
			fmt.Fprintf(&b, "| **%s** | | | | |\n", c.what)
			continue
		}
		fmt.Fprintf(&b, "| %s | %s | %d | %s | %s |\n", c.what, c.source, c.n, c.figure(c.asked, false), c.figure(c.reached, true))
	}
	return b.String()
}

const (
	trustPage  = "TRUST.md"
	trustBegin = "<!-- trust:begin -->"
	trustEnd   = "<!-- trust:end -->"
)

// TestTrust holds every claim, and the page to what was found.
func TestTrust(t *testing.T) {
	var claims []claim
	for _, part := range []func(testing.TB) []claim{
		sunClaims, lightClaims, skyClaims, glassClaims, waterClaims, flightClaims, measureClaims, ridgeClaims,
	} {
		claims = append(claims, part(t)...)
	}
	for _, c := range claims {
		switch {
		case c.title:
		case c.n == 0:
			t.Errorf("%s: nothing was compared", c.what)
		case !c.holds():
			t.Errorf("%s: reached %.6g %s, asked %g", c.what, c.reached, c.unit, c.asked)
		default:
			t.Logf("%-60.60s %5d  asked %-8g reached %.6g %s", c.what, c.n, c.asked, c.reached, c.unit)
		}
	}
	want := trustTable(claims) + "\n" + cornersTable()
	page, err := os.ReadFile(trustPage)
	if err != nil {
		t.Fatal(err)
	}
	updated, err := withTrust(page, want)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(updated, page) {
		return
	}
	if !*update {
		t.Fatalf("%s does not say what was found: go test ./plan -run TestTrust -update\n%s", trustPage, want)
	}
	if err := os.WriteFile(trustPage, updated, 0o644); err != nil {
		t.Fatal(err)
	}
}

// withTrust puts the table between its marks.
func withTrust(page []byte, table string) ([]byte, error) {
	text := string(page)
	begin, end := strings.Index(text, trustBegin), strings.Index(text, trustEnd)
	if begin < 0 || end < begin || strings.Count(text, trustBegin) != 1 || strings.Count(text, trustEnd) != 1 {
		return nil, fmt.Errorf("%s needs one %s and one %s after it", trustPage, trustBegin, trustEnd)
	}
	return []byte(text[:begin] + trustBegin + "\n" + table + text[end:]), nil
}

func TestWithTrust(t *testing.T) {
	first, err := withTrust([]byte("a\n"+trustBegin+"\n"+trustEnd+"\nb\n"), "| a |\n")
	if err != nil || string(first) != "a\n"+trustBegin+"\n| a |\n"+trustEnd+"\nb\n" {
		t.Fatalf("%v\n%s", err, first)
	}
	again, err := withTrust(first, "| b |\n")
	if err != nil || string(again) != strings.Replace(string(first), "| a |", "| b |", 1) {
		t.Fatalf("%v\n%s", err, again)
	}
	for _, bad := range []string{"", trustBegin, trustEnd, trustEnd + trustBegin, trustBegin + trustEnd + trustBegin} {
		if _, err := withTrust([]byte(bad), ""); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

func TestFigures(t *testing.T) {
	for _, c := range []struct {
		claim
		asked, reached string
	}{
		{claim{asked: .02, reached: .00911, unit: "°", digits: 3}, "0.02°", "0.010°"},
		{claim{asked: 10, reached: 3.2, unit: "s"}, "10 s", "4 s"},
		{claim{asked: .5, reached: .5, unit: "stop", digits: 1}, "0.5 stop", "0.5 stop"},
		{claim{asked: 90, reached: 95.9, unit: "%", share: true}, "≥ 90 %", "95 %"},
		{claim{asked: 1e-5, reached: 0, digits: 3}, "0.00001", "0"},
	} {
		if a, r := c.figure(c.claim.asked, false), c.figure(c.claim.reached, true); a != c.asked || r != c.reached {
			t.Errorf("%q %q, want %q %q", a, r, c.asked, c.reached)
		}
	}
	if (claim{asked: 1, reached: math.NaN()}).holds() || (claim{asked: 1, reached: 1.01}).holds() || (claim{asked: 90, reached: 89, share: true}).holds() {
		t.Error("a claim holds that does not")
	}
}

// tally gathers errors.
type tally struct {
	n       int
	sum, sq float64
	top     float64
}

func (s *tally) add(x float64) {
	s.n++
	s.sum += x
	s.sq += x * x
	s.top = math.Max(s.top, math.Abs(x)) // NaN stays NaN
}

func (s *tally) mean() float64 { return s.sum / float64(s.n) }
func (s *tally) rms() float64  { return math.Sqrt(s.sq / float64(s.n)) }

// spread is the rms about the mean.
func (s *tally) spread() float64 {
	return math.Sqrt(math.Max(0, s.sq/float64(s.n)-s.mean()*s.mean()))
}

// worst and rms turn what was gathered into claims.
func (s *tally) worst(what, source string, asked float64, unit string, digits int) claim {
	return claim{what: what, source: source, n: s.n, asked: asked, reached: s.top, unit: unit, digits: digits}
}

func (s *tally) rmsClaim(what, source string, asked float64, unit string, digits int) claim {
	return claim{what: what + ", rms", source: source, n: s.n, asked: asked, reached: s.rms(), unit: unit, digits: digits}
}

// dataRow is one row of a table by its columns.
type dataRow map[string]string

// data reads a table of reference data.
func data(t testing.TB, path string) []dataRow {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []dataRow
	for _, r := range all[1:] {
		m := dataRow{}
		for i, k := range all[0] {
			m[k] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func (r dataRow) num(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s: %v", column, err)
	}
	return v
}
