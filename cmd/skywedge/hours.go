package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
)

func hoursCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) != 1 {
		return usageError(e, "name one card, or - for standard input")
	}
	span := hours.OverDay
	if a.Text("over") == "year" {
		span = hours.OverYear
	}
	m, _ := hours.MeasureByName(a.Text("by")) // the table of commands has its names
	s, bag, err := shotFile(e, a.Rest[0], a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	h, err := plan.HoursOf(context.Background(), s, bag.Bag, span, plan.HoursOptions{})
	if err != nil {
		return failure(e, err)
	}
	if e.asJSON {
		j := hoursToJSON(h, m)
		j.File, j.Bag = nameOf(a.Rest[0]), bag.json()
		return writeJSON(e, j)
	}
	fmt.Fprint(e.out, hoursText(h, m))
	return exitDone
}

// hoursText is the answer in words and as a table of levels.
func hoursText(h *hours.Hours, m hours.Measure) string {
	var b strings.Builder
	s := h.Shot
	when := s.TakeOff.Format("Mon 2 Jan 2006")
	if h.Over == hours.OverYear {
		when = s.TakeOff.Format("2006, every Monday")
		when = strings.Replace(when, "Monday", s.TakeOff.Weekday().String(), 1)
	}
	fmt.Fprintf(&b, "%s\n%.4f, %.4f · %s · times of take-off, %s\n", s.Name, s.LatDeg, s.LonDeg, when, s.Zone)
	fmt.Fprintf(&b, "by %s: %s\n\n", m, m.Title())
	if n := h.Note(m); n != "" {
		fmt.Fprintf(&b, "%s\n\n", n)
	}
	for i, w := range h.Windows(m) {
		lead := "  - "
		if i == 0 {
			title := "best, with the light wanted"
			if m == hours.Sun {
				title = "low sun, below 6°"
			}
			fmt.Fprintln(&b, title)
		}
		fmt.Fprintf(&b, "%s%s: %s\n", lead, h.WindowWords(&w), h.BestWords(m, &w))
	}
	fmt.Fprintf(&b, "the card  %s\n", h.CellWords(m, h.Own))
	if s.Want != nil {
		_, why := hours.WantFits(s, shot.Path(s, wantPerLeg))
		fmt.Fprintf(&b, "wanted    %s\n", why)
	}
	b.WriteByte('\n')
	if h.Over == hours.OverDay {
		dayTable(&b, h, m)
	} else {
		yearTable(&b, h, m)
	}
	b.WriteString("\n" + legendText(h, m))
	return b.String()
}

// mark is one cell of the table: 0 the worst to 9 the best.
func mark(h *hours.Hours, m hours.Measure, i int) string {
	c := &h.Cells[i]
	if v, ok := c.Value(m); ok && c.State == hours.Good {
		return fmt.Sprint(int(math.Round(9 * h.Level(m, v))))
	}
	switch c.State {
	case hours.Dark, hours.Bright, hours.Unfit:
		return "x"
	case hours.Skipped:
		return " "
	}
	return "."
}

// wantPerLeg is how many moments of a leg tell on which side the sun stands.
const wantPerLeg = 32

// marked puts brackets round the card's own cell, and a star before one that has the light wanted.
func marked(h *hours.Hours, m hours.Measure, i int) string {
	switch c := &h.Cells[i]; {
	case i == h.Own:
		return "[" + mark(h, m, i) + "]"
	case c.State == hours.Good && c.AsWanted():
		return "*" + mark(h, m, i) + " "
	}
	return " " + mark(h, m, i) + " "
}

// dayTable has a row an hour: the six steps, and what stands at the first of them.
func dayTable(b *strings.Builder, h *hours.Hours, m hours.Measure) {
	fmt.Fprintf(b, "hour    :00 :10 :20 :30 :40 :50  on the hour\n")
	for col := range h.Cols {
		first := h.At(col, 0)
		if first.TakeOff.IsZero() || allNight(h, col) {
			continue
		}
		fmt.Fprintf(b, "%-7s", first.TakeOff.Format("15:04"))
		for r := range h.Rows {
			b.WriteString(" " + marked(h, m, col*h.Rows+r))
		}
		text := h.Words(hours.Sun, first.Sun.AltitudeDeg)
		if first.Behind {
			text += " behind the ridge"
		}
		if v, ok := first.Value(m); ok && m != hours.Sun {
			text += "; " + h.Words(m, v)
		}
		if first.State == hours.Good {
			text += "; " + first.CallWords()
		} else if w := first.StateWords(m); w != "" && first.State != hours.Night {
			text += "; " + w
		}
		fmt.Fprintf(b, "  %s\n", text)
	}
}

// allNight tells whether an hour of a day has nothing to show.
func allNight(h *hours.Hours, col int) bool {
	for r := range h.Rows {
		if s := h.At(col, r).State; s != hours.Night && s != hours.Skipped || col*h.Rows+r == h.Own {
			return false
		}
	}
	return true
}

// yearTable has a row a week and a column an hour.
func yearTable(b *strings.Builder, h *hours.Hours, m hours.Measure) {
	line := "week   "
	for r := range h.Rows {
		line += fmt.Sprintf(" %02d", r)
	}
	fmt.Fprintln(b, line)
	for col := range h.Cols {
		date := ""
		for r := range h.Rows {
			if t := h.At(col, r).TakeOff; !t.IsZero() {
				date = t.Format("2 Jan")
				break
			}
		}
		line = fmt.Sprintf("%6s ", date)
		for r := range h.Rows {
			line += marked(h, m, col*h.Rows+r)
		}
		fmt.Fprintln(b, strings.TrimRight(line, " "))
	}
}

// legendText says what the marks stand for.
func legendText(h *hours.Hours, m hours.Measure) string {
	text := "9 the best"
	if worse, better, ok := h.Scale(m); ok {
		text = fmt.Sprintf("9 %s, 0 %s", h.Words(m, better), h.Words(m, worse))
		if m == hours.Score {
			text += " or more"
		}
	}
	return text + ",\n* light as wanted, x cannot be exposed or flown, . night or nothing to measure, [ ] the card\n"
}
