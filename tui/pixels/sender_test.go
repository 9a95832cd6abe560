//go:build unix

package pixels

import (
	"bytes"
	"image"
	"image/png"
	"math/rand"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/tui/internal/screentest"
)

// Whatever is asked of a sender in whatever order, the terminal gets only what the protocol allows, shows just what was
// asked for last, never keeps more than one set, and nothing in the end, cut off or not.
func TestSenderInAnyOrder(t *testing.T) {
	var file bytes.Buffer
	img := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	rnd := rand.New(rand.NewSource(2))
	rnd.Read(img.Pix)
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	for round := range 100 {
		s := NewSender(nil, func() {})
		var out strings.Builder
		write := func(b []byte) bool { out.Write(b); return b != nil }
		set := func() []Picture {
			list := make([]Picture, 1+rnd.Intn(3))
			for i := range list {
				list[i] = Picture{ID: firstID + i, X: i, Y: 2, Cols: 4, Rows: 2, PNG: file.Bytes()}
			}
			return list
		}
		want := 0 // that shall stand when everything is written
		for range 1 + rnd.Intn(40) {
			switch rnd.Intn(6) {
			case 0:
				list := set()
				s.Show(list)
				want = len(list)
			case 1:
				s.Hide()
				want = 0
			case 2:
				if s.Again() {
					want = len(s.list)
				}
			case 3: // a frame
				out.WriteString("\x1b[?2026h")
				write(s.Before())
				out.WriteString("frame")
				write(s.After())
				out.WriteString("\x1b[?2026l")
			default:
				for range rnd.Intn(20) {
					write(s.Next())
				}
			}
		}
		if rnd.Intn(2) == 0 {
			for write(s.Next()) {
			}
			p, err := screentest.ReadPictures(out.String())
			if err != nil || len(p.Up) != want || len(p.Held) > 3 {
				t.Fatalf("round %d: %v, %d stand, want %d", round, err, len(p.Up), want)
			}
		}
		if rnd.Intn(2) == 0 {
			write(s.Leave())
		} else { // what was to be written is lost
			s.Before()
			write(s.Mend())
		}
		if p, err := screentest.ReadPictures(out.String() + "\x1b[?1049l"); err != nil {
			t.Fatalf("round %d: %v", round, err)
		} else if len(p.Up)+len(p.Held) > 0 {
			t.Fatalf("round %d: %d stand in the end", round, len(p.Up))
		}
		if s.Next() != nil {
			t.Fatalf("round %d: something is left", round)
		}
	}
}

// What takes too long is given up, unless it may; nothing of it stays.
func TestSlowLine(t *testing.T) {
	for _, patient := range []bool{false, true} {
		now := time.Time{}
		s := NewSender(nil, func() {})
		s.now = func() time.Time { return now }
		if s.Limit(quick); patient {
			s.Limit(0)
		}
		s.Show([]Picture{{ID: firstID, PNG: make([]byte, 20*payload)}})
		var out strings.Builder
		for b := s.Next(); b != nil; b = s.Next() {
			out.Write(b)
			now = now.Add(quick / 8)
		}
		if s.Slow() == patient || strings.Contains(out.String(), "a=p") != patient {
			t.Errorf("patient %v: slow %v, %q", patient, s.Slow(), out.String())
		}
		if p, err := screentest.ReadPictures(out.String()); !patient && (err != nil || len(p.Held) != 0 || p.Sent != 1) {
			t.Errorf("%v: %d begun, %d kept", err, p.Sent, len(p.Held))
		}
	}
}
