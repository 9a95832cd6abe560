package filters

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

// open is the filters at work on the first card of the demo.
func open(tb testing.TB, w, h int, env map[string]string) (*View, *paneltest.Bench) {
	tb.Helper()
	v := New()
	b := paneltest.Open(tb, v, w, h, env)
	if len(v.got.list) == 0 {
		tb.Fatal("the filters are not ranked")
	}
	return v, b
}

// chosen returns the name of the chosen filter.
func (v *View) chosen() string { return v.got.list[v.at()].Filter }

// choose goes to a filter by its name.
func choose(t *testing.T, v *View, b *paneltest.Bench, name string) {
	t.Helper()
	for i, k := range v.got.list {
		if k.Filter == name {
			b.Press("home")
			for range i {
				b.Press("right")
			}
			if v.chosen() != name {
				t.Fatalf("%d steps to the right of the first stands %s, not %s", i, v.chosen(), name)
			}
			return
		}
	}
	t.Fatalf("no %s in the list", name)
}

func TestFiltersAreAllThereAtEverySize(t *testing.T) {
	for _, c := range []struct{ w, h, shown int }{{60, 20, 5}, {80, 24, 6}, {100, 30, 4}, {120, 36, 10}, {200, 60, 10}} {
		v, b := open(t, c.w, c.h, nil)
		if n := len(b.B.Filters) + 1; len(v.got.list) != n || len(v.got.pics) != n {
			t.Fatalf("%dx%d: %d filters and %d pictures for %d", c.w, c.h, len(v.got.list), len(v.got.pics), n)
		}
		shown := 0
		for i, k := range v.got.list {
			if strings.Contains(b.Text(), " "+string(rune('1'+i))+" "+words.FilterTitle(k.Filter, 0)) || strings.Contains(b.Text(), " 10 "+words.FilterTitle(k.Filter, 0)) {
				shown++
			}
		}
		// The chosen one has its mark in the place of the blank.
		if shown+1 < c.shown {
			t.Errorf("%dx%d: %d of %d on the screen:\n%s", c.w, c.h, shown+1, len(v.got.list), b.Text())
		}
		for range v.got.list {
			if text := b.Text(); !strings.Contains(text, "▸"+string(rune('1'+v.at()))) && !strings.Contains(text, "▸10") {
				t.Errorf("%dx%d: the chosen %s is not on the screen:\n%s", c.w, c.h, v.chosen(), text)
			}
			b.Press("right")
		}
		for i, l := range strings.Split(b.Text(), "\n") {
			if cells.Width(l) != c.w-2 {
				t.Errorf("%dx%d: line %d has %d cells", c.w, c.h, i, cells.Width(l))
			}
		}
	}
}

func TestFiltersFollowTheFrame(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	at := func(name string) *cells.Picture {
		for i := range v.got.list {
			if v.got.list[i].Filter == name {
				return &v.got.pics[i]
			}
		}
		t.Fatalf("no %s", name)
		return nil
	}
	if slices.Equal(at("none").Pix, at("CPL").Pix) {
		t.Error("the polariser does nothing to the picture")
	}
	// A diffusion layer has no ring and no density: the frame is that of the bare lens, but for a little light that it
	// spreads from what clips.
	bare, soft := at("none").Pix, at("soft 1/4").Pix
	same := 0
	for i := range bare {
		d := soft[i].Luma() - bare[i].Luma()
		if d == 0 {
			same++
		}
		if d < -2 || d > 12 {
			t.Fatalf("a soft filter shades the frame: brightness %v instead of %v", soft[i].Luma(), bare[i].Luma())
		}
	}
	if 2*same < len(bare) {
		t.Errorf("a soft filter leaves %d of %d pixels as bright as they are", same, len(bare))
	}
	was, list := slices.Clone(at("none").Pix), &v.got.list[0]
	b.Step(6)
	if slices.Equal(was, at("none").Pix) {
		t.Error("the pictures are not those at the playhead")
	}
	if list != &v.got.list[0] {
		t.Error("the filters were ranked again though only the playhead moved")
	}
	b.Resize(200, 60)
	if w := v.fit(b).picW; at("none").W != w || w < 25 {
		t.Errorf("pictures of %d pixels for a room of %d", at("none").W, w)
	}
}

