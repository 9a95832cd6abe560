package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

func TestLegsAreAddedDoubledMovedAndDeleted(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	press(m, "tab", "down")
	if m.leg != 1 || m.card().text("legs[1].move") != "orbit" {
		t.Fatalf("leg %d", m.leg)
	}
	moves := func() string {
		var out []string
		for i := 0; i < m.card().legs(); i++ {
			out = append(out, m.card().current.Doc.At("legs").Index(i).Get("move").Text())
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct{ key, want string }{
		{"d", "push orbit orbit hold"},
		{"a", "push orbit orbit hold hold"},
		{"e", "push orbit hold orbit hold"},
		{"r", "push orbit orbit hold hold"},
		{"x", "push orbit orbit hold hold"}, // asks
		{"x", "push orbit orbit hold hold"}, // the same key deletes nothing
		{"y", "push orbit orbit hold"},
		{"u", "push orbit orbit hold hold"},
	} {
		press(m, c.key)
		if got := moves(); got != c.want {
			t.Fatalf("%s: %q, want %q", c.key, got, c.want)
		}
	}
	if m.calc.report == nil || len(m.calc.report.Legs) != 5 || m.stale() {
		t.Error("the flight was not computed anew")
	}
	if got := m.card().text("legs[3].heading_deg"); got != "60" {
		t.Errorf("an added leg looks where the one before ended: %q", got)
	}
}

func TestTheCallIsWrittenIntoTheCardAndOutAgain(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	call := m.calc.report.Call
	press(m, "f")
	if got := m.card().text("filter"); got != call.Filter {
		t.Errorf("filter %q, want %q", got, call.Filter)
	}
	if call.HasRing && m.card().text("ring_deg") != num(call.RingDeg) {
		t.Errorf("ring %q, want %v", m.card().text("ring_deg"), call.RingDeg)
	}
	press(m, "f")
	if m.card().text("filter") != "auto" || m.card().text("ring_deg") != "auto" {
		t.Error("the second f leaves both to the program again")
	}
}

// A long flight scrolls in its pane: the title, the answer and the shot's fields keep their room.
func TestManyLegsKeepToTheirPane(t *testing.T) {
	m := testModel(t, 80, 24, nil)
	press(m, "tab")
	for range 18 {
		press(m, "d")
	}
	for _, keys := range []string{"", "end", "shift+tab"} {
		if keys != "" {
			press(m, keys)
		}
		lines := strings.Split(ansi.Strip(m.View()), "\n")
		if !strings.Contains(lines[0], "Breakwater") || !strings.Contains(lines[1], "ISO") || !strings.Contains(lines[2], "Shot") {
			t.Errorf("after %q the screen begins with\n%s", keys, strings.Join(lines[:4], "\n"))
		}
	}
}
