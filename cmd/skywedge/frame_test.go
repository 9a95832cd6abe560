package main

import (
	"bytes"
	"encoding/json"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
)

const breakwater = "../../examples/1-breakwater.yaml"

func testEnv(out, err io.Writer) *env {
	return &env{in: strings.NewReader(""), out: out, err: err,
		now: func() time.Time { return time.Date(2026, 9, 18, 17, 40, 0, 0, time.UTC) }}
}

// answered runs the program and gives what it wrote to standard output.
func answered(t testing.TB, args ...string) []byte {
	t.Helper()
	var out, said bytes.Buffer
	if code := run(testEnv(&out, &said), args); code != exitDone {
		t.Fatalf("%v: exit code %d\n%s", args, code, said.String())
	}
	return out.Bytes()
}

func pictureOf(t testing.TB, args ...string) image.Image {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(answered(t, append([]string{"frame", breakwater, "-o", "-"}, args...)...)))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

type frameNumbers struct {
	Width, Height  int
	Second         float64
	Heading        float64   `json:"heading_deg"`
	Pitch          float64   `json:"pitch_deg"`
	Ring           *float64  `json:"ring_deg"`
	Bare           []float64 `json:"bare_cd_m2"`
	Loss           []float64 `json:"loss_stops"`
	Sky            []bool
	Filter         string
	SettingInStops *float64 `json:"setting_stops"`
}

func numbers(t testing.TB, args ...string) frameNumbers {
	t.Helper()
	var n frameNumbers
	if err := json.Unmarshal(answered(t, append([]string{"frame", breakwater, "--json"}, args...)...), &n); err != nil {
		t.Fatal(err)
	}
	if k := n.Width * n.Height; len(n.Bare) != k || len(n.Loss) != k || len(n.Sky) != k {
		t.Fatalf("%d by %d has %d, %d and %d values", n.Width, n.Height, len(n.Bare), len(n.Loss), len(n.Sky))
	}
	return n
}

// The left half of a split picture is the bare one, the right half the filtered one, to the pixel.
func TestFrameHalves(t *testing.T) {
	at := []string{"--second", "5", "--size", "160x90"}
	bare := pictureOf(t, append(at, "--bare")...)
	full := pictureOf(t, append(at, "--filter", "CPL", "--ring", "60")...)
	half := pictureOf(t, append(at, "--filter", "CPL", "--ring", "60", "--half")...)
	differ := 0
	for y := range 90 {
		for x := range 160 {
			want := bare
			if x >= 80 {
				want = full
			}
			if half.At(x, y) != want.At(x, y) {
				t.Fatalf("pixel %d,%d: %v, want %v", x, y, half.At(x, y), want.At(x, y))
			}
			if bare.At(x, y) != full.At(x, y) {
				differ++
			}
		}
	}
	if differ < 160*90/2 {
		t.Errorf("the polariser changes only %d of %d pixels", differ, 160*90)
	}
}

// A density at its own exposure leaves the middle of the picture as it was and darkens the corners
// by its slant, which is its falloff, 0.117 N stops at 42° (the field here is 82° across corners).
func TestFrameDensityAtItsOwnExposure(t *testing.T) {
	at := []string{"--second", "5", "--size", "161x91"}
	bare, nd := pictureOf(t, append(at, "--bare")...), pictureOf(t, append(at, "--filter", "ND16")...)
	r0, g0, b0, _ := bare.At(80, 45).RGBA()
	r1, g1, b1, _ := nd.At(80, 45).RGBA()
	for i, d := range []float64{float64(r0) - float64(r1), float64(g0) - float64(g1), float64(b0) - float64(b1)} {
		if math.Abs(d) > 2*257 {
			t.Errorf("channel %d of the middle differs by %g of 65535", i, d)
		}
	}
	if _, g, _, _ := nd.At(0, 0).RGBA(); g >= first(bare.At(0, 0).RGBA()) {
		t.Error("the corner should be darker through a density")
	}
	n := numbers(t, append(at, "--filter", "ND16")...)
	if mid, corner := n.Loss[45*161+80], n.Loss[0]; math.Abs(mid-4) > 1e-6 || corner-mid < .4 || corner-mid > .5 {
		t.Errorf("four stops lose %.4f in the middle, %.4f in the corner", mid, corner)
	}
}

