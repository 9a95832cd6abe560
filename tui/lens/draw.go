package lens

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// tag is how a sign stands in a picture, for eyes and terminals that do not see the difference in colour.
var tag = cells.Style{Fg: cells.RGB(255, 255, 255), Bg: cells.RGB(24, 24, 24), Attr: cells.Bold}

// Draw places the pictures with their marks and words. through is what is on the lens.
func (s *Shown) Draw(w panel.Window, k panel.Known, through string) {
	if s.Frame == nil {
		return
	}
	for i := range s.views {
		v := &s.views[i]
		w.Picture(v.x, v.y, &v.pic)
		w.Patch(v.x, v.y, v.pic.W, v.pic.H/2, s.finer, i)
		v.zebra(w)
		v.horizon(w, s.Frame)
		v.crest(w, s.Frame)
		if !v.through || !s.Two() { // one picture of two stays as clean as it can
			v.ranges(w, s.Frame)
		}
		v.bar(w, &s.Frame.Subject, s.Frame.W)
		v.signs(w, s.Frame)
		if s.halved() && i == 1 {
			for y := range v.pic.H / 2 {
				w.Set(v.x, v.y+y, '│', tag)
			}
		}
	}
	s.labels(w, k, through)
	cols, _ := w.Size()
	legend := w.Plainly(s.legend(cols, poor(w.Pen)))
	w.Text(max(0, min(s.views[0].x, cols-cells.Width(legend))), s.end, legend, panel.Dim)
}

// halved tells whether a half is shown and its mirror image.
func (s *Shown) halved() bool { return s.Two() && s.views[0].to-s.views[0].from < s.Frame.W }

// col returns the column of a place across the frame, −1..1. What is in the middle of the frame is at the seam of both
// halves.
func (v *view) col(x float64, frameW int) (col int, in bool) {
	px := min(frameW-1, int(math.Floor((x+1)/2*float64(frameW))))
	switch middle := frameW / 2; {
	case v.to == middle && px == middle:
		px--
	case v.from == middle && px == middle-1:
		px++
	}
	if px < v.from || px >= v.to {
		return 0, false
	}
	if v.mirrored {
		return v.x + v.to - 1 - px, true
	}
	return v.x + px - v.from, true
}

// pixel returns the line of pixels of a place up the frame, −1..1; it may lie outside.
func (v *view) pixel(y float64) int { return int(math.Floor((1 - y) / 2 * float64(v.pic.H))) }

// row returns the line of a place up the frame.
func (v *view) row(y float64) int {
	return v.y + max(0, min(v.pic.H/2-1, v.pixel(y)/2))
}

// The signs of what is wrong with a piece of the picture. A picture without colour is drawn in
// characters by brightness, and these are not among them.
const (
	clipSign  = '/'
	noiseSign = '~'
)

// zebra marks the cells of the picture of which a pixel clips or is noisy.
func (v *view) zebra(w panel.Window) {
	p := &v.pic
	if len(v.bad) < p.W*p.H {
		return
	}
	for j := range p.H / 2 {
		for i := range p.W {
			top, bottom := v.bad[2*j*p.W+i], v.bad[(2*j+1)*p.W+i]
			ground := p.Pix[(2*j+1)*p.W+i]
			switch {
			case top == picture.Clipped || bottom == picture.Clipped:
				w.Set(v.x+i, v.y+j, clipSign, cells.Style{Fg: cells.RGB(0, 0, 0), Bg: ground})
				w.InPicture(v.x+i, v.y+j) // in pixels it is hatched
			case top == picture.Noisy && bottom == picture.Noisy:
				w.Set(v.x+i, v.y+j, noiseSign, cells.Style{Fg: cells.RGB(170, 170, 170), Bg: ground})
				w.InPicture(v.x+i, v.y+j)
			}
		}
	}
}