func TestEnterPutsTheFilterOnTheCard(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	best := v.chosen()
	if best != b.R.Call.Filter {
		t.Fatalf("the first is %s, the call is %s", best, b.R.Call.Filter)
	}
	b.SetCard(panel.Change{Path: "ring_deg", Text: "45"})
	choose(t, v, b, "CPL")
	b.Press("enter")
	if b.CardText("filter") != "CPL" || b.R.Call.Filter != "CPL" {
		t.Errorf("the card has %q, the answer is for %q", b.CardText("filter"), b.R.Call.Filter)
	}
	if ring := b.CardText("ring_deg"); ring != "auto" && ring != "" {
		t.Errorf("a ring that was meant for another filter stays: %q", ring)
	}
	if v.chosen() != "CPL" || !strings.Contains(b.Said, "a leaves it to the program") {
		t.Errorf("chosen %s, said %q", v.chosen(), b.Said)
	}
	if b.R.Candidates[0].Filter != "CPL" {
		t.Error("what is on the card stands first")
	}
	if !strings.Contains(b.Text(), "the card's, then best first") {
		t.Errorf("the order is not said:\n%s", b.Text())
	}
	b.Press("enter")
	if !strings.Contains(b.Said, "already") {
		t.Errorf("said %q", b.Said)
	}
	choose(t, v, b, "none")
	b.Press("enter")
	if b.CardText("filter") != "none" || v.at() < 0 || v.chosen() != "none" {
		t.Errorf("bare: the card has %q", b.CardText("filter"))
	}
	b.Press("a")
	if b.CardText("filter") != "auto" || b.R.Call.Filter != best {
		t.Errorf("after a: %q, the call is %s", b.CardText("filter"), b.R.Call.Filter)
	}
	b.Press("a")
	if !strings.Contains(b.Said, "already") {
		t.Errorf("said %q", b.Said)
	}
}

// The chosen filter stays the chosen one while its fields are edited, wherever the ranking puts it, and the
// pictures are those of the new bag.
func TestTheChosenStaysWhileTheBagChanges(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("e")
	best := v.chosen()
	if !v.FormOpen() || v.part(b.B).Name != best {
		t.Fatalf("e opens %+v, the chosen one is %s", v.Field(b), best)
	}
	heavy, faults := b.B.SetFilter(v.form.at, "stops", "9")
	if heavy == nil {
		t.Fatal(faults)
	}
	b.SetBag(heavy, "")
	if v.chosen() != best || v.at() == 0 || v.got.of.report.Bag != heavy {
		t.Errorf("chosen is %s at %d", v.chosen(), v.at())
	}
}

func TestAFilterThatCannotBeFlownSaysByHowMuch(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	if !b.SetCard(panel.Change{Path: "take_off", Text: "2026-09-18T20:40"}) {
		t.Fatal(b.Said)
	}
	b.Settle()
	choose(t, v, b, "ND1000")
	text := b.Text()
	for _, want := range []string{"cannot be exposed:", "at ISO 6400 and 1/25", "What counts", "− ISO 6400"} {
		if !strings.Contains(text, want) {
			t.Errorf("the screen lacks %q:\n%s", want, text)
		}
	}
	b.Press("enter")
	if !strings.Contains(b.Said, "cannot be flown here") {
		t.Errorf("said %q", b.Said)
	}
}

func TestFilterWordsScroll(t *testing.T) {
	v, b := open(t, 120, 20, nil)
	choose(t, v, b, "variable light")
	if strings.Contains(b.Text(), "At its other settings") {
		t.Fatal("nothing to scroll to")
	}
	b.Press("pgdown", "pgdown", "pgdown", "pgdown")
	if text := b.Text(); !strings.Contains(text, "At its other settings") || !strings.Contains(text, "2 stops, 1/") {
		t.Errorf("the other settings are not reached:\n%s", b.Text())
	}
	b.Press("right")
	if v.scroll != 0 {
		t.Error("another filter's words begin at their top")
	}
	b.Press("tab", "down")
	if v.pane != paneOne {
		t.Error("Tab goes to the words")
	}
}

