package cells

import (
	"image/color"
	"math"
	"math/rand"
	"strings"
	"testing"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
)

func encode(p *Pen, draw func(w Window), w, h int) []string {
	c := newCanvas(w, h)
	draw(c.All())
	return p.Lines(c, nil)
}

func TestRunsOfAColourAreWrittenOnce(t *testing.T) {
	red, blue := RGB(200, 0, 0), RGB(0, 0, 200)
	p := &Pen{Profile: TrueColour}
	line := encode(p, func(w Window) {
		w.Text(0, 0, "aaa", Style{Fg: red})
		w.Text(3, 0, "bb", Style{Fg: blue})
	}, 6, 1)[0]
	if want := "\x1b[38;2;200;0;0maaa\x1b[38;2;0;0;200mbb \x1b[m"; line != want {
		t.Errorf("got %q, want %q", line, want)
	}
}

func TestEqualHalvesAreABlankOnAGround(t *testing.T) {
	var pic Picture
	pic.Reset(2, 2)
	a, b := RGB(10, 20, 30), RGB(40, 50, 60)
	pic.Pix = []Colour{a, a, a, b}
	line := encode(&Pen{Profile: TrueColour}, func(w Window) { w.Picture(0, 0, &pic) }, 2, 1)[0]
	if want := "\x1b[48;2;10;20;30m \x1b[38;2;10;20;30;48;2;40;50;60m▀\x1b[m"; line != want {
		t.Errorf("got %q, want %q", line, want)
	}
}

func TestPlainProfilesWriteNoColour(t *testing.T) {
	var pic Picture
	pic.Reset(4, 2)
	for i := range pic.Pix {
		v := uint8(i % 4 * 80)
		pic.Pix[i] = RGB(v, v, v)
	}
	draw := func(w Window) {
		w.Picture(0, 0, &pic)
		w.Text(4, 0, "x°", Style{Fg: Accent, Bg: BandGround})
		w.Text(6, 0, "e", Style{Fg: EditText, Bg: EditGround})
	}
	line := encode(&Pen{Profile: NoColour}, draw, 8, 1)[0]
	if want := " -*@x°\x1b[7me\x1b[m "; line != want {
		t.Errorf("without colour: got %q, want %q", line, want)
	}
	for _, b := range []byte(encode(&Pen{Profile: TrueColour, ASCII: true}, draw, 8, 1)[0]) {
		if b >= 0x80 {
			t.Fatal("ASCII has a byte above 127")
		}
	}
}

// A smooth gradient has no edges that are not there: its letters change one shade at a time, and no colour is used.
func TestSixteenColoursShadeWithLetters(t *testing.T) {
	var pic Picture
	pic.Reset(64, 2)
	for i := range 64 {
		v := Quantise(uint8(4 * i))
		pic.Pix[i], pic.Pix[64+i] = RGB(v, v, v), RGB(v, v, v)
	}
	line := encode(&Pen{Profile: Sixteen}, func(w Window) { w.Picture(0, 0, &pic) }, 64, 1)[0]
	steps := 0
	for i := 1; i < len(line); i++ {
		if line[i] != line[i-1] {
			steps++
		}
	}
	if steps != len(shades)-1 {
		t.Errorf("%d steps in %q, want one for every shade", steps, line)
	}
}

// A full block stays one where the profile leaves its ground to the terminal: a blank would be a hole.
func TestAFullBlockIsNeverAHole(t *testing.T) {
	for name, theme := range map[string]*Theme{"dark": &dark, "light": &light, "either": &either, "sunlit": sunlit, "night": night} {
		for _, profile := range []Profile{NoColour, Sixteen, TwoFiftySix, TrueColour} {
			p := &Pen{Profile: profile, Theme: theme}
			c := newCanvas(4, 2)
			c.All().Bars(0, 0, 2, []float64{1, 1, .5, 0}, Style{Fg: Chart}, ChartLow)
			em := vt.NewEmulator(4, 2)
			if _, err := em.WriteString(strings.Join(p.Lines(c, nil), "\r\n")); err != nil {
				t.Fatal(err)
			}
			if full, blank := em.CellAt(0, 1), em.CellAt(3, 0); full.Content == " " && equal(full.Style.Bg, blank.Style.Bg) {
				t.Errorf("%s, profile %d: a full bar looks like none", name, profile)
			}
		}
	}
}

