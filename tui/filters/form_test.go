package filters

import (
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	"github.com/charmbracelet/x/ansi"
)

// atWork is a bench that keeps what the form asks of the workbench.
type atWork struct {
	*paneltest.Bench
	edited       string // the path and what stood in the line
	asked, yes   string
	no           bool // what is asked is declined
	exists, kept bool // the bag's file is there, and unsaved
	readOnly     bool
}

func (b *atWork) Edit(r panel.Row, text string)   { b.edited = r.Path + "=" + text }
func (b *atWork) BagFile() (exists, unsaved bool) { return b.exists, b.kept }
func (b *atWork) MayEditBag() bool                { return !b.readOnly }

func (b *atWork) Nudged(r panel.Row, n int) (string, bool) {
	return b.B.Doc.NudgeText(r.Path, b.B.Doc.At(r.Path).Text(), n, nil)
}

func (b *atWork) Confirm(text, yes, _ string, do func(b panel.Bench)) {
	if b.asked, b.yes = text, yes; !b.no {
		do(b)
	}
}

// inTheForm is the form of a filter at work.
func inTheForm(t *testing.T, w, h int, filter string) (*View, *atWork) {
	t.Helper()
	v, bench := open(t, w, h, nil)
	b := &atWork{Bench: bench, exists: true}
	choose(t, v, bench, filter)
	v.openForm(b)
	return v, b
}

// to puts the cursor on a field by its label.
func (v *View) to(t *testing.T, b *atWork, label string) {
	t.Helper()
	for i, r := range v.rows(b.B) {
		if r.Label == label {
			v.form.cursor = i
			return
		}
	}
	t.Fatalf("%s has no %s", v.part(b.B).Name, label)
}

// The form stands beside the pictures where there is room and over them where there is not, and says which part of the bag
// it shows, what its fields come to, and whether they are saved.
func TestTheFormIsDrawn(t *testing.T) {
	for _, c := range []struct {
		w, h   int
		beside bool
	}{{60, 20, false}, {80, 24, true}, {120, 36, true}, {200, 60, true}} {
		_, b := inTheForm(t, c.w, c.h, "ND16")
		text := b.Text()
		for _, want := range []string{"ND16", "▸ name", "density", "4 stops", "loses 4 stops"} {
			if !strings.Contains(text, want) {
				t.Errorf("%dx%d: %q is missing:\n%s", c.w, c.h, want, text)
			}
		}
		if got := strings.Contains(text, "ND8/PL"); got != c.beside {
			t.Errorf("%dx%d: the other filters beside it: %v\n%s", c.w, c.h, got, text)
		}
	}
	v, b := inTheForm(t, 120, 36, "variable light")
	for _, c := range []struct {
		exists, kept bool
		want         string
	}{{true, false, "saved"}, {true, true, "bag not saved"}, {false, false, "demo bag, a copy"}} {
		b.exists, b.kept = c.exists, c.kept
		canvas := paneltest.Canvas(70, 20)
		v.drawForm(panel.NewWindow(canvas, b.Pen(), nil), b)
		text := textOf(canvas)
		if !strings.Contains(text, "of 14 in the bag · "+c.want) || !strings.Contains(text, "loses 1⅔ stops at its lightest, 4⅔ stops at its heaviest") {
			t.Errorf("%+v:\n%s", c, text)
		}
	}
	for _, c := range []struct{ kind, want string }{{"camera", "M adds a mode"}, {"settings", "m shows what each harm"}} {
		for v.part(b.B).Kind != c.kind {
			inForm(t, v, b, "r")
		}
		if text := b.Text(); !strings.Contains(text, c.want) {
			t.Errorf("%s:\n%s", c.kind, text)
		}
	}
}

// Every key that changes a field changes just that, says why it does not, and never leaves the form's lines.
func TestFieldsOfTheForm(t *testing.T) {
	v, b := inTheForm(t, 120, 36, "ND16")
	filter := func() *kit.Filter {
		f, _ := b.B.FilterByName("ND16")
		return &f
	}
	v.to(t, b, "density")
	for _, c := range []struct {
		key  string
		want float64
	}{{"+", 4.1}, {"-", 4}, {"pgup", 4.5}, {"pgdown", 4}} {
		before := b.B
		if inForm(t, v, b, c.key); b.B == before || filter().Stops < 3 {
			t.Fatalf("%s: %g stops, said %q", c.key, filter().Stops, b.Said)
		}
	}
	if filter().Stops != 4 {
		t.Errorf("there and back: %g stops", filter().Stops)
	}
	if inForm(t, v, b, "delete"); !strings.HasSuffix(b.Said, "a density needs it") || filter().Stops != 4 {
		t.Errorf("a density of nothing: %q", b.Said)
	}
	v.to(t, b, "name")
	if inForm(t, v, b, "+"); b.Said != "Enter edits this field" {
		t.Errorf("a name has no next: %q", b.Said)
	}
	if inForm(t, v, b, "delete"); b.Said != "this field is needed; Enter edits it" {
		t.Errorf("no name: %q", b.Said)
	}
	if inForm(t, v, b, "enter"); !strings.HasSuffix(b.edited, ".name=ND16") {
		t.Errorf("edited %q", b.edited)
	}
	inForm(t, v, b, "m")
	v.to(t, b, "cast")
	if inForm(t, v, b, "enter"); !strings.HasSuffix(b.edited, ".cast_mired=") {
		t.Errorf("a default stands in the line: %q", b.edited)
	}
	same := b.B
	if inForm(t, v, b, "delete"); b.B != same {
		t.Error("what is the default was put back to it")
	}
	inForm(t, v, b, "+")
	if filter().CastMired == 0 {
		t.Fatalf("no cast: %q", b.Said)
	}
	if inForm(t, v, b, "delete"); filter().CastMired != 0 || v.Field(b).Label != "cast" {
		t.Errorf("a cast of %g, at %s", filter().CastMired, v.Field(b).Label)
	}
	inForm(t, v, b, "end", "down", "down")
	if v.Field(b).Spec == nil {
		t.Error("below the last line")
	}
	inForm(t, v, b, "home", "up")
	if v.Field(b).Label != "name" {
		t.Errorf("above the first line: %q", v.Field(b).Label)
	}
	if inForm(t, v, b, "tab"); v.FormOpen() {
		t.Error("Tab does not go back")
	}
}

