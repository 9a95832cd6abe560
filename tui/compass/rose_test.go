package compass

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

func TestRoseColumns(t *testing.T) {
	for _, c := range []struct {
		deg  float64
		cols int
		want int
	}{{0, 73, 0}, {90, 73, 18}, {180, 73, 36}, {359.9, 73, 72}, {-90, 73, 54}, {450, 73, 18}, {360, 73, 0}} {
		if got := roseColumn(c.deg, c.cols); got != c.want {
			t.Errorf("%g° of %d columns: %d, want %d", c.deg, c.cols, got, c.want)
		}
	}
}

// roseCanvas draws the bars of a rose on 73 columns.
func roseCanvas(o *compass.Rose, p cells.Profile) *cells.Canvas {
	c := paneltest.Canvas(73, 10)
	roseBars(o, panel.NewWindow(c, &cells.Pen{Profile: p}, nil))
	return c
}

// The bars are as high as the effects, the best ring stands behind the one in use, and a heading that
// gets brighter has a plus.
func TestRoseBars(t *testing.T) {
	o := &compass.Rose{HasRing: true, SkyOK: true, StepDeg: 5, Rays: make([]plan.RoseRay, 72)}
	for i := range o.Rays {
		o.Rays[i] = plan.RoseRay{HeadingDeg: 5 * float64(i), InUse: -1, Strongest: -2}
	}
	o.Rays[18].InUse, o.Rays[18].Strongest = 0.5, -0.5
	o.Rays[36].InUse, o.Rays[36].Strongest = 0, 0
	for _, p := range []cells.Profile{cells.TrueColour, cells.Sixteen, cells.NoColour} {
		c := roseCanvas(o, p)
		column := func(x int) string {
			var b strings.Builder
			for y := 9; y >= 0; y-- {
				r := c.At(x, y).Rune
				if r == '█' && c.At(x, y).Fg != cells.Chart {
					r = '░' // the best ring, told by its colour
				}
				b.WriteRune(r)
			}
			return b.String()
		}
		// One stop is 4 of 10 cells of 2½ stops, two are 8.
		if got := column(3); got != "████░░░░  " {
			t.Errorf("profile %d: one stop of two: %q", p, got)
		}
		if got := column(18); got[0] != '+' || strings.Contains(got, "█") {
			t.Errorf("profile %d: half a stop brighter: %q", p, got)
		}
		if got := column(36); strings.TrimRight(got, " ") != "▁" {
			t.Errorf("profile %d: nothing: %q", p, got)
		}
	}
	// Where the ring in use is the best one, no other stands above it.
	for i := range o.Rays {
		o.Rays[i].InUse = -0.03 * float64(i)
		o.Rays[i].Strongest = o.Rays[i].InUse
	}
	c := roseCanvas(o, cells.TrueColour)
	for y := range c.H {
		for x := range c.W {
			if at := c.At(x, y); at.Bg == cells.Dim || at.Fg == cells.Dim {
				t.Fatalf("another ring at %d,%d", x, y)
			}
		}
	}
	o.SkyOK = false
	for x := range 73 {
		if c := roseCanvas(o, cells.TrueColour); c.At(x, 9).Rune != ' ' {
			t.Fatal("bars without a sky")
		}
	}
}

// Without a ring the strip shows where a polariser could do something.
func TestRoseWithoutARing(t *testing.T) {
	o := &compass.Rose{SkyOK: true, StepDeg: 5, Rays: make([]plan.RoseRay, 72)}
	for i := range o.Rays {
		o.Rays[i].Strength = 2.5
	}
	if c := roseCanvas(o, cells.TrueColour); c.At(40, 0).Rune != '█' {
		t.Errorf("a strength of 2½ stops is drawn as %q", c.At(40, 0).Rune)
	}
	v, b := open(t, 120, 36, nil)
	for at := range b.CardCount() { // the demo has cards of both kinds
		b.Load(at)
		text, ring := b.Text(), v.got.rose.HasRing
		if strings.Contains(text, "what a ring could do") == ring || strings.Contains(text, "best ring") != ring {
			t.Errorf("%s, with a ring %v:\n%s", b.R.Call.Filter, ring, text)
		}
	}
}

