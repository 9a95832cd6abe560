//go:build unix

package tui

import (
	"bytes"
	"image"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/internal/screentest"
	"example.org/skywedge/tui/pixels"
)

// openPixels opens a demo card on a terminal that says that it shows pictures, in cells of 9 by 18 pixels.
func openPixels(t *testing.T, card string, w, h int, env ...string) *screentest.Screen {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shot.yaml")
	if err := os.WriteFile(file, examples.Card(card), 0o644); err != nil {
		t.Fatal(err)
	}
	s := open(t, w, h, append([]string{"CARD=" + file}, env...)...)
	s.UntilRaw(pixels.Question())
	s.Type("\x1b[6;18;9t" + answerOf(pixels.Question()))
	s.UntilRaw("\x1b[16t") // the system knows no size of this terminal's cells
	return s
}

// answerOf is what a terminal says to the question whether it shows pictures.
func answerOf(question string) string {
	return "\x1b_G" + regexp.MustCompile(`i=\d+`).FindString(question) + ";OK\x1b\\"
}

// The pictures that are sent are those that the command frame writes, pixel by pixel, but where words stand on them.
func TestPixelsAreTheFrame(t *testing.T) {
	t.Parallel()
	const name = "3-estuary" // its frame has no subject: a bar would stand over it
	s := openPixels(t, name, 120, 36)
	up := s.UntilPictures("two pictures", func(p *screentest.Pictures) bool { return len(p.Up) == 2 }).Up
	bag, faults := kit.ReadBag("bag.yaml", examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	card, faults := shot.ReadCard(name, examples.Card(name))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	sh, faults := card.Shot(bag, time.Now())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	r := plan.Solve(sh, bag, plan.Options{SkipSureness: true})
	for i, part := range []plan.Part{plan.AllBare, plan.AllFiltered} {
		img := up[i].Image(t)
		w, h := 9*up[i].Cols, 18*up[i].Rows
		if img.Rect.Dx() != w || img.Rect.Dy() != h {
			t.Fatalf("picture of %v for %d by %d cells", img.Rect, up[i].Cols, up[i].Rows)
		}
		o := plan.FrameOptions{Ring: math.NaN(), W: w, H: h}
		frame, err := r.Frame(o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := r.Development(o, frame, plan.OneExposure, part)
		if err != nil {
			t.Fatal(err)
		}
		same, cut := compare(t, img, frame.Develop(d, nil))
		if same < 9*cut {
			t.Errorf("picture %d: %d pixels shown and %d left to words", i, same, cut)
		}
		lines := crop(s.Lines(), up[i].X, up[i].Y, up[i].Cols, up[i].Rows+1)
		if label := lines[len(lines)-1]; i == 0 && !strings.HasPrefix(label, "bare") {
			t.Errorf("below the first picture stands %q", label)
		}
	}
}

// compare counts the pixels that are as they should be, and those that are not shown.
func compare(t *testing.T, img *image.NRGBA, rgb []uint8) (same, cut int) {
	t.Helper()
	for k := 0; k < len(rgb)/3; k++ {
		p := img.Pix[4*k:]
		switch {
		case p[3] == 0:
			cut++
		case p[3] == 255 && bytes.Equal(p[:3], rgb[3*k:3*k+3]):
			same++
		default:
			t.Fatalf("pixel %d: %v, want %v", k, p[:4], rgb[3*k:3*k+3])
		}
	}
	return same, cut
}

// Pictures stand while nothing moves; the terminal never keeps more than stand, and in the end none. Everything that is
// sent is read strictly by the protocol.
func TestPixelsComeAndGo(t *testing.T) {
	t.Parallel()
	s := openPixels(t, "2-lighthouse", 120, 36)
	standing := func(n int) func(*screentest.Pictures) bool {
		return func(p *screentest.Pictures) bool { return len(p.Up) == n }
	}
	first := s.UntilPictures("two pictures", standing(2))
	if n := len(first.Held); n != 2 {
		t.Errorf("the terminal keeps %d pictures", n)
	}

	s.Type("\x1b[B") // moves a cursor: the pictures go and come again without being sent
	s.UntilPictures("pictures to go", func(p *screentest.Pictures) bool { return p.Hidden == 2 })
	if p := s.UntilPictures("pictures to come again", standing(2)); p.Sent != first.Sent {
		t.Errorf("%d pictures were sent anew", p.Sent-first.Sent)
	}

	s.Type(".") // the playhead: another picture
	other := s.UntilPictures("another picture", func(p *screentest.Pictures) bool {
		return len(p.Up) == 2 && !bytes.Equal(p.Up[0].PNG, first.Up[0].PNG)
	})
	if len(other.Held) != 2 {
		t.Errorf("after another step %d are kept", len(other.Held))
	}

	s.Type("?") // a box over all of them
	s.Until("search")
	s.UntilPictures("pictures to go", standing(0))
	s.Type("\x1b")
	s.UntilPictures("pictures to come again", standing(2))

	s.Resize(100, 30)
	s.UntilPictures("pictures in a smaller window", func(p *screentest.Pictures) bool {
		for _, v := range p.Up {
			if v.X+v.Cols > 100 || v.Y+v.Rows > 30 {
				return false
			}
		}
		return len(p.Up) == 2
	})

	s.Type("P")
	s.Until("half blocks")
	s.UntilPictures("pictures to go", standing(0))
	s.Type("P")
	s.UntilPictures("pictures to come again", standing(2))
	s.Type("2")
	s.UntilPictures("the map of the sky", func(p *screentest.Pictures) bool {
		return len(p.Up) == 1 && len(p.Held) == 1 && p.Up[0].Cols == 2*p.Up[0].Rows
	})
	s.Type("3")
	s.UntilPictures("a picture a filter", func(p *screentest.Pictures) bool { return len(p.Up) > 4 && len(p.Held) == len(p.Up) })
	s.Type("4")
	s.UntilPictures("pictures to go", standing(0))
	s.Type("1")
	s.UntilPictures("pictures to come again", standing(2))
	s.Type("q")
	if code := s.Ended(); code != 0 {
		t.Errorf("exit %d", code)
	}
	if p := s.Pictures(); len(p.Held)+len(p.Up) != 0 || p.Asked != 1 {
		t.Errorf("in the end %d are kept, %d stand, asked %d times", len(p.Held), len(p.Up), p.Asked)
	}
}

// A terminal that does not answer is asked once and gets nothing else; where none shall be, not even that.
func TestPixelsAreNotForOthers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		env   string
		asked int
	}{{"PIXELS=auto", 1}, {"PIXELS=off", 0}, {"TMUX=/tmp/x,1,0", 0}} {
		s := open(t, 80, 24, c.env)
		s.Until("Legs")
		s.Type("\x1b[B")
		s.Still(200 * time.Millisecond)
		s.Type("q")
		s.Ended()
		raw := s.Raw()
		if n := strings.Count(raw, pixels.Question()); n != c.asked {
			t.Errorf("%s: asked %d times", c.env, n)
		}
		if rest := strings.ReplaceAll(raw, pixels.Question(), ""); strings.Contains(rest, "\x1b_") || strings.Contains(rest, "\x1b[16t") {
			t.Errorf("%s: something else was sent", c.env)
		}
	}
}

