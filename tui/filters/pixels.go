package filters

import (
	"image"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/tui/pixels"
)

// finer draws the small pictures of an answer in true pixels. No other answer draws the same.
type finer struct {
	of   want
	list []plan.Ranked
}

var _ pixels.Source = (*finer)(nil)

// Draw implements [pixels.Source].
func (f *finer) Draw(stop func() bool, parts []int, cellW, cellH int) ([]*image.NRGBA, error) {
	out := make([]*image.NRGBA, len(parts))
	var scenes light.Scenes
	for i, part := range parts {
		o := plan.FrameOptions{Second: f.of.second, W: f.of.w * cellW, H: f.of.h / 2 * cellH, Scenes: &scenes, Stop: stop}
		rgb, err := through(f.of.report, &f.list[part], o)
		if err != nil || stop() {
			return nil, err
		}
		out[i] = pixels.NewImage(rgb, o.W, o.H, o.W, func(x int) int { return x })
	}
	return out, nil
}