func first(_, g, _, _ uint32) uint32 { return g }

// The ring counts as a mark does: half a turn changes nothing, whatever the count.
func TestFrameRingPeriod(t *testing.T) {
	at := []string{"--second", "12", "--size", "16x9", "--filter", "ND8/PL", "--ring"}
	a, other := numbers(t, append(at, "45")...), numbers(t, append(at, "135")...)
	for _, ring := range []string{"225", "-135", "45.0", "3645"} {
		b := numbers(t, append(at, ring)...)
		if *b.Ring != 45 {
			t.Errorf("--ring %s is ring_deg %g, want 45", ring, *b.Ring)
		}
		for k := range a.Loss {
			if a.Loss[k] != b.Loss[k] || a.Bare[k] != b.Bare[k] {
				t.Fatalf("--ring %s: pixel %d loses %g, with 45 %g", ring, k, b.Loss[k], a.Loss[k])
			}
		}
	}
	worst := 0.0
	for k := range a.Loss {
		worst = max(worst, math.Abs(a.Loss[k]-other.Loss[k]))
	}
	if worst < .3 {
		t.Errorf("ring 45 and 135 differ by %.2f stop at most", worst)
	}
}

// The numbers are those of the picture's own model, through the same filter.
func TestFrameNumbersAreThePictures(t *testing.T) {
	r, _, err := solveFile(discard(nil), breakwater, "", "")
	if err != nil {
		t.Fatal(err)
	}
	p, err := r.Frame(plan.FrameOptions{Second: 30, Filter: "variable light", Setting: 4, Ring: 30, W: 8, H: 5})
	if err != nil {
		t.Fatal(err)
	}
	n := numbers(t, "--second", "30", "--size", "8x5", "--filter", "variable light", "--setting", "4", "--ring", "30")
	m := r.Shot.MomentAt(30)
	if n.Heading != m.HeadingDeg || n.Pitch != m.PitchDeg || n.Second != 30 || *n.SettingInStops != 4 {
		t.Errorf("heading %g pitch %g second %g setting %v", n.Heading, n.Pitch, n.Second, n.SettingInStops)
	}
	for k := range p.Bare {
		if p.Bare[k] != n.Bare[k] || p.Loss[k] != n.Loss[k] || p.Sky[k] != n.Sky[k] {
			t.Fatalf("pixel %d: %g %g %v, want %g %g %v", k, n.Bare[k], n.Loss[k], n.Sky[k], p.Bare[k], p.Loss[k], p.Sky[k])
		}
	}
}

// What the command line leaves open is the call's, or what that filter does best with.
func TestFrameFillsInTheRing(t *testing.T) {
	r, _, err := solveFile(discard(nil), breakwater, "", "")
	if err != nil {
		t.Fatal(err)
	}
	n := numbers(t, "--second", "5", "--size", "4x4")
	if n.Filter != r.Call.Filter || (n.Ring != nil) != r.Call.HasRing || n.Ring != nil && *n.Ring != r.Call.RingDeg {
		t.Errorf("%s at %v, the call is %s at %g", n.Filter, n.Ring, r.Call.Filter, r.Call.RingDeg)
	}
	for _, name := range []string{"CPL", "ND16/PL", "variable light"} {
		for _, k := range r.Candidates {
			if k.Filter != name {
				continue
			}
			if n := numbers(t, "--second", "5", "--size", "4x4", "--filter", name); name != r.Call.Filter && *n.Ring != k.RingDeg {
				t.Errorf("%s at %g, judged best at %g", name, *n.Ring, k.RingDeg)
			}
			break
		}
	}
}

func TestUsableSettings(t *testing.T) {
	marked := kit.Filter{Name: "v", Kind: kit.Variable, FromStops: 1.6, ToStops: 5, Marks: []float64{2, 3, 4, 5}}
	free := marked
	free.Marks = nil
	between := marked
	between.Between = true
	for _, c := range []struct {
		f       kit.Filter
		setting float64
		ok      bool
	}{
		{marked, 2, true}, {marked, 1.6, true}, {marked, 2.5, false}, {marked, 6, false}, {marked, 0, false},
		{free, 2.5, true}, {free, 5.1, false}, {between, 2.7, true}, {between, 1.5, false},
		{kit.Filter{Name: "d", Kind: kit.Density, Stops: 3}, 3, false},
	} {
		if err := usable(c.f, c.setting); (err == nil) != c.ok {
			t.Errorf("%s %v at %g: %v", c.f.Name, c.f.Marks, c.setting, err)
		}
	}
}

