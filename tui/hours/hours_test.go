package hours

import (
	"strings"
	"testing"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// open is the hours at work on the first card of the demo.
func open(tb testing.TB, w, h int, env map[string]string) (*View, *paneltest.Bench) {
	tb.Helper()
	v := New()
	b := paneltest.Open(tb, v, w, h, env)
	if v.shown(b) == nil || v.running {
		tb.Fatal("the day is not worked out")
	}
	return v, b
}

// take hands the view what a command brings.
func take(v *View, b *paneltest.Bench, cmd tea.Cmd) {
	for _, msg := range paneltest.Results(cmd) {
		v.Take(b, msg)
	}
}

func TestHoursAtEverySize(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	for _, over := range []hours.Span{hours.OverDay, hours.OverYear} {
		for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}, {200, 22}, {64, 50}} {
			for _, p := range []cells.Profile{cells.TrueColour, cells.TwoFiftySix, cells.Sixteen, cells.NoColour} {
				b.Pen().Profile = p
				b.Resize(size[0], size[1])
				text := b.Text()
				for _, want := range []string{"by how well the bag holds it", "sun 10° at W", "19:40", "light as wanted", "○ the card", " here", "blank: night", "x cannot be shot"} {
					if !strings.Contains(text, want) {
						t.Errorf("%v %v: no %q:\n%s", size, over, want, text)
					}
				}
			}
		}
		if v.over != over {
			t.Fatalf("over %v", v.over)
		}
		b.Press("y")
	}
}

// The picture and the words lie in the room, do not overlap, and every cell that is shown is found again
// by the mouse.
func TestHoursFit(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("y")
	for o, g := range v.got {
		for w := 58; w <= 198; w += 7 {
			for h := 17; h <= 56; h += 3 {
				r := fit(g, w, h)
				if r.pic.Empty() {
					t.Errorf("span %d has no picture in %d × %d", o, w, h)
					continue
				}
				for _, x := range []panel.Rect{r.pic, r.signs, r.words} {
					if x.X < 0 || x.Y < 0 || x.X+x.W > w || x.Y+x.H > h {
						t.Errorf("%d × %d: %+v", w, h, r)
					}
				}
				if r.words.H < 3 || r.words.W < 30 || r.words.X < r.pic.X+r.pic.W && r.words.Y < r.signs.Y+r.signs.H {
					t.Errorf("%d × %d: words %+v beside the picture %+v", w, h, r.words, r.pic)
				}
				for i := range g.Cells {
					x, y, lower, ok := r.cell(g, i)
					if !ok {
						if s := g.Cells[i].State; s != hours.Night && s != hours.Skipped {
							t.Errorf("%d × %d: %s is not shown", w, h, g.When(i))
						}
						continue
					}
					if lower {
						i-- // the mouse finds the upper one of two
					}
					if j, ok := r.under(g, x, y); !ok || j != i {
						t.Fatalf("%d × %d: cell %d at %d, %d is found as %d", w, h, i, x, y, j)
					}
				}
			}
		}
	}
}

// Enter moves the take-off to the time under the cursor, and the answers are those of the new time.
func TestHoursPick(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	g := v.shown(b)
	if v.at(g) != g.Own || g.When(g.Own) != "19:40" {
		t.Fatalf("the cursor starts at %s", g.When(v.at(g)))
	}
	b.Press("enter")
	if !strings.Contains(b.Said, "already") {
		t.Errorf("the card's own time is no change: %q", b.Said)
	}
	b.Press("left", "down")
	if got := g.When(v.at(g)); got != "18:50" {
		t.Errorf("an hour back and ten minutes on is %s", got)
	}
	if got := b.CardText("take_off"); got != "2026-09-18T19:40:00" {
		t.Errorf("the cursor alone changes the card: %s", got)
	}
	b.Press("enter")
	if got := b.CardText("take_off"); got != "2026-09-18T18:50:00" {
		t.Errorf("take_off is %s", got)
	}
	if own := v.shown(b); own.When(own.Own) != "18:50" || v.at(own) != own.Own || v.of[hours.OverDay].shot != b.R.Shot {
		t.Error("the answers are not those of the new time")
	}
}

