package route

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
)

// Wish is what the pilot adds to a path.
type Wish struct {
	Line     string    // the path that is meant, where there are several: its number from 1, or its name
	Toward   string    // what the camera looks at: the name of a mark, or a place; "" for the only mark, "track" for none
	WithinM  float64   // how far the legs may be off the line; 0: 1 m of a drawn line and 3 m of a flown one, or more where that takes too many legs
	SpeedMS  float64   // where the file has no times; 0: not said
	HeightM  *float64  // of the first point above take-off
	TakeOff  time.Time // zero: from the file, or else Now
	Now      time.Time
	Zone     string // IANA name; "" gives UTC
	ZoneOf   string // how the zone was found, where nobody named it: it is to be looked at
	Camera   string // a name from the bag
	CameraOf string // the same of the camera
}

// Note is what the file does not say, or what was taken for granted, beside the key of the card that it is about.
type Note struct {
	Key     string // place, take_off, camera, purpose or legs
	Text    string
	Missing bool // the pilot has to look at it
}

// Draft is a card made of a path.
type Draft struct {
	Card      []byte
	Line      string // the name of the path, "" when it has none
	Legs      int
	LengthM   float64
	Seconds   float64 // of the legs
	WithinM   float64 // how far they may be off the line
	OffM      float64 // how far they are
	Start     place.Point
	FromTimes bool // the speeds are the file's
	Notes     []Note
}

// How a draft begins where nothing is said (ours).
const (
	withinM     = 1.0 // of a line that was drawn
	flownM      = 3.0 // of one that was flown: what a receiver wanders by
	mostWithinM = 24  // beyond, the legs are no longer the flight that was drawn
	mostLegs    = 64  // that a card has
	usualMS     = 4   // as a new leg has it
	usualM      = 40  // as a card has it whose legs name no height
	groundM     = 2   // a line that begins so near its lowest point, and rises well above it, begins on the ground
	risesM      = 5
)

// Start returns where and when the legs of a path begin, before anything is made of it: the zone of that place may be
// asked for. The time is zero when it is not known.
func (d *Drawn) Start(line string) (place.Point, time.Time, error) {
	c, _, err := d.pick(line)
	if err != nil {
		return place.Point{}, time.Time{}, err
	}
	p := c[0].Points[0]
	return place.Point{LatDeg: p.LatDeg, LonDeg: p.LonDeg}, p.Time, nil
}

// Draft makes a card of the path. An error is [field.Faults] of the file, or a [WishError].
func (d *Drawn) Draft(w Wish) (*Draft, error) {
	c, said, err := d.pick(w.Line)
	if err != nil {
		return nil, err
	}
	out := &Draft{Line: c.name(), LengthM: c.metres()}
	if len(c) > 1 && d.Name != "" { // of several lines the file says what they are together
		out.Line = d.Name
	}
	note := func(key, format string, a ...any) {
		out.Notes = append(out.Notes, Note{key, fmt.Sprintf(format, a...), false})
	}
	miss := func(key, format string, a ...any) {
		out.Notes = append(out.Notes, Note{key, fmt.Sprintf(format, a...), true})
	}
	for _, s := range said {
		note("legs", "%s", s)
	}
	if len(d.Left) > 0 {
		note("legs", "left out of the file: %s", strings.Join(d.Left, "; "))
	}
	first := c[0].Points[0]
	out.Start = place.Point{LatDeg: round(first.LatDeg, place.Digits), LonDeg: round(first.LonDeg, place.Digits)}
	g := NewPlane(out.Start.LatDeg, out.Start.LonDeg)
	h := d.heightsOf(c, w, note, miss)
	switch {
	case w.ZoneOf != "":
		miss("place", "zone: not in the file; %s", w.ZoneOf)
	case w.Zone == d.Zone:
		note("place", "zone: as in the file")
	}
	speed := w.SpeedMS
	if speed <= 0 {
		speed = usualMS
	}
	runs, err := d.lay(h.lines, g, speed)
	if err != nil {
		return nil, err
	}
	if h.known {
		if err := d.above(runs); err != nil {
			return nil, err
		}
	}
	d.speeds(out, c, runs, w, speed, note, miss)
	faces, err := d.subjectOf(w, runs, g, h, note, miss)
	if err != nil {
		return nil, err
	}
	m, err := d.fit(runs, w, faces, d.subjects(g, h), h.known, out, miss)
	if err != nil {
		return nil, err
	}
	d.pitches(m, miss)
	if err := d.write(out, m, w, h, c, note, miss); err != nil {
		return nil, err
	}
	order := []string{"place", "take_off", "camera", "purpose", "legs"}
	slices.SortStableFunc(out.Notes, func(a, b Note) int { return slices.Index(order, a.Key) - slices.Index(order, b.Key) })
	return out, nil
}