// A leg that turns is marked over all the headings it goes through, also across north.
func TestHeadingsOfALegHaveNoGaps(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	for leg := range b.R.Legs {
		list := v.got.legHeadings(leg)
		for i := 1; i < len(list); i++ {
			if math.Abs(math.Remainder(list[i]-list[i-1], 360)) > 1.5 {
				t.Fatalf("leg %d jumps from %g° to %g°", leg+1, list[i-1], list[i])
			}
		}
		ends := b.R.Legs[leg].Heading
		if math.Abs(math.Remainder(list[0]-ends[0], 360)) > 1e-6 || math.Abs(math.Remainder(list[len(list)-1]-ends[1], 360)) > 1e-6 {
			t.Errorf("leg %d goes from %g° to %g°, marked from %g° to %g°", leg+1, ends[0], ends[1], list[0], list[len(list)-1])
		}
	}
}

// The ground is drawn to one scale: so many metres east are twice as many cells as north, and everything
// fits.
func TestGroundMap(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for range 300 {
		a := &compass.Above{
			Min: compass.Spot{East: -1000 * rnd.Float64(), North: -1000 * rnd.Float64()},
			Max: compass.Spot{East: 1000 * rnd.Float64(), North: 1000 * rnd.Float64()},
		}
		c := paneltest.Canvas(30+rnd.Intn(100), 8+rnd.Intn(40))
		g := newGroundMap(a, c.All())
		for _, p := range []compass.Spot{a.Min, a.Max, {}, {East: a.Min.East, North: a.Max.North}} {
			if x, y := g.cell(p); x < 1 || y < 1 || x >= c.W-1 || y >= c.H-1 {
				t.Fatalf("%+v of %+v is at %d,%d in %dx%d", p, a, x, y, c.W, c.H)
			}
		}
		x0, y0 := g.cell(compass.Spot{})
		x1, _ := g.cell(compass.Spot{East: 400 * g.metresCell})
		_, y1 := g.cell(compass.Spot{North: 400 * g.metresCell})
		if x1-x0 != 400 || absInt(y0-y1-200) > 1 {
			t.Fatalf("400 cells of ground are %d columns east and %d rows north", x1-x0, y0-y1)
		}
		if metres, cols := g.scale(c.W / 4); cols > 0 && math.Abs(float64(cols)*g.metresCell-metres) > g.metresCell {
			t.Fatalf("a bar of %d columns is said to be %g m, a column is %g m", cols, metres, g.metresCell)
		}
	}
}

func TestArrows(t *testing.T) {
	for deg, want := range map[float64]rune{0: '↑', 44: '↗', 90: '→', 180: '↓', 270: '←', 337: '↖', 338: '↑', -90: '←', 720: '↑'} {
		if got := arrow(deg, false); got != want {
			t.Errorf("%g°: %c, want %c", deg, got, want)
		}
	}
	for deg, want := range map[float64]rune{0: '^', 50: '>', 180: 'v', 300: '<', 359: '^'} {
		if got := arrow(deg, true); got != want {
			t.Errorf("%g° in ASCII: %c, want %c", deg, got, want)
		}
	}
}

// The arrows on the way point where the camera looks: an orbit's at its subject.
func TestFromAboveOnTheScreen(t *testing.T) {
	v, b := open(t, 200, 60, nil)
	text := b.Text()
	for _, want := range []string{"o take-off", "subject", " m ", "◆"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q", want)
		}
	}
	b.PlayTo(b.R.Legs[1].FromS) // to the orbit
	l := &v.got.above.Legs[1]
	g := newGroundMap(v.got.above, paneltest.Canvas(90, 30).All())
	for _, p := range l.Points {
		x, y := g.cell(p.Spot)
		tx, ty := g.cell(l.Target[0])
		to := math.Atan2(float64(tx-x), float64(2*(y-ty))) * 180 / math.Pi
		if off := math.Abs(math.Remainder(to-p.HeadingDeg, 360)); off > 12 {
			t.Errorf("on the screen the subject is %.0f° beside the heading", off)
		}
	}
}