// What is taken out is asked about, what stays is of the same sort, and the last camera cannot go.
func TestTakingOutOfTheBag(t *testing.T) {
	v, b := inTheForm(t, 120, 36, "ND16")
	n := len(b.B.Filters)
	b.no = true
	if inForm(t, v, b, "x"); b.asked != "Take ND16 out of the bag?" || b.yes != "take it out" || len(b.B.Filters) != n {
		t.Errorf("%q, %q: %d filters", b.asked, b.yes, len(b.B.Filters))
	}
	b.no = false
	if inForm(t, v, b, "x"); len(b.B.Filters) != n-1 || !strings.Contains(b.Said, "u brings it back") {
		t.Fatalf("%d filters: %q", len(b.B.Filters), b.Said)
	}
	for len(b.B.Filters) > 0 {
		inForm(t, v, b, "x")
		if k := v.part(b.B).Kind; k != "filter" {
			t.Fatalf("with %d filters left it stands at a %s", len(b.B.Filters), k)
		}
	}
	b.asked = ""
	if inForm(t, v, b, "x", "d"); b.asked != "" || len(b.B.Filters) != 0 {
		t.Error("no filter was taken out, or doubled")
	}
	if text := b.Text(); !strings.Contains(text, "no filters; a adds one") {
		t.Errorf("%s", text)
	}
	if inForm(t, v, b, "enter", "+", "delete"); b.edited != "" {
		t.Errorf("edited %q", b.edited)
	}
	if inForm(t, v, b, "a"); len(b.B.Filters) != 1 || v.part(b.B).Kind != "filter" || b.Said != "a new filter: set its name, kind and stops" {
		t.Errorf("%d filters: %q", len(b.B.Filters), b.Said)
	}
	inForm(t, v, b, "r")
	if inForm(t, v, b, "x"); len(b.B.Cameras) != 1 || !strings.HasPrefix(b.Said, "that does not fit: found ") {
		t.Errorf("the last camera: %q", b.Said)
	}
	inForm(t, v, b, "r")
	if inForm(t, v, b, "x"); b.asked != "Put all settings back to their defaults?" || b.yes != "put them back" || v.part(b.B).Kind != "settings" {
		t.Errorf("%q, %q, at %s", b.asked, b.yes, v.part(b.B).Kind)
	}
	b.Said = ""
	if inForm(t, v, b, "d"); b.Said != "" || v.part(b.B).Kind != "settings" {
		t.Errorf("settings twice: %q", b.Said)
	}
}

// A field is opened by its path from wherever it is named, also one that is folded away; a bag that may not be edited opens
// none.
func TestAFieldByItsPath(t *testing.T) {
	v, bench := open(t, 120, 36, nil)
	b := &atWork{Bench: bench, exists: true}
	for path, want := range map[string]bool{"filters[1].cast_mired": true, "cameras[0].iso.clean": true, "settings.reserve_pct": true,
		"filters[99].name": false, "filters[0].colour": false, "": false} {
		b.edited = ""
		if got := v.EditFieldOf(b, path); got != want || strings.HasPrefix(b.edited, path+"=") != want {
			t.Errorf("%q: %v, edited %q", path, got, b.edited)
		}
	}
	v.CloseForm()
	b.readOnly = true
	if v.openForm(b); v.FormOpen() {
		t.Error("a bag that may not be edited")
	}
	if v.OpenAt(b, 3); v.FormOpen() {
		t.Error("a bag that may not be edited, by its place")
	}
	b.readOnly = false
	if v.OpenAt(b, len(b.B.Parts())-1); !v.FormOpen() || v.part(b.B).Kind != "settings" {
		t.Errorf("at %s", v.part(b.B).Kind)
	}
	if v.FirstFilter(); v.part(b.B).Path != "filters[0]" {
		t.Errorf("at %s", v.part(b.B).Path)
	}
}

// A click goes to a field, a second one opens it.
func TestClicksInTheForm(t *testing.T) {
	v, b := inTheForm(t, 120, 36, "ND16")
	canvas := paneltest.Canvas(46, 20)
	var hits []panel.Hit
	v.drawForm(panel.NewWindow(canvas, b.Pen(), &hits), b)
	y := 0
	for i, line := range strings.Split(textOf(canvas), "\n") {
		if strings.HasPrefix(line, "  density ") {
			y = i
		}
	}
	click := func() {
		for i := len(hits) - 1; i >= 0; i-- {
			if hits[i].Contains(5, y) {
				hits[i].Do(b, 5, y)
				return
			}
		}
		t.Fatal("there is nothing to click at")
	}
	if click(); v.Field(b).Label != "density" || b.edited != "" {
		t.Fatalf("at %q, edited %q", v.Field(b).Label, b.edited)
	}
	if click(); !strings.HasSuffix(b.edited, ".stops=4") {
		t.Errorf("edited %q", b.edited)
	}
}

// textOf is what stands on a canvas.
func textOf(c *cells.Canvas) string {
	return ansi.Strip(strings.Join((&cells.Pen{Profile: cells.NoColour}).Lines(c, nil), "\n"))
}
