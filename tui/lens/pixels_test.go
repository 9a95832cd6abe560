package lens

import (
	"slices"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/tui/cells"
)

// At two pixels a cell the true pictures are those in half blocks before their colours are cut, whole, halved and mirrored
// alike, but for the subject; one that was not asked for is not drawn, and nothing for a key that waits.
func TestFinerPictures(t *testing.T) {
	never := func() bool { return false }
	for card := range 7 {
		for _, room := range [][2]int{{48, 24}, {41, 13}} {
			p, _ := open(t, Ask{Cols: room[0], Rows: room[1]}, card)
			s := p.shown
			parts := []int{len(s.views) - 1}
			if s.Two() {
				parts = append(parts, 0)
			}
			imgs, err := s.finer.Draw(never, parts, 1, 2)
			if err != nil || len(imgs) != len(parts) {
				t.Fatal(len(imgs), err)
			}
			for i, part := range parts {
				v := &s.views[part]
				if b := imgs[i].Bounds(); b.Dx() != v.pic.W || b.Dy() != v.pic.H {
					t.Fatalf("card %d, view %d: %v for %d by %d", card+1, part, b, v.pic.W, v.pic.H)
				}
				bar, in := v.col(s.Frame.Subject.Foot.X, s.Frame.W)
				for k, want := range v.pic.Pix {
					px := imgs[i].NRGBAAt(k%v.pic.W, k/v.pic.W)
					got := cells.PictureColour(px.R, px.G, px.B)
					if atBar := in && s.Frame.Subject.In && k%v.pic.W == bar-v.x; px.A != 255 || got != want && !atBar {
						t.Fatalf("card %d in %v, view %d, pixel %d: %v", card+1, room, part, k, px)
					}
				}
			}
			if imgs, err := s.finer.Draw(func() bool { return true }, parts, 1, 2); imgs != nil || err != nil {
				t.Error("drawn for nobody")
			}
		}
	}
}

// The subject stands in the true picture as it does in half blocks: a third of a cell wide, as tall as its share of the
// frame, black or white against what lies behind it.
func TestTheBarInTruePixels(t *testing.T) {
	p, _ := open(t, Ask{Cols: 90, Rows: 44, Display: Display{Part: plan.AllBare}}, 0)
	s := p.shown
	const cellW, cellH = 9, 18
	imgs, err := s.finer.Draw(func() bool { return false }, []int{0}, cellW, cellH)
	if err != nil {
		t.Fatal(err)
	}
	v := view{to: s.finer.w * cellW}
	img, bar := imgs[0], s.Frame.Subject
	for _, tall := range []float64{.5, -.5} { // half as tall as the half of the frame; past straight down it hangs
		bar.Foot.X, bar.Foot.Y, bar.Top.Y = 0, -tall/2, tall/2
		v.finerBar(img, &bar, s.finer.w*cellW, cellW)
		ink := img.NRGBAAt(img.Bounds().Dx()/2, img.Bounds().Dy()/2)
		if ink.R != ink.G || ink.G != ink.B || ink.R != 0 && ink.R != 255 {
			t.Fatalf("the bar is %v", ink)
		}
		wide, high := 0, 0
		for x := range img.Bounds().Dx() {
			if img.NRGBAAt(x, img.Bounds().Dy()/2) == ink {
				wide++
			}
		}
		for y := range img.Bounds().Dy() {
			if img.NRGBAAt(img.Bounds().Dx()/2, y) == ink {
				high++
			}
		}
		if want := img.Bounds().Dy() / 4; wide != cellW/3 || high < want-1 || high > want+2 {
			t.Errorf("%d by %d pixels, want %d by %d", wide, high, cellW/3, want)
		}
	}
	was := img.NRGBAAt(img.Bounds().Dx()/4, img.Bounds().Dy()/2)
	bar.In, bar.Foot.X = false, -.5
	if v.finerBar(img, &bar, s.finer.w*cellW, cellW); img.NRGBAAt(img.Bounds().Dx()/4, img.Bounds().Dy()/2) != was {
		t.Error("a subject out of the frame is drawn")
	}
}

// What is noisy is hatched in the true picture where it is marked in half blocks, and only there.
func TestZebraInTruePixels(t *testing.T) {
	marked := 0
	for card := range 7 {
		for exposure := range plan.Exposure(plan.Exposures) {
			draw := func(zebra bool) ([]uint8, float64) {
				p, _ := open(t, Ask{Cols: 24, Rows: 12, Display: Display{Part: plan.AllBare, Exposure: exposure, Zebra: zebra}}, card)
				imgs, err := p.shown.finer.Draw(func() bool { return false }, []int{0}, 1, 2)
				if err != nil {
					t.Fatal(err)
				}
				return imgs[0].Pix, 1 - picture.Share(p.shown.views[0].bad, picture.Fine)
			}
			plain, _ := draw(false)
			hatched, share := draw(true)
			if share == 0 && !slices.Equal(plain, hatched) {
				t.Errorf("card %d, exposure %d: nothing is marked, and it is hatched", card+1, exposure)
			}
			if share > 0.05 {
				marked++
				if slices.Equal(plain, hatched) {
					t.Errorf("card %d, exposure %d: %.0f %% are marked, and none is hatched", card+1, exposure, 100*share)
				}
			}
		}
	}
	if marked == 0 {
		t.Error("nothing is marked in any of them")
	}
}
