package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/call"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
)

// lensPane draws the frame at the playhead, bare beside filtered.
func (s *screen) lensPane(m *model, w panel.Window) {
	_, rows := w.Size()
	r := m.calc.report
	var at []string
	i := m.calc.at(m.second)
	if i >= 0 {
		mo := &r.Path[i]
		pitch := panel.Minus(fmt.Sprintf("%.0f", math.Round(mo.PitchDeg)+0))
		at = []string{
			fmt.Sprintf("%s · leg %d · %.0f° · pitch %s°", panel.FlightTime(m.second), mo.Leg+1, mo.HeadingDeg, pitch),
			fmt.Sprintf("%s · leg %d · %.0f°", panel.FlightTime(m.second), mo.Leg+1, mo.HeadingDeg),
			fmt.Sprintf("leg %d · %.0f°", mo.Leg+1, mo.HeadingDeg),
		}
		if about := m.aboutPicture(); about != "" {
			at = []string{about + " · " + at[0], about + " · " + at[1], about + " · " + at[2], about}
		}
	}
	s.header(m, w, paneLens, at...)
	p := &m.calc.pic
	if r == nil || p.W == 0 || rows < 4 {
		return
	}
	ox, _ := w.Origin()
	room := w.Sub(s.lens.X-ox, 1, s.lens.W, rows-2)
	rc, rr := room.Size()
	x, y := max(0, (rc-p.W)/2), max(0, (rr-p.H/2)/2)
	if s.kind != panel.OnePane {
		y = 0
	}
	room.Picture(x, y, p)
	s.zebra(m, room, x, y)
	split := s.divider(m, room, x, y)
	s.marks(m, room, x, y)
	s.lensLabels(m, w, s.lens.X-ox+x, 1+y+p.H/2, split)
	if m.stale() {
		w.Fade()
	}
}

// divider draws the line between the bare and the filtered part and returns its column, −1 for none.
func (s *screen) divider(m *model, w panel.Window, x, y int) int {
	p := &m.calc.pic
	if m.asked().display.part != plan.HalfFiltered || !m.filtered() {
		return -1
	}
	split := p.W / 2
	for j := 0; j < p.H/2; j++ {
		w.Set(x+split, y+j, '│', cells.Style{Fg: cells.RGB(255, 255, 255), Bg: cells.RGB(24, 24, 24)})
	}
	return split
}

// asked returns what the picture on the screen was drawn for.
func (m *model) asked() want { return m.calc.asked }

// setHere returns what the call sets on the flight at the playhead.
func (m *model) setHere() *plan.Call {
	r := m.calc.report
	if i := m.calc.at(m.second); i >= 0 {
		if f := r.FlightOf(r.Path[i].Leg); f != nil {
			return &f.Set
		}
	}
	return &r.Call
}

// filtered tells whether the call puts anything on the lens at the playhead.
func (m *model) filtered() bool {
	if m.calc.report == nil {
		return false
	}
	set := m.setHere()
	return set.Filter != "none" && set.Filter != ""
}

// marks shows where the sun, its mirror in water, the aircraft's own shadow and the horizon are with
// characters and words, for eyes and terminals that do not see the difference in colour.
func (s *screen) marks(m *model, w panel.Window, x, y int) {
	f, p := m.calc.frame, &m.calc.pic
	if f == nil {
		return
	}
	col := func(v float64) int { return min(x+p.W-1, x+int((v+1)/2*float64(p.W))) }
	line := func(v float64) int { return min(y+p.H/2-1, y+int((1-v)/2*float64(p.H))/2) }
	tag := cells.Style{Fg: cells.RGB(255, 255, 255), Bg: cells.RGB(24, 24, 24), Attr: cells.Bold}
	if len(f.Horizon) > 0 && math.Abs(f.Horizon[0]) < 1 {
		w.Set(x, line(f.Horizon[0]), '─', tag)
		w.Set(x+p.W-1, line(f.Horizon[len(f.Horizon)-1]), '─', tag)
	}
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
		kx, ky := col(k.at.X), line(k.at.Y)
		w.Set(kx, ky, k.sign, tag)
		switch n := cells.Width(k.word); {
		case kx+n < x+p.W:
			w.Text(kx+1, ky, k.word, tag)
		case kx-n >= x:
			w.Text(kx-n, ky, k.word, tag)
		}
	}
}

// The signs of what is wrong with a piece of the picture. A picture without colour is drawn in
// characters by brightness, and these are not among them.
const (
	clipSign  = '/'
	noiseSign = '~'
)

