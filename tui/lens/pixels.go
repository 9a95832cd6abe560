package lens

import (
	"image"
	"image/color"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	"example.org/skywedge/tui/pixels"
)

// finer draws the frame of a [Shown] in true pixels. It is compared with others: what it has decides what is drawn.
type finer struct {
	of     *plan.Report
	ask    Ask
	scenes *light.Scenes
	w, h   int // of the whole frame in half blocks
	views  [2]side
}

// side is what a view shows: which columns of the frame, and how.
type side struct {
	through, mirrored bool
	from, to          int
}

var _ pixels.Source = finer{}

// Draw implements [pixels.Source]. The frame is drawn once for both views.
func (f finer) Draw(stop func() bool, parts []int, cellW, cellH int) ([]*image.NRGBA, error) {
	o := plan.FrameOptions{Second: f.ask.Second, Ring: math.NaN(), Scenes: f.scenes, Stop: stop, W: f.w * cellW, H: f.h / 2 * cellH}
	frame, err := f.of.Frame(o)
	if err != nil || stop() {
		return nil, err
	}
	d, err := f.of.Development(o, frame, f.ask.Exposure, f.ask.Part)
	if err != nil {
		return nil, err
	}
	out := make([]*image.NRGBA, len(parts))
	var rgb []uint8
	var marks []picture.PixelMark
	for i, part := range parts {
		s := f.views[part]
		if d.FromX = frame.W; s.through {
			d.FromX = 0
		}
		if rgb = frame.Develop(d, rgb); stop() {
			return nil, nil
		}
		if f.ask.Zebra {
			marks = frame.Marks(d, marks)
			frame.Hatch(rgb, marks)
		}
		v := view{through: s.through, mirrored: s.mirrored, from: s.from * cellW, to: s.to * cellW}
		out[i] = pixels.NewImage(rgb, frame.W, frame.H, v.to-v.from, v.column)
		v.finerBar(out[i], &frame.Subject, frame.W, cellW)
	}
	frame.Spend()
	return out, nil
}

// finerBar draws the subject as an upright of its own size, a third of a cell wide.
func (v *view) finerBar(img *image.NRGBA, b *picture.Bar, frameW, cellW int) {
	middle, in := v.col(b.Foot.X, frameW)
	if !b.In || !in {
		return
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	line := func(y float64) int { return int(math.Floor((1 - y) / 2 * float64(h))) }
	top, foot := line(b.Top.Y), line(b.Foot.Y)
	if top > foot { // past straight down
		top, foot = foot, top
	}
	wide := max(1, cellW/3)
	bar := image.Rect(middle-wide/2, min(top, foot-1), middle-wide/2+wide, foot+1).Intersect(image.Rect(0, 0, w, h))
	var under []cells.Colour
	for y := bar.Min.Y; y < bar.Max.Y; y++ {
		p := img.NRGBAAt(middle, y)
		under = append(under, cells.RGB(p.R, p.G, p.B))
	}
	ink := color.NRGBA{A: 255}
	if panel.Against(mean(under)) == cells.RGB(255, 255, 255) {
		ink = color.NRGBA{255, 255, 255, 255}
	}
	for y := bar.Min.Y; y < bar.Max.Y; y++ {
		for x := bar.Min.X; x < bar.Max.X; x++ {
			img.SetNRGBA(x, y, ink)
		}
	}
}
