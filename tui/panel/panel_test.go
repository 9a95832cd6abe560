package panel

import (
	"strings"
	"testing"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui/cells"
	"github.com/charmbracelet/x/ansi"
)

// canvas is a window of its own, with what was clicked and the lines that were drawn.
func canvas(cols, rows int) (w Window, hits *[]Hit, lines func() []string) {
	c, pen := newCanvas(cols, rows), &cells.Pen{Profile: cells.NoColour}
	hits = new([]Hit)
	return NewWindow(c, pen, hits), hits, func() (out []string) {
		for _, l := range pen.Lines(c, nil) {
			out = append(out, ansi.Strip(l))
		}
		return out
	}
}

// A click gets the cell relative to the window that the area was added in, also through parts of parts.
func TestClicksAreRelativeToTheWindow(t *testing.T) {
	w, hits, _ := canvas(40, 20)
	var gotX, gotY int
	w.Sub(5, 2, 30, 15).In(Box(3, 4, 20, 5)).OnClick(Box(1, 1, 4, 2), func(_ Bench, x, y int) { gotX, gotY = x, y })
	h := &(*hits)[0]
	if h.Rect != Box(9, 7, 4, 2) || !h.Contains(9, 7) || !h.Contains(12, 8) || h.Contains(13, 8) || h.Contains(9, 9) {
		t.Fatalf("the area is %+v", h.Rect)
	}
	if h.Do(nil, 12, 8); gotX != 4 || gotY != 2 {
		t.Errorf("clicked at %d, %d", gotX, gotY)
	}
	quiet := NewWindow(newCanvas(3, 3), &cells.Pen{}, nil)
	quiet.OnClick(Box(0, 0, 3, 3), nil) // nobody listens
}

// The head shows the longest text that fits beside its title, and the focus without colour.
func TestHead(t *testing.T) {
	for _, c := range []struct {
		cols  int
		focus bool
		want  string
	}{
		{40, true, "▸ Legs ───────────── 12 min, 2 batteries"},
		{40, false, "  Legs ───────────── 12 min, 2 batteries"},
		{22, true, "▸ Legs ──────── 12 min"},
		{12, true, "▸ Legs ─────"},
	} {
		w, _, lines := canvas(c.cols, 1)
		Head(w, c.focus, "Legs", "", "12 min, 2 batteries", "12 min")
		if got := lines()[0]; got != c.want {
			t.Errorf("%d columns: %q, expected %q", c.cols, got, c.want)
		}
	}
}

func TestTabsChoose(t *testing.T) {
	w, hits, lines := canvas(30, 1)
	picked := -1
	Tabs(w, []string{"Sky", "Heading"}, 1, func(p int) { picked = p })
	if got := strings.TrimRight(lines()[0], " "); got != "  Sky   ▸ Heading" {
		t.Errorf("%q", got)
	}
	for i, h := range *hits {
		if h.Do(nil, h.X, h.Y); picked != i {
			t.Errorf("a click on tab %d chooses %d", i, picked)
		}
	}
}

func TestKeepInView(t *testing.T) {
	for _, c := range []struct{ top, cursor, lines, rows, want int }{
		{0, 0, 10, 4, 0}, {0, 3, 10, 4, 0}, {0, 4, 10, 4, 1}, {5, 2, 10, 4, 2}, {8, 9, 10, 4, 6}, {3, 1, 2, 4, 0}, {0, 9, 10, 1, 9},
	} {
		if got := KeepInView(c.top, c.cursor, c.lines, c.rows); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// testForm is a form of ten numbers, the cursor on one of them.
func testForm(cursor int) *Form {
	f := &Form{Cursor: cursor, Focus: true, Shown: func(r Row) (string, bool) { return r.Label, r.Label == "3" }, Click: func(Bench, int) {}}
	for i := range 10 {
		label := string(rune('0' + i))
		f.Rows = append(f.Rows, Row{Path: label, Label: label, Spec: &field.Spec{Key: label, Unit: "m"}})
	}
	return f
}

// The line under the cursor is on the screen, with what is wrong below it, and marks say that there is more.
func TestAFormKeepsItsCursorAndItsFault(t *testing.T) {
	for cursor := range 10 {
		w, hits, lines := canvas(40, 4)
		f := testForm(cursor)
		f.Typing.Fault = "a number from 0 to 9"
		first, n := f.Draw(w, 0)
		text := lines()
		at := -1
		for y, l := range text {
			if strings.HasPrefix(l, "▸ "+f.Rows[cursor].Label) {
				at = y
			}
		}
		if n != 4 || at != cursor-first || !strings.Contains(text[at+1], "! a number from 0 to 9") {
			t.Fatalf("cursor %d: from line %d, %d lines\n%s", cursor, first, n, strings.Join(text, "\n"))
		}
		if above, below := strings.HasSuffix(text[0], "▲"), strings.HasSuffix(text[3], "▼"); above != (first > 0) || below != (first+3 < 10) { // the fault takes one of the four
			t.Errorf("cursor %d: marks %v %v from line %d", cursor, above, below, first)
		}
		if len(*hits) != 3 {
			t.Errorf("cursor %d: %d lines answer to the mouse", cursor, len(*hits))
		}
	}
	w, _, lines := canvas(40, 4)
	f := testForm(1)
	f.Focus = false
	f.Typing.Fault = "of another form"
	f.Draw(w, 0)
	if text := strings.Join(lines(), "\n"); strings.Contains(text, "▸") || strings.Contains(text, "!") {
		t.Errorf("a form without the focus:\n%s", text)
	}
}

func TestValuesForPeople(t *testing.T) {
	for _, c := range []struct {
		text string
		spec field.Spec
		want string
	}{
		{"330 60", field.Spec{Pair: true}, "330→60"},
		{"sun+90", field.Spec{Pair: true}, "sun+90"},
		{"two words", field.Spec{}, "two words"},
		{"2026-09-18T19:40:00", field.Spec{Key: "take_off"}, "2026-09-18 19:40"},
	} {
		if got := Pretty(c.text, &c.spec); got != c.want {
			t.Errorf("%q: %q", c.text, got)
		}
	}
	for key, want := range map[string]string{"lat": "latitude", "heading_deg": "heading", "speed_ms": "speed", "stills_too": "stills too"} {
		if got := Label(key); got != want {
			t.Errorf("%s: %q", key, got)
		}
	}
	for second, want := range map[float64]string{0: "0 s", 59.4: "59 s", 60: "1:00", 125: "2:05"} {
		if got := FlightTime(second); got != want {
			t.Errorf("%v s: %q", second, got)
		}
	}
}

// A paragraph keeps its lead's width, and only ASCII means only ASCII.
func TestPara(t *testing.T) {
	pen := &cells.Pen{ASCII: true}
	got := Section(pen, 20, "Why", []string{"loses 2⅓ stops at its heaviest mark"}, Plain)
	if len(got) < 4 || got[0] != (Line{}) || got[1].Text != "Why" || got[2].Lead != "· " || got[3].Lead != "  " || got[2].Text != "loses 2 1/3 stops" {
		t.Errorf("%+v", got)
	}
	for _, l := range got {
		if cells.Width(l.Lead+l.Text) > 20 {
			t.Errorf("%q is too wide", l.Lead+l.Text)
		}
	}
	if Section(pen, 20, "Why", nil, Plain) != nil {
		t.Error("a title without a text")
	}
}

func newCanvas(w, h int) *cells.Canvas {
	c := new(cells.Canvas)
	c.Reset(w, h)
	return c
}
