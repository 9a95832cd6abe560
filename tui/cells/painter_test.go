package cells

import (
	"math/rand"
	"strings"
	"testing"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/vt"
)

// Whatever was on the screen before, an independent terminal emulator shows after a change what it shows of the same
// canvas written whole on an empty screen: letters, colours and attributes, wide letters and their halves, other themes,
// other sizes, and what something else has written in between.
func TestAPaintedChangeShowsTheWhole(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	letters := []rune("ab  ▀█▁│ é°日本")
	themes := []*Theme{&dark, &either, sunlit, night}
	for round := range 18 {
		w, h := 9+rnd.Intn(30), 2+rnd.Intn(6)
		pen := &Pen{Profile: []Profile{NoColour, Sixteen, TwoFiftySix, TrueColour}[round%4], Theme: themes[rnd.Intn(len(themes))], ASCII: round%9 == 8}
		var painter Painter
		em := vt.NewEmulator(w, h)
		c := newCanvas(w, h)
		for step := range 25 {
			switch rnd.Intn(12) {
			case 0:
				w, h = 9+rnd.Intn(30), 2+rnd.Intn(6)
				em.Resize(w, h)
				c.Reset(w, h)
			case 1:
				pen.Theme = themes[rnd.Intn(len(themes))]
			case 2:
				_, _ = em.WriteString("\x1b[2J\x1b[1;1Hsomething else\x1b[3;1H")
				painter.Forget()
			case 3:
				c.Reset(w, h)
			}
			colour := func() Colour {
				switch rnd.Intn(4) {
				case 0:
					return RGB(uint8(64*rnd.Intn(4)), 30, 7)
				case 1:
					return Default
				}
				return kindRole | Colour(1+rnd.Intn(roleCount-1))
			}
			for range rnd.Intn(8) {
				text := make([]rune, 1+rnd.Intn(5))
				for i := range text {
					text[i] = letters[rnd.Intn(len(letters))]
				}
				c.All().Text(rnd.Intn(w), rnd.Intn(h), string(text), Style{Fg: colour(), Bg: colour(), Attr: Attr(rnd.Intn(8))})
			}
			codes := string(painter.Paint(nil, pen, c))
			_, _ = em.WriteString(codes)
			if again := painter.Paint(nil, pen, c); len(again) > 0 {
				t.Fatalf("round %d, step %d: what is shown is written again: %q", round, step, again)
			}
			all := vt.NewEmulator(w, h)
			_, _ = all.WriteString(strings.Join(pen.Lines(c, nil), "\r\n"))
			for y := range h {
				for x := range w {
					want, got := all.CellAt(x, y), em.CellAt(x, y)
					blank := want.Content == " " || want.Content == ""
					if got.Content != want.Content && !(blank && (got.Content == " " || got.Content == "")) ||
						!equal(got.Style.Bg, want.Style.Bg) || got.Style.Attrs&uv.AttrReverse != want.Style.Attrs&uv.AttrReverse ||
						!blank && (!equal(got.Style.Fg, want.Style.Fg) || got.Style.Attrs != want.Style.Attrs || got.Style.Underline != want.Style.Underline) {
						t.Fatalf("round %d, step %d (%d,%d): shows %+v, written whole %+v; the change was %q", round, step, x, y, got, want, codes)
					}
				}
			}
		}
	}
}

// A cell that changes costs the way to it and itself, not its row.
func TestAPaintedChangeIsShort(t *testing.T) {
	pen, c := &Pen{Profile: TrueColour, Theme: &dark}, newCanvas(120, 36)
	for y := range 36 {
		c.All().Text(0, y, strings.Repeat("letters ", 15), Style{Fg: Dim})
	}
	var p Painter
	if whole := p.Paint(nil, pen, c); len(whole) < 120*36 {
		t.Errorf("%d bytes for a whole screen", len(whole))
	}
	c.All().Text(50, 7, "7", Style{})
	c.All().Text(53, 7, "8", Style{})
	if got := string(p.Paint(nil, pen, c)); got != "\x1b[8;51H7\x1b[2C8" {
		t.Errorf("%q for two cells", got)
	}
}
