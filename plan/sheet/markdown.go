package sheet

import (
	"fmt"
	"regexp"
	"strings"

	"example.org/skywedge/kit/field"
)

// md is a page of Markdown (CommonMark 0.31, with the tables of GitHub's). Lines of it are formats of ours, filled with
// texts that are escaped: none of these can become markup, HTML or a link.
type md struct{ b strings.Builder }

// line writes a line; every argument is a text.
func (m *md) line(format string, texts ...string) {
	list := make([]any, len(texts))
	for i, t := range texts {
		list[i] = escapedMD(t)
	}
	fmt.Fprintf(&m.b, format+"\n", list...)
}

func (m *md) list(head string, items []string) {
	if len(items) == 0 {
		return
	}
	m.line("")
	m.line("### %s", head)
	m.line("")
	for _, t := range items {
		m.b.WriteString("- " + firstMD(t) + "\n")
	}
}

func (m *md) rows(list []Row) {
	for _, r := range list {
		m.line("- **%s** %s", r.Name, r.Value)
	}
}

// special are the characters that Markdown may act on in the midst of a line (CommonMark 0.31.2, section 2.4 lists what
// may be escaped; ~ and | are GitHub's).
const special = "\\`*_[]<>&#|~!$"

// escapedMD writes a text so that it is shown as it is; addresses are kept from becoming links.
func escapedMD(text string) string {
	text = strings.TrimSpace(field.Clean(text, mostRunes))
	var b strings.Builder
	for i, r := range text {
		switch {
		case strings.ContainsRune(special, r), r == '@', r == ':' && strings.HasPrefix(text[i:], "://"),
			r == '.' && i >= 3 && strings.EqualFold(text[i-3:i], "www"):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// begins is what a line, or what stands in a list's, begins a list, a rule or a heading's underline with.
var begins = regexp.MustCompile(`^([-+=]|[0-9]{1,9}[.)])`)

// firstMD writes a text that nothing of ours stands before.
func firstMD(text string) string {
	text = escapedMD(text)
	if at := begins.FindStringIndex(text); at != nil {
		return text[:at[1]-1] + "\\" + text[at[1]-1:]
	}
	return text
}

// Markdown sets a sheet as text.
func (s *Sheet) Markdown() []byte {
	m := new(md)
	m.line("# %s", s.Title)
	for i := range s.Days {
		m.day(&s.Days[i])
	}
	if len(s.Pack) > 0 {
		m.line("")
		m.line("## Packing")
		m.line("")
		m.rows(s.Pack)
	}
	for i := range s.Shots {
		m.shot(&s.Shots[i], i+1, len(s.Shots) > 1)
	}
	m.line("")
	m.line("It plans pictures, not flights. Bag: %s.", s.Bag)
	return []byte(m.b.String())
}

func (m *md) day(d *Day) {
	m.line("")
	m.line("## %s", d.Headline)
	m.line("")
	for i := range d.Stops {
		x := &d.Stops[i]
		if x.Way != "" {
			m.line("- before: %s", x.Way)
		}
		m.line("- **%s %s** %s", x.TakeOff, x.Name, joined(x.Words))
		for _, c := range x.Conflicts {
			m.line("  - conflict: %s", c)
		}
	}
	if d.Proposed != "" {
		m.line("")
		m.line("Proposed, %s:", d.Proposed)
		m.line("")
		for _, t := range d.Order {
			m.b.WriteString("- " + firstMD(t) + "\n")
		}
	}
}

func (m *md) shot(s *Shot, n int, numbered bool) {
	where := s.Where
	m.line("")
	if numbered {
		m.line(fmt.Sprintf("## %d. %%s", n), s.Name)
	} else { // the page has its name already
		m.line("## %s", where[0])
		where = where[1:]
	}
	m.line("")
	m.line("%s", strings.Join(where, " · "))
	m.line("")
	m.rows(s.Times)
	m.list("Conflicts", s.Conflicts)
	var expect, mind []string
	for i := range s.Flights {
		f := &s.Flights[i]
		m.line("")
		if len(s.Flights) > 1 {
			m.line(fmt.Sprintf("### Flight %d: %%s", i+1), f.Mount)
		} else {
			m.line("### %s", f.Mount)
		}
		m.line("")
		if f.Change != "" {
			m.line("Land, %s.", f.Change)
			m.line("")
		}
		if f.Ring != nil {
			m.line("The ring: %s", strings.Join(f.Ring.Words, ", "))
			if f.Ring.Front != "" {
				m.line("Front sheet: %s", f.Ring.Front)
			}
			m.line("")
		}
		m.legs(f.Legs)
		for k := range f.Legs {
			l := &f.Legs[k]
			expect, mind = appendLeg(expect, l.Number, l.Expect), appendLeg(mind, l.Number, l.LookOut)
		}
	}
	m.line("")
	m.line("%s", s.Magnetic)
	m.list("Look out", mind)
	m.list("Expect", expect)
	m.along(s)
	m.list("Why", append(append([]string{}, s.Why...), s.Sure))
	for i := range s.Flights {
		head := "If the meter disagrees"
		if i > 0 {
			head += " on the next flight"
		}
		m.list(head, s.Flights[i].Ladder)
	}
	m.list("Cautions", s.Cautions)
	if s.Notes != "" {
		m.list("Notes", strings.Split(strings.TrimSpace(s.Notes), "\n"))
	}
}

func (m *md) legs(list []Leg) {
	m.line("| leg | begins | how | true | magnetic | lock | meter |")
	m.line("| --- | --- | --- | --- | --- | --- | --- |")
	for i := range list {
		l := &list[i]
		lock, meter, magnetic := l.Lock, l.Meter, l.Magnetic
		if lock == "" {
			lock, meter = "cannot be exposed", "none"
		}
		if magnetic == "" {
			magnetic = "not known"
		}
		m.line("| %s | %s | %s | %s | %s | %s | %s |", fmt.Sprintf("%d %s", l.Number, l.Move), l.Start, l.How, l.True, magnetic, lock, meter)
	}
}

// along says what the strips show.
func (m *md) along(s *Shot) {
	var list []string
	for i := range s.Strips {
		x := &s.Strips[i]
		said, _, _ := strings.Cut(x.Words, ", scale ")
		list = append(list, x.Name+" "+said)
	}
	m.list("Along the flight", append(list, s.Steady...))
}
