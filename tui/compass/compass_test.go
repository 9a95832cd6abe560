package compass

import (
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
)

// open is the compass at work on the first card of the demo.
func open(tb testing.TB, w, h int, env map[string]string) (*View, *paneltest.Bench) {
	tb.Helper()
	v := New()
	b := paneltest.Open(tb, v, w, h, env)
	if v.got.rose == nil {
		tb.Fatal("the compass is not worked out")
	}
	return v, b
}

func TestCompassHasItsPanesAtEverySize(t *testing.T) {
	for _, c := range []struct {
		w, h  int
		panes [paneCount]bool // on the screen without Tab
	}{{60, 20, [3]bool{true, false, false}}, {80, 24, [3]bool{true, true, false}}, {120, 36, [3]bool{true, true, true}}, {200, 60, [3]bool{true, true, true}}, {200, 22, [3]bool{true, true, false}}} {
		v, b := open(t, c.w, c.h, nil)
		signs := [paneCount]string{"polarised", "NE─", "take-off"}
		for p := range paneCount {
			if shown := strings.Contains(b.Text(), signs[p]); shown != c.panes[p] {
				t.Errorf("%dx%d: %s shown %v:\n%s", c.w, c.h, paneTitle[p], shown, b.Text())
			}
		}
		for p := range paneCount { // Tab brings each
			if v.pane != p || !strings.Contains(b.Text(), signs[p]) {
				t.Errorf("%dx%d: Tab does not bring %s", c.w, c.h, paneTitle[p])
			}
			b.Press("tab")
		}
		b.Press("shift+tab")
		if v.pane != paneCount-1 {
			t.Error("Shift-Tab goes back")
		}
	}
}

// The playhead goes through the flight as in the first view, and what it does not change is not worked
// out again.
func TestCompassFollowsThePlayhead(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	first := v.got
	b.Step(2)
	if b.S <= 0 || v.got.of.second != b.S {
		t.Fatalf("playhead at %v, the compass at %v", b.S, v.got.of.second)
	}
	if v.got.rose == first.rose || v.got.sky == first.sky {
		t.Error("the rose and the map are those of another moment")
	}
	if v.got.above != first.above || &v.got.prints[0] != &first.prints[0] {
		t.Error("the flight is laid out again for every step")
	}
	b.PlayTo(b.R.Legs[1].FromS)
	if v.got.here.Leg != 1 {
		t.Errorf("at the start of leg 2 the compass is on leg %d", v.got.here.Leg+1)
	}
	at := v.got
	b.Press("m")
	if !v.got.of.effect || v.got.rose != at.rose || v.got.pic.Pix[60*25] == at.pic.Pix[60*25] && v.got.pic.Pix[50*10+20] == at.pic.Pix[50*10+20] {
		t.Error("m shows the effect of the ring on the map, and works nothing else out")
	}
	if text := b.Text(); !strings.Contains(text, "half stops darker") { // as without colour
		t.Error("the legend does not say what the map shows")
	}
	b.Load(1)
	if v.got.above == at.above || v.got.of.report != b.R {
		t.Error("another card has the compass of the one before")
	}
}

// Drawing computes nothing: without an answer it says so, and a failure leaves the last good answer and
// the program.
func TestCompassWithoutAnAnswer(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	good, report := v.got, b.R
	v.got, b.R = answer{}, nil
	if text := b.Text(); !strings.Contains(text, "nothing worked out yet") || v.running || v.Kick(b) != nil {
		t.Errorf("before the first answer:\n%s", text)
	}
	v.got, b.R = good, report
	b.R = &plan.Report{Path: make([]shot.Moment, 1), Measures: make([]plan.Measure, 1), Legs: make([]plan.LegReport, 1)}
	cmd := v.Kick(b)
	if cmd == nil {
		t.Fatal("another report asks for no work")
	}
	if v.Kick(b) != nil {
		t.Error("two computations run at once")
	}
	for _, msg := range paneltest.Results(cmd) {
		v.Take(b, msg)
	}
	if !strings.Contains(b.Said, "could not be worked out") || v.running || v.got.rose != good.rose {
		t.Errorf("after a failure: %q, running %v", b.Said, v.running)
	}
}

func TestCompassAnswersToTheMouse(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	r := fit(b.Room(), v.pane).panes[paneAbove]
	b.Click(r.X+5, r.Y+3)
	if v.pane != paneAbove {
		t.Error("a click chooses the pane")
	}
}

func TestCompassInPlainLetters(t *testing.T) {
	_, b := open(t, 120, 36, nil)
	b.Pen().ASCII = true
	for range 2 {
		for i, c := range []byte(b.Text()) {
			if c >= 0x80 {
				t.Fatalf("byte %d of an ASCII screen is %#x:\n%s", i, c, b.Text())
			}
		}
		if strings.Contains(b.Text(), "?  ") {
			t.Errorf("a letter without a stand-in:\n%s", b.Text())
		}
		b.Press("m")
	}
}

// A step of the playhead: the work in the background, and the drawing.
func BenchmarkCompassStep(b *testing.B) {
	for name, size := range map[string][2]int{"120x36": {120, 36}, "200x60": {200, 60}} {
		v, bench := open(b, size[0], size[1], nil)
		b.Run("work/"+name, func(b *testing.B) {
			known := v.got
			for i := range b.N {
				a := answer{of: known.of}
				a.of.second = float64(i % 60)
				a.work(&known, cells.TrueColour)
			}
		})
		b.Run("draw/"+name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				bench.Draw()
			}
		})
	}
}