// zebra marks the cells of the picture of which a pixel clips or is noisy.
func (s *screen) zebra(m *model, w panel.Window, x, y int) {
	p, bad := &m.calc.pic, m.calc.bad
	if len(bad) < p.W*p.H {
		return
	}
	for j := range p.H / 2 {
		for i := range p.W {
			top, bottom := bad[2*j*p.W+i], bad[(2*j+1)*p.W+i]
			ground := p.Pix[(2*j+1)*p.W+i]
			switch {
			case top == picture.Clipped || bottom == picture.Clipped:
				w.Set(x+i, y+j, clipSign, cells.Style{Fg: cells.RGB(0, 0, 0), Bg: ground})
			case top == picture.Noisy && bottom == picture.Noisy:
				w.Set(x+i, y+j, noiseSign, cells.Style{Fg: cells.RGB(170, 170, 170), Bg: ground})
			}
		}
	}
}

// exposureWords say how the two parts of the picture are exposed.
var exposureWords = [plan.Exposures]struct{ short, long string }{
	plan.OneExposure:  {"", "both parts at one exposure and white balance: what differs is what the filter does"},
	plan.OwnExposure:  {"own exposure", "each part at its own exposure and white balance"},
	plan.CallExposure: {"as set", "the picture as the call sets shutter, ISO and white balance"},
}

// exposeNext changes the exposure of the picture and says to what.
func (m *model) exposeNext() {
	m.display.exposure = (m.display.exposure + 1) % plan.Exposures
	m.say(exposureWords[m.display.exposure].long)
}

// zebraSwitch shows or hides the marks of clipping and noise.
func (m *model) zebraSwitch() {
	m.display.zebra = !m.display.zebra
	if m.display.zebra {
		m.say(fmt.Sprintf("marked in the picture: %c clips, %c is noisy at an ISO above the clean one", clipSign, noiseSign))
	}
}

// aboutPicture says what is special about the picture on the screen; "" for nothing.
func (m *model) aboutPicture() string {
	shown, bad := m.asked().display, m.calc.bad
	var phrases []string
	if w := exposureWords[shown.exposure].short; w != "" {
		phrases = append(phrases, w)
	}
	if shown.zebra && len(bad) > 0 {
		share := func(k picture.PixelMark, sign rune, word string) {
			if v := picture.Share(bad, k); v > 0 {
				phrases = append(phrases, fmt.Sprintf("%c %s %s", sign, percent(v), word))
			}
		}
		share(picture.Clipped, clipSign, "clips")
		share(picture.Noisy, noiseSign, "noisy")
		if picture.Share(bad, picture.Fine) == 1 {
			phrases = append(phrases, "nothing clips")
		}
	}
	return strings.Join(phrases, " · ")
}

// percent says a share of the picture.
func percent(v float64) string {
	if v < .01 {
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}

// lensLabels names the two parts below the picture, and says where the sun is when it is outside.
func (s *screen) lensLabels(m *model, w panel.Window, x, y, split int) {
	cols, rows := w.Size()
	if y >= rows {
		y = rows - 1
	}
	r, set := m.calc.report, m.setHere()
	through := w.Plainly(call.FilterName(set))
	if set.HasRing {
		through += ", " + kit.Clock(set.RingDeg)
	}
	where := ""
	if i := m.calc.at(m.second); i >= 0 && m.calc.frame != nil && !m.calc.frame.SunIn {
		where = sunAside(&r.Path[i])
	}
	left := ""
	switch {
	case !m.filtered():
		left = "bare: no filter on this flight"
	case m.asked().display.part == plan.AllBare:
		left = "bare"
	case split < 0:
		left = "through " + through
	default:
		left = "bare"
		w.Text(x+split+1, y, cells.Cut(through, cols-x-split-1), panel.Plain)
	}
	end := w.Text(x, y, left, panel.Plain)
	if limit := split; where != "" {
		if split < 0 {
			limit = cols - x
		}
		if end-x+3+cells.Width(where) <= limit {
			w.Text(w.Text(end, y, " · ", panel.Faint), y, where, panel.Dim)
		} else if y+1 < rows {
			w.Text(x, y+1, where, panel.Dim)
		}
	}
}

// sunAside says where the sun is, seen from the camera.
func sunAside(mo *shot.Moment) string {
	d := math.Remainder(mo.Sun[0].AzimuthDeg-mo.HeadingDeg, 360)
	switch {
	case mo.Sun[0].AltitudeDeg < -0.8:
		return "sun is down"
	case math.Abs(d) < 10:
		return "sun ahead"
	case math.Abs(d) > 170:
		return "sun behind"
	case d > 0:
		return fmt.Sprintf("sun %.0f° right", d)
	}
	return fmt.Sprintf("sun %.0f° left", -d)
}