// horizon marks at the edges of the frame where it is.
func (v *view) horizon(w panel.Window, p *picture.Picture) {
	for _, i := range [...]int{0, len(p.Horizon) - 1} {
		x := (2*float64(i)+1)/float64(p.W) - 1
		if col, in := v.col(x, p.W); in && math.Abs(p.Horizon[i]) < 1 {
			w.Set(col, v.row(p.Horizon[i]), '─', tag)
		}
	}
}

// crest marks the skyline where no colour tells it from the sky.
func (v *view) crest(w panel.Window, p *picture.Picture) {
	if !poor(w.Pen) {
		return
	}
	for x := range v.pic.W {
		if row, ok := p.Crest(v.column(x)); ok {
			w.Set(v.x+x, v.y+row/2, '^', cells.Style{})
		}
	}
}

// ranges draws short lines on the ground with their distance beside them, nearest first; where two would fall on
// one line of the screen the nearer one is told.
func (v *view) ranges(w panel.Window, p *picture.Picture) {
	const long = 3
	side := -picture.RangeX
	if v.from > 0 {
		side = -side
	}
	at, in := v.col(side, p.W)
	last := v.y + v.pic.H/2
	for i := range p.Ranges {
		r := &p.Ranges[i]
		row := v.row(r.Y)
		if !in || row >= last || row == v.row(p.Horizon[0]) {
			continue
		}
		last = row
		text := []rune(strings.Repeat("─", long) + fmt.Sprintf(" %.0f m ", r.M))
		x := max(v.x, at-long/2)
		if v.signed(row, x, x+len(text), p) {
			continue
		}
		text = text[:min(len(text), v.x+v.pic.W-x)]
		grounds := v.grounds(x, row, len(text))
		ink := panel.Against(mean(grounds))
		for i, c := range text {
			style := cells.Style{Fg: ink, Bg: grounds[i]}
			if poor(w.Pen) {
				style = tag
			}
			w.Set(x+i, row, c, style)
		}
	}
}

// grounds returns the colours of the picture under letters: of the lower pixels, where a line lies.
func (v *view) grounds(col, row, n int) []cells.Colour {
	at := (2*(row-v.y)+1)*v.pic.W + col - v.x
	return v.pic.Pix[at : at+n]
}

// mean returns a grey as bright as colours are on average.
func mean(of []cells.Colour) cells.Colour {
	luma := 0
	for _, c := range of {
		luma += c.Luma()
	}
	grey := uint8(luma / max(1, len(of)))
	return cells.RGB(grey, grey, grey)
}

// poor tells whether the picture is drawn in characters.
func poor(pen *cells.Pen) bool { return pen.Profile <= cells.Sixteen || pen.ASCII }

// bar draws the subject as an upright of its own size, a pixel at least.
func (v *view) bar(w panel.Window, b *picture.Bar, frameW int) {
	if !b.In {
		return
	}
	col, in := v.col(b.Foot.X, frameW)
	if !in {
		return
	}
	p, i := &v.pic, col-v.x
	foot, tall := v.pixel(b.Foot.Y), (b.Top.Y-b.Foot.Y)/2*float64(p.H)
	top := foot - max(1, int(math.Round(tall))) + 1
	if tall < 0 { // past straight down
		top = foot + int(math.Round(tall)) + 1
		top, foot = foot, max(foot, top)
	}
	top, foot = max(0, min(top, p.H-1)), max(0, min(foot, p.H-1))
	var under []cells.Colour
	for j := top; j <= foot; j++ {
		under = append(under, p.Pix[j*p.W+i])
	}
	ink := panel.Against(mean(under))
	for row := top / 2; row <= foot/2; row++ {
		style := cells.Style{Fg: p.Pix[2*row*p.W+i], Bg: p.Pix[(2*row+1)*p.W+i]}
		if 2*row >= top {
			style.Fg = ink
		}
		if 2*row+1 <= foot {
			style.Bg = ink
		}
		if poor(w.Pen) {
			w.Set(col, v.y+row, '|', tag)
		} else {
			w.Set(col, v.y+row, '▀', style)
			w.InPicture(col, v.y+row)
		}
	}
}

