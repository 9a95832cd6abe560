package pixels

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math/rand"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

func TestChoose(t *testing.T) {
	for _, c := range []struct {
		word, env string
		profile   cells.Profile
		ascii     bool
		want      Mode
	}{
		{"", "TERM=xterm-256color", cells.TrueColour, false, Ask},
		{"auto", "TERM=xterm-256color", cells.TwoFiftySix, false, Ask},
		{"auto", "TERM=xterm", cells.Sixteen, false, Off},
		{"auto", "TERM=xterm-256color NO_COLOR=1", cells.NoColour, false, Off},
		{"auto", "TERM=tmux-256color TMUX=/tmp/s,1,0", cells.TrueColour, false, Off},
		{"auto", "TERM=xterm-256color STY=1.tty", cells.TrueColour, false, Off},
		{"auto", "TERM=screen-256color", cells.TwoFiftySix, false, Off},
		{"auto", "TERM=linux", cells.TrueColour, false, Off},
		{"auto", "TERM=xterm-256color", cells.TrueColour, true, Never},
		{"off", "TERM=xterm-kitty", cells.TrueColour, false, Off},
		{"kitty", "TERM=tmux-256color TMUX=/tmp/s,1,0", cells.TrueColour, false, Sure},
		{"kitty", "TERM=xterm", cells.Sixteen, false, Sure},
		{"kitty", "TERM=xterm-256color", cells.TrueColour, true, Never},
	} {
		env := func(name string) string {
			for _, e := range strings.Fields(c.env) {
				if v, ok := strings.CutPrefix(e, name+"="); ok {
					return v
				}
			}
			return ""
		}
		if got := Choose(c.word, &cells.Pen{Profile: c.profile, ASCII: c.ascii}, env); got != c.want {
			t.Errorf("%q in %s: %v, want %v", c.word, c.env, got, c.want)
		}
	}
}

// Where P cannot help, what it says stands whole in the narrowest window, and names what does help if anything does.
func TestSwitchWhereNoneAre(t *testing.T) {
	for mode, helps := range map[Mode]bool{Off: true, Never: false} {
		l := Layer{Out: NewSender(nil, func() {})}
		l.Begin(mode)
		if said := l.Switch(); len(said) > 58 || strings.Contains(said, "--pixels kitty") != helps {
			t.Errorf("%d columns: %q", len(said), said)
		}
	}
}

func TestAnswers(t *testing.T) {
	yes := fmt.Sprintf("\x1b_Gi=%d;OK\x1b\\", question)
	for _, c := range []struct {
		text  string
		shows bool
		w, h  int
	}{
		{yes, true, 0, 0},
		{fmt.Sprintf("\x1b_Gi=%d;ENOTSUP: no\x1b\\", question), false, 0, 0},
		{"\x1b_Gi=31;OK\x1b\\", false, 0, 0}, // to somebody else's question
		{"\x1b[6;18;9t", false, 9, 18},
		{"\x1b[6;18t", false, 0, 0},
		{"", false, 0, 0},
	} {
		if shows, w, h := answered(c.text); shows != c.shows || w != c.w || h != c.h {
			t.Errorf("%q: %v, %d by %d", c.text, shows, w, h)
		}
	}
}

// A picture comes whole out of the pieces it is sent in, and a piece is short.
func TestSend(t *testing.T) {
	for _, n := range []int{1, payload/4*3 - 1, payload / 4 * 3, payload/4*3 + 1, 20000} {
		file := make([]byte, n)
		rand.New(rand.NewSource(1)).Read(file)
		p := Picture{ID: 5, PNG: file}
		pieces := p.send()
		for i, x := range pieces {
			if len(x.code) > 1024+64 || x.more != (i < len(pieces)-1) {
				t.Errorf("%d bytes: piece %d of %d has %d", n, i, len(pieces), len(x.code))
			}
		}
	}
}

// The true picture is transparent in just the cells where something else was written over the half blocks.
func TestWordsStayReadable(t *testing.T) {
	var c cells.Canvas
	c.Reset(20, 6)
	var pic cells.Picture
	pic.Reset(10, 8)
	w := c.All()
	w.Picture(4, 1, &pic)
	w.Patch(4, 1, 10, 4, plain{}, 0)
	w.Text(6, 2, "50 m", cells.Style{})
	w.Set(5, 1, '▀', cells.Style{})
	w.InPicture(5, 1)                                // a mark that the true picture has as well
	w.Sub(0, 0, 8, 6).Patch(4, 1, 10, 4, plain{}, 1) // cut off: none
	list := spots(&c, nil)
	if len(list) != 1 {
		t.Fatalf("%d places", len(list))
	}
	never := func() bool { return false }
	got, err := draw(never, list, 3, 5)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(got[0].PNG))
	if err != nil || img.Bounds() != image.Rect(0, 0, 30, 20) {
		t.Fatal(img.Bounds(), err)
	}
	for y := range 20 {
		for x := range 30 {
			_, _, _, a := img.At(x, y).RGBA()
			if word := y/5 == 1 && x/3 >= 2 && x/3 < 6; word != (a == 0) {
				t.Fatalf("pixel %d, %d: alpha %d", x, y, a)
			}
		}
	}
	w.Fill(0, 0, 20, 6, cells.Style{}) // a box over all of it
	if list := spots(&c, nil); len(list) != 0 {
		t.Error("a place that is covered is one still")
	}
}

