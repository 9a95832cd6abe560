package walk

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
)

// All legs on one screen, at every size that the workbench has: what to set on each stands there.
func TestEveryLegIsOnTheScreen(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {100, 30}, {120, 36}, {200, 60}} {
		v := New()
		b := paneltest.Open(t, v, size[0], size[1], nil)
		text := b.Text()
		for _, f := range walk.Of(b.R) {
			for _, l := range f.Legs {
				head, _, _ := strings.Cut(l.Move, ",")
				if !strings.Contains(text, l.Start.Format("15:04")) || !strings.Contains(text, head) {
					t.Errorf("%v: leg %d is not on the screen:\n%s", size, l.Leg+1, text)
				}
			}
		}
		if v.top != 0 {
			t.Error("nothing needs scrolling")
		}
		b.Press("down", "down") // and where all fits nothing scrolls
		b.Text()
		if v.top != 0 {
			t.Errorf("%v: scrolled by %d", size, v.top)
		}
	}
}

// Where not even one line a leg has room, the list scrolls and says so.
func TestAListThatIsTooLongScrolls(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 60, 6, nil)
	if text := b.Text(); !strings.Contains(text, "▼") || strings.Contains(text, "▲") {
		t.Errorf("at the top:\n%s", text)
	}
	b.Press("end")
	if text := b.Text(); strings.Contains(text, "▼") || !strings.Contains(text, "▲") || v.top == 0 {
		t.Errorf("at the bottom:\n%s", text)
	}
}

// Big type is for a terminal that has half blocks; elsewhere the numbers are text.
func TestNumbersAreAlwaysThere(t *testing.T) {
	b := paneltest.Open(t, New(), 120, 36, nil)
	if text := b.Text(); !strings.Contains(text, "▀▀▀") || !strings.Contains(text, "WATCH") {
		t.Errorf("no big type:\n%s", text)
	}
	b.Pen().ASCII = true
	text := b.Text()
	if strings.ContainsAny(text, "▀▄█") || !strings.Contains(text, "1/50") {
		t.Errorf("ASCII:\n%s", text)
	}
}

// Where the words do not fit, what to look out for is the last to go, and what the meter and the light do.
func TestWhatToLookOutForIsTheLastToGo(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 18, nil)
	anew(b, func(r *plan.Report) {
		r.Legs[1].LookOut = []string{"the sky drifts"}
		r.Legs[2].Feasible, r.Legs[2].ShortStops = false, 3
		r.Legs[0].MeterStops = 2.34
	})
	text := b.Text()
	flat := strings.Join(strings.Fields(text), " ") // as if it had not been wrapped
	legs := 0
	for _, f := range walk.Of(b.R) {
		for _, l := range f.Legs {
			for _, o := range append(l.LookOut, l.Short, l.Meter, l.Drift) {
				if !strings.Contains(flat, o) {
					t.Errorf("leg %d: %q is not on the screen:\n%s", l.Leg+1, o, text)
				}
			}
			if len(l.LookOut) > 0 || l.Short != "" {
				legs++
			}
		}
	}
	if strings.Count(text, "WATCH") != legs || strings.Contains(text, "side light") ||
		!strings.Contains(flat, "WATCH: cannot be exposed: 3 stops short at ISO ") || !strings.Contains(flat, "meter at +2⅓") {
		t.Errorf("the short form:\n%s", text)
	}
	b.Resize(60, 8) // one line a leg
	for i, want := range []string{"meter at +2⅓", "orbit", "cannot be exposed"} {
		if line := strings.Split(b.Text(), "\n")[i+1]; !strings.Contains(line, want) {
			t.Errorf("no %q in %q", want, line)
		}
	}
}

// anew shows a report that was changed by hand.
func anew(b *paneltest.Bench, change func(r *plan.Report)) {
	r := *b.R
	r.Legs = slices.Clone(r.Legs)
	s := *r.Shot
	r.Shot = &s
	change(&r)
	b.R = &r
	b.Settle()
}

// A caution is on the screen at every size, also while the list scrolls; with it the batteries and the reserve.
func TestACautionIsAlwaysKept(t *testing.T) {
	for _, card := range []int{0, 3, 6} {
		for _, size := range [][2]int{{60, 4}, {60, 6}, {60, 20}, {80, 24}, {120, 36}, {200, 60}} {
			b := paneltest.Open(t, New(), size[0], size[1], nil)
			b.Load(card)
			for _, key := range []string{"home", "down", "end"} {
				b.Press(key)
				text := b.Text()
				line := strings.Contains(text, "CAUTION: ") && strings.Contains(text, "home with 25 % left")
				full := strings.Contains(text, "Cautions") && strings.Contains(text, "Turn for home while 25 % of the battery is left.")
				if line == full { // one of them
					t.Errorf("card %d at %v after %s: line %v, sentences %v:\n%s", card+1, size, key, line, full, text)
				}
			}
		}
	}
}

// A flight of several batteries says so first, and what has no room is counted.
func TestBatteriesStandInTheCaution(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 16, nil)
	anew(b, func(r *plan.Report) {
		r.Shot.Camera.EnduranceMin, r.Shot.Light.WindMS, r.Shot.Light.AirC = 12, 12, -5
		r.Shot.Settings.HeightCautionM = 10
	})
	lines := strings.Split(strings.TrimRight(b.Text(), "\n"), "\n")
	last := strings.TrimRight(lines[len(lines)-1], " ")
	if !strings.HasPrefix(last, "CAUTION: 3 batteries · home with 25 % left") || !strings.HasSuffix(last, " more") {
		t.Errorf("%q", last)
	}
	b.Resize(32, 16)
	lines = strings.Split(strings.TrimRight(b.Text(), "\n"), "\n")
	if last := lines[len(lines)-1]; !strings.Contains(last, "CAUTION: 3 batteries · home") || cells.Width(last) > 30 {
		t.Errorf("%q", last)
	}
}

func TestTheListFollowsTheCard(t *testing.T) {
	v := New()
	b := paneltest.Open(t, v, 120, 36, nil)
	before := v.of
	b.Load(1)
	if v.of == before || v.of != b.R {
		t.Error("the list is that of an earlier card")
	}
	b.Resize(60, 20)
	for i, l := range strings.Split(b.Text(), "\n") {
		if cells.Width(l) != 58 {
			t.Errorf("line %d has %d cells", i, cells.Width(l))
		}
	}
}