// What is encoded, an independent terminal emulator must show: the letters, the colours and the
// attributes of every cell, for random canvases, themes and profiles.
func TestATerminalShowsWhatWasDrawn(t *testing.T) {
	const w, h = 40, 8
	rnd := rand.New(rand.NewSource(7))
	letters := []rune("ab ▀█▁▆·│ é")
	for round := 0; round < 150; round++ {
		p := &Pen{Profile: []Profile{Sixteen, TwoFiftySix, TrueColour}[round%3], Theme: []*Theme{&dark, &light, &either, sunlit, night}[round/3%5]}
		colour := func() Colour {
			switch rnd.Intn(4) {
			case 0:
				return RGB(uint8(rnd.Intn(256)), uint8(rnd.Intn(256)), 7)
			case 1:
				return Default
			}
			return kindRole | Colour(1+rnd.Intn(roleCount-1))
		}
		c := newCanvas(w, h)
		win := c.All()
		for i := 0; i < 120; i++ {
			s := Style{Fg: colour(), Bg: colour(), Attr: Attr(rnd.Intn(8))}
			x, y := rnd.Intn(w), rnd.Intn(h)
			for j := 0; j < 1+rnd.Intn(6); j++ {
				win.Set(x+j, y, letters[rnd.Intn(len(letters))], s)
			}
		}
		all := vt.NewEmulator(w, h)
		if _, err := all.WriteString(strings.Join(p.Lines(c, nil), "\r\n")); err != nil {
			t.Fatal(err)
		}
		// Cells that are written one by one, each with a reset, inherit nothing: the whole must look
		// the same.
		var alone strings.Builder
		one := newCanvas(1, 1)
		for y := 0; y < h; y++ {
			for x := 0; x < w; x++ {
				*one.At(0, 0) = *c.At(x, y)
				alone.Write(p.Line(one, 0))
				alone.WriteString("\x1b[m")
			}
			if y < h-1 {
				alone.WriteString("\r\n")
			}
		}
		em := vt.NewEmulator(w, h)
		if _, err := em.WriteString(alone.String()); err != nil {
			t.Fatal(err)
		}
		for y := 0; y < h; y++ {
			for x := 0; x < w; x++ {
				want, got := em.CellAt(x, y), all.CellAt(x, y)
				blank := want.Content == " "
				if got.Content != want.Content || !equal(got.Style.Bg, want.Style.Bg) || got.Style.Attrs&uv.AttrReverse != want.Style.Attrs&uv.AttrReverse ||
					!blank && (!equal(got.Style.Fg, want.Style.Fg) || got.Style.Attrs != want.Style.Attrs || got.Style.Underline != want.Style.Underline) {
					t.Fatalf("round %d (%d,%d): shows %+v, drawn %+v, alone %+v", round, x, y, got, c.At(x, y), want)
				}
				if exact := c.At(x, y); p.Profile == TrueColour && exact.Fg&kindMask == kindRGB && !blank && !same(got.Style.Fg, exact.Fg) {
					t.Fatalf("(%d,%d) letter %v, drawn %x", x, y, got.Style.Fg, exact.Fg)
				}
			}
		}
	}
}

func equal(a, b color.Color) bool {
	if a == nil || b == nil {
		return a == b
	}
	r, g, bl, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	return r == r2 && g == g2 && bl == b2
}

func same(c color.Color, want Colour) bool {
	if want == Default {
		return c == nil
	}
	if c == nil {
		return false
	}
	r, g, b, _ := c.RGBA()
	wr, wg, wb := want.parts()
	return uint8(r>>8) == wr && uint8(g>>8) == wg && uint8(b>>8) == wb
}

