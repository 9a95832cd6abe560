package lens

import (
	"example.org/skywedge/plan/shot"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// Pictures stay in their room with their labels, never on one another; both are whole or both are halves.
func TestArrange(t *testing.T) {
	for cols := 20; cols <= 110; cols += 3 {
		for rows := 5; rows <= 60; rows += 2 {
			for _, tall := range []float64{9. / 16, 2. / 3} {
				for _, two := range []bool{false, true} {
					l := arrange(cols, rows, tall, two)
					w := l.w
					if l.halves {
						w /= 2
					}
					for i, at := range l.at {
						if at[0] < 0 || at[1] < 0 || at[0]+w > cols || at[1]+l.h/2+2 > rows && at[1]+l.h/2 >= l.end {
							t.Fatalf("%d by %d: picture %d of %d by %d at %v, end %d", cols, rows, i, w, l.h, at, l.end)
						}
						for _, other := range l.at[:i] {
							if at[0] < other[0]+w && at[1] <= other[1]+l.h/2 {
								t.Fatalf("%d by %d: %v lies on %v", cols, rows, at, other)
							}
						}
					}
					if l.end >= rows || l.halves && !two || two && len(l.at) != 2 {
						t.Fatalf("%d by %d, two %v: %+v", cols, rows, two, l)
					}
				}
			}
		}
	}
	// Of the windows that the workbench is laid out for: 200x60, 120x36, 80x24, 60x20.
	for _, c := range []struct {
		cols, rows int
		halves     bool
	}{{96, 44, false}, {48, 24, false}, {41, 13, true}, {58, 14, true}} {
		if l := arrange(c.cols, c.rows, 9./16, true); l.halves != c.halves {
			t.Errorf("%d by %d: %+v", c.cols, c.rows, l)
		}
	}
}

// pane is a view with the picture alone.
type pane struct {
	shown *Shown
	ask   Ask
	t     *testing.T
}

func (p *pane) Name() string      { return "" }
func (p *pane) Keys() []panel.Key { return nil }
func (p *pane) Hide()             {}
func (p *pane) Kick(b panel.Bench) tea.Cmd {
	p.ask.Second = b.Second()
	s, err := Draw(b.Report(), p.ask, nil)
	if err != nil {
		p.t.Fatal(err)
	}
	p.shown = s
	return nil
}
func (p *pane) Take(panel.Bench, tea.Msg) bool { return false }
func (p *pane) Draw(w panel.Window, k panel.Known) {
	p.shown.Draw(w.Sub(0, 0, p.ask.Cols, p.ask.Rows), k, "a filter")
}

func open(t *testing.T, ask Ask, card int) (*pane, *paneltest.Bench) {
	p := &pane{ask: ask, t: t}
	b := paneltest.Open(t, p, 120, 60, nil)
	b.Load(card)
	return p, b
}

// The two pictures show the same scenery: whole ones the same frame, halves one of them mirrored.
func TestTheSameSceneryIsCompared(t *testing.T) {
	for card := range 7 {
		for _, room := range [][2]int{{48, 24}, {41, 13}} {
			p, _ := open(t, Ask{Cols: room[0], Rows: room[1]}, card)
			s := p.shown
			if !s.Filtered {
				if len(s.views) != 1 || s.views[0].through {
					t.Errorf("card %d is bare and has %d views", card+1, len(s.views))
				}
				continue
			}
			bare, through := &s.views[0], &s.views[1]
			if bare.through || !through.through || bare.from != through.from || bare.to != through.to {
				t.Errorf("card %d: %+v and %+v", card+1, bare.from, through.from)
			}
			if s.halved() != (bare.mirrored != through.mirrored) {
				t.Errorf("card %d: halves %v, mirrored %v and %v", card+1, s.halved(), bare.mirrored, through.mirrored)
			}
			if s.halved() { // at the seam both show one column of the frame
				if a, b := bare.column(bare.pic.W-1), through.column(0); a != b {
					t.Errorf("card %d: column %d meets column %d", card+1, a, b)
				}
			}
		}
	}
}

// What is placed in the frame is on the screen, and its legend says what it is.
func TestMarksAndLegend(t *testing.T) {
	for _, c := range []struct {
		card  int
		room  [2]int
		wants []string
	}{
		{0, [2]int{90, 44}, []string{"─── 50 m", "─── 100 m", "─── 200 m", "bar: subject at 180 m, taken as 2 m tall · lines: metres over the ground", "bare · sun 67° left", "a filter"}},
		{0, [2]int{41, 13}, []string{"─── 100 m", "bar: subject, 2 m tall · lines: ground", "a filter · mirrored"}},
		{2, [2]int{48, 24}, []string{"the frame is 60 m wide on the ground"}},
	} {
		_, b := open(t, Ask{Cols: c.room[0], Rows: c.room[1]}, c.card)
		text := b.Text()
		for _, want := range c.wants {
			if !strings.Contains(text, want) {
				t.Errorf("card %d: no %q in\n%s", c.card+1, want, text)
			}
		}
	}
}

// The subject is a bar of one colour that stands out, as tall as its share of the frame.
func TestTheBarIsAsTallAsItIs(t *testing.T) {
	p, b := open(t, Ask{Cols: 90, Rows: 44}, 0)
	f := p.shown.Frame
	f.Subject.Top.Y = f.Subject.Foot.Y + .5 // a quarter of the frame
	b.Draw()
	v := &p.shown.views[0]
	col, _ := v.col(f.Subject.Foot.X, f.W)
	n := 0
	for y := range v.pic.H / 2 {
		at := b.Canvas.At(col, v.y+y)
		for half, c := range []cells.Colour{at.Fg, at.Bg} {
			if c != v.pic.Pix[(2*y+half)*v.pic.W+col-v.x] {
				n++
			}
		}
	}
	if want := v.pic.H / 4; n < want-1 || n > want+1 {
		t.Errorf("%d pixels of %d, want %d", n, v.pic.H, want)
	}
}

// A subject in the middle of the frame stands at the seam of a half; one in the half that is not shown is said to be there.
func TestTheBarInAHalf(t *testing.T) {
	p, b := open(t, Ask{Cols: 41, Rows: 13}, 0)
	if !p.shown.halved() {
		t.Fatal("a whole frame")
	}
	f, v := p.shown.Frame, &p.shown.views[0]
	shown := 1.0 // the side of the half
	if v.from == 0 {
		shown = -1
	}
	for _, c := range []struct {
		x    float64
		want string
		in   bool
	}{{0, "bar: subject", true}, {.001, "bar: subject", true}, {-.001, "bar: subject", true}, {.3 * shown, "bar: subject", true}, {-.3 * shown, "other half", false}} {
		f.Subject.Foot.X, f.Subject.Top.X = c.x, c.x
		if _, in := v.col(c.x, f.W); in != c.in {
			t.Errorf("at %g: shown %v", c.x, in)
		}
		b.Draw()
		if text := b.Text(); !strings.Contains(text, c.want) {
			t.Errorf("at %g: no %q in\n%s", c.x, c.want, text)
		}
	}
}

// Sun, glint and shadow are named where they stand.
func TestPictureNamesSunGlintAndShadow(t *testing.T) {
	p, b := open(t, Ask{Cols: 90, Rows: 44}, 0)
	f := p.shown.Frame
	f.SunIn, f.SunX, f.SunY = true, -.5, .5
	f.Mirror = picture.FramePoint{X: -.5, Y: -.5, In: true}
	f.Shadow = picture.FramePoint{X: 1, Y: -1, In: true}
	text := b.Text()
	for _, word := range []string{"*sun", "oglint", "shadow+"} {
		if strings.Count(text, word) != 2 {
			t.Errorf("%q is not in both pictures", word)
		}
	}
}

// What clips and what is noisy is marked, and can be read without colour.
func TestZebra(t *testing.T) {
	p, b := open(t, Ask{Cols: 90, Rows: 44, Display: Display{Part: plan.AllFiltered, Zebra: true}}, 0)
	v := &p.shown.views[0]
	for i := range v.bad { // a sky that is too bright and a noisy sea
		v.bad[i] = picture.Clipped
		if i >= len(v.bad)/2 {
			v.bad[i] = picture.Noisy
		}
	}
	if about := p.shown.About(); about != "/ 50 % clips · ~ 50 % noisy" {
		t.Errorf("about the picture: %q", about)
	}
	text := b.Text()
	for _, sign := range []string{"/", "~"} {
		if n := strings.Count(text, sign); n < len(v.bad)/2/3 {
			t.Errorf("%d of %d cells show %q", n, len(v.bad)/2, sign)
		}
	}
}

// Each way to expose says what it is, and comes round.
func TestNextExposure(t *testing.T) {
	var d Display
	said := map[string]bool{}
	for range plan.Exposures {
		said[d.NextExposure()] = true
	}
	if len(said) != plan.Exposures || d != (Display{}) {
		t.Errorf("%d ways, then %+v", len(said), d)
	}
}

// Where the sun is outside of the frame, it is said which way to turn for it, and when it is no use.
func TestSunAside(t *testing.T) {
	s := &shot.Shot{}
	for _, c := range []struct {
		azimuth, altitude, heading float64
		want                       string
	}{
		{100, 20, 95, "sun ahead"}, {355, 20, 4, "sun ahead"}, {100, 20, 275, "sun behind"},
		{100, 20, 40, "sun 60° right"}, {10, 20, 330, "sun 40° right"}, {330, 20, 10, "sun 40° left"}, {100, -2, 40, "sun is down"},
	} {
		m := shot.Moment{HeadingDeg: c.heading}
		m.Sun[0].AzimuthDeg, m.Sun[0].AltitudeDeg = c.azimuth, c.altitude
		if got := sunAside(s, &m); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
		ridge := &shot.Shot{Skyline: [][2]float64{{0, 50}, {90, 50}, {180, 50}, {270, 50}}}
		if got := sunAside(ridge, &m); c.altitude > 0 && got != c.want+", behind the ridge" || c.altitude < 0 && got != c.want {
			t.Errorf("behind a ridge, %+v: %q", c, got)
		}
	}
}

// A room too small for a picture, and one before there is a frame, stay empty.
func TestNoFrame(t *testing.T) {
	p, b := open(t, Ask{Cols: 48, Rows: 24}, 0)
	p.ask.Cols = 3
	p.shown, _ = Draw(b.Report(), p.ask, nil)
	if p.shown.Frame != nil || strings.TrimSpace(b.Text()) != "" {
		t.Errorf("%q", b.Text())
	}
}

// What stands under the pictures says what is in them, as fully as there is room for, and what is not.
func TestLegendWords(t *testing.T) {
	p, _ := open(t, Ask{Cols: 90, Rows: 44}, 0)
	s := p.shown
	at := s.Frame.Subject
	for _, c := range []struct {
		change func(p *picture.Places)
		cols   int
		want   string
	}{
		{func(p *picture.Places) { p.AcrossM = 6.25 }, 90, "bar: subject at 180 m, taken as 2 m tall · the frame is 6.2 m wide on the ground"},
		{func(p *picture.Places) { p.AcrossM = 62.5 }, 70, "bar: subject at 180 m, taken as 2 m tall · 62 m wide on the ground"},
		{func(p *picture.Places) { p.AcrossM = 62.5 }, 45, "bar: subject at 180 m, 2 m tall · 62 m wide"},
		{func(p *picture.Places) { p.AcrossM = 62.5 }, 33, "bar: subject, 2 m tall"},
		{func(p *picture.Places) { p.Subject.In, p.Ranges = false, nil }, 60, "the subject is out of the frame"},
		{func(p *picture.Places) { p.Subject.In, p.Ranges = false, nil }, 22, "subject out of frame"},
		{func(p *picture.Places) { p.Subject, p.Ranges = picture.Bar{}, nil }, 60, ""},
	} {
		s.Frame.Places.Subject = at
		was := s.Frame.Places
		c.change(&s.Frame.Places)
		if got := s.legend(c.cols, false); got != c.want {
			t.Errorf("in %d columns: %q, want %q", c.cols, got, c.want)
		}
		s.Frame.Places = was
	}
}

// How the frame is exposed and what was marked in it is said, and nothing where it is as planned.
func TestAboutThePictures(t *testing.T) {
	p, _ := open(t, Ask{Cols: 48, Rows: 24}, 0)
	if got := p.shown.About(); got != "" {
		t.Errorf("as planned: %q", got)
	}
	var d Display
	if said := d.SwitchZebra(); !d.Zebra || !strings.Contains(said, "/ clips, ~ is noisy") {
		t.Errorf("%q", said)
	}
	d.NextExposure()
	p.shown, _ = Draw(p.shown.finer.of, Ask{Cols: 48, Rows: 24, Display: d}, nil)
	v := &p.shown.views[len(p.shown.views)-1]
	for i := range v.bad {
		v.bad[i] = picture.Fine
	}
	first := p.shown.About()
	if !strings.HasSuffix(first, " · nothing clips") {
		t.Errorf("%q", first)
	}
	v.bad[0] = picture.Clipped
	if got := p.shown.About(); got != strings.Replace(first, "nothing clips", "/ under 1 % clips", 1) {
		t.Errorf("%q", got)
	}
	if said := d.SwitchZebra(); d.Zebra || said != "" {
		t.Errorf("%q", said)
	}
}

// One picture alone says whether it is through the filter, and why it is bare.
func TestLabelsOfOnePicture(t *testing.T) {
	for _, c := range []struct {
		part   plan.Part
		filter string
		want   string
	}{{plan.AllFiltered, "", "through a filter"}, {plan.AllBare, "", "bare"}, {plan.AllFiltered, "none", "bare: no filter on this flight"}} {
		p, b := open(t, Ask{Cols: 90, Rows: 44, Display: Display{Part: c.part}}, 0)
		if c.filter != "" {
			b.SetCard(panel.Change{Path: "filter", Text: c.filter})
		}
		if text := b.Text(); !strings.Contains(text, c.want) || len(p.shown.views) != 1 {
			t.Errorf("no %q in\n%s", c.want, text)
		}
	}
}
