package find

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

func press(l *List, keys ...string) (gone func() tea.Cmd) {
	for _, k := range keys {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		runes := msg.Runes
		for name, t := range map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "down": tea.KeyDown, "up": tea.KeyUp, "end": tea.KeyEnd, "backspace": tea.KeyBackspace} {
			if k == name {
				msg, runes = tea.KeyMsg{Type: t}, nil
			}
		}
		if g := l.Key(msg, runes); g != nil {
			gone = g
		}
	}
	return gone
}

func screen(l *List, cols, rows int) string {
	var c cells.Canvas
	c.Reset(cols, rows)
	pen := &cells.Pen{}
	var hits []panel.Hit
	l.Draw(panel.NewWindow(&c, pen, &hits))
	return strings.Join(pen.Lines(&c, nil), "\n")
}

func TestPlaces(t *testing.T) {
	at := ""
	place := func(lead, text string) Item {
		return Item{Lead: lead, Text: text, Note: "note of " + text, Go: func() tea.Cmd { at = text; return nil }}
	}
	places := []Item{place("field", "subject speed, leg 1"), place("field", "speed, leg 1"), place("field", "speed, leg 2"), place("filter", "ND16"), place("key", "s  save the card"), place("card", "Speedwell, dawn")}
	for _, c := range []struct {
		keys []string
		want string
	}{
		{[]string{"speed", "enter"}, "speed, leg 1"},                    // what begins so comes first
		{[]string{"speed 2", "enter"}, "speed, leg 2"},                  // every word has to be there
		{[]string{"subj", "enter"}, "subject speed, leg 1"},             //
		{[]string{"nd16", "enter"}, "ND16"},                             // large or small
		{[]string{"filter", "enter"}, "ND16"},                           // by its kind
		{[]string{"card speed", "enter"}, "Speedwell, dawn"},            // by both
		{[]string{"speed", "down", "enter"}, "speed, leg 2"},            //
		{[]string{"nothing of that sort", "enter"}, ""},                 //
		{[]string{"x", "backspace", "end", "enter"}, "Speedwell, dawn"}, // the list without words is in its order
		{[]string{"ND16", "esc", "esc"}, ""},                            // the first empties the line, the second closes
	} {
		at = ""
		l := Places(places)
		if gone := press(&l, c.keys...); gone != nil {
			gone()
		}
		if at != c.want || l.On {
			t.Errorf("%q leads to %q, want %q; open: %v", c.keys, at, c.want, l.On)
		}
	}
	l := Places(places)
	press(&l, "nothing")
	if text := screen(&l, 60, 20); !strings.Contains(text, "nothing of that name") {
		t.Errorf("%s", text)
	}
	press(&l, "esc")
	if text := screen(&l, 60, 20); !l.On || !strings.Contains(text, "subject speed") || !strings.Contains(text, "1 of 6") || !strings.Contains(text, "note of") {
		t.Errorf("%s", text)
	}
}

func TestKeysAreSearched(t *testing.T) {
	items := []Item{{Text: "Legs", Heading: true}, {Lead: "a", Text: "add a leg"}, {Lead: "x", Text: "delete it"},
		{Text: "Everywhere", Heading: true}, {Lead: "u", Text: "undo"}, {Lead: "Ctrl-R", Text: "do again, with a text that is longer than a line of the list can be, so that it takes two"}}
	l := Keys(items)
	if text := screen(&l, 80, 24); !strings.Contains(text, "Legs") || !strings.Contains(text, "Everywhere") || !strings.Contains(text, "takes two") {
		t.Errorf("%s", text)
	}
	press(&l, "undo")
	if text := screen(&l, 80, 24); strings.Contains(text, "Legs") || !strings.Contains(text, "Everywhere") || strings.Contains(text, "again") {
		t.Errorf("%s", text)
	}
	if press(&l, "esc"); !l.On {
		t.Error("Esc closes a list that was being searched")
	}
	if press(&l, "q"); !l.On {
		t.Error("q closes the list although it may begin a word")
	}
	press(&l, "esc")
	if press(&l, "?"); l.On {
		t.Error("? does not close what it opened")
	}
	text := Text("Changes", []string{"one", "two"})
	if press(&text, "j", "down"); !text.On || !strings.Contains(screen(&text, 60, 20), "two") {
		t.Error("a text is not shown")
	}
	if press(&text, "q"); text.On {
		t.Error("q does not close a text")
	}
}

// Any size of window holds a list.
func TestSizes(t *testing.T) {
	for cols := 1; cols < 90; cols += 7 {
		for rows := 1; rows < 30; rows += 3 {
			for _, l := range []List{Keys([]Item{{Text: "x", Heading: true}, {Lead: "a", Text: "b c"}}), Places([]Item{{Lead: "a", Text: "b"}}), Text("t", []string{"l"})} {
				screen(&l, cols, rows)
			}
		}
	}
}

// End stays within what the search has left over: Enter goes there.
func TestEndOfASearch(t *testing.T) {
	at := ""
	var all []Item
	for _, text := range []string{"wind", "window", "zone", "height", "notes", "takes"} {
		all = append(all, Item{Text: text, Go: func() tea.Cmd { at = text; return nil }})
	}
	l := Places(all)
	if gone := press(&l, "w", "i", "end", "enter"); gone != nil {
		gone()
	}
	if at != "window" {
		t.Errorf("goes to %q", at)
	}
}