func TestWidthsAreOneMeasure(t *testing.T) {
	for _, c := range []struct {
		text string
		cols int
	}{{"abc", 3}, {"▀▁█", 3}, {"─│┌", 3}, {"°±·…", 4}, {"●○▲▼▸", 5}, {"漢字", 4}, {"e\u0301", 1}, {"\x1b[31m", 4}, {"a\tb", 2}, {"’–−→", 4}} {
		if got := Width(c.text); got != c.cols {
			t.Errorf("Width(%q) = %d, want %d", c.text, got, c.cols)
		}
	}
	// The runtime cuts lines by its own measure; on what is drawn here the two must agree.
	for _, r := range "abcXYZ019 ▀▁▂▃▄▅▆▇█─│┌┐└┘╌·…°±−→‹›▸▾▲▼●○½×–’é" {
		if RuneWidth(r) != ansi.StringWidth(string(r)) {
			t.Errorf("%q: %d columns here, %d in the runtime", r, RuneWidth(r), ansi.StringWidth(string(r)))
		}
	}
}

func TestWideCharactersAreNeverCutInTwo(t *testing.T) {
	c := newCanvas(4, 1)
	w := c.All()
	w.Text(0, 0, "漢字", Style{})
	w.Set(1, 0, 'x', Style{}) // overwrites the right half
	p := &Pen{Profile: NoColour}
	if got := string(p.Line(c, 0)); got != " x字" || Width(got) != 4 {
		t.Errorf("got %q", got)
	}
	w.Text(3, 0, "漢", Style{}) // no room for it
	if got := string(p.Line(c, 0)); Width(got) != 4 {
		t.Errorf("got %q", got)
	}
}

