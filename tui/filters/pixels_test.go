package filters

import (
	"testing"

	"example.org/skywedge/tui/cells"
)

// At two pixels a cell the true pictures are those in half blocks before their colours are cut; those that are not
// asked for are not drawn.
func TestFinerPictures(t *testing.T) {
	v, _ := open(t, 120, 36, nil)
	never := func() bool { return false }
	parts := []int{len(v.got.list) - 1, 0}
	imgs, err := v.got.finer.Draw(never, parts, 1, 2)
	if err != nil || len(imgs) != len(parts) {
		t.Fatal(len(imgs), err)
	}
	for i, part := range parts {
		pic := &v.got.pics[part]
		for k, want := range pic.Pix {
			p := imgs[i].NRGBAAt(k%pic.W, k/pic.W)
			if got := cells.PictureColour(p.R, p.G, p.B); got != want || p.A != 255 {
				t.Fatalf("picture %d, pixel %d: %v", part, k, p)
			}
		}
	}
	if imgs, err := v.got.finer.Draw(func() bool { return true }, parts, 1, 2); imgs != nil || err != nil {
		t.Error("drawn for nobody")
	}
}
