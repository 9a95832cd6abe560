package picture_test

import (
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/shot"
)

// One picture, drawn once, is developed bare on the left and filtered on the right, opened up by the stops
// that the filter takes from plain light: what still differs is what it does to polarised light.
func ExamplePicture_Develop() {
	s := plantest.SeaShot(shot.Water, 0, 10)
	m := s.MomentAt(5)
	leg := &s.Legs[0]
	v := shot.NewView(s.Camera, leg.Mode, false, m.HeadingDeg, m.PitchDeg)
	sheet := kit.Filter{Name: "CPL", Kind: kit.Polariser, LossStops: 1.5}
	mount := sheet.Mount(90, 0)
	p := picture.Draw(light.SceneAt(s, m, 0), v, &mount, 64, 36)

	o := picture.DevelopOptions{FromX: p.W / 2}
	o.Bare.EV100 = p.MeterEV()
	o.Filtered.EV100 = o.Bare.EV100 - 1.5
	pixels := p.Develop(o, nil)
	blue := func(x, y int) uint8 { return pixels[3*(y*p.W+x)+2] }
	fmt.Printf("%d by %d, %d bytes\n", p.W, p.H, len(pixels))
	fmt.Println("the sky is darker on the right:", blue(p.W-8, 4) < blue(8, 4))
	// Output:
	// 64 by 36, 6912 bytes
	// the sky is darker on the right: true
}