func TestWrapKeepsTheTextAndTheWidth(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	letters := []rune("abc de fgh 漢 ij°")
	for round := 0; round < 300; round++ {
		var b strings.Builder
		for i := 0; i < 60; i++ {
			b.WriteRune(letters[rnd.Intn(len(letters))])
		}
		cols := 2 + rnd.Intn(30)
		lines := Wrap(b.String(), cols)
		for _, l := range lines {
			if Width(l) > cols {
				t.Fatalf("%q is wider than %d", l, cols)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if bare(strings.Join(lines, "")) != bare(b.String()) {
			t.Fatal("wrapping lost or changed text")
		}
		if w := Width(Cut(b.String(), cols)); w > cols {
			t.Fatalf("cut to %d columns it has %d", cols, w)
		}
	}
}

// lightness is CIE 1976 L* of an exact colour (sRGB, D65), to check the ramps by.
func lightness(c Colour) float64 {
	r, g, b := c.parts()
	y := 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
	if y > 216.0/24389 {
		return 116*math.Cbrt(y) - 16
	}
	return y * 24389 / 27
}

func TestRampsRiseInLightness(t *testing.T) {
	for name, r := range map[string]*Ramp{"cividis": &Cividis, "viridis": &Viridis} {
		last, colours := -1.0, map[Colour]bool{}
		for i := 0; i <= 1000; i++ {
			c := r.At(float64(i) / 1000)
			colours[c] = true
			if l := lightness(c); l < last {
				t.Fatalf("%s falls in lightness at %d", name, i)
			} else {
				last = l
			}
		}
		if len(colours) != Levels {
			t.Errorf("%s has %d colours, want %d", name, len(colours), Levels)
		}
		last = -1
		for i := 0; i < 8; i++ {
			l := lightness(paletteColour(int(r.Step256(float64(i) / 7.99))))
			if l <= last {
				t.Errorf("%s: step %d of the 256 colours does not rise (%.1f after %.1f)", name, i, l, last)
			}
			last = l
		}
	}
}

func TestQuantise(t *testing.T) {
	seen := map[uint8]bool{}
	for v := 0; v < 256; v++ {
		q := Quantise(uint8(v))
		seen[q] = true
		if d := int(q) - v; d > 5 || d < -5 {
			t.Errorf("%d becomes %d", v, q)
		}
	}
	if len(seen) != Levels || Quantise(0) != 0 || Quantise(255) != 255 {
		t.Errorf("%d levels, ends %d and %d", len(seen), Quantise(0), Quantise(255))
	}
}

// A picture's pixel is off by what cannot be seen: grey stays grey, the ends stay the ends, the brightness is off by no more
// than half a level and rounding, a channel by no more than half a step of colour beside that.
func TestPictureColour(t *testing.T) {
	for v := range 256 {
		c := PictureColour(uint8(v), uint8(v), uint8(v))
		if r, g, b := c.RGB(); r != Quantise(uint8(v)) || g != r || b != r {
			t.Fatalf("grey %d becomes %d %d %d", v, r, g, b)
		}
	}
	rnd := rand.New(rand.NewSource(3))
	for range 100_000 {
		in := [3]uint8{uint8(rnd.Intn(256)), uint8(rnd.Intn(256)), uint8(rnd.Intn(256))}
		c := PictureColour(in[0], in[1], in[2])
		r, g, b := c.RGB()
		for i, out := range [...]uint8{r, g, b} {
			if d := int(out) - int(in[i]); d > 6 || d < -6 {
				t.Fatalf("%v becomes %d %d %d", in, r, g, b)
			}
		}
		if d := c.Luma() - RGB(in[0], in[1], in[2]).Luma(); d > 4 || d < -4 {
			t.Fatalf("%v becomes %d %d %d: brighter by %d", in, r, g, b, d)
		}
	}
}

func TestProfileAndTheme(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want Profile
	}{
		{map[string]string{"TERM": "xterm-256color"}, TwoFiftySix},
		{map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor"}, TrueColour},
		{map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"}, NoColour},
		{map[string]string{"TERM": "dumb", "COLORTERM": "truecolor"}, NoColour},
		{map[string]string{}, NoColour},
		{map[string]string{"TERM": "linux"}, Sixteen},
		{map[string]string{"console": "acts on codes"}, TrueColour},
		{map[string]string{"console": "acts on codes", "NO_COLOR": "1"}, NoColour},
		{map[string]string{"console": "acts on codes", "TERM": "dumb"}, NoColour},
		{map[string]string{"console": "acts on codes", "TERM": "xterm"}, Sixteen}, // a shell that sets TERM knows better
		{map[string]string{"console": "acts on codes", "TERM": "xterm-256color"}, TwoFiftySix},
		{map[string]string{"COLORTERM": "truecolor"}, NoColour},
	} {
		if got := DetectProfile(func(k string) string { return c.env[k] }, c.env["console"] != ""); got != c.want {
			t.Errorf("%v: %d, want %d", c.env, got, c.want)
		}
	}
	for _, c := range [][3]string{{"", "", "either"}, {"", "15;0", "dark"}, {"", "0;15", "light"}, {"", "0;default;7", "light"}, {"dark", "0;15", "dark"}, {"light", "15;0", "light"}} {
		if got := ThemeByName(c[0], c[1]).Name(); got != c[2] {
			t.Errorf("--theme %q, COLORFGBG %q: %s, want %s", c[0], c[1], got, c[2])
		}
	}
}

// A theme that is asked for by name paints every cell of the screen, whatever is drawn, and what it writes stands out
// from that; one that follows the terminal leaves the ground to it.
func TestAThemePaintsItsGround(t *testing.T) {
	for _, profile := range []Profile{Sixteen, TwoFiftySix, TrueColour} {
		for _, name := range []string{"light", "dark"} {
			p := &Pen{Profile: profile, Theme: ThemeByName(name, "")}
			c := newCanvas(12, 3)
			c.All().Text(1, 1, "plain", Style{})
			c.All().Text(7, 1, "dim", Style{Fg: Dim, Attr: Reverse})
			em := vt.NewEmulator(12, 3)
			if _, err := em.WriteString(strings.Join(p.Lines(c, nil), "\r\n")); err != nil {
				t.Fatal(err)
			}
			for y := range 3 {
				for x := range 12 {
					if em.CellAt(x, y).Style.Bg == nil {
						t.Fatalf("%s, profile %d: the cell at %d, %d has the terminal's own ground", name, profile, x, y)
					}
				}
			}
			on, off := brightness(em.CellAt(2, 1).Style.Fg), brightness(em.CellAt(2, 1).Style.Bg)
			if (name == "light") != (off > on) || math.Abs(on-off) < 0.6 {
				t.Errorf("%s, profile %d: letters of %.2f on %.2f", name, profile, on, off)
			}
		}
		p := &Pen{Profile: profile, Theme: ThemeByName("", "0;15")}
		c := newCanvas(3, 1)
		if line := string(p.Line(c, 0)); line != "   " {
			t.Errorf("profile %d: %q on the terminal's own ground", profile, line)
		}
	}
	if line := string((&Pen{Profile: NoColour, Theme: sunlit}).Line(newCanvas(3, 1), 0)); line != "   " {
		t.Errorf("without colour: %q", line)
	}
}

func brightness(c color.Color) float64 {
	if c == nil {
		return -1
	}
	r, g, b, _ := c.RGBA()
	return (0.21*float64(r) + 0.72*float64(g) + 0.07*float64(b)) / 0xffff
}

func TestThemesGoInACircle(t *testing.T) {
	own := ThemeByName("", "")
	for _, from := range []*Theme{own, sunlit, night} {
		seen, at := map[*Theme]bool{}, from
		for range 3 {
			at = at.Next(own)
			seen[at] = true
		}
		if at != from || len(seen) != 3 {
			t.Errorf("from %s: %d themes, and then %s", from.Name(), len(seen), at.Name())
		}
	}
}

func TestBars(t *testing.T) {
	lines := encode(&Pen{Profile: NoColour}, func(w Window) {
		w.Bars(0, 0, 2, []float64{0, 0.25, 0.5, 0.75, 1, math.NaN()}, Style{Fg: RGB(200, 200, 200)}, Default)
	}, 6, 2)
	if lines[0] != "   ▄█ " || lines[1] != "▁▄███·" {
		t.Errorf("got %q", lines)
	}
}

func benchPicture() *Canvas {
	var pic Picture
	pic.Reset(100, 60)
	for i := range pic.Pix {
		x, y := float64(i%100)/100, float64(i/100)/60
		v := Quantise(uint8(255 * (0.3 + 0.6*x*y)))
		pic.Pix[i] = RGB(v, v, Quantise(uint8(255*(0.4+0.5*y))))
	}
	c := newCanvas(100, 30)
	c.All().Picture(0, 0, &pic)
	return c
}

func TestAPictureAllocatesNothingForACell(t *testing.T) {
	c := benchPicture()
	for _, profile := range []Profile{NoColour, Sixteen, TwoFiftySix, TrueColour} {
		p := &Pen{Profile: profile}
		p.Lines(c, nil)
		n := testing.AllocsPerRun(20, func() {
			for y := 0; y < c.H; y++ {
				p.Line(c, y)
			}
		})
		if n != 0 {
			t.Errorf("profile %d: %v allocations a picture, want none", profile, n)
		}
	}
}

// 100 by 30 cells of a smooth gradient, the half blocks placed and encoded.
func BenchmarkPicture100x30(b *testing.B) {
	c := benchPicture()
	for name, profile := range map[string]Profile{"none": NoColour, "16": Sixteen, "256": TwoFiftySix, "true": TrueColour} {
		b.Run(name, func(b *testing.B) {
			p := &Pen{Profile: profile}
			var bytes int
			b.ReportAllocs()
			for i := 0; i < b.N; i++ {
				bytes = 0
				for y := 0; y < c.H; y++ {
					bytes += len(p.Line(c, y))
				}
			}
			b.ReportMetric(float64(bytes), "bytes/frame")
		})
	}
}

// newCanvas returns a blank grid.
func newCanvas(w, h int) *Canvas {
	c := new(Canvas)
	c.Reset(w, h)
	return c
}

func TestFit(t *testing.T) {
	const why, path = "not saved: there is no such folder; make it or save elsewhere: ", "/home/somebody/cards/of/a/trip/1-breakwater.yaml"
	for _, c := range []struct {
		text, path string
		cols       int
		want       string
	}{
		{why + path, path, 200, why + path},
		{why + path, path, 90, why + "/home/so…breakwater.yaml"},
		{why + path, path, 78, "not saved: there is no such folder; make it or save elsewhere  ! says all"},
		{why + path, path, 40, "not saved: there is no such…  ! says all"},
		{strings.Repeat("word ", 20), "", 30, "word word word wo…  ! says all"},
	} {
		got := Fit(c.text, c.path, c.cols, "  ! says all")
		if Width(got) > c.cols {
			t.Errorf("%d columns: %q", c.cols, got)
		}
		if c.cols != 90 && got != c.want || c.cols == 90 && !(strings.HasPrefix(got, why+"/home") && strings.HasSuffix(got, ".yaml")) {
			t.Errorf("%d columns: %q, want %q", c.cols, got, c.want)
		}
	}
}
