package route

import (
	"fmt"
	"math"
	"path"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
)

// usualTransitS is what a card has that does not say how long the way out and home takes.
const usualTransitS = 180

// write makes the text of the card: a new one as any other begins, with the legs in it, and each note as a comment over
// the key that it is about.
func (d *Drawn) write(out *Draft, m *drafter, w Wish, h heights, c chain, note, miss noter) error {
	at, transit := d.takeOff(c, w, note, miss)
	name := out.Line
	if name == "" {
		name = d.Name
	}
	if name == "" && d.File != "" {
		name = strings.TrimSuffix(path.Base(strings.ReplaceAll(d.File, `\`, "/")), path.Ext(d.File))
	}
	if w.CameraOf != "" {
		miss("camera", "camera: %s", w.CameraOf)
	}
	miss("purpose", "purpose: not in the file, so video; still and long are the others")
	card, faults := shot.ReadCard(d.File, shot.NewCard(shot.Start{Name: field.Clean(name, 80), LatDeg: out.Start.LatDeg, LonDeg: out.Start.LonDeg,
		Zone: w.Zone, TakeOff: at, Camera: w.Camera, Purpose: purpose}))
	if len(faults) > 0 {
		return faults
	}
	doc := card.Doc
	set := func(key, text string) {
		if next, wrong := doc.Set(key, text); len(wrong) == 0 {
			doc = next
		}
	}
	if h.sea != nil {
		set("place.elevation_m", field.Figure(*h.sea, 1))
	}
	if transit != usualTransitS {
		set("flight.transit_s", field.Figure(transit, 1))
	}
	head, _, _ := strings.Cut(string(doc.Bytes()), "\nlegs:\n")
	var b strings.Builder
	for i, line := range strings.Split(head, "\n") {
		key, _, _ := strings.Cut(line, ":")
		out.comments(&b, key, "")
		b.WriteString(line + "\n")
		if i == 0 {
			fmt.Fprintf(&b, "# drafted from %s (%s): within %s m of its line\n", field.Clean(path.Base(d.File), 120), d.Format, field.Figure(out.WithinM, 1))
		}
	}
	b.WriteString("legs:\n")
	out.comments(&b, "legs", "  ")
	for i := range m.legs {
		b.WriteString("  - " + m.legs[i].yaml() + "\n")
	}
	out.Card = []byte(b.String())
	if _, faults := shot.ReadCard(d.File, out.Card); len(faults) > 0 {
		return faults
	}
	return nil
}

// comments writes the notes about a key.
func (d *Draft) comments(b *strings.Builder, key, indent string) {
	const wide = 96 // columns of a comment (ours)
	for _, n := range d.Notes {
		if n.Key != key {
			continue
		}
		line := indent + "#"
		for _, word := range strings.Fields(field.Clean(n.Text, 1000)) {
			if utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > wide {
				b.WriteString(line + "\n")
				line = indent + "#  "
			}
			line += " " + word
		}
		b.WriteString(line + "\n")
	}
}

// takeOff returns when the flight begins, and how long the way out and home takes.
func (d *Drawn) takeOff(c chain, w Wish, note, miss noter) (at time.Time, transitS float64) {
	first := c[0].Points[0].Time
	home := d.home()
	out := time.Duration(usualTransitS/2) * time.Second
	switch {
	case !w.TakeOff.IsZero():
		return w.TakeOff, usualTransitS
	case !first.IsZero() && home != nil && !home.Time.IsZero() && !home.Time.After(first) && first.Sub(home.Time) <= time.Hour/2:
		note("take_off", "take_off: the time at the mark %q", homeName)
		return home.Time, 2 * first.Sub(home.Time).Seconds()
	case !first.IsZero():
		note("take_off", "take_off: %d s before the time of the first point, %s", usualTransitS/2, first.UTC().Format(time.RFC3339))
		return first.Add(-out), usualTransitS
	}
	miss("take_off", "take_off: no times in the file, so when this was drafted; say another with --take-off")
	return w.Now.Truncate(time.Minute), usualTransitS
}

// yaml writes a leg as a card has it.
func (l *leg) yaml() string {
	var b strings.Builder
	put := func(key, value string) { fmt.Fprintf(&b, ", %s: %s", key, value) }
	pair := func(v [2]float64, places int) string {
		if v[0] == v[1] {
			return field.Figure(v[0], places)
		}
		return "[" + field.Figure(v[0], places) + ", " + field.Figure(v[1], places) + "]"
	}
	fmt.Fprintf(&b, "{move: %s", l.move)
	if l.move == shot.Slide {
		put("to", map[bool]string{true: "left", false: "right"}[l.left])
	}
	end := turned(l.heading+l.by, l.places)
	switch {
	case l.by == 0:
		put("heading_deg", field.Figure(l.heading, l.places))
	case math.Abs(l.by) >= 360:
		put("heading_deg", field.Figure(l.heading, l.places))
		put("turn", wayRound(l.by))
		put("turns", field.Figure(math.Abs(l.by)/360, 6))
	default:
		put("heading_deg", pair([2]float64{l.heading, end}, l.places))
		if math.Abs(l.by) > 170 {
			put("turn", wayRound(l.by))
		}
	}
	put("seconds", field.Figure(l.seconds, 1))
	if l.speed > 0 {
		put("speed_ms", field.Figure(l.speed, l.speedIn))
	}
	if l.hasHeight {
		put("height_m", pair(l.height, 1))
	}
	if l.hasGround() {
		put("ground_m", pair(l.ground, 1))
	}
	if l.hasPitch {
		put("pitch_deg", pair(l.pitch, 1))
	}
	if l.hasCourse {
		put("course_deg", field.Figure(l.course, l.courseIn))
	}
	if s := l.subject; s != nil {
		fmt.Fprintf(&b, ", target: {distance_m: %s", field.Figure(l.distance, max(l.distIn, 1)))
		if s.speedMS > 0 {
			put("speed_ms", field.Figure(s.speedMS, 3))
			put("toward_deg", field.Figure(s.towardDeg, 2))
		}
		if s.hasHeight && (s.at.Z != 0 || l.hasGround()) {
			put("height_m", field.Figure(s.at.Z, 1))
		}
		b.WriteString("}")
	}
	return b.String() + "}"
}

func wayRound(by float64) string {
	if by < 0 {
		return "ccw"
	}
	return "cw"
}