// fit makes the legs. Without a wish the tolerance grows until a card can hold them.
func (d *Drawn) fit(runs []run, w Wish, faces *subject, marks map[string]*subject, heights bool, out *Draft, miss noter) (*drafter, error) {
	least := withinM
	if runs[0].timed && (runs[0].looks == nil || !runs[0].looks.HasHeading) {
		least = flownM
	}
	for within, before := least, 0.0; ; within, before = min(2*within, mostWithinM), within {
		if w.WithinM > 0 {
			within = w.WithinM
		}
		m := &drafter{withM: within, faces: faces, marks: marks, heights: heights}
		for i := range runs {
			if i == 0 { // a path that begins with a stop looks where it then goes
				for _, s := range runs[0].spots {
					if flatM(s.at, runs[0].spots[0].at) > within {
						m.heading = bearing(runs[0].spots[0].at, s.at)
						break
					}
				}
			}
			if err := m.run(&runs[i]); errors.Is(err, errMany) {
				break
			} else if err != nil {
				if f, is := err.(field.Faults); is {
					f[0].File = d.File
				}
				return nil, err
			}
		}
		out.WithinM, out.OffM, out.Legs = within, m.offM, len(m.legs)
		for _, l := range m.legs {
			out.Seconds += l.seconds
		}
		if len(m.legs) <= mostLegs {
			if within != least && w.WithinM == 0 {
				miss("legs", "within %s m of the line would take more than %d legs: %s m is the nearest that a card can hold", field.Figure(before, 1), mostLegs, field.Figure(within, 1))
			}
			return m, nil
		}
		if out.Seconds = 0; w.WithinM > 0 || within >= mostWithinM {
			return nil, one(field.Fault{File: d.File, Line: runs[0].spots[0].line, Column: 1, Field: "line",
				Found:   fmt.Sprintf("%d legs within %s m of it", len(m.legs), field.Figure(within, 1)),
				Allowed: fmt.Sprintf("at most %d legs on a card: draw less, or give a wider --within", mostLegs)})
		}
	}
}

type noter func(key, format string, a ...any)

// speeds says where the speeds come from.
func (d *Drawn) speeds(out *Draft, c chain, runs []run, w Wish, speed float64, note, miss noter) {
	timed := 0
	lack, where := "no times in the file", "all along"
	with, without := false, false
	for _, l := range c {
		for _, p := range l.Points {
			with, without = with || !p.Time.IsZero(), without || p.Time.IsZero()
		}
	}
	switch {
	case with && without:
		lack = "times not for every point in the file"
	case with:
		lack = "one time for all points of a line in the file"
	}
	for _, r := range runs {
		if r.timed {
			timed++
		}
	}
	out.FromTimes = timed == len(runs)
	if timed > 0 {
		where = "where they lack"
	}
	switch {
	case timed == len(runs) && w.SpeedMS > 0:
		note("legs", "speeds are those of the times in the file; --speed is for a path without")
	case timed == len(runs):
		note("legs", "speeds are those of the times in the file, to %d s", slackS)
	case w.SpeedMS > 0:
		note("legs", "%s: %s m/s %s", lack, field.Figure(speed, 2), where)
	default:
		miss("legs", "speed: %s, so %s m/s %s; say another with --speed", lack, field.Figure(speed, 2), where)
	}
}

// above refuses heights below take-off where the ground there is not known.
func (d *Drawn) above(runs []run) error {
	for _, r := range runs {
		if r.looks != nil && (r.looks.GroundM != [2]float64{}) {
			continue
		}
		for _, s := range r.spots {
			if s.at.Z < -0.05 || s.at.Z > 6000 {
				return one(field.Fault{File: d.File, Line: s.line, Column: 1, Field: "height_m", Found: field.Figure(s.at.Z, 1) + " m above take-off",
					Allowed: "0 to 6000 m: say with --height how high the first point is above take-off"})
			}
		}
	}
	return nil
}

