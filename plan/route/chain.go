package route

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
	"gonum.org/v1/gonum/spatial/r3"
)

// meetM is how near the end of a line and the start of the next have to be for the two to be one path (ours).
const meetM = 1

// Limits of a path on a plane (ours).
const (
	mostFarM   = 20000 // from its first point: as far as a card lets a subject be
	mostLatDeg = 89
	mostS      = 24 * 3600 // as a card has it
)

// chain is lines that follow on one another.
type chain []Line

func (c chain) name() string {
	for _, l := range c {
		if l.Name != "" {
			return l.Name
		}
	}
	return ""
}

func (c chain) metres() float64 {
	sum := 0.0
	for _, l := range c {
		for i := range l.Points[1:] {
			at := NewPlane(l.Points[i].LatDeg, l.Points[i].LonDeg).Metres(l.Points[i+1].LatDeg, l.Points[i+1].LonDeg)
			sum += math.Hypot(at.X, at.Y)
		}
	}
	return sum
}

// chains puts lines together where they meet.
func chains(lines []Line) []chain {
	var all []chain
	for _, l := range lines {
		if n := len(all); n > 0 {
			end := last(last(all[n-1]).Points)
			if at := NewPlane(end.LatDeg, end.LonDeg).Metres(l.Points[0].LatDeg, l.Points[0].LonDeg); math.Hypot(at.X, at.Y) <= meetM {
				all[n-1] = append(all[n-1], l)
				continue
			}
		}
		all = append(all, chain{l})
	}
	return all
}

// pick returns the path that is asked for: by its number or name, or the only one there is.
func (d *Drawn) pick(wish string) (chain, []string, error) {
	lines, said := d.Lines, []string(nil)
	if len(lines) == 0 {
		l, ok := d.throughMarks()
		if !ok {
			return nil, nil, one(field.Fault{File: d.File, Line: 1, Column: 1, Field: "line", Found: d.holds(),
				Allowed: "a line, or two points and more that are flown to in their order"})
		}
		lines, said = []Line{l}, []string{fmt.Sprintf("no line in the file: its %d points are flown to in their order", len(l.Points))}
	}
	all := chains(lines)
	if wish != "" {
		if n, err := strconv.Atoi(wish); err == nil && n >= 1 && n <= len(all) {
			return all[n-1], said, nil
		}
		var named []chain
		for _, c := range all {
			if slices.ContainsFunc(c, func(l Line) bool { return strings.EqualFold(l.Name, wish) }) {
				named = append(named, c)
			}
		}
		switch len(named) {
		case 1:
			return named[0], said, nil
		case 0:
		default:
			return nil, nil, &WishError{"line", fmt.Sprintf("%q is the name of %d lines; give the number of one: %s", wish, len(named), list(all))}
		}
		return nil, nil, &WishError{"line", fmt.Sprintf("%q is no line of the path, which has %s", wish, list(all))}
	}
	if len(all) > 1 {
		return nil, nil, one(field.Fault{File: d.File, Line: all[1][0].Points[0].line, Column: 1, Field: "line",
			Found: fmt.Sprintf("%d lines that do not meet: %s", len(all), list(all)), Allowed: "one path: name it with --line"})
	}
	return all[0], said, nil
}

// WishError is a wish that the file cannot meet. Of names the wish.
type WishError struct{ Of, Text string }

func (e *WishError) Error() string { return "--" + e.Of + ": " + e.Text }

// list names the first few paths.
func list(all []chain) string {
	const enough = 6
	var out []string
	for i, c := range all {
		if i == enough {
			out = append(out, "…")
			break
		}
		text := strconv.Itoa(i + 1)
		if n := c.name(); n != "" {
			text += " " + field.Quoted(n)
		}
		out = append(out, fmt.Sprintf("%s (%s)", text, length(c.metres())))
	}
	return strings.Join(out, ", ")
}

func length(m float64) string {
	if m >= 10000 {
		return field.Figure(m/1000, 1) + " km"
	}
	return field.Figure(m, 0) + " m"
}

// holds says what a file without a line has.
func (d *Drawn) holds() string {
	switch {
	case len(d.Marks) == 1:
		return "one point and no line"
	case len(d.Left) > 0:
		return "no line, but " + d.Left[0]
	}
	return "no line"
}

// throughMarks makes a line of the marks, take-off left out.
func (d *Drawn) throughMarks() (Line, bool) {
	var l Line
	for i, m := range d.Marks {
		if isHome(m.Name) && len(d.Marks) > 2 {
			continue
		}
		if len(l.Points) == 0 {
			l.Datum = d.Marks[i].Datum
		} else if m.Datum != l.Datum {
			l.Datum = NoHeights
		}
		l.Points = append(l.Points, m.Point)
	}
	return l, len(l.Points) > 1
}

// spot is a point of a path on the plane.
type spot struct {
	at   r3.Vec  // metres east and north of the first point, and above take-off
	s    float64 // seconds from the line's start
	line int     // of the file
}

// run is a line on the plane.
type run struct {
	spots []spot
	timed bool
	looks *Looks
}

func (r *run) seconds() float64 { return last(r.spots).s }

// lay puts a chain on a plane, with its heights already above take-off. Without times it is flown at a steady speed.
func (d *Drawn) lay(c chain, g Plane, speedMS float64) ([]run, error) {
	var runs []run
	for _, l := range c {
		r := run{looks: l.Looks, timed: timed(l)}
		for i, p := range l.Points {
			at := g.Metres(p.LatDeg, p.LonDeg)
			if math.Abs(p.LatDeg) > mostLatDeg {
				return nil, d.wrong(p, "latitude", field.Figure(p.LatDeg, 6), fmt.Sprintf("a path within %d° of the equator: nearer to a pole, bearings turn too fast", mostLatDeg))
			}
			if far := math.Hypot(at.X, at.Y); far > mostFarM {
				return nil, d.wrong(p, "line", "a point "+length(far)+" from the first", "a path within 20 km of its first point")
			}
			if l.Datum != NoHeights {
				at.Z = p.HeightM
			}
			x := spot{at: at, line: p.line}
			if i > 0 {
				before := last(r.spots)
				step := math.Max(flatM(at, before.at), math.Abs(at.Z-before.at.Z)) // a climb takes its own time
				switch {
				case r.timed:
					x.s = p.Time.Sub(l.Points[0].Time).Seconds()
					if x.s < before.s {
						return nil, d.wrong(p, "time", p.Time.Format(timeForm), "times that do not go back: the point before has "+l.Points[i-1].Time.Format(timeForm))
					}
				case step < 1e-3 && i < len(l.Points)-1:
					continue // the same point once more
				default:
					x.s = before.s + step/speedMS
				}
			}
			r.spots = append(r.spots, x)
		}
		if r.seconds() > mostS {
			return nil, d.wrong(last(l.Points), "time", field.Figure(r.seconds()/3600, 1)+" hours after the start of the line", "a flight of at most 24 hours: mend the times, or say a faster --speed")
		}
		runs = append(runs, r)
	}
	return runs, nil
}

const timeForm = "2006-01-02T15:04:05.999Z07:00"

// timed tells whether times say how fast a line was flown.
func timed(l Line) bool {
	for _, p := range l.Points {
		if p.Time.IsZero() {
			return false
		}
	}
	return !last(l.Points).Time.Equal(l.Points[0].Time)
}

// wrong is a fault of a point.
func (d *Drawn) wrong(p Point, name, found, allowed string) error {
	return one(field.Fault{File: d.File, Line: p.line, Column: 1, Field: name, Found: found, Allowed: allowed})
}
