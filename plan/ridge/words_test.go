package ridge

import (
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func TestDirectionsInWords(t *testing.T) {
	at := func(degs ...float64) (steps []int) {
		for _, d := range degs {
			steps = append(steps, int(d*perDegree))
		}
		return steps
	}
	var all []float64
	for d := 0.0; d < 360; d += 5 {
		all = append(all, d)
	}
	for want, steps := range map[string][]int{
		"N": at(359, 2), "SE to SW": at(135, 160, 180, 200, 225), "E, W": at(90, 270), "NW to NE": at(315, 340, 0, 25, 45), "all sides": at(all...),
	} {
		if got := pointsOf(steps); got != want {
			t.Errorf("%v: %q, want %q", steps, got, want)
		}
	}
	for _, c := range []struct {
		from, to float64
		want     string
	}{
		{90, 90, "90° (E)"}, {269.8, 270.2, "270° (W)"}, {353.2, 7.9, "353 to 8° (N)"}, {45, 135, "45 to 135° (NE to SE)"},
		{0, 359.9, "all sides"}, {0.1, 0, "all sides"}, // whichever step closes the circle
	} {
		if got := arc(c.from, c.to); got != c.want {
			t.Errorf("%g to %g: %q, want %q", c.from, c.to, got, c.want)
		}
	}
	for km, want := range map[float64]string{.03: "30 m", .4: "0.4 km", 9.9: "9.9 km", 12.4: "12 km"} {
		if got := Distance(km); got != want {
			t.Errorf("%g km: %q, want %q", km, got, want)
		}
	}
	u := Unknown{Tile: "N43W010", Km: 3, From: 200, To: 300, UpToDeg: 4.25}
	if got := unknowns([]Unknown{u}); got != "N43W010 (from 3.0 km, towards 200 to 300° (SSW to WNW))" {
		t.Errorf("%q", got)
	}
	if got := unknowns([]Unknown{u, u, u, u, {Km: 70}, {Km: 90}}); !strings.HasSuffix(got, ", and 2 more from 70 km on") || strings.Count(got, "N43W010") != mostNamed {
		t.Errorf("%q", got)
	}
	if a, b := upTo([]Unknown{u, {UpToDeg: 7}}), upTo([]Unknown{{UpToDeg: 60}, u}); a != "7.0°" || b != "the zenith" {
		t.Errorf("%q %q", a, b)
	}
}

// What a skyline takes of a day: the sun stands on the ridge when it comes and leaves, and the minutes that are said are
// those to the almanac's sunrise and sunset.
func TestTheSunOverASkyline(t *testing.T) {
	s := &shot.Shot{LatDeg: 45, LonDeg: 9, Zone: time.FixedZone("", 3600), TakeOff: time.Date(2026, 3, 20, 12, 0, 0, 0, time.FixedZone("", 3600))}
	level := func(deg float64) [][2]float64 { return [][2]float64{{0, deg}, {90, deg}, {180, deg}, {270, deg}} }

	open := SunOver(s, nil)
	if w := open.Words(s); len(w) != 2 || !strings.HasSuffix(w[0], ", as on a level horizon") || !strings.HasSuffix(w[1], ", as on a level horizon") {
		t.Errorf("%q", w)
	}
	walled := SunOver(s, level(10))
	comes, ok1 := walled.Comes()
	leaves, ok2 := walled.Leaves()
	if !ok1 || !ok2 {
		t.Fatalf("%+v", walled)
	}
	for _, at := range []time.Time{comes, leaves} {
		if alt := sun.At(at, s.LatDeg, s.LonDeg).AltitudeDeg; math.Abs(alt-10) > .05 {
			t.Errorf("at %v the sun stands at %.2f°, not on the ridge", at, alt)
		}
	}
	late, ok1 := walled.ComesLateMin()
	early, ok2 := walled.LeavesEarlyMin()
	if !ok1 || !ok2 || math.Abs(late-comes.Sub(walled.Sunrise).Minutes()) > 1e-9 || math.Abs(early-walled.Sunset.Sub(leaves).Minutes()) > 1e-9 || late < 50 || early < 50 {
		t.Errorf("%g min late, %g min early: %+v", late, early, walled)
	}
	if w := walled.Words(s); len(w) != 2 || !strings.HasPrefix(w[0], "the sun comes at "+s.OnTheClock(comes)) || !strings.HasSuffix(w[0], " after sunrise") ||
		!strings.HasPrefix(w[1], "the sun leaves at "+s.OnTheClock(leaves)) || !strings.HasSuffix(w[1], " before sunset") {
		t.Errorf("%q", w)
	}
	// a peak in the south hides it at noon, where it stands at 45°
	peak := SunOver(s, [][2]float64{{0, 0}, {90, 0}, {170, 0}, {175, 60}, {185, 60}, {190, 0}, {270, 0}})
	if w := peak.Words(s); len(peak.Spans) != 2 || len(w) != 3 || w[1] != "hidden from "+s.OnTheClock(peak.Spans[0].To)+" to "+s.OnTheClock(peak.Spans[1].From) {
		t.Errorf("%q", w)
	}
	pit := SunOver(s, level(60))
	if _, ok := pit.Comes(); ok || strings.Join(pit.Words(s), "") != "the sun is not seen on this day" {
		t.Errorf("%q", pit.Words(s))
	}
	if _, ok := pit.LeavesEarlyMin(); ok {
		t.Error("a sun that is not seen leaves early")
	}
	// under the midnight sun there is no sunrise to compare with, and no midnight at which it leaves
	north := &shot.Shot{LatDeg: 69.6, LonDeg: 18.9, Zone: time.FixedZone("", 7200), TakeOff: time.Date(2026, 6, 20, 23, 40, 0, 0, time.FixedZone("", 7200))}
	for name, c := range map[string]struct {
		skyline [][2]float64
		want    string
	}{
		"level":                    {nil, "^the sun is seen all day$"},
		"a ridge towards midnight": {[][2]float64{{270, 0}, {315, 20}, {0, 20}, {45, 20}, {90, 0}}, "^the sun comes at 0[3-6]:..; the sun leaves at 2[0-3]:..$"},
		"a ridge after midnight":   {[][2]float64{{20, 0}, {21, 20}, {40, 20}, {41, 0}}, "^hidden from 0.:.. to 0.:..$"},
	} {
		over := SunOver(north, c.skyline)
		if text := strings.Join(over.Words(north), "; "); !regexp.MustCompile(c.want).MatchString(text) {
			t.Errorf("%s: %q", name, text)
		}
	}
	// from a height it stays longer than on a level horizon
	below := SunOver(s, level(-3))
	if w := below.Words(s); len(w) != 2 || !strings.HasSuffix(w[0], " before sunrise") || !strings.HasSuffix(w[1], " after sunset") {
		t.Errorf("%q", w)
	}
}

// lineOf is a skyline by hand: so high in each direction, from land so far away.
func lineOf(deg, km func(azDeg float64) float64) *Line {
	l := &Line{GroundM: 100, Deg: make([]float64, count), Km: make([]float64, count)}
	for i := range l.Deg {
		az := float64(i) / perDegree
		l.Deg[i], l.Km[i] = deg(az), km(az)
	}
	return l
}

// Towards each point of the compass the highest counts that is nearer to it than to another, north on both sides of 0°.
func TestSectors(t *testing.T) {
	l := lineOf(func(az float64) float64 {
		switch {
		case az == 349, az == 100:
			return 7
		case az == 11: // within 11.25° of north
			return 9
		case az == 180:
			return -2.5
		}
		return -3
	}, func(az float64) float64 { return az })
	list, highest := l.Sectors()
	if highest != (Sector{11, 9, 11}) || list[0] != highest {
		t.Errorf("highest %+v, north %+v", highest, list[0])
	}
	for k, want := range map[int]Sector{4: {100, 7, 100}, 8: {180, -2.5, 180}, 2: {33.75, -3, 33.75}} {
		if got := list[k]; got.Deg != want.Deg || math.Abs(got.BearingDeg-want.BearingDeg) > 0.5 || got.Km != got.BearingDeg {
			t.Errorf("%s: %+v, want %+v", shot.Compass(float64(k)*22.5), got, want)
		}
	}
}

// What is to be doubted is said once each, and only that.
func TestCautionsOfALine(t *testing.T) {
	level := func(x float64) func(float64) float64 { return func(float64) float64 { return x } }
	card := 128.0
	for want, l := range map[string]*Line{
		"": lineOf(level(3), level(5)),
		// 5 m at 100 m are 2.9° by the tangent
		"towards all sides it is ground close by, from 0.1 km on: 5 m of error in the tiles are 2.9° there, so look for yourself": lineOf(level(3), level(.1)),
		"towards E it is ground close by, from 50 m on: 5 m of error in the tiles are 5.7° there, so look for yourself": lineOf(func(az float64) float64 { return 0 }, func(az float64) float64 {
			return 5
		}),
	} {
		if strings.HasPrefix(want, "towards E ") {
			l.Deg[90*perDegree], l.Km[90*perDegree] = 4, .05
			l.Deg[45*perDegree], l.Km[45*perDegree] = 0.4, .01 // so low that it hides no sun
		}
		if got := strings.Join(l.Cautions(&card), "\n"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	l := lineOf(level(3), level(5))
	l.Mixed, l.OnVoid = true, true
	l.Missing = []Unknown{{Tile: "N43W010", Km: 3, From: 200, To: 300, UpToDeg: 4.25}}
	card = 900 // of which the void says nothing
	got := l.Cautions(&card)
	if len(got) != 3 || !strings.HasPrefix(got[0], "1 tile is missing and taken for the sea: N43W010 ") || !strings.HasPrefix(got[1], "tiles of both sizes are mixed") ||
		got[2] != "the tile has a void at the take-off: its height is the card's" {
		t.Errorf("%q", got)
	}
}
