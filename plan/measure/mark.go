package measure

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Where a mark stands: glare off a level glossy floor or water, seen about 37° down, is polarised level (Brewster's angle of
// water, 53° from the upright). It is brightest where the pass axis lies level.

const (
	handDeg    = 6  // how well a hand sets a ring (ours)
	widestGap  = 60 // between positions of the ring, degrees
	leastTurns = 4
	mostOpen   = 20 // degrees: a mark found no better than this is worth less than none (ours)
	sameStops  = 0.1
	leastDepth = 0.1 // how much of the light must come and go with the ring (ours)
)

// OfferedTurns are the positions that a pilot is asked to take, on the clock facing the lens.
var OfferedTurns = []string{"12:00", "1:00", "2:00", "3:00", "4:00", "5:00"}

// Turn is a picture of glare with the mark at a position, clockwise from 12 o'clock facing the lens.
type Turn struct {
	RingDeg float64
	Picture *Picture
}

// Mark is where a filter's mark stands.
type Mark struct {
	Deg         float64 // mark_deg: from the mark to the pass axis, clockwise facing the lens, 0 to 180
	ErrorDeg    float64
	BrightestAt float64 // where the mark stood when the glare was brightest, 0 to 180
	Depth       float64 // the part of the light that comes and goes, 0 to 1
	Turns       int
}

// ParseClock reads a position on the clock, "10:30", as degrees clockwise from 12 o'clock.
func ParseClock(text string) (deg float64, ok bool) {
	h, m, found := strings.Cut(text, ":")
	hour, err := strconv.Atoi(h)
	if !found || err != nil || hour < 0 || hour > 12 || len(m) != 2 {
		return 0, false
	}
	minute, err := strconv.Atoi(m)
	if err != nil || minute < 0 || minute > 59 {
		return 0, false
	}
	return float64(hour%12)*30 + float64(minute)/2, true
}

// MeasureMark finds where a mark stands from pictures of glare: the least squares of I = a + b cos 2(θ − θ0), b > 0, and
// mark_deg = (90 − θ0) mod 180. warnings is what lessens it.
func MeasureMark(turns []Turn) (m Mark, warnings []Note, faults Faults) {
	n := &notes{set: -1}
	var first *Picture
	var pics []*Picture
	var at []float64
	names := map[string]bool{}
	for _, t := range turns {
		p := t.Picture
		if first == nil {
			first = p
		}
		_, exposed := p.Exposed()
		switch {
		case names[p.Name]:
			n.fault(p, "the same picture twice; take one at each position")
		case !exposed:
			n.fault(p, "no exposure time or no ISO is written in it; give the JPEG as the camera wrote it")
		case p.Wide != first.Wide || p.Tall != first.Tall:
			n.fault(p, "%d x %d pixels, and %s has %d x %d; take all in one mode", p.Wide, p.Tall, first.Name, first.Wide, first.Tall)
		case (p.Data.Aperture == nil) != (first.Data.Aperture == nil):
			n.fault(p, "of this and %s only one tells its aperture; give both as the camera wrote them", first.Name)
		}
		names[p.Name] = true
		pics = append(pics, p)
		at = append(at, math.Mod(math.Mod(t.RingDeg, 180)+180, 180))
	}
	if gap, distinct := gaps(at); distinct < leastTurns || gap > widestGap+nearFullRange {
		text := fmt.Sprintf("%d different positions of the ring", distinct)
		if distinct >= leastTurns {
			text = fmt.Sprintf("%.0f° between two positions of the ring", gap)
		}
		n.fault(nil, "%s; take at least %d, no more than %d° apart, such as %s (6:00 is 12:00 again)", text, leastTurns, widestGap, strings.Join(OfferedTurns, ", "))
	}
	if len(n.faults) > 0 {
		return m, nil, n.faults
	}
	all := sums(pics)
	mid := &all[centre]
	if !mid.ok() {
		n.middle(mid, pics, "fill it with the glare, and expose each so that it is a middle grey")
		return m, nil, n.faults
	}
	light, uneven := make([]float64, len(pics)), false
	for i, p := range pics {
		e, _ := p.Exposed()
		e0, _ := first.Exposed()
		light[i] = luma(mid.light[i]) * math.Exp2(e0-e)
		uneven = uneven || math.Abs(e-e0) > sameStops
	}
	m = fit(at, light)
	m.Turns = len(turns)
	if uneven { // at one exposure a curve bends the light alike on both sides of the brightest position
		n.warn(nil, "not all at one exposure: the camera's curve may then move the mark by some degrees; set the exposure by hand and keep it")
	}
	switch {
	case m.Depth < leastDepth:
		n.fault(nil, "turning the ring changed the light by %.0f %% only: no glare off water or a glossy floor, about 37° down, or no polariser", 200*m.Depth)
		return m, nil, n.faults
	case !(m.ErrorDeg <= mostOpen):
		n.fault(nil, "the pictures agree badly with each other, the mark is found to ±%.0f° only: were all positions as given, and did nothing else move?", min(m.ErrorDeg, 90))
		return m, nil, n.faults
	case m.ErrorDeg > 2*handDeg:
		n.warn(nil, "the pictures agree badly with each other: were all positions as given, and did nothing else move?")
	}
	return m, n.warnings, nil
}

// gaps returns the largest gap between positions, which repeat after half a turn, and how many different ones there are.
func gaps(at []float64) (widest float64, distinct int) {
	s := slices.Clone(at)
	slices.Sort(s)
	s = slices.CompactFunc(s, func(a, b float64) bool { return math.Abs(b-a) < 0.01 })
	for i := range s {
		next := s[0] + 180
		if i+1 < len(s) {
			next = s[i+1]
		}
		widest = max(widest, next-s[i])
	}
	return widest, len(s)
}

// fit finds a, b and θ0 by the normal equations of I = a + c cos 2θ + s sin 2θ.
func fit(at, light []float64) (m Mark) {
	var eq [3][3]float64
	var right [3]float64
	row := func(deg float64) [3]float64 {
		s, c := math.Sincos(2 * deg * math.Pi / 180)
		return [3]float64{1, c, s}
	}
	for i, deg := range at {
		r := row(deg)
		for j := range r {
			right[j] += r[j] * light[i]
			for k := range r {
				eq[j][k] += r[j] * r[k]
			}
		}
	}
	inv := inverse(eq)
	x := times(inv, right)
	b := math.Hypot(x[1], x[2])
	bright := math.Atan2(x[2], x[1]) / 2
	m.BrightestAt = math.Mod(bright*180/math.Pi+180, 180)
	m.Deg = math.Mod(270-m.BrightestAt, 180)
	m.Depth = min(b/x[0], 1) // a steep curve makes more of it than there is
	rest := 0.0
	for i, deg := range at {
		r := row(deg)
		d := light[i] - x[0] - x[1]*r[1] - x[2]*r[2]
		rest += d * d
	}
	// θ0 = ½ atan2(s, c): its error is that of (c, s) across its own direction.
	dc, ds := -x[2]/(2*b*b), x[1]/(2*b*b)
	spread := rest / math.Max(float64(len(at)-3), 1) * (dc*dc*inv[1][1] + 2*dc*ds*inv[1][2] + ds*ds*inv[2][2])
	m.ErrorDeg = math.Hypot(math.Sqrt(spread)*180/math.Pi, handDeg/math.Sqrt(float64(len(at))))
	return m
}

// inverse returns the inverse of a matrix that has one.
func inverse(a [3][3]float64) (out [3][3]float64) {
	minor := func(i, j int) float64 {
		r, c := [2]int{(i + 1) % 3, (i + 2) % 3}, [2]int{(j + 1) % 3, (j + 2) % 3}
		return a[r[0]][c[0]]*a[r[1]][c[1]] - a[r[0]][c[1]]*a[r[1]][c[0]]
	}
	det := a[0][0]*minor(0, 0) + a[0][1]*minor(0, 1) + a[0][2]*minor(0, 2)
	for i := range 3 {
		for j := range 3 {
			out[i][j] = minor(j, i) / det
		}
	}
	return out
}
