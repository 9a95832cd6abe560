package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/sun"
)

// This file and its neighbours trust_*_test.go hold what the commands answer against what is known from outside the
// program, and write what they find into TRUST.md. Every value that is compared is read from the JSON that a user gets,
// by the command named in its row; package sun only finds the minute at which the sun stands at a height that a truth is given for.
// "go test ./cmd/skywedge -run TestTrust -update" writes the page; otherwise it must say what is found.

const rad = math.Pi / 180

// claim is one figure of an answer against truth.
type claim struct {
	what, by, source string
	n, skies         int     // values compared, and of how many skies they are
	asked            float64 // largest error allowed
	reached          float64
	unit             string
	digits           int // decimals that the page shows
}

// holds tells whether the figure is as good as asked.
func (c claim) holds() bool { return c.reached <= c.asked } // false for NaN too

// figure writes what was asked, and what was reached rounded to the worse side, so that the table does not flatter and
// does not change from machine to machine.
func (c claim) figure(v float64, found bool) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if found {
		k := math.Pow(10, float64(c.digits))
		s = strconv.FormatFloat(math.Ceil(v*k-1e-6)/k+0, 'f', c.digits, 64)
	}
	if c.unit == "" || c.unit == "°" || c.unit == "′" {
		return s + c.unit
	}
	return s + " " + c.unit
}

