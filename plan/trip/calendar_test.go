package trip

import (
	"encoding/csv"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// unfolded reads a calendar's lines as RFC 5545, 3.1 has it, and holds that none is too long.
func unfolded(t *testing.T, data string) []string {
	t.Helper()
	if !strings.HasSuffix(data, "\r\n") || strings.Contains(strings.ReplaceAll(data, "\r\n", ""), "\n") {
		t.Fatal("lines do not end with CRLF")
	}
	var lines []string
	for _, l := range strings.Split(strings.TrimSuffix(data, "\r\n"), "\r\n") {
		if len(l) > 75 {
			t.Errorf("%d octets: %s", len(l), l)
		}
		if !utf8.ValidString(l) {
			t.Errorf("cut within a character: %q", l)
		}
		if rest, ok := strings.CutPrefix(l, " "); ok {
			lines[len(lines)-1] += rest
			continue
		}
		lines = append(lines, l)
	}
	return lines
}

func values(lines []string, name string) (list []string) {
	for _, l := range lines {
		if v, ok := strings.CutPrefix(l, name+":"); ok {
			list = append(list, v)
		}
	}
	return list
}

var written = time.Date(2026, 9, 1, 8, 30, 0, 0, time.UTC)

func TestCalendar(t *testing.T) {
	t.Parallel()
	cards := worked(t, demo(t))
	lines := unfolded(t, string(Calendar(Of(cards), written)))
	if lines[0] != "BEGIN:VCALENDAR" || lines[len(lines)-1] != "END:VCALENDAR" || !slices.Contains(lines, "VERSION:2.0") || len(values(lines, "PRODID")) != 1 {
		t.Errorf("no calendar: %q", lines[:3])
	}
	open := []string{}
	for _, l := range lines { // what begins ends, one within the other
		if v, ok := strings.CutPrefix(l, "BEGIN:"); ok {
			open = append(open, v)
		} else if v, ok := strings.CutPrefix(l, "END:"); ok {
			if len(open) == 0 || open[len(open)-1] != v {
				t.Fatalf("%s ends within %v", v, open)
			}
			open = open[:len(open)-1]
		}
	}
	starts, ids := values(lines, "DTSTART"), values(lines, "UID")
	if len(starts) != len(cards) || len(slices.Compact(slices.Sorted(slices.Values(ids)))) != len(cards) {
		t.Fatalf("%d events of %d cards, names %v", len(starts), len(cards), ids)
	}
	// 19:40 in Spain's summer is 17:40 UTC.
	if starts[0] != "20260918T174000Z" || values(lines, "DTSTAMP")[0] != "20260901T083000Z" {
		t.Errorf("starts %v, stamps %v", starts, values(lines, "DTSTAMP"))
	}
	if got := values(lines, "TRIGGER"); len(got) != len(cards) || got[0] != "-PT20M" {
		t.Errorf("alarms %v", got)
	}
	if got := values(lines, "SUMMARY")[0]; got != `Breakwater\, evening: ND16` {
		t.Errorf("title %q", got)
	}
	shots := 0
	for _, got := range values(lines, "DESCRIPTION") {
		if !strings.Contains(got, "leg 1") && !strings.Contains(got, "legs 1") {
			continue // the alarm's
		}
		if shots++; strings.Count(strings.ToLower(got), "check the rules") != 1 {
			t.Errorf("not one caution in %q", got)
		}
	}
	if shots != len(cards) {
		t.Errorf("%d shots described, want %d", shots, len(cards))
	}
	// Another take-off is the same event; another place is another.
	later := moving(t, cards[0], cards[0].Shot.Name, cards[0].Shot.TakeOff.Add(10*time.Minute), 0)
	later.File = "elsewhere/" + cards[0].File
	if got := values(unfolded(t, string(Calendar(Of([]Card{later}), written))), "UID"); got[0] != ids[0] {
		t.Errorf("%s became %s when it moved", ids[0], got[0])
	}
	far := moving(t, cards[0], cards[0].Shot.Name, cards[0].Shot.TakeOff, 0.1)
	far.File = cards[0].File
	if got := values(unfolded(t, string(Calendar(Of([]Card{far}), written))), "UID"); got[0] == ids[0] {
		t.Error("two places are one event")
	}
}

// Whatever a name holds, it comes back from the calendar, and breaks no line.
func TestCalendarKeepsEveryName(t *testing.T) {
	t.Parallel()
	base := demo(t)[0]
	r := rand.New(rand.NewPCG(13, 14))
	signs := []rune(`abc ,;:\"'éöß漢字🜁=+-`)
	for range 200 {
		var name []rune
		for range r.IntN(120) {
			name = append(name, signs[r.IntN(len(signs))])
		}
		s := *base.Shot
		s.Name = string(name)
		c := Card{File: "x.yaml", Shot: &s, Bag: base.Bag}
		p := Of([]Card{c})
		got := values(unfolded(t, string(Calendar(p, written))), "SUMMARY")[0]
		back := strings.NewReplacer(`\\`, `\`, `\;`, `;`, `\,`, `,`, `\n`, "\n").Replace(got)
		if back != s.Name {
			t.Fatalf("%q came back as %q", s.Name, back)
		}
		rows, err := csv.NewReader(strings.NewReader(string(Table(p)))).ReadAll()
		if err != nil || len(rows) != 2 || rows[1][3] != s.Name {
			t.Fatalf("%q: %v %q", s.Name, err, rows)
		}
	}
	s := *base.Shot
	s.Name = "a\r\nEND:VCALENDAR\x1b"
	lines := unfolded(t, string(Calendar(Of([]Card{{File: "x", Shot: &s, Bag: base.Bag}}), written)))
	if n := len(values(lines, "END")); n != 3 {
		t.Errorf("a name ends the calendar: %q", lines)
	}
}

func TestTable(t *testing.T) {
	t.Parallel()
	cards := worked(t, demo(t))
	data := string(Table(Of(cards)))
	if strings.Count(data, "\r\n") != len(cards)+1 {
		t.Errorf("%d lines", strings.Count(data, "\r\n"))
	}
	rows, err := csv.NewReader(strings.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(row int, column string) string { return rows[row][slices.Index(tableColumns, column)] }
	for column, want := range map[string]string{"date": "2026-09-18", "take_off": "2026-09-18T19:40:00+02:00", "name": "Breakwater, evening", "filter": "ND16",
		"batteries": "1", "drive_km": "", "proposed_take_off": "2026-09-18T19:40:00+02:00"} {
		if got := at(1, column); got != want {
			t.Errorf("%s is %q, want %q", column, got, want)
		}
	}
	if at(3, "change_before") != "yes" || at(4, "conflicts") == "" || at(1, "settings") == "" || at(1, "window_to") == "" {
		t.Errorf("rows %q", rows[1:5])
	}
}