// plain draws pictures of one colour.
type plain struct{}

func (plain) Draw(_ func() bool, parts []int, w, h int) ([]*image.NRGBA, error) {
	var out []*image.NRGBA
	for range parts {
		img := image.NewNRGBA(image.Rect(0, 0, 10*w, 4*h))
		for i := range img.Pix {
			img.Pix[i] = 255
		}
		img.SetNRGBA(0, 0, color.NRGBA{1, 2, 3, 255})
		out = append(out, img)
	}
	return out, nil
}

// However many pictures there are and however large the cells: a terminal need not hold more than the limit.
func TestCoarserWhenLarge(t *testing.T) {
	for _, c := range [][3]int{{300, 100, 1}, {80, 24, 2}, {300, 100, 12}, {40, 10, 1}} {
		list := make([]spot, c[2])
		for i := range list {
			list[i].W, list[i].H = c[0], c[1]
		}
		for _, cell := range [][2]int{{9, 18}, {20, 45}, {1, 1}, {200, 200}} {
			w, h := cellFor(list, cell[0], cell[1])
			if n := c[0] * c[1] * c[2] * w * h; n > mostPixels && w*h > 1 {
				t.Errorf("%v in cells of %v: %d pixels", c, cell, n)
			}
		}
	}
}

// layered is a layer on a terminal that shows pictures, and what it began in the background.
func layered() (l *Layer, work *[]func() tea.Msg) {
	work = new([]func() tea.Msg)
	l = &Layer{Out: NewSender(nil, func() {}), Ask: func(string) {}, Size: func() (int, int) { return 3, 5 }}
	l.Work = func(_ string, f func() tea.Msg, _ func(string) tea.Msg) tea.Cmd {
		*work = append(*work, f)
		return f
	}
	l.Begin(Sure)
	return l, work
}

// Nothing is drawn before the screen has rested, nor while an answer is on its way; what is drawn while a key comes is
// thrown away; what was only hidden is not drawn again.
func TestRest(t *testing.T) {
	l, work := layered()
	var c cells.Canvas
	screen := func(words string) {
		c.Reset(20, 6)
		var pic cells.Picture
		pic.Reset(10, 8)
		c.All().Picture(4, 1, &pic)
		c.All().Patch(4, 1, 10, 4, plain{}, 0)
		c.All().Text(6, 2, words, cells.Style{})
		l.See(&c)
	}
	long := func() { l.stirred = time.Now().Add(-rest) }
	screen("50 m")
	if l.Later() == nil || l.Later() != nil {
		t.Fatal("not one wait runs")
	}
	l.Take(restMsg{}, false)
	long()
	l.Take(restMsg{}, true)
	if len(*work) != 0 {
		t.Fatal("drawn before the screen rests")
	}
	l.Take(restMsg{}, false)
	if len(*work) != 1 {
		t.Fatal("not drawn")
	}
	l.Stir()
	l.Take((*work)[0](), false)
	if l.up || l.Out.Next() != nil {
		t.Fatal("a picture comes after a key")
	}
	long()
	l.Take(restMsg{}, false)
	l.Take((*work)[1](), false)
	for l.Out.Next() != nil {
	}
	if !l.up || !l.Out.up {
		t.Fatal("no picture stands")
	}
	l.Stir()
	if code := string(l.Out.Next()); !strings.Contains(code, "d=i") {
		t.Fatalf("a key wrote %q", code)
	}
	long()
	l.Take(restMsg{}, false)
	if len(*work) != 2 || !strings.Contains(string(l.Out.Next()), "a=p") {
		t.Fatal("it is drawn again, or not shown again")
	}
	screen("100 m")
	if l.up {
		t.Fatal("it stands over other words")
	}
}

// A picture is put at its row and column, which terminals count from 1 and name in this order (ECMA-48, CUP).
func TestAPictureStandsInItsPlace(t *testing.T) {
	p := Picture{ID: 9, X: 5, Y: 2, Cols: 30, Rows: 12}
	for _, want := range []string{"\x1b[3;6H", "c=30", "r=12", "i=9"} {
		if got := p.place(); !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}
