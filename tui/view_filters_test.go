package tui

import (
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// filtersModel is the workbench with the filters open.
func filtersModel(tb testing.TB, w, h int, env map[string]string) *model {
	tb.Helper()
	m := testModel(tb, w, h, env)
	settleKeys(m, "3")
	if m.view != viewFilters || len(m.filters.got.list) == 0 {
		tb.Fatal("3 does not show the filters")
	}
	return m
}

// chosen gives the name of the chosen filter.
func (m *model) chosen() string { return m.filters.got.list[m.filtersAt()].Filter }

// choose goes to a filter by its name.
func choose(t *testing.T, m *model, name string) {
	t.Helper()
	for i, k := range m.filters.got.list {
		if k.Filter == name {
			settleKeys(m, "home")
			for range i {
				settleKeys(m, "right")
			}
			if m.chosen() != name {
				t.Fatalf("%d steps to the right of the first stands %s, not %s", i, m.chosen(), name)
			}
			return
		}
	}
	t.Fatalf("no %s in the list", name)
}

func TestFiltersAreAllThereAtEverySize(t *testing.T) {
	for _, c := range []struct{ w, h, shown int }{{60, 20, 5}, {80, 24, 6}, {100, 30, 4}, {120, 36, 10}, {200, 60, 10}} {
		m := filtersModel(t, c.w, c.h, nil)
		if n := len(m.card().kit().Filters) + 1; len(m.filters.got.list) != n || len(m.filters.got.pics) != n {
			t.Fatalf("%dx%d: %d filters and %d pictures for %d", c.w, c.h, len(m.filters.got.list), len(m.filters.got.pics), n)
		}
		shown := 0
		for i, k := range m.filters.got.list {
			if strings.Contains(screenText(m), " "+string(rune('1'+i))+" "+words.FilterTitle(k.Filter, 0)) || strings.Contains(screenText(m), " 10 "+words.FilterTitle(k.Filter, 0)) {
				shown++
			}
		}
		// The chosen one has its mark in the place of the blank.
		if shown+1 < c.shown {
			t.Errorf("%dx%d: %d of %d on the screen:\n%s", c.w, c.h, shown+1, len(m.filters.got.list), screenText(m))
		}
		for range m.filters.got.list {
			if text := screenText(m); !strings.Contains(text, "▸"+string(rune('1'+m.filtersAt()))) && !strings.Contains(text, "▸10") {
				t.Errorf("%dx%d: the chosen %s is not on the screen:\n%s", c.w, c.h, m.chosen(), text)
			}
			settleKeys(m, "right")
		}
		for i, l := range strings.Split(screenText(m), "\n") {
			if cells.Width(l) != c.w {
				t.Errorf("%dx%d: line %d has %d cells", c.w, c.h, i, cells.Width(l))
			}
		}
	}
}

func TestFiltersFollowTheFrame(t *testing.T) {
	m := filtersModel(t, 120, 36, nil)
	f := &m.filters
	at := func(name string) *cells.Picture {
		for i := range f.got.list {
			if f.got.list[i].Filter == name {
				return &f.got.pics[i]
			}
		}
		t.Fatalf("no %s", name)
		return nil
	}
	if slices.Equal(at("none").Pix, at("CPL").Pix) {
		t.Error("the polariser does nothing to the picture")
	}
	// A diffusion layer has no ring and no density: the frame is that of the bare lens.
	if !slices.Equal(at("none").Pix, at("soft 1/4").Pix) {
		t.Error("a soft filter should not shade the frame")
	}
	was, list := slices.Clone(at("none").Pix), &f.got.list[0]
	settleKeys(m, ".", ".", ".", ".", ".", ".")
	if slices.Equal(was, at("none").Pix) {
		t.Error("the pictures are not those at the playhead")
	}
	if list != &f.got.list[0] {
		t.Error("the filters were ranked again though only the playhead moved")
	}
	settle(m, tea.WindowSizeMsg{Width: 200, Height: 60})
	if w := filtersFit(&m.screen, f.pane, len(f.got.list), m.filtersShape()).picW; at("none").W != w || w < 25 {
		t.Errorf("pictures of %d pixels for a room of %d", at("none").W, w)
	}
}

func TestEnterPutsTheFilterOnTheCard(t *testing.T) {
	m := filtersModel(t, 120, 36, nil)
	s := m.card()
	best := m.chosen()
	if best != m.calc.report.Call.Filter {
		t.Fatalf("the first is %s, the call is %s", best, m.calc.report.Call.Filter)
	}
	settleKeys(m, "1")
	toRow(t, m, "take_off")
	m.setField("ring_deg", "45")
	settleKeys(m, "3")
	choose(t, m, "CPL")
	settleKeys(m, "enter")
	if s.text("filter") != "CPL" || m.calc.report.Call.Filter != "CPL" {
		t.Errorf("the card has %q, the answer is for %q", s.text("filter"), m.calc.report.Call.Filter)
	}
	if t2 := s.text("ring_deg"); t2 != "auto" && t2 != "" {
		t.Errorf("a ring that was meant for another filter stays: %q", t2)
	}
	if m.chosen() != "CPL" || !strings.Contains(m.note, "a leaves it to the program") {
		t.Errorf("chosen %s, said %q", m.chosen(), m.note)
	}
	if m.calc.report.Candidates[0].Filter != "CPL" {
		t.Error("what is on the card stands first")
	}
	if !strings.Contains(screenText(m), "the card's, then best first") {
		t.Errorf("the order is not said:\n%s", screenText(m))
	}
	settleKeys(m, "enter")
	if !strings.Contains(m.note, "already") {
		t.Errorf("said %q", m.note)
	}
	settleKeys(m, "u")
	if s.text("filter") == "CPL" || s.text("ring_deg") != "45" {
		t.Errorf("one undo takes both back: %q, %q", s.text("filter"), s.text("ring_deg"))
	}
	choose(t, m, "none")
	settleKeys(m, "enter")
	if s.text("filter") != "none" || m.filtersAt() < 0 || m.chosen() != "none" {
		t.Errorf("bare: the card has %q", s.text("filter"))
	}
	settleKeys(m, "a")
	if s.text("filter") != "auto" || m.calc.report.Call.Filter != best {
		t.Errorf("after a: %q, the call is %s", s.text("filter"), m.calc.report.Call.Filter)
	}
	settleKeys(m, "a")
	if !strings.Contains(m.note, "already") {
		t.Errorf("said %q", m.note)
	}
}

func TestAFilterThatCannotBeFlownSaysByHowMuch(t *testing.T) {
	m := filtersModel(t, 120, 36, nil)
	choose(t, m, "ND1000")
	text := screenText(m)
	for _, want := range []string{"cannot be flown:", "highest ISO", "What counts", "stops above clean"} {
		if !strings.Contains(text, want) {
			t.Errorf("the screen lacks %q:\n%s", want, text)
		}
	}
	settleKeys(m, "enter")
	if !strings.Contains(m.note, "cannot be flown here") {
		t.Errorf("said %q", m.note)
	}
}

func TestFilterWordsScroll(t *testing.T) {
	m := filtersModel(t, 80, 24, nil)
	choose(t, m, "variable light")
	if strings.Contains(screenText(m), "much light on leg 2") {
		t.Fatal("nothing to scroll to")
	}
	settleKeys(m, "pgdown", "pgdown", "pgdown", "pgdown")
	if text := screenText(m); !strings.Contains(text, "3 stops, 1/125..1/60") || !strings.Contains(text, "much light on leg 2") {
		t.Errorf("the other settings are not reached:\n%s", screenText(m))
	}
	settleKeys(m, "right")
	if m.filters.scroll != 0 {
		t.Error("another filter's words begin at their top")
	}
	settleKeys(m, "tab", "down")
	if m.filters.pane != filtersOne {
		t.Error("Tab goes to the words")
	}
}

// An answer that was superseded is dropped; one that fails leaves the last good one.
func TestFiltersDropOldAnswers(t *testing.T) {
	m := filtersModel(t, 120, 36, nil)
	good := m.filters.got
	m.Update(filtersAnswer{gen: good.gen - 1})
	if len(m.filters.got.list) == 0 {
		t.Error("an old answer was taken")
	}
	m.filters.running = true
	m.Update(filtersAnswer{gen: m.filters.gen, failed: "that failed"})
	if m.filters.running || len(m.filters.got.list) == 0 || m.note != "that failed" {
		t.Errorf("running %v, said %q", m.filters.running, m.note)
	}
	settleKeys(m, "n") // another card
	if m.filters.got.of.report != m.calc.base || m.filtersAt() < 0 {
		t.Error("the list is that of another card")
	}
}

// The grid makes its tiles as large as all of them allow: at 120x36 there are 78 columns and 30 lines, so
// two columns of 38 would take 2·(11+5)−1 = 31 lines; at 200x60 132 and 54, and thirty tiles take 5·11−1.
func TestTilesUseTheRoom(t *testing.T) {
	for _, c := range []struct{ w, h, n, across int }{{120, 36, 10, 4}, {120, 36, 3, 3}, {200, 60, 10, 4}, {200, 60, 4, 2}, {200, 60, 30, 6}} {
		s := &screen{w: c.w, h: c.h}
		m := &model{view: viewFilters}
		m.cards = []*openCard{{}}
		s.arrange(m)
		r := filtersFit(s, filtersAll, c.n, 9./16)
		if !r.fits(c.n, r.panes[filtersAll].h-1) {
			t.Errorf("%+v: some are off the screen", c)
		}
		if r.across != c.across || r.across*r.w-2 > r.panes[filtersAll].w {
			t.Errorf("%+v: %d across, each %d of %d", c, r.across, r.w, r.panes[filtersAll].w)
		}
	}
}

// The higher frame of a still leaves the pictures smaller rather than off the screen.
func TestStillsFitToo(t *testing.T) {
	m := filtersModel(t, 120, 36, nil)
	settleKeys(m, "n") // a still
	f := &m.filters
	r := filtersFit(&m.screen, f.pane, len(f.got.list), m.filtersShape())
	if m.filtersShape() < 0.6 || !r.fits(len(f.got.list), r.panes[filtersAll].h-1) || r.picW >= r.words {
		t.Errorf("shape %.2f, %+v", m.filtersShape(), r)
	}
	if ratio := float64(2*r.picRows) / float64(r.picW); ratio < 0.6 || ratio > 0.72 {
		t.Errorf("a picture of %d by %d", r.picW, 2*r.picRows)
	}
	for i := range f.got.list {
		if text := screenText(m); !strings.Contains(text, words.FilterTitle(f.got.list[i].Filter, 0)) {
			t.Errorf("%s is not on the screen:\n%s", f.got.list[i].Filter, text)
		}
	}
}

func BenchmarkFilterPictures(b *testing.B) {
	m := filtersModel(b, 200, 60, nil)
	a := m.filters.got
	b.ResetTimer()
	for range b.N {
		a.pictures()
	}
}
