//go:build unix

package tui

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit/photo/phototest"
)

// A filter is measured as a pilot would: m in view 3, the first picture completed by Tab, the next ones dropped on the
// terminal, and what they tell saved as a bag of one's own. Leaving before that writes nothing.
func TestAFilterIsMeasuredOnTheScreen(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	w := phototest.Wall{Wide: 240, Tall: 160, Noise: 3, Curve: phototest.SCurve, Light: [3]float64{102, 104, 99}}
	for _, p := range []struct {
		name   string
		thirds int
		time   [2]uint32
		stops  float64
	}{{"one bare.jpg", -18, [2]uint32{1, 60}, 0}, {"two.jpg", -21, [2]uint32{1, 125}, 0}, {"zthree.jpg", -5, [2]uint32{3, 10}, 4.7}} {
		w.Thirds, w.Filter = p.thirds, func(_, _ float64) [3]float64 { l := math.Exp2(-p.stops); return [3]float64{l, l, l} }
		data := w.JPEG(phototest.Shot{Clock: "2026:09:18 12:00:00", ISO: 100, Aperture: 2.8, Shutter: p.time, ColorSpace: 1})
		if err := os.WriteFile(filepath.Join(dir, p.name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s := open(t, 80, 24)
	s.Until("ISO")
	s.Type("3")
	s.Until("▸1 ND16")
	s.Type("m")
	s.Until("▸ Measure ND16")
	s.Until("▸ bare        Enter gives the picture")
	s.Type("\x1b") // and nothing happened
	s.Gone("Measure ND16")
	s.Type("m")
	s.Until("Measure ND16")
	s.Type("\r")
	s.Until("The picture for “bare”")
	s.Type(dir + "/o\t")
	s.Until("one bare.jpg")
	s.Type("\r")
	s.Until("bare        one bare.jpg  1/60")
	s.Type("\x1b[200~'" + dir + "/two.jpg' " + dir + "/zthree.jpg\x1b[201~") // dropped
	s.Until("you 4.7 ±0.1 stops · label 4.0: it takes 0.7 more")
	s.Until("▸ Enter puts into the bag: ")
	if left, _ := filepath.Glob(filepath.Join(dir, "*")); len(left) != 3 {
		t.Errorf("in the folder: %q", left)
	}
	s.Type("?")
	s.Until("Measuring a filter")
	s.Until("give the picture by its name")
	s.Type("\x1b")
	s.Gone("give the picture by its name")
	s.Type("\r")
	s.Until("Save this bag as")
	file := filepath.Join(dir, "own.yaml")
	s.Type("\x15" + file + "\r")
	s.Until("saved as")
	data, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(data), "measured_stops: 4.7") && !strings.Contains(string(data), "measured_stops: 4.6") {
		t.Errorf("%v\n%s", err, data)
	}
	s.Type("u")
	s.Until("the change of the bag is taken back")
}
