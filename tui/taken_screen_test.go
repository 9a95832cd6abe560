//go:build unix

package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/tui/internal/screentest"
)

// openPictures opens shots from pictures on the evening of the breakwater.
func openPictures(t *testing.T, w, h int, clock string, list ...phototest.Shot) (s *screentest.Screen, folder string) {
	t.Helper()
	folder = t.TempDir()
	var files []string
	for i, p := range list {
		file := filepath.Join(folder, string(rune('a'+i))+".jpg")
		if err := os.WriteFile(file, p.JPEG(), 0o600); err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	s, _ = openAtClock(t, w, h, clock, "PICTURES="+strings.Join(files, string(filepath.ListSeparator)))
	return s, folder
}

// A picture of some days ago begins a shot at its place, time and heading, and says so; it is planned for that light again
// by one key, and by none for the light that was. Nothing is written before it is saved.
func TestAShotFromAPicture(t *testing.T) {
	t.Parallel()
	heading := 300.4
	p := phototest.Shot{Clock: "2026:08:20 20:10:30", Place: &[2]float64{43.3672, -8.4604}, Heading: &heading}
	second := phototest.Shot{Clock: "2026:09:18 19:21:00", Offset: "+02:00", Place: &[2]float64{64.0484, -16.1794}}
	s, folder := openPictures(t, 120, 36, "19:26:00", p, second)
	s.Until("from a.jpg: place, take-off 20 Aug 2026 20:10 by the clock of Europe/Madrid, heading 300°")
	s.Until("Taken 29 days ago, with the sun ")
	s.Until("Esc  keep 20 Aug 2026 20:10")
	s.Until("1  Sat 19 Sep 2026 19:19, sun 13° high at 259°")
	s.Type("\x1b")
	s.Gone("Taken 29 days ago")
	s.Until("a · 20 Aug 2026, 20:10 · new, no file yet · 1 of 2")
	s.Until("▸ latitude        43.3672°")
	if text := s.Text(); strings.Contains(text, "too late") || strings.Contains(text, "past take-off") {
		t.Errorf("a light that is long gone is counted down:\n%s", text)
	}
	s.Type("n") // of today: nothing to ask
	s.Until("card 2 of 2, from b.jpg: place, take-off 18 Sep 2026 17:21; no heading: it is north")
	s.Type("n") // asked once
	s.Until("card 1 of 2, from a.jpg")
	s.Type("q") // nothing to lose
	if code := s.Ended(); code != 0 {
		t.Errorf("left with %d", code)
	}
	if left, _ := filepath.Glob(filepath.Join(folder, "*")); len(left) != 2 {
		t.Errorf("in the folder: %q", left)
	}
}

// Planned for the light again, it is saved under the name of its picture.
func TestAPictureIsPlannedAgain(t *testing.T) {
	t.Parallel()
	p := phototest.Shot{Clock: "2026:08:20 20:10:30", Place: &[2]float64{43.3672, -8.4604}}
	s, folder := openPictures(t, 80, 24, "19:02:00", p)
	s.Until("Taken 29 days ago, with the sun ")
	s.Type("1")
	s.Until("take-off 18 Sep 19:2")
	s.Until("u takes it back")
	s.Until("not saved")
	s.Type("s")
	s.Until("Save this card as")
	s.Until("a.yaml")
	file := filepath.Join(folder, "again.yaml")
	s.Type("\x15" + file + "\r")
	s.Until("goes with this card")
	s.Type("a")
	s.Until("saved as")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"take_off: 2026-09-18T19:2", `name: "a"`, "from a.jpg: place, take-off 20 Aug 2026 20:10 by the clock of Europe/Madrid"} {
		if !strings.Contains(string(data), want) {
			t.Errorf("there is no %q in\n%s", want, data)
		}
	}
}

// A picture without its place asks for it; in another zone its clock shows the same.
func TestAPictureWithoutAPlace(t *testing.T) {
	t.Parallel()
	heading := 300.4
	s, _ := openPictures(t, 80, 24, "19:26:00", phototest.Shot{Clock: "2026:09:18 19:10:00", Heading: &heading})
	s.Until("no place: Enter, then paste it; from a.jpg: take-off")
	s.Type("\r\x1b[200~43.3672, -8.4604\x1b[201~\r")
	s.Until("Which zone is it?")
	s.Until("+02:00 Europe/Madrid")
	s.Type("1")
	s.Until("take-off is 19:10 on the clock there")
}