func TestTurnableRings(t *testing.T) {
	for _, c := range []struct {
		f    kit.Filter
		ring float64
		ok   bool
	}{
		{kit.Filter{Kind: kit.Polariser}, 37, true},
		{kit.Filter{Kind: kit.Density}, 0, false},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingFixed, FixedDeg: 40}, 40, true},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingFixed, FixedDeg: 40}, 220, true},
		{kit.Filter{Kind: kit.Polariser, Ring: kit.RingFixed, FixedDeg: 40}, 41, false},
		{kit.Filter{Kind: kit.Hybrid, Ring: kit.RingClicks, ClickDeg: 15}, 195, true},
		{kit.Filter{Kind: kit.Hybrid, Ring: kit.RingClicks, ClickDeg: 15}, 20, false},
	} {
		if err := turnable(c.f, c.ring); (err == nil) != c.ok {
			t.Errorf("%+v at %g: %v", c.f, c.ring, err)
		}
	}
}

// An output file is replaced whole, a link goes on pointing at it, and nothing else is left behind.
func TestWriteOutput(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "frame.png"), filepath.Join(dir, "link.png")
	for _, text := range []string{"one", "another"} {
		if err := writeOutput(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, _ := os.ReadFile(path); string(got) != text {
			t.Fatalf("%q, want %q", got, text)
		}
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skip(err)
	}
	if err := writeOutput(link, []byte("through a link")); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "through a link" {
		t.Errorf("the link's file holds %q", got)
	}
	if st, err := os.Lstat(link); err != nil || st.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v", err)
	}
	if all, _ := os.ReadDir(dir); len(all) != 2 {
		t.Errorf("left behind: %v", all)
	}
	if err := writeOutput(dir, nil); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: %v", err)
	}
	if err := writeOutput(filepath.Join(dir, "no such folder", "x.png"), nil); err == nil {
		t.Error("a folder that is not there")
	}
}

func TestPixels(t *testing.T) {
	for _, text := range []string{"", "x", "16", "16x", "0x9", "-1x9", "16x9x4", "9000x9", "8192x8192", "1e3x9"} {
		if w, h, err := pixels(text); err == nil {
			t.Errorf("%q is read as %d by %d", text, w, h)
		}
	}
	if w, h, err := pixels("1920x1080"); err != nil || w != 1920 || h != 1080 {
		t.Errorf("%d %d %v", w, h, err)
	}
}

// BenchmarkFramePNG is a whole run of the command for a frame half water at 1920x1080. Asked: 1 s.
func BenchmarkFramePNG(b *testing.B) {
	args := []string{"frame", breakwater, "--second", "5", "--filter", "CPL", "-o", filepath.Join(b.TempDir(), "frame.png")}
	for b.Loop() {
		answered(b, args...)
	}
}

// A JPEG holds the picture that a PNG of the same frame does, within what its quality costs.
func TestJPEGIsThePicture(t *testing.T) {
	dir := t.TempDir()
	var means [2][3]float64
	for i, name := range []string{"a.png", "a.jpeg"} {
		path := filepath.Join(dir, name)
		if code := run(discard(nil), []string{"frame", breakwater, "--second", "1", "--size", "96x54", "-o", path}); code != exitDone {
			t.Fatalf("%s: exit %d", name, code)
		}
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		img, format, err := image.Decode(f)
		f.Close()
		if want := []string{"png", "jpeg"}[i]; err != nil || format != want || img.Bounds() != image.Rect(0, 0, 96, 54) {
			t.Fatalf("%s: %s, %v", name, format, err)
		}
		for y := range 54 {
			for x := range 96 {
				r, g, b, _ := img.At(x, y).RGBA()
				for k, v := range []uint32{r, g, b} {
					means[i][k] += float64(v>>8) / (96 * 54)
				}
			}
		}
	}
	for k := range 3 {
		if d := math.Abs(means[0][k] - means[1][k]); d > 1 || means[0][k] < 10 {
			t.Errorf("channel %d has a mean of %.1f as PNG and %.1f as JPEG", k, means[0][k], means[1][k])
		}
	}
}