// claimTable writes claims as Markdown.
func claimTable(claims []claim) string {
	var b strings.Builder
	b.WriteString("| what | read from | against | values | error asked | reached |\n| --- | --- | --- | ---: | ---: | ---: |\n")
	for _, c := range claims {
		n := strconv.Itoa(c.n)
		if c.skies > 0 {
			n += fmt.Sprintf(" in %d skies", c.skies)
		}
		fmt.Fprintf(&b, "| %s | `%s` | %s | %s | %s | %s |\n", c.what, c.by, c.source, n, c.figure(c.asked, false), c.figure(c.reached, true))
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
	if testing.Short() {
		t.Skip("asks some thousands of answers")
	}
	held := func(parts ...[]claim) string {
		all := slices.Concat(parts...)
		for _, c := range all {
			switch {
			case c.n == 0:
				t.Errorf("%s: nothing was compared", c.what)
			case !c.holds():
				t.Errorf("%s: reached %.6g %s, asked %g", c.what, c.reached, c.unit, c.asked)
			default:
				t.Logf("%-60.60s %5d  asked %-8g reached %.6g %s", c.what, c.n, c.asked, c.reached, c.unit)
			}
		}
		return claimTable(all)
	}
	sky, sheet, still, rough := skyClaims(t), polariserClaims(t), waterClaims(t), windClaims(t)
	suns, sunset, glass, slant := sunClaims(t), sunsetClaims(t), glassClaims(t), slantClaim(t)
	corners, off := cornersTable(t)
	pair := off.largest("corners of a variable filter, the table below, beyond its rounding", "frame", "two tilted sheets", .03, "stop", 3)
	measured, bars := measuredTable(t)
	broken, apart := brokenCloudTable(t)
	said := func(c claim) string { return c.figure(c.reached, true) }
	page := strings.Join([]string{
		"\n" + strings.Join([]string{
			"- The sun stands where it is said to " + said(suns[1]) + ", and rises and sets to " + said(suns[5]) + ".",
			"- Exposures are within ½ stop of what practice has for the heights of the sun below, of a frame towards a low sun within " + said(sunset[0]) + ".\n" +
				"  Under broken cloud the sun may be out or hidden, up to " + apart + " apart, and no answer knows which.",
			"- How polarised the sky is: " + bars + ".\n  The degree of calculated skies in haze of an unknown kind is off by " + said(sky[hazyDegree]) + " rms.",
			"- What a polariser does to such a sky is off by " + said(sheet[0]) + " rms, at most " + said(sheet[1]) + "; the part of the glare that goes by " +
				said(still[0]) + " and " + said(still[1]) + "\n  on still water, " + said(rough[0]) + " and " + said(rough[1]) + " in wind: of calculated skies and by equations, not of pictures.",
			"- A variable filter on polarised sky is off by up to " + said(glass[0]) + ", near its dark end " + said(glass[1]) + ".",
		}, "\n") + "\n",
		"## Measured skies\n", measured,
		"## Exposures of practice\n",
		"The guide (ANSI PH2.7, as reproduced publicly) sums up what is known to come out right. The land of a card that reads it\n" +
			"alone, lit from the front unless said; at which heights of the sun that is asked to hold is ours, at which it does is found.\n",
		held(cardGuideClaims(t), sunset),
		broken,
		"## Calculated by others, or by other equations\n",
		"*Ephemeris*: a reference ephemeris, anywhere, 2020 to 2040. *Transfer*: vector radiative transfer (adding-doubling; agrees\n" +
			"with Natraj, Li & Yung 2009 to 4e−6), without aerosol where none is named; none of its skies was measured. *Tables*: Coulson,\n" +
			"Dave & Sekera's as corrected by Natraj, Li & Yung 2009, to a depth of .25.\n",
		held(suns, []claim{twilightClaim(t)}, sky, sheet, still, rough, glass, measureClaims(t), ridgeClaims(t)),
		"## The same equations, worked apart\n",
		"By hand or by a separate program. This shows that an answer is computed as it is meant to be, and no more.\n",
		held(lightClaims(t), apartClaims(t), []claim{slant, pair}),
		corners,
	}, "\n")

	was, err := os.ReadFile(trustPage)
	if err != nil {
		t.Fatal(err)
	}
	updated, err := withTrust(was, page)
	switch {
	case err != nil:
		t.Fatal(err)
	case bytes.Equal(updated, was):
	case !*update:
		t.Fatalf("%s does not say what was found: go test ./cmd/skywedge -run TestTrust -update\n%s", trustPage, page)
	default:
		if err := os.WriteFile(trustPage, updated, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// withTrust puts the tables between their marks.
func withTrust(page []byte, tables string) ([]byte, error) {
	text := string(page)
	begin, end := strings.Index(text, trustBegin), strings.Index(text, trustEnd)
	if begin < 0 || end < begin || strings.Count(text, trustBegin) != 1 || strings.Count(text, trustEnd) != 1 {
		return nil, fmt.Errorf("%s needs one %s and one %s after it", trustPage, trustBegin, trustEnd)
	}
	return []byte(text[:begin] + trustBegin + "\n" + tables + text[end:]), nil
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
	} {
		if a, r := c.figure(c.claim.asked, false), c.figure(c.claim.reached, true); a != c.asked || r != c.reached {
			t.Errorf("%q %q, want %q %q", a, r, c.asked, c.reached)
		}
	}
	if (claim{asked: 1, reached: math.NaN()}).holds() || (claim{asked: 1, reached: 1.01}).holds() {
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

// largest and typical turn what was gathered into claims.
func (s *tally) largest(what, by, source string, asked float64, unit string, digits int) claim {
	return claim{what: what, by: by, source: source, n: s.n, asked: asked, reached: s.top, unit: unit, digits: digits}
}

func (s *tally) typical(what, by, source string, asked float64, unit string, digits int) claim {
	return claim{what: what + ", rms", by: by, source: source, n: s.n, asked: asked, reached: s.rms(), unit: unit, digits: digits}
}

func (c claim) of(skies int) claim {
	c.skies = skies
	return c
}

// asks runs a command for its JSON.
func asks[T any](t testing.TB, args ...string) (answer T) {
	t.Helper()
	return asksOf[T](t, "", args...)
}

// asksOf is the same with a card as standard input.
func asksOf[T any](t testing.TB, card string, args ...string) (answer T) {
	t.Helper()
	var out, said bytes.Buffer
	e := testEnv(&out, &said)
	e.in = strings.NewReader(card)
	if code := run(e, append(args, "--json")); code != exitDone {
		t.Fatalf("%v: exit code %d\n%s%s\n%s", args, code, out.String(), said.String(), card)
	}
	if err := json.Unmarshal(out.Bytes(), &answer); err != nil {
		t.Fatal(err)
	}
	return answer
}

// figureText writes a number on a command line.
func figureText(v ...float64) string {
	var words []string
	for _, x := range v {
		words = append(words, strconv.FormatFloat(x, 'f', -1, 64))
	}
	return strings.Join(words, ",")
}

// sinks is the second at which the sun sinks through a height, of the day of a noon at 0° east.
func sinks(noon time.Time, lat float64, height func(sun.Position) float64, deg float64) time.Time {
	a, b := noon, noon.Add(12*time.Hour)
	for b.Sub(a) > time.Second {
		m := a.Add(b.Sub(a) / 2)
		if height(sun.At(m, lat, 0)) >= deg {
			a = m
		} else {
			b = m
		}
	}
	return a
}

func geometric(p sun.Position) float64 { return p.GeometricDeg }
func apparent(p sun.Position) float64  { return p.AltitudeDeg }

func noonOf(month time.Month, day int, lat float64) time.Time {
	return sun.DayOf(2026, month, day, time.UTC, lat, 0).Noon
}

// dataRow is one row of a table by its columns.
type dataRow map[string]string

// skyData reads a table of reference data of package sun; its README says what each is.
func skyData(t testing.TB, name string) []dataRow {
	t.Helper()
	f, err := os.Open("../../sun/testdata/" + name)
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