// An answer that was superseded is dropped; one that fails leaves the last good one.
func TestFiltersDropOldAnswers(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	v.Take(b, answer{gen: v.got.gen - 1})
	if len(v.got.list) == 0 {
		t.Error("an old answer was taken")
	}
	v.running = true
	v.Take(b, answer{gen: v.gen, failed: "that failed"})
	if v.running || len(v.got.list) == 0 || b.Said != "that failed" {
		t.Errorf("running %v, said %q", v.running, b.Said)
	}
	b.Load(1)
	if v.got.of.report != b.R || v.at() < 0 {
		t.Error("the list is that of another card")
	}
}

// The grid makes its tiles as large as all of them allow: at 120x36 there are 78 columns and 30 lines, so
// two columns of 38 would take 2·(11+5)−1 = 31 lines; at 200x60 132 and 54, and thirty tiles take 5·11−1.
func TestTilesUseTheRoom(t *testing.T) {
	for _, c := range []struct{ w, h, n, across int }{{120, 36, 10, 4}, {120, 36, 3, 3}, {200, 60, 10, 4}, {200, 60, 4, 2}, {200, 60, 30, 6}} {
		b := paneltest.Bench{W: c.w, H: c.h}
		r := fit(b.Room(), paneAll, c.n, 9./16)
		if !r.fits(c.n, r.panes[paneAll].H-1) {
			t.Errorf("%+v: some are off the screen", c)
		}
		if r.across != c.across || r.across*r.w-2 > r.panes[paneAll].W {
			t.Errorf("%+v: %d across, each %d of %d", c, r.across, r.w, r.panes[paneAll].W)
		}
	}
}

// The higher frame of a still leaves the pictures smaller rather than off the screen.
func TestStillsFitToo(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Load(1) // a still
	r := v.fit(b)
	if shape(b) < 0.6 || !r.fits(len(v.got.list), r.panes[paneAll].H-1) || r.picW >= r.words {
		t.Errorf("shape %.2f, %+v", shape(b), r)
	}
	if ratio := float64(2*r.picRows) / float64(r.picW); ratio < 0.6 || ratio > 0.72 {
		t.Errorf("a picture of %d by %d", r.picW, 2*r.picRows)
	}
	for i := range v.got.list {
		if text := b.Text(); !strings.Contains(text, words.FilterTitle(v.got.list[i].Filter, 0)) {
			t.Errorf("%s is not on the screen:\n%s", v.got.list[i].Filter, text)
		}
	}
}

func BenchmarkFilterPictures(b *testing.B) {
	v, _ := open(b, 200, 60, nil)
	a := v.got
	b.ResetTimer()
	for range b.N {
		a.pictures()
	}
}

// The page of measuring lies over the view, of a filter and not of the bare lens; who is sent to a field of the bag sees that.
func TestThePageOfMeasuring(t *testing.T) {
	v, b := open(t, 80, 24, nil)
	choose(t, v, b, words.Bare)
	if b.Press("m"); v.Page().IsOpen() || !strings.Contains(b.Said, "choose a filter") {
		t.Errorf("the bare lens is measured; said %q", b.Said)
	}
	choose(t, v, b, "ND16")
	b.Press("m")
	if !v.Page().IsOpen() || !strings.Contains(b.Text(), "Measure ND16") {
		t.Fatalf("no page:\n%s", b.Text())
	}
	v.OpenAt(b, 0)
	if v.Page().IsOpen() || !v.FormOpen() {
		t.Error("the page lies over the form")
	}
}

// Down goes to the filter that stands below, up comes back.
func TestUpAndDownKeepTheColumn(t *testing.T) {
	v, b := open(t, 120, 36, nil)
	b.Press("home")
	across := v.fit(b).across
	if across < 2 {
		t.Fatalf("%d filters side by side", across)
	}
	if b.Press("right", "down"); v.at() != 1+across {
		t.Errorf("of %d side by side, below the second stands the one at %d", across, v.at())
	}
	if b.Press("up"); v.at() != 1 {
		t.Errorf("and above that the one at %d", v.at())
	}
}
