package measuring

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// alone is the page as a view of its own.
type alone struct{ Page }

func (*alone) Name() string { return "Measuring" }
func (*alone) Hide()        {}

// open is the page of a filter of the demo, in a window.
func open(t *testing.T, w, h int, filter string, env map[string]string) (*alone, *paneltest.Bench) {
	t.Helper()
	v := &alone{New(func(key string) string { return strings.ReplaceAll(key, "_", " ") })}
	b := paneltest.Open(t, v, w, h, env)
	v.show(t, b, filter)
	return v, b
}

func (v *alone) show(t *testing.T, b *paneltest.Bench, filter string) {
	t.Helper()
	f, ok := b.B.FilterByName(filter)
	if !ok {
		t.Fatalf("the demo has no %s", filter)
	}
	v.Open(&f)
	b.Settle()
}

// walls draws pictures of a wall as a camera with a curve of its own would take them: bare, a stop darker, and through a
// filter of 4.7 stops that is a little warm; twice, as if its ring had been turned.
func walls(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	w := phototest.Wall{Wide: 240, Tall: 160, Vignette: 0.7, Noise: 3, Curve: phototest.SCurve, Light: [3]float64{102, 104, 99}}
	manual := uint16(1)
	s := phototest.Shot{Clock: "2026:09:18 12:00:00", ISO: 100, Aperture: 2.8, ColorSpace: 1, WhiteBalance: &manual, Focal35MM: 24}
	pass := func(r, g, b float64) func(u, v float64) [3]float64 {
		return func(_, _ float64) [3]float64 { return [3]float64{math.Exp2(-r), math.Exp2(-g), math.Exp2(-b)} }
	}
	put := func(name string, thirds int, shutter [2]uint32, filter func(u, v float64) [3]float64) {
		w, s := w, s
		w.Thirds, w.Filter, w.Seed, s.Shutter = thirds, filter, uint64(len(name)*100+int(name[0])+thirds), shutter
		if err := os.WriteFile(filepath.Join(dir, name), w.JPEG(s), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	put("a1.jpg", -18, [2]uint32{1, 60}, nil)
	put("a2.jpg", -21, [2]uint32{1, 125}, nil)
	put("a3.jpg", -5, [2]uint32{3, 10}, pass(4.6, 4.7, 4.85))
	put("a4.jpg", -4, [2]uint32{4, 10}, pass(4.6, 4.7, 4.85))
	for i := range 6 { // glare that is brightest with the mark at 60°
		l := 0.55 + 0.4*math.Cos(2*(float64(30*i)-60)*math.Pi/180)
		put(fmt.Sprintf("g%d.jpg", i), -18, [2]uint32{1, 60}, func(_, _ float64) [3]float64 { return [3]float64{l, l, l} })
	}
	if err := os.WriteFile(filepath.Join(dir, "mute.jpg"), w.JPEG(phototest.Shot{Clock: s.Clock, Aperture: 2.8}), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir
}

func has(t *testing.T, b *paneltest.Bench, texts ...string) {
	t.Helper()
	screen := b.Text()
	for _, text := range texts {
		if !strings.Contains(screen, text) {
			t.Errorf("%dx%d: no %q in\n%s", b.W, b.H, text, screen)
		}
	}
}

// Three pictures one by one, the next of the folder offered each time; then Enter puts what they tell into the bag, in one
// step, and asks for its file. Before that nothing is changed.
func TestAFilterIsMeasured(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}, {200, 60}} {
		v, b := open(t, size[0], size[1], "ND16", nil)
		was := b.B
		has(t, b, "Measure ND16", "▸ Loss", "▸ bare", "Enter gives the picture", "nothing to write yet")
		b.Press("enter")
		b.Type(filepath.Join(dir, "a1.jpg"))
		b.Settle()
		for _, name := range []string{"a2.jpg", "a3.jpg"} {
			b.Press("enter")
			if got := b.Asked.Begin; filepath.Base(got) != name {
				t.Fatalf("offered is %q, want %s", got, name)
			}
			b.Type(b.Asked.Begin)
			b.Settle()
		}
		has(t, b, "a1.jpg", "1/125", "ISO 100", "you 4.7 ±0.1 stops · label 4.0: it takes 0.7 more", "▸ Enter puts into the bag:")
		for i, l := range strings.Split(b.Text(), "\n") {
			if cells.Width(l) != size[0]-2 {
				t.Errorf("%v: line %d has %d cells", size, i, cells.Width(l))
			}
		}
		if b.B != was {
			t.Fatal("the bag changed before it was said so")
		}
		b.Press("right")
		has(t, b, "▸ Colour", "mired, warmer", "locked at 5500 K")
		b.Press("+", "right")
		has(t, b, "▸ Corners")
		b.Press("right", "enter")
		f, _ := b.B.FilterByName("ND16")
		if math.Abs(f.MeasuredStops-4.7) > 0.1 || f.CastMired < 10 || f.CastMired > 25 || f.MeasuredOn == "" || b.BagSaves != 1 || v.IsOpen() {
			t.Errorf("in the bag: %+v, asked for a file %d times", f, b.BagSaves)
		}
		v.show(t, b, "ND16") // the pictures are there still, and tell nothing new
		has(t, b, "measured before 4.7", "the bag has all of it already")
	}
}

// What is wrong stands below the picture; nothing can be written then.
func TestWhatIsWrongIsSaid(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	in := func(name string) string { return filepath.Join(dir, name) }
	for name, c := range map[string]struct {
		give []string
		want []string
	}{
		"no file":              {[]string{"gone.jpg"}, []string{"! no such file; check its name and folder"}},
		"no exposure":          {[]string{"mute.jpg"}, []string{"! no exposure time or no ISO"}},
		"swapped":              {[]string{"a2.jpg", "a1.jpg"}, []string{"are the two swapped?", "it takes one picture bare and one through"}},
		"the same twice":       {[]string{"a1.jpg", "a1.jpg", "a3.jpg"}, []string{"the same picture twice", "mend first what is wrong"}},
		"without the darker":   {[]string{"a1.jpg", "", "a3.jpg"}, []string{"none: rougher without it", "into the bag:", "±0.2 stops"}},
		"all, and one too far": {[]string{"a1.jpg", "a2.jpg", "a3.jpg", "a4.jpg"}, []string{"into the bag:"}},
	} {
		v, b := open(t, 100, 30, "ND16", nil)
		var list []string
		for i, g := range c.give {
			if g == "" {
				v.Give(b, strings.Join(list, " "))
				v.cursor[wall], list = i+1, nil
				continue
			}
			list = append(list, "'"+in(g)+"'")
		}
		v.Give(b, strings.Join(list, " "))
		said := b.Said
		b.Settle()
		if screen := strings.Join(strings.Fields(b.Text()), " "); true {
			for _, want := range c.want {
				if !strings.Contains(screen, want) {
					t.Errorf("%s: no %q in\n%s", name, want, b.Text())
				}
			}
		}
		if len(c.give) == 4 && !strings.Contains(said, "1 more than there are places") {
			t.Errorf("%s: said %q", name, said)
		}
		was := b.B
		if !strings.Contains(strings.Join(c.want, " "), "into the bag") {
			if b.Press("end", "enter"); b.B != was || b.Said == "" {
				t.Errorf("%s: written all the same, or in silence", name)
			}
		}
	}
}

// Long names are cut in the middle, where those of one camera are alike, and how a picture stands is never cut.
func TestLongNames(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	var list []string
	for i, name := range []string{"a1.jpg", "a2.jpg", "a3.jpg"} {
		long := filepath.Join(dir, fmt.Sprintf("PANO20261126100000-00%d.jpg", i))
		if err := os.Rename(filepath.Join(dir, name), long); err != nil {
			t.Fatal(err)
		}
		list = append(list, long)
	}
	v, b := open(t, 60, 20, "ND16", nil)
	v.Give(b, strings.Join(list, " "))
	b.Settle()
	v.got.result.Sets[0].Brighter = -1. / 3
	has(t, b, "001.jpg", "002.jpg", "ok, ⅓ darker")
	v.got.result.Sets[0].Brighter = 4. / 3
	has(t, b, "2.jpg", "ok, 1⅓ brighter")
}

// A folder is asked about again; a name is completed and Down goes on in the folder.
func TestFilesAreFound(t *testing.T) {
	dir := walls(t)
	v, b := open(t, 80, 24, "ND16", nil)
	b.Press("enter")
	b.Type(dir)
	if b.Asked == nil || !strings.HasPrefix(b.Asked.Text, "That is a folder.") || b.Asked.Begin != dir+string(filepath.Separator) {
		t.Fatalf("asked %+v", b.Asked)
	}
	help := b.Asked.Help
	if next, several := help(b.Asked.Begin+"a", "tab"); next != filepath.Join(dir, "a") || len(several) != 4 {
		t.Errorf("completed to %q, %q", next, several)
	}
	next, _ := help(b.Asked.Begin, "down")
	after, _ := help(next, "down")
	if back, _ := help(after, "up"); filepath.Base(next) != "a1.jpg" || filepath.Base(after) != "a2.jpg" || back != next {
		t.Errorf("%q, then %q, then %q", next, after, back)
	}
	b.Type("")
	if b.Asked != nil || v.places[wall][bareAt].path != "" {
		t.Error("nothing typed gives a picture")
	}
}

// What is read for a picture that was taken away, or given anew, meanwhile is dropped.
func TestALateAnswerIsDropped(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	v, b := open(t, 80, 24, "ND16", nil)
	v.Give(b, filepath.Join(dir, "a1.jpg"))
	cmd := v.Kick(b)
	if cmd == nil || v.Kick(b) != nil {
		t.Fatal("one picture is read at a time")
	}
	has(t, b, "reading ...")
	b.Press("up")
	late := readMsg{gen: v.places[wall][bareAt].gen - 1, wrong: "too late"}
	if !v.Take(b, late) || v.places[wall][bareAt].wrong != "" {
		t.Error("an answer of another number counts")
	}
	for _, k := range v.Keys() {
		if k.Shown == "d" {
			k.Do(b)
		}
	}
	for _, msg := range paneltest.Results(cmd) {
		if !v.Take(b, msg) {
			t.Errorf("%v is not taken", msg)
		}
	}
	if at := v.places[wall][bareAt]; at.path != "" || at.pic != nil || v.reading != 0 {
		t.Errorf("after it was taken away: %+v", at)
	}
	if v.Take(b, tea.KeyMsg{}) {
		t.Error("a key is an answer")
	}
}

// A polariser has its ring turned, and its mark found in glare: brightest at 60°, it lies 30° before what passes.
func TestTheMarkIsFound(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	v, b := open(t, 80, 24, "CPL", nil)
	has(t, b, "turned 90°", "Mark")
	b.Press("right", "right")
	has(t, b, "▸ Mark", "12:00", "at least 4 positions")
	var list []string
	for i := range 6 {
		list = append(list, filepath.Join(dir, fmt.Sprintf("g%d.jpg", i)))
	}
	v.Give(b, strings.Join(list, "\n"))
	b.Settle()
	has(t, b, "mark to pass 30° ±3°", "brightest with the mark at 2:00 or 8:00", "▸ Enter puts into the bag: mark deg 30")
	b.Press("enter")
	if f, _ := b.B.FilterByName("CPL"); math.Abs(f.MarkDeg-30) > 2 || f.MeasuredStops != 0 {
		t.Errorf("%+v", f)
	}
	// The bare pictures stay for the next filter, those through this one do not; and a density has no mark.
	v.show(t, b, "CPL")
	b.Press("left", "left")
	v.Give(b, filepath.Join(dir, "a1.jpg")+" "+filepath.Join(dir, "a2.jpg")+" "+filepath.Join(dir, "a3.jpg"))
	v.show(t, b, "ND16")
	if w := v.places[wall]; w[bareAt].path == "" || w[darkerAt].path == "" || w[throughAt].path != "" || len(w) != 3 || v.cursor[wall] != throughAt {
		t.Errorf("%+v", w)
	}
	if strings.Contains(b.Text(), "Mark  ") {
		t.Errorf("a density has a mark:\n%s", b.Text())
	}
}

// A variable is measured at the settings that are given.
func TestAVariable(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	v, b := open(t, 80, 24, "variable light", nil)
	has(t, b, "at 2 stops", "at 4 stops")
	v.Give(b, filepath.Join(dir, "a1.jpg")+" "+filepath.Join(dir, "a2.jpg"))
	v.cursor[wall] = len(v.places[wall]) - 1
	v.Give(b, filepath.Join(dir, "a3.jpg"))
	b.Settle()
	has(t, b, "at 4 stops: you 4.7 ±0.1 stops · label 4.0")
	b.Press("end", "enter")
	if f, _ := b.B.FilterByName("variable light"); len(f.Measured) != 1 || f.Measured[0][0] != 4 || math.Abs(f.Measured[0][1]-4.7) > 0.1 {
		t.Errorf("%+v", f.Measured)
	}
}

// Without colour all is said in words, and in ASCII all of it is plain. The map has its figures everywhere.
func TestInEveryProfile(t *testing.T) {
	t.Parallel()
	dir := walls(t)
	for _, env := range []map[string]string{{"NO_COLOR": "1"}, {"TERM": "xterm"}, {"TERM": "xterm-256color"}, {"TERM": "dumb"}} {
		v, b := open(t, 120, 36, "ND16", env)
		v.Give(b, filepath.Join(dir, "a1.jpg")+" "+filepath.Join(dir, "a2.jpg")+" "+filepath.Join(dir, "a3.jpg"))
		b.Settle()
		b.Press("left")
		b.Pen().ASCII = env["TERM"] == "dumb"
		has(t, b, "as you measured it, stops against the middle", "as the model has it", "top left")
		if text := b.Text(); b.Pen().ASCII && strings.ContainsFunc(text, func(r rune) bool { return r > '~' }) {
			t.Errorf("not plain:\n%s", text)
		}
		if b.Pen().Profile >= cells.TwoFiftySix {
			b.Draw()
			grounds := map[cells.Colour]bool{}
			for x := range 50 {
				for y := range b.H - 5 {
					grounds[b.Canvas.At(x, y).Bg] = true
				}
			}
			if len(grounds) < 2 {
				t.Error("the map has no shades")
			}
		}
	}
}

// A filter that left the bag meanwhile is said to be gone.
func TestTheFilterIsGone(t *testing.T) {
	v, b := open(t, 80, 24, "ND16", nil)
	for i, f := range b.B.Filters {
		if f.Name == "ND16" {
			next, faults := b.B.Remove(kit.FilterPath(i, ""))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			b.B = next
		}
	}
	b.Settle()
	has(t, b, "not in the bag any more")
	b.Press("end", "enter")
	if b.Press("m"); v.IsOpen() {
		t.Error("m does not leave")
	}
	var _ panel.View = v
}

// + makes the white balance that was locked higher, - lower, in hundreds and within what cameras have.
func TestTheWhiteBalanceIsNudged(t *testing.T) {
	t.Parallel()
	p := Page{step: stepColour}
	for _, c := range []struct{ at, by, want float64 }{
		{0, 100, 5600}, {0, -100, 5400}, {5550, 100, 5700}, {mostK, 100, mostK}, {leastK, -100, leastK},
	} {
		if p.kelvin = c.at; c.at == 0 {
			p.got = found{}
		}
		if p.nudgeKelvin(nil, c.by); p.kelvin != c.want {
			t.Errorf("%g K by %g: %g, want %g", c.at, c.by, p.kelvin, c.want)
		}
	}
}