func TestHoursCursor(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	g := v.shown(b)
	for range 200 {
		b.Press("down")
	}
	if got := v.at(g); got != len(g.Cells)-1 {
		t.Errorf("down ends at %d", got)
	}
	b.Press("right", "pgdown")
	if got := v.at(g); got != len(g.Cells)-1 {
		t.Errorf("right of the end is %d", got)
	}
	b.Press("pgup")
	if got := g.When(v.at(g)); got != "17:50" {
		t.Errorf("six hours before the end is %s", got)
	}
	b.Press("g")
	if v.at(g) != g.Own {
		t.Error("g does not go to the card")
	}
	list := g.Windows(hours.Score)
	if len(list) < 2 {
		t.Fatal("too few windows to go round")
	}
	for k := range list {
		b.Press("tab")
		if v.at(g) != list[k].Best {
			t.Errorf("Tab %d goes to %s", k, g.When(v.at(g)))
		}
	}
	b.Press("tab", "shift+tab")
	if v.at(g) != list[len(list)-1].Best {
		t.Error("Shift-Tab does not go back")
	}
	b.Press("m")
	if v.by != hours.Sky || !strings.Contains(b.Text(), "darker") {
		t.Error("m does not bring the next measure")
	}
	b.Press("M", "M")
	if v.by != hours.Sun || !strings.Contains(b.Text(), "Low sun") {
		t.Error("M does not bring the one before")
	}
}

// starting is a view with a report and nothing worked out yet.
func starting(t *testing.T) (*View, *paneltest.Bench) {
	_, b := open(t, 120, 36, nil)
	v := New()
	b.View = v
	return v, b
}

// A newer computation stops the one before, whose answer is dropped.
func TestHoursAreSuperseded(t *testing.T) {
	v, b := starting(t)
	v.over = hours.OverYear
	year := v.Kick(b)
	if year == nil || !v.running {
		t.Fatal("the year is not worked out")
	}
	if again := v.Kick(b); again != nil {
		t.Error("the same is started twice")
	}
	if text := b.Text(); !strings.Contains(text, "working out the year: 0 %") {
		t.Errorf("no progress:\n%s", text)
	}
	v.over = hours.OverDay
	day := v.Kick(b)
	if day == nil {
		t.Fatal("the day is not started")
	}
	began := v.gen
	for _, msg := range paneltest.Results(year) {
		if a, ok := msg.(answer); !ok || a.hours != nil || a.gen == began {
			t.Errorf("the year was not stopped: %+v", msg)
		}
		v.Take(b, msg)
	}
	if !v.running || b.Said != "" || v.shown(b) != nil {
		t.Error("the answer that was superseded did something")
	}
	take(v, b, day)
	if g := v.shown(b); g == nil || g.Over != hours.OverDay || v.running {
		t.Fatal("the day is not there")
	}
	if again := v.Kick(b); again != nil {
		t.Error("what is known is worked out again")
	}
	// Back and forth before anything is done comes to rest on what is known.
	v.over = hours.OverYear
	v.Kick(b)
	v.over = hours.OverDay
	if cmd := v.Kick(b); cmd != nil || v.running {
		t.Error("the day that is known is worked out again")
	}
}

// Leaving the view stops a year that is being worked out; nothing is said of it, and when the view is shown
// again it begins anew.
func TestHidingStopsTheYear(t *testing.T) {
	v, b := starting(t)
	v.over = hours.OverYear
	year := v.Kick(b)
	v.Hide()
	for _, msg := range paneltest.Results(year) {
		if a, ok := msg.(answer); ok && a.hours != nil {
			t.Error("the whole year was worked out though nobody looks")
		}
		v.Take(b, msg)
	}
	if v.running || b.Said != "" || v.failed != "" {
		t.Errorf("running %v, said %q, failed %q", v.running, b.Said, v.failed)
	}
	v.Hide() // nothing runs: nothing to stop
	if v.Kick(b) == nil || !v.running {
		t.Error("the year does not begin anew when the view is shown again")
	}
}

