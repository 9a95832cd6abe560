package exposure

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Every row of testdata/exposure_steps.csv, both ways: mark, index, value and exact step.
func TestSeriesAgainstTable(t *testing.T) {
	f, err := os.Open("testdata/exposure_steps.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	series := map[string][]Step{"shutter_s": shutterTable, "iso": isoTable, "f_number": apertureTable}
	exact := map[string]func(i float64) float64{
		"shutter_s": func(i float64) float64 { return math.Exp2(i / 3) },
		"iso":       func(i float64) float64 { return 100 * math.Exp2(i/3) },
		"f_number":  func(i float64) float64 { return math.Exp2(i / 6) },
	}
	seen := map[string]int{}
	for _, r := range rows[1:] {
		kind, mark := r[0], r[1]
		k := seen[kind]
		seen[kind]++
		if k >= len(series[kind]) {
			t.Fatalf("%s: the series ends before %s", kind, mark)
		}
		s := series[kind][k]
		value := number(t, strings.TrimPrefix(mark, "1/"))
		if strings.HasPrefix(mark, "1/") {
			value = 1 / value
		}
		if strconv.Itoa(s.Index) != r[2] || s.Value != value {
			t.Errorf("%s %d: %+v, table has %s at index %s", kind, k, s, mark, r[2])
		}
		want := map[string]string{"iso": mark, "f_number": "f/" + mark, "shutter_s": mark}[kind]
		if kind == "shutter_s" && !strings.Contains(mark, "/") {
			want += " s"
		}
		if s.Label != want {
			t.Errorf("%s: label %q, want %q", kind, s.Label, want)
		}
		if e := exact[kind](float64(s.Index)); math.Abs(e/number(t, r[3])-1) > 1e-7 {
			t.Errorf("%s %s: index %d means %v, table has %s", kind, mark, s.Index, e, r[3])
		}
		if lag := math.Log2(s.Value / number(t, r[3])); kind != "f_number" && math.Abs(lag-number(t, r[5])) > 6e-4 ||
			kind == "f_number" && math.Abs(2*lag-number(t, r[5])) > 6e-4 {
			t.Errorf("%s %s: %.4f stops off, table has %s", kind, mark, lag, r[5])
		}
	}
	for kind, s := range series {
		if seen[kind] != len(s) {
			t.Errorf("%s: %d marks, table has %d", kind, len(s), seen[kind])
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSeriesOrder(t *testing.T) {
	for _, series := range [][]Step{shutterTable, videoShutters, isoTable, apertureTable} {
		for i := 1; i < len(series); i++ {
			if series[i].Value <= series[i-1].Value || series[i].Index < series[i-1].Index {
				t.Errorf("%+v before %+v", series[i-1], series[i])
			}
		}
	}
	if len(videoShutters) != len(shutterTable)+4 {
		t.Errorf("%d video shutters, want four more than %d", len(videoShutters), len(shutterTable))
	}
}

func labels(s []Step) string {
	var out []string
	for _, x := range s {
		out = append(out, x.Label)
	}
	return strings.Join(out, " ")
}

func TestLimits(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{labels(ShuttersOf(1./100, 1./40, false)), "1/100 1/80 1/60 1/50 1/40"},
		{labels(ShuttersOf(1./125, 1./48, true)), "1/125 1/120 1/100 1/96 1/80 1/60 1/50 1/48"},
		{labels(ShuttersOf(4, 0, false)), "4 s 5 s 6 s 8 s 10 s 13 s 15 s 20 s 25 s 30 s"},
		{labels(ShuttersOf(0.000125, 0.0002, false)), "1/8000 1/6400 1/5000"},
		{labels(ShuttersOf(0.0167, 0.0167, false)), "1/60"},
		{labels(ISOsOf(100, 400)), "100 125 160 200 250 320 400"},
		{labels(ISOsOf(25600, 0)), "25600 51200 102400"},
		{labels(ISOsOf(110, 115)), ""},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func TestSearch(t *testing.T) {
	for _, tt := range []struct {
		seconds, fastest, slowest float64
		video                     bool
		want                      string
	}{
		{1. / 131, 1. / 8000, 8, false, "1/125"},
		{1. / 4180, 1. / 8000, 8, false, "1/4000"},
		{1. / 4180, 1. / 2000, 8, false, "1/2000"},
		{40, 1. / 8000, 8, false, "8 s"},
		{1. / 47.9, 0, 0, true, "1/48"},
		{1. / 47.9, 0, 0, false, "1/50"},
		{0.245, 0, 0, false, "1/4"},
		{-1, 0, 0, false, ""},
	} {
		if got := NearestShutter(tt.seconds, tt.fastest, tt.slowest, tt.video).Label; got != tt.want {
			t.Errorf("%v s between %v and %v: %s, want %s", tt.seconds, tt.fastest, tt.slowest, got, tt.want)
		}
	}
	if s := NearestISO(146, 100, 6400); s.Value != 160 {
		t.Errorf("ISO 146: %v", s)
	}
	if s := NearestISO(40, 100, 6400); s.Value != 100 {
		t.Errorf("ISO 40 with base 100: %v", s)
	}
	if s, ok := AtMost(shutterTable, 1./131); !ok || s.Label != "1/160" {
		t.Errorf("fast enough for 1/131: %v %v", s, ok)
	}
	if s, ok := AtMost(shutterTable, 1./50); !ok || s.Label != "1/50" {
		t.Errorf("fast enough for 1/50: %v %v", s, ok)
	}
	if _, ok := AtMost(shutterTable, 1e-5); ok {
		t.Error("nothing is that fast")
	}
}

// Every mark finds itself, and nothing between two marks finds a third.
func TestNearestIsNearest(t *testing.T) {
	for _, series := range [][]Step{shutterTable, videoShutters, isoTable, apertureTable} {
		for i, s := range series {
			if Nearest(series, s.Value) != s {
				t.Errorf("%v does not find itself", s)
			}
			for v := s.Value; i+1 < len(series) && v < series[i+1].Value; v *= 1.013 {
				got, best := Nearest(series, v), math.Inf(1)
				for _, c := range series {
					best = math.Min(best, math.Abs(math.Log2(c.Value/v)))
				}
				if d := math.Abs(math.Log2(got.Value / v)); d > best+1e-12 {
					t.Errorf("%v: %v is %.4f stops away, best %.4f", v, got, d, best)
				}
			}
		}
	}
}

func TestStepping(t *testing.T) {
	for _, tt := range []struct {
		got  Step
		want string
	}{
		{Nudge(shutterTable, 1./50, 1), "1/40"},
		{Nudge(shutterTable, 1./50, -1), "1/60"},
		{Nudge(videoShutters, 1./50, 1), "1/48"},
		{Nudge(shutterTable, 30, 4), "30 s"},
		{Nudge(isoTable, 146, 1), "200"},
		{Nudge(nil, 1, 1), ""},
	} {
		if tt.got.Label != tt.want {
			t.Errorf("got %+v, want %s", tt.got, tt.want)
		}
	}
}
