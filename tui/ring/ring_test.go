package ring

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"github.com/charmbracelet/x/ansi"
)

var sizes = map[string]Size{"small": Small, "large": Large}

// middles returns the mean place of the full and of the hollow dots, from the ring's middle, right and down.
func middles(d dots) (fx, fy, hx, hy float64) {
	var nf, nh float64
	mid := float64(d.n-1) / 2
	for y := range d.n {
		for x := range d.n {
			dx, dy := float64(x)-mid, float64(y)-mid
			switch d.at(x, y) {
			case full:
				fx, fy, nf = fx+dx, fy+dy, nf+1
			case hollow:
				hx, hy, nh = hx+dx, hy+dy, nh+1
			}
		}
	}
	return fx / nf, fy / nf, hx / nh, hy / nh
}

// At every half-hour the mark stands where the clock has it, nearer than to any other half-hour, and the other one
// exactly opposite.
func TestTheMarkStandsAtItsHalfHour(t *testing.T) {
	for name, s := range sizes {
		seen := map[string]bool{}
		for half := range 24 {
			deg := float64(half) * 15
			fx, fy, hx, hy := middles(s.drawn(deg))
			got := math.Atan2(fx, -fy) * 180 / math.Pi
			if off := math.Abs(math.Remainder(got-deg, 360)); off >= 7.5 {
				t.Errorf("%s: at %g° it is drawn at %g°", name, deg, got)
			}
			if r := math.Hypot(fx, fy); math.Abs(r-float64(s.radius)) >= 0.75 {
				t.Errorf("%s: at %g° the mark is off the ring, %g dots from its middle", name, deg, r)
			}
			if math.Abs(fx+hx) > 1e-9 || math.Abs(fy+hy) > 1e-9 {
				t.Errorf("%s: at %g° the marks are not opposite: %g, %g and %g, %g", name, deg, fx, fy, hx, hy)
			}
			seen[fmt.Sprint(fx, fy)] = true
		}
		if len(seen) != 24 {
			t.Errorf("%s: %d places for 24 half-hours", name, len(seen))
		}
	}
}

// Nothing inside reaches the outside, wherever the marks stand.
func TestTheRingIsClosed(t *testing.T) {
	for name, s := range sizes {
		for half := range 24 {
			d := s.drawn(float64(half) * 15)
			seen := map[[2]int]bool{}
			queue := [][2]int{{d.n / 2, d.n / 2}}
			for len(queue) > 0 {
				p := queue[0]
				queue = queue[1:]
				if p[0] < 0 || p[1] < 0 || p[0] >= d.n || p[1] >= d.n {
					t.Fatalf("%s, half-hour %d: the ring is open", name, half)
				}
				if seen[p] || d.at(p[0], p[1]) != nothing {
					continue
				}
				seen[p] = true
				for _, by := range [][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
					queue = append(queue, [2]int{p[0] + by[0], p[1] + by[1]})
				}
			}
		}
	}
}

func canvas(s Size, ascii bool) (panel.Window, func() string) {
	c, pen := new(cells.Canvas), &cells.Pen{Profile: cells.NoColour, ASCII: ascii}
	c.Reset(s.Cols(), s.Rows())
	return panel.NewWindow(c, pen, nil), func() string { return ansi.Strip(strings.Join(pen.Lines(c, nil), "\n")) }
}

// The full and the hollow mark differ by shape, without colour, in half blocks and in ASCII: one turned by half a
// turn is another picture, though both are right places.
func TestFullAndHollowDifferWithoutColour(t *testing.T) {
	for name, s := range sizes {
		for half := range 12 {
			deg := float64(half) * 15
			a, b := s.drawn(deg), s.drawn(deg+180)
			for _, ascii := range []bool{false, true} {
				other := 0
				for y := range s.Rows() {
					for x := range s.Cols() {
						r, _ := glyph(a.at(x, 2*y), a.at(x, 2*y+1), ascii)
						q, _ := glyph(b.at(x, 2*y), b.at(x, 2*y+1), ascii)
						if r != q {
							other++
						}
					}
				}
				if other == 0 {
					t.Errorf("%s, %g°, ASCII %v: the two marks look alike", name, deg, ascii)
				}
			}
		}
	}
}

// What is drawn full is what is said first: 135° is "10:30 or 4:30".
func TestTheSpokenMarkIsFull(t *testing.T) {
	w, text := canvas(Small, true)
	Draw(w, 0, 0, Small, 135)
	lines := strings.Split(text(), "\n")
	if !strings.Contains(strings.Join(lines[:3], ""), "@") || !strings.Contains(strings.Join(lines[4:], ""), "o") || !strings.Contains(lines[3], "10:30") {
		t.Errorf("the upper mark is not the full one:\n%s", strings.Join(lines, "\n"))
	}
}

func TestRingsAsDrawn(t *testing.T) {
	for _, c := range []struct {
		size  Size
		ascii bool
		want  string
	}{
		{Small, false, `
    ▄▄▄▄▄
  ▄▀     ▀▄
███        █
▀█▀  9:30 █▀█
 ▀▄       █▀▀
   ▀▄▄▄▄▄▀
`},
		{Small, true, `
    .....
  .'     '.
@@@        :
@@@  9:30 ooo
 '.       ooo
   '.....'
`},
		{Large, false, `
      ▄▄█▀▀▀▀▀█▄▄
    ▄▀▀         ▀▀▄
▄▄▄██      12     ▀█
█████              ▀█
█████    facing   ▄▄█▄▄
  █     the lens  █   █
  ▀█              █▄▄▄█
   ▀█      6      █▀
     ▀█▄▄     ▄▄█▀
        ▀▀▀▀▀▀▀
`},
	} {
		w, text := canvas(c.size, c.ascii)
		Draw(w, 0, 0, c.size, 105)
		got := text()
		if trimmed(got) != strings.Trim(c.want, "\n") {
			t.Errorf("ASCII %v:\n%s", c.ascii, got)
		}
		for _, r := range got {
			if c.ascii && r >= 0x80 {
				t.Fatalf("%q is not ASCII", r)
			}
		}
	}
}

func trimmed(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}