// Another card shows nothing of this one, and while a card has a fault nothing is worked out.
func TestHoursOfAnotherCard(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.At = 1
	if v.shown(b) != nil {
		t.Error("the hours of the card before are shown")
	}
	b.Load(1)
	if g := v.shown(b); g == nil || !strings.HasPrefix(g.Shot.Name, "Lighthouse") || v.at(g) != g.Own {
		t.Error("the next card has no hours of its own")
	}
	v, b = starting(t)
	b.Faulty = true
	if v.Kick(b) != nil || !strings.Contains(b.Text(), "the card has to be right first") {
		t.Errorf("with a fault:\n%s", b.Text())
	}
}

func TestHoursMouse(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	g := v.shown(b)
	r := fit(g, b.Room().Cols, b.Room().Rows)
	at := cellIndex(t, g, "10:20")
	x, y, _, _ := r.cell(g, at)
	b.Click(x, y)
	if v.at(g) != at {
		t.Errorf("a click at 10:20 goes to %s", g.When(v.at(g)))
	}
	second := g.Windows(hours.Score)[1]
	clickOn(b, "2 "+g.When(second.Cells[0]))
	if v.at(g) != second.Best {
		t.Errorf("a click on the second window goes to %s", g.When(v.at(g)))
	}
}

// clickOn clicks into the first place of a text on the screen.
func clickOn(b *paneltest.Bench, text string) {
	for y, l := range strings.Split(b.Text(), "\n") {
		if i := strings.Index(l, text); i >= 0 {
			b.Click(cells.Width(l[:i])+3, y)
			return
		}
	}
}

func cellIndex(t *testing.T, g *hours.Hours, when string) int {
	t.Helper()
	for i := range g.Cells {
		if g.When(i) == when {
			return i
		}
	}
	t.Fatalf("no cell at %s", when)
	return 0
}

// Where there is room, the hour under the cursor is told by every measure, and a click takes one.
func TestHoursByEveryMeasure(t *testing.T) {
	v, b := open(t, 200, 60, nil)
	text := b.Text()
	for _, want := range []string{"19:40 by every measure", "▸ call", "  headroom", "clean-ISO light until 20:", "haze is not what this card is about"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q:\n%s", want, text)
		}
	}
	clickOn(b, "  glare  ")
	if v.by != hours.Glare {
		t.Errorf("a click takes %v", v.by)
	}
	_, b = open(t, 80, 24, nil)
	if text := b.Text(); strings.Contains(text, "by every measure") || !strings.Contains(text, "y the year") {
		t.Errorf("80 × 24:\n%s", text)
	}
}

// Without colour, levels are characters that get heavier towards the best.
func TestHoursWithoutColour(t *testing.T) {
	for _, env := range []map[string]string{{"TERM": "xterm", "NO_COLOR": "1"}, {"TERM": "xterm"}} {
		_, b := open(t, 80, 24, env)
		b.Press("y")
		b.Draw()
		for y := range b.Canvas.H {
			for x := range b.Canvas.W {
				if r := b.Canvas.At(x, y).Rune; r == '▀' || r == '▄' {
					t.Fatalf("a half block at %d, %d", x, y)
				}
			}
		}
		if text := b.Text(); !strings.Contains(text, ".:-=+*#@") || !strings.Contains(text, "1-8 light as wanted") {
			t.Errorf("no legend of characters:\n%s", text)
		}
	}
	if shade(0) != '.' || shade(1) != '@' || shade(0.5) != '+' {
		t.Error("the characters of the levels")
	}
}

// A tick moves the progress on while a computation runs, and stops with it.
func TestHoursTicks(t *testing.T) {
	v, b := starting(t)
	b.Waits = true
	v.running = true
	if v.laterTick(b) == nil || !v.ticking || v.laterTick(b) != nil {
		t.Error("one tick at a time is on its way")
	}
	if !v.Take(b, tick{}) || v.ticking {
		t.Error("the tick is not taken")
	}
	v.running = false
	if v.laterTick(b) != nil {
		t.Error("ticks go on when nothing runs")
	}
}