// subjects returns the marks on the plane, by their names.
func (d *Drawn) subjects(g Plane, h heights) map[string]*subject {
	all := map[string]*subject{}
	for _, m := range d.Marks {
		if _, twice := all[m.Name]; m.Name == "" || twice {
			continue
		}
		all[m.Name] = d.subject(m, g, h)
	}
	return all
}

func (d *Drawn) subject(m Mark, g Plane, h heights) *subject {
	s := &subject{name: m.Name, at: g.Metres(m.LatDeg, m.LonDeg)}
	if z, ok := h.of(m); ok {
		s.at.Z, s.hasHeight = z, true
	}
	return s
}

// trackWord is what the wish for a subject says when there is to be none.
const trackWord = "track"

// subjectOf finds what the camera looks at all along; nil: where it flies, or as the file says.
func (d *Drawn) subjectOf(w Wish, runs []run, g Plane, h heights, note, miss noter) (*subject, error) {
	said := false
	for _, r := range runs {
		said = said || r.looks != nil && r.looks.HasHeading
	}
	var marks []Mark
	for _, m := range d.Marks {
		if !isHome(m.Name) {
			marks = append(marks, m)
		}
	}
	var s *subject
	switch {
	case len(d.Lines) == 0 && w.Toward == "", w.Toward == trackWord:
	case w.Toward == "" && said:
		note("legs", "where the camera looks stands in the file, and is kept")
		return nil, nil
	case w.Toward == "" && len(marks) == 1:
		s = d.subject(marks[0], g, h)
		note("legs", "the camera looks at %s, the only point that is marked; --toward track looks along the line", said1(s.name))
	case w.Toward == "":
	default:
		for _, m := range d.Marks {
			if strings.EqualFold(m.Name, w.Toward) {
				s = d.subject(m, g, h)
			}
		}
		if s == nil {
			p, err := place.Parse(w.Toward)
			if err != nil {
				return nil, &WishError{"toward", fmt.Sprintf("%q is no mark of the file and no place: give %s, track, or LAT,LON", w.Toward, names(marks))}
			}
			s = &subject{at: g.Metres(p.LatDeg, p.LonDeg)}
		}
		note("legs", "the camera looks at %s", said1(w.Toward))
	}
	if s != nil && !s.hasHeight {
		miss("legs", "the subject's height: not in the file, so level with take-off; say another as height_m of the target")
	}
	if s == nil {
		if said && w.Toward == trackWord {
			for i := range runs {
				if k := runs[i].looks; k != nil {
					runs[i].looks = &Looks{GroundM: k.GroundM}
				}
			}
		}
		text := "the camera looks along the line"
		if len(marks) > 1 && w.Toward == "" && len(d.Lines) > 0 {
			text += "; --toward looks at " + names(marks)
		}
		note("legs", "%s", text)
		return nil, nil
	}
	for i := range runs {
		if k := runs[i].looks; k != nil { // another subject takes the place of what the file says
			runs[i].looks = nil
		}
		for _, x := range runs[i].spots {
			if flatM(x.at, s.at) > mostFarM {
				return nil, &WishError{"toward", "it is " + length(flatM(x.at, s.at)) + " away: a subject is within 20 km"}
			}
		}
	}
	return s, nil
}

func said1(name string) string {
	if name == "" {
		return "the mark without a name"
	}
	return name
}

func names(marks []Mark) string {
	var list []string
	for _, m := range marks {
		if m.Name != "" && len(list) < 5 {
			list = append(list, field.Quoted(m.Name))
		}
	}
	if len(list) == 0 {
		return "a mark by its name (this file has none)"
	}
	return field.Either(list)
}

// pitches says what the camera's pitch is where nobody said it.
func (d *Drawn) pitches(m *drafter, miss noter) {
	level := 0
	for _, l := range m.legs {
		if !l.hasPitch && l.subject == nil {
			level++
		}
	}
	if level > 0 {
		miss("legs", "pitch: not in the file, so the camera looks level")
	}
}

// ground under a leg is written where the file has it.
func (l *leg) hasGround() bool { return l.ground != [2]float64{} }

// purpose is what a draft is for, until its pilot says otherwise.
const purpose = shot.Video