// Over a line that takes nothing a picture withholds no screen, and a key ends it: a piece more of it comes at the most.
func TestAPictureWaitsForTheLine(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	o := newTerminal(w, "xterm", nil)
	file := make([]byte, 1<<20) // more than a pipe takes
	o.pictures.Show([]pixels.Picture{{ID: 7, Cols: 2, Rows: 2, PNG: file}})
	held := make([]byte, 1<<10)
	if _, err := io.ReadFull(r, held); err != nil { // it is on its way
		t.Fatal(err)
	}
	if o.withhold() {
		t.Error("a picture withholds the screen")
	}
	o.pictures.Hide()
	frame := strings.Repeat("x", 300)
	if _, err := o.Write([]byte(frame)); err != nil {
		t.Fatal(err)
	}
	got := string(held)
	for !strings.Contains(got, frame) {
		n, err := r.Read(held)
		if err != nil {
			t.Fatal(err)
		}
		got += string(held[:n])
	}
	const pipe = 1 << 16 // what the system keeps of it
	if len(got) > pipe+4096 {
		t.Errorf("%d bytes of the picture come after the key", len(got))
	}
	p, err := screentest.ReadPictures(got)
	if err != nil || p.Sent != 1 || p.Whole != 0 || len(p.Held) != 0 {
		t.Errorf("%v: %d begun, %d whole, %d kept", err, p.Sent, p.Whole, len(p.Held))
	}
	o.finish(time.Second)
	w.Close()
}
