package trip

import (
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/advice"
)

// alarmBefore is when a calendar reminds of a take-off: time to drive the last bit, unpack and mount the filter (ours).
const alarmBefore = 20 * time.Minute

// foldAt is the longest line of a calendar in octets, its end not counted (RFC 5545, 3.1).
const foldAt = 75

// Calendar writes the shots of a trip as they are on their cards for a calendar, by RFC 5545: an event each, in UTC, with
// an alarm. An event keeps its name when its card's time changes, so that a calendar that has it already moves it. now is
// the moment of writing.
func Calendar(p *Plan, now time.Time) []byte {
	var b strings.Builder
	line := func(name, value string) { fold(&b, name+":"+value) }
	utc := func(t time.Time) string { return t.UTC().Format("20060102T150405Z") }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", "-//skywedge//trip//EN")
	for _, d := range p.Days {
		for i := range d.Stops {
			s := &d.Stops[i]
			c := &p.Cards[s.Card]
			line("BEGIN", "VEVENT")
			line("UID", c.uid())
			line("DTSTAMP", utc(now))
			line("DTSTART", utc(s.TakeOff))
			line("DTEND", utc(s.Landing))
			line("SUMMARY", escapedText(c.title()))
			line("GEO", fmt.Sprintf("%.6f;%.6f", c.Shot.LatDeg, c.Shot.LonDeg))
			line("DESCRIPTION", escapedText(strings.Join(c.notes(s), "\n")))
			line("BEGIN", "VALARM")
			line("ACTION", "DISPLAY")
			line("DESCRIPTION", escapedText(c.title()))
			line("TRIGGER", fmt.Sprintf("-PT%dM", int(alarmBefore.Minutes())))
			line("END", "VALARM")
			line("END", "VEVENT")
		}
	}
	line("END", "VCALENDAR")
	return []byte(b.String())
}

// uid names the event of a card: by its file and its place, which stay when the take-off moves. The name of the folder does
// not count, so that a trip can be copied.
func (c *Card) uid() string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s\n%.4f,%.4f", filepath.Base(filepath.ToSlash(c.File)), c.Shot.LatDeg, c.Shot.LonDeg))
	return fmt.Sprintf("%x@skywedge.invalid", sum[:12])
}

// title is a shot and what goes on the lens for it.
func (c *Card) title() string {
	if c.Worked == nil {
		return c.Shot.Name
	}
	return c.Shot.Name + ": " + c.Mounts()
}

// Mounts says what is mounted for a card, flight after flight; "" before it is worked out.
func (c *Card) Mounts() string {
	if c.Worked == nil {
		return ""
	}
	var list []string
	for i := range c.Report.Flights {
		list = append(list, advice.Mount(&c.Report.Flights[i].Set))
	}
	return strings.Join(list, ", then ")
}

// notes are what a pilot wants to read when the alarm goes off.
func (c *Card) notes(s *Stop) []string {
	var list []string
	if c.Worked != nil {
		for _, k := range advice.Locks(c.Report) {
			text := k.Notes
			if k.Set != "" {
				text = strings.TrimSuffix(k.Set+", "+k.Notes, ", ")
			}
			list = append(list, k.Name()+": "+text)
		}
		if c.Window != nil {
			list = append(list, "take-offs that hold: "+c.Window.words(c.Shot))
		}
	}
	for _, x := range s.Conflicts {
		list = append(list, "conflict: "+x.String())
	}
	if c.Worked != nil {
		for _, text := range c.Report.Call.Cautions {
			list = append(list, "caution: "+text)
		}
		return list
	}
	return append(list, "check the rules, airspace and permissions for the place and date")
}

// escapedText writes a text as a value (RFC 5545, 3.3.11). What is no text in it is spelt out.
func escapedText(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		l = field.Clean(l, utf8.RuneCountInString(l)*len("<U+10FFFF>"))
		lines[i] = strings.NewReplacer(`\`, `\\`, `;`, `\;`, `,`, `\,`).Replace(l)
	}
	return strings.Join(lines, `\n`)
}

// fold writes a line in pieces that are short enough, none of which ends within a character. Each but the first begins with
// a space, which counts.
func fold(b *strings.Builder, line string) {
	room := foldAt
	for len(line) > room {
		n := room
		for n > 0 && !utf8.RuneStart(line[n]) {
			n--
		}
		if n == 0 { // no character begins there: it is no text
			n = room
		}
		b.WriteString(line[:n] + "\r\n ")
		line, room = line[n:], foldAt-1
	}
	b.WriteString(line + "\r\n")
}
