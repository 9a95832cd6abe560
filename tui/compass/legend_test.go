package compass

import (
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/compass"
	"example.org/skywedge/sun"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

// The legend says what the colours or the figures mean in the room there is, and tells how many lines it
// took.
func TestLegendOfTheMap(t *testing.T) {
	for _, c := range []struct {
		profile cells.Profile
		effect  bool
		cols    int
		alt     float64 // of the sun
		want    []string
	}{
		{cells.TrueColour, false, 50, -5, []string{"0 ######## 80% polarised · strokes: E"}},
		{cells.TrueColour, false, 24, -5, []string{"0 ######## 80% polarised", "strokes: E"}},
		{cells.TrueColour, false, 22, -5, []string{"0 ######## 80%", "polarised · strokes: E"}},
		{cells.TrueColour, false, 20, -5, []string{"0 ######## 80%", "polarised", "strokes: E"}},
		{cells.TwoFiftySix, true, 50, -5, []string{"−2 ######## +1 stops at this ring · strokes: E"}},
		{cells.NoColour, false, 50, -5, []string{"tenths polarised · strokes: E"}},
		{cells.NoColour, true, 50, -5, []string{"half stops darker, + brighter · strokes: E"}},
		{cells.TrueColour, false, 50, 30, []string{"0 ######## 80% polarised · strokes: E · * sun"}},
		{cells.NoColour, false, 30, 30, []string{"tenths polarised · strokes: E", "* sun"}},
	} {
		cv := paneltest.Canvas(c.cols, 4)
		w := panel.NewWindow(cv, &cells.Pen{Profile: c.profile}, nil)
		a := &answer{of: want{effect: c.effect}, track: compass.SunTrack{Points: []compass.SunPoint{sunAt(23, 0, 0, c.alt)}}}
		if n := a.legend(w); n != len(c.want) {
			t.Errorf("%+v: %d lines", c, n)
		}
		var got []string
		for y := range cv.H {
			var b strings.Builder
			for x := range cv.W {
				r := cv.At(x, y).Rune
				if r == '▀' {
					r = '#'
				}
				b.WriteRune(r)
			}
			if l := strings.TrimRight(b.String(), " "); l != "" {
				got = append(got, l)
			}
		}
		if text := strings.Join(got, "\n"); text != strings.Join(c.want, "\n") {
			t.Errorf("%+v:\n%s", c, text)
		}
	}
}

// discOf is a map of 26 pixels on a canvas, without a sky behind it.
func discOf(a *answer) (*disc, *cells.Canvas) {
	const n = 26
	a.of.n = n
	a.sky = &compass.SkyMap{N: n, Degree: make([]float64, n*n), E: make([]float64, n*n), Effect: make([]float64, n*n), Sun: a.track.Start().Pos}
	a.pic.Reset(n, n)
	c := paneltest.Canvas(40, 16)
	return &disc{w: c.All(), x: 3, y: 1, a: a, bare: true}, c
}

func countRune(c *cells.Canvas, r rune) (n int) {
	for y := range c.H {
		for x := range c.W {
			if c.At(x, y).Rune == r {
				n++
			}
		}
	}
	return n
}

func sunAt(hour, minute int, az, alt float64) compass.SunPoint {
	at := time.Date(2026, 6, 1, hour, minute, 0, 0, time.UTC)
	return compass.SunPoint{Time: at, Leg: -1, Pos: sun.Position{AzimuthDeg: az, AltitudeDeg: alt, GeometricDeg: alt}}
}

// The sector at the rim is as wide as the sweep, and there is none of a sun that is down.
func TestSectorAtTheRim(t *testing.T) {
	for _, c := range []struct {
		swept, alt  float64
		least, most int
	}{{0.4, 20, 1, 2}, {90, 20, 12, 24}, {-90, 20, 12, 24}, {30, -3, 0, 0}} {
		a := &answer{track: compass.SunTrack{Points: []compass.SunPoint{sunAt(12, 0, 90, c.alt), sunAt(13, 0, 90+c.swept, c.alt)}, SweptDeg: c.swept}}
		d, cv := discOf(a)
		d.around()
		if n := countRune(cv, '█'); n < c.least || n > c.most {
			t.Errorf("a sweep of %g° at %g° up: %d marks", c.swept, c.alt, n)
		}
		for _, name := range "NESW" {
			if countRune(cv, name) != 1 {
				t.Errorf("a sweep of %g° hides %c", c.swept, name)
			}
		}
		for y := range cv.H {
			for x := range cv.W {
				if cv.At(x, y).Rune == '█' && c.swept == 90 && (x < 15 || y < 6) {
					t.Errorf("from east to south: a mark at %d,%d", x, y)
				}
			}
		}
	}
}

// Only the flight's piece of the sun's way is drawn, with the clock at its ends and a mark where a leg begins; no
// clock hides the sun.
func TestTheSunsWayIsTheFlights(t *testing.T) {
	a := &answer{}
	for m := 14*60 + 10; m <= 16*60; m += 5 {
		a.track.Points = append(a.track.Points, sunAt(m/60, m%60, float64(m-12*60)/4+180, 60-float64(m-14*60)/3))
	}
	a.track.Points[0].Leg, a.track.Points[9].Leg = 0, 1
	d, cv := discOf(a)
	d.sun()
	var text strings.Builder
	for y := range cv.H {
		for x := range cv.W {
			text.WriteRune(cv.At(x, y).Rune)
		}
		text.WriteByte('\n')
	}
	for _, clock := range []string{"14:10", "16:00"} {
		if strings.Count(text.String(), clock) != 1 {
			t.Errorf("%s is not named once:\n%s", clock, text.String())
		}
	}
	if strings.Count(text.String(), ":") != 2 {
		t.Errorf("other times are named:\n%s", text.String())
	}
	if suns, ticks := countRune(cv, '*'), countRune(cv, 'o'); suns != 1 || ticks != 1 { // the sun stands on the first
		t.Errorf("%d suns, %d legs begin", suns, ticks)
	}
	if dots := countRune(cv, '·'); dots < 3 || dots > 23 {
		t.Errorf("%d dots between", dots)
	}
}

// A point behind the ridge is told from the others.
func TestTheSunBehindTheRidge(t *testing.T) {
	a := &answer{}
	for m := 7 * 60; m < 8*60; m += 5 {
		p := sunAt(m/60, m%60, 90+float64(m-7*60)/2, 10)
		p.Behind = m < 7*60+30
		a.track.Points = append(a.track.Points, p)
	}
	d, cv := discOf(a)
	d.sun()
	if countRune(cv, 'x') == 0 || countRune(cv, '·') == 0 {
		t.Errorf("%d points behind the ridge, %d before it", countRune(cv, 'x'), countRune(cv, '·'))
	}
}

// With sixteen colours figures stand for the ramp, and dots show where the horizon is.
func TestSixteenColoursHaveAHorizon(t *testing.T) {
	env := map[string]string{"TERM": "xterm"}
	_, b := open(t, 120, 36, env)
	b.Draw()
	dots := 0
	for y := range b.Canvas.H {
		for x := range 60 {
			if b.Canvas.At(x, y).Rune == '·' {
				dots++
			}
		}
	}
	if dots < 60 {
		t.Errorf("%d dots", dots)
	}
}