// signed tells whether a sign and its word stand in columns of a line.
func (v *view) signed(row, from, to int, f *picture.Picture) bool {
	for _, at := range [...]picture.FramePoint{f.Shadow, f.Mirror, {X: f.SunX, Y: f.SunY, In: f.SunIn}} {
		const word = len("shadow")
		if col, in := v.col(at.X, f.W); in && at.In && v.row(at.Y) == row && col+word >= from && col-word < to {
			return true
		}
	}
	return false
}

// signs shows where the sun, its mirror in water and the aircraft's own shadow are, with characters and words.
func (v *view) signs(w panel.Window, f *picture.Picture) {
	for _, k := range []struct { // the one that matters most is drawn last
		at   picture.FramePoint
		sign rune
		word string
	}{
		{f.Shadow, '+', "shadow"},
		{f.Mirror, 'o', "glint"},
		{picture.FramePoint{X: f.SunX, Y: f.SunY, In: f.SunIn}, '*', "sun"},
	} {
		if !k.at.In {
			continue
		}
		kx, in := v.col(k.at.X, f.W)
		if !in {
			continue
		}
		ky := v.row(k.at.Y)
		w.Set(kx, ky, k.sign, tag)
		switch n := cells.Width(k.word); {
		case kx+n < v.x+v.pic.W:
			w.Text(kx+1, ky, k.word, tag)
		case kx-n >= v.x:
			w.Text(kx-n, ky, k.word, tag)
		}
	}
}

// labels names the pictures, each on the line below it, and says where the sun is when it is outside.
func (s *Shown) labels(w panel.Window, k panel.Known, through string) {
	cols, _ := w.Size()
	where := ""
	if r := k.Report(); r != nil && !s.Frame.SunIn {
		if i := r.IndexAt(s.Ask.Second); i >= 0 {
			where = sunAside(r.Shot, &r.Path[i])
		}
	}
	for i := range s.views {
		v := &s.views[i]
		text := "bare"
		switch {
		case v.through && s.Two():
			text = w.Plainly(through)
		case v.through:
			text = "through " + w.Plainly(through)
		case !s.Filtered:
			text = "bare: no filter on this flight"
		}
		x, y, most := v.x, v.y+v.pic.H/2, cols-v.x
		if i+1 < len(s.views) && s.views[i+1].y == v.y {
			most = s.views[i+1].x - v.x
		}
		if s.halved() && i == 1 {
			x, most = x+1, most-1
		}
		x = w.Text(x, y, cells.Cut(text, most), panel.Plain)
		most -= cells.Width(text)
		about := []string{}
		if v.mirrored {
			about = append(about, "mirrored")
		}
		if i == 0 && where != "" {
			about = append(about, where)
		}
		for _, t := range about {
			if 3+cells.Width(t) <= most {
				x = w.Text(w.Text(x, y, " · ", panel.Faint), y, t, panel.Dim)
				most -= 3 + cells.Width(t)
			}
		}
	}
}

// sunAside says where the sun is, seen from the camera.
func sunAside(s *shot.Shot, mo *shot.Moment) string {
	p := mo.Sun[0]
	d := math.Remainder(p.AzimuthDeg-mo.HeadingDeg, 360)
	ridge := ""
	if s.SunBehindSkyline(p) {
		ridge = ", behind the ridge"
	}
	switch {
	case p.AltitudeDeg < -0.8:
		return "sun is down"
	case math.Abs(d) < 10:
		return "sun ahead" + ridge
	case math.Abs(d) > 170:
		return "sun behind" + ridge
	case d > 0:
		return fmt.Sprintf("sun %.0f° right%s", d, ridge)
	}
	return fmt.Sprintf("sun %.0f° left%s", -d, ridge)
}
