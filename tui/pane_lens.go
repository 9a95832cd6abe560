package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/tui/cells"
)

// lensPane draws the frame at the playhead, bare beside filtered.
func (s *screen) lensPane(m *model, w cells.Window) {
	_, rows := w.Size()
	r := m.calc.report
	var at []string
	i := m.calc.at(m.second)
	if i >= 0 {
		mo := &r.Path[i]
		pitch := minus(fmt.Sprintf("%.0f", mo.PitchDeg))
		at = []string{
			fmt.Sprintf("%s · leg %d · %.0f° · pitch %s°", clock(m.second), mo.Leg+1, mo.HeadingDeg, pitch),
			fmt.Sprintf("%s · leg %d · %.0f°", clock(m.second), mo.Leg+1, mo.HeadingDeg),
			fmt.Sprintf("leg %d · %.0f°", mo.Leg+1, mo.HeadingDeg),
		}
	}
	s.header(m, w, paneLens, at...)
	p := &m.calc.pic
	if r == nil || p.W == 0 || rows < 4 {
		return
	}
	ox, _ := w.Origin()
	room := w.Sub(s.lens.x-ox, 1, s.lens.w, rows-2)
	rc, rr := room.Size()
	x, y := max(0, (rc-p.W)/2), max(0, (rr-p.H/2)/2)
	if s.kind != onePane {
		y = 0
	}
	room.Picture(x, y, p)
	split := s.divider(m, room, x, y)
	s.marks(m, room, x, y)
	s.lensLabels(m, w, s.lens.x-ox+x, 1+y+p.H/2, split)
	if m.stale() {
		w.Fade()
	}
}

// divider draws the line between the bare and the filtered part and gives its column, −1 for none.
func (s *screen) divider(m *model, w cells.Window, x, y int) int {
	p := &m.calc.pic
	if m.asked().lens != halfAndHalf || !m.filtered() {
		return -1
	}
	split := p.W / 2
	for j := 0; j < p.H/2; j++ {
		w.Set(x+split, y+j, '│', cells.Style{Fg: cells.RGB(255, 255, 255), Bg: cells.RGB(24, 24, 24)})
	}
	return split
}

// asked gives what the picture on the screen was drawn for.
func (m *model) asked() want { return m.calc.asked }

// filtered tells whether the call puts anything on the lens.
func (m *model) filtered() bool {
	return m.calc.report != nil && m.calc.report.Call.Filter != "none" && m.calc.report.Call.Filter != ""
}

// marks shows the sun and the horizon with characters, for eyes and terminals that do not see the
// difference in colour.
func (s *screen) marks(m *model, w cells.Window, x, y int) {
	f, p := m.calc.frame, &m.calc.pic
	if f == nil {
		return
	}
	col := func(v float64) int { return x + int((v+1)/2*float64(p.W)) }
	line := func(v float64) int { return y + int((1-v)/2*float64(p.H))/2 }
	tag := cells.Style{Fg: cells.RGB(255, 255, 255), Bg: cells.RGB(24, 24, 24), Attr: cells.Bold}
	if len(f.Horizon) > 0 && math.Abs(f.Horizon[0]) < 1 {
		w.Set(x, line(f.Horizon[0]), '─', tag)
		w.Set(x+p.W-1, line(f.Horizon[len(f.Horizon)-1]), '─', tag)
	}
	if f.SunIn {
		sx, sy := min(col(f.SunX), x+p.W-1), line(f.SunY)
		w.Set(sx, sy, '*', tag)
		if sx+4 < x+p.W {
			w.Text(sx+1, sy, "sun", tag)
		} else {
			w.Text(sx-3, sy, "sun", tag)
		}
	}
}

// lensLabels names the two parts below the picture, and says where the sun is when it is outside.
func (s *screen) lensLabels(m *model, w cells.Window, x, y, split int) {
	cols, rows := w.Size()
	if y >= rows {
		y = rows - 1
	}
	r := m.calc.report
	through := m.plainly(filterName(&r.Call))
	if r.Call.HasRing {
		through += ", " + kit.Clock(r.Call.RingDeg)
	}
	where := ""
	if i := m.calc.at(m.second); i >= 0 && m.calc.frame != nil && !m.calc.frame.SunIn {
		where = sunAside(&r.Path[i])
	}
	left := ""
	switch {
	case !m.filtered():
		left = "bare: no filter on this flight"
	case m.asked().lens == allBare:
		left = "bare"
	case split < 0:
		left = "through " + through
	default:
		left = "bare"
		w.Text(x+split+1, y, cells.Cut(through, cols-x-split-1), plain)
	}
	end := w.Text(x, y, left, plain)
	if limit := split; where != "" {
		if split < 0 {
			limit = cols - x
		}
		if end-x+3+cells.Width(where) <= limit {
			w.Text(w.Text(end, y, " · ", faint), y, where, dim)
		} else if y+1 < rows {
			w.Text(x, y+1, where, dim)
		}
	}
}

// sunAside says where the sun is, seen from the camera.
func sunAside(mo *plan.Moment) string {
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

// clock writes seconds of flight.
func clock(second float64) string {
	if second < 60 {
		return fmt.Sprintf("%.0f s", second)
	}
	return fmt.Sprintf("%d:%02d", int(second)/60, int(second)%60)
}
