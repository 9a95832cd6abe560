package route

import (
	"fmt"
	"math"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// How finely a leg that goes round is written (ours): so far a chord may be off its arc, and so far it may turn.
const (
	sagittaM   = 0.1
	mostStepDg = 5
	mostSteps  = 1000
)

// Of returns a shot's path, a line for each leg, each with where the camera looks then, and with marks for take-off and
// for what the legs look at. The times are those of each leg's first take. elevationKnown tells whether the card says
// how high take-off is above the sea. The error names what no map can hold.
func Of(s *shot.Shot, elevationKnown bool) (*Drawn, error) {
	if math.Abs(s.LatDeg) > mostLatDeg {
		return nil, fmt.Errorf("a path is written within %d° of the equator: nearer to a pole, bearings turn too fast", mostLatDeg)
	}
	g := NewPlane(s.LatDeg, s.LonDeg)
	d := &Drawn{Name: s.Name, Zone: s.Zone.String()}
	home := Mark{Name: homeName, Point: Point{LatDeg: s.LatDeg, LonDeg: s.LonDeg, HasHeight: true, Time: s.TakeOff}, Datum: AboveTakeOff}
	if elevationKnown {
		up := s.ElevationM
		d.ElevationM = &up
	}
	d.Marks = append(d.Marks, home)
	for i := range s.Legs {
		l := &s.Legs[i]
		path := shot.PathOfLeg(s, i, steps(l))
		first := path[0]
		k := &Looks{
			HeadingDeg: first.HeadingDeg, TurnDeg: l.Heading.By, HasHeading: true,
			HeightM: l.Height, HasHeight: true, GroundM: l.GroundM,
		}
		if !l.PitchAuto || l.Target == nil {
			k.PitchDeg, k.HasPitch = l.Pitch, true
		}
		if l.Target != nil {
			k.Subject = d.markOf(first.Target, g)
			k.SubjectSpeedMS, k.SubjectTowardDeg = l.Target.SpeedMS, angle.Wrap360(l.Target.TowardDeg)
		}
		line := Line{Name: fmt.Sprintf("%d %s", i+1, l.Move), Datum: AboveTakeOff, Looks: k}
		for _, m := range path {
			lat, lon := g.Degrees(m.Pos)
			line.Points = append(line.Points, Point{LatDeg: lat, LonDeg: lon, HeightM: m.Pos.Z, HasHeight: true, Time: m.Time[0]})
		}
		d.Lines = append(d.Lines, line)
	}
	return d, nil
}

// steps returns how many points a leg is written with.
func steps(l *shot.Leg) int {
	turn := math.Abs(l.Heading.By)
	far := l.SpeedMS * l.Seconds
	if turn < 0.01 || far == 0 || l.CourseSet && l.Move != shot.Orbit {
		return 2
	}
	radius := far / (turn * rad)
	step := math.Min(2*math.Acos(math.Max(1-sagittaM/radius, 0))/rad, mostStepDg)
	return min(int(math.Ceil(turn/step)), mostSteps) + 1
}

// markOf returns the name of the mark at a place, which it makes where there is none.
func (d *Drawn) markOf(at r3.Vec, g Plane) string {
	lat, lon := g.Degrees(at)
	for _, m := range d.Marks[1:] {
		was := g.Metres(m.LatDeg, m.LonDeg)
		if math.Hypot(was.X-at.X, was.Y-at.Y) < 0.05 && math.Abs(m.HeightM-at.Z) < 0.05 {
			return m.Name
		}
	}
	name := fmt.Sprintf("subject %d", len(d.Marks))
	d.Marks = append(d.Marks, Mark{Name: name, Point: Point{LatDeg: lat, LonDeg: lon, HeightM: at.Z, HasHeight: true}, Datum: AboveTakeOff})
	return name
}

// Said returns what a path that is written cannot say as the card does, in words.
func Said(s *shot.Shot, f Format, elevationKnown bool) []string {
	var out []string
	switch {
	case f == GeoJSON:
		out = append(out, "heights are above take-off, in height_m beside each line: a third number would count from the ellipsoid, which a card does not know")
	case !elevationKnown && f == GPX:
		out = append(out, "no ele: the card has no elevation_m; heights above take-off are in the extensions")
	case !elevationKnown:
		out = append(out, "heights are above the ground below: the card has no elevation_m")
	default:
		out = append(out, fmt.Sprintf("heights are above the sea, with take-off at %s m", field.Figure(s.ElevationM, 1)))
	}
	for i := range s.Legs {
		if l := &s.Legs[i]; l.HeadingSun[0] || l.HeadingSun[1] {
			out = append(out, "headings by the sun are those of this take-off")
			break
		}
	}
	out = append(out, "times are those of the first takes")
	return out
}
