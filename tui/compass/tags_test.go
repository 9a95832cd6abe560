package compass

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/paneltest"
	"example.org/skywedge/tui/panel"
)

// Numbers that would run into each other become one list, in which the leg at the playhead stands by
// itself.
func TestTags(t *testing.T) {
	for _, c := range []struct {
		legs []int
		here int
		want string
	}{
		{[]int{3}, 1, "3"}, {[]int{8, 9}, 1, "8,9"}, {[]int{9, 8, 8}, 1, "8,9"}, {[]int{6, 7, 8, 9}, 1, "6-9"},
		{[]int{6, 7, 8, 9}, 6, "6,7-9"}, {[]int{6, 7, 8, 9}, 8, "6,7,8,9"}, {[]int{1, 3, 4, 5, 12}, 9, "1,3-5,12"},
	} {
		var list tags
		for _, l := range c.legs {
			list.add(10, 2, l)
		}
		if len(list) != 1 {
			t.Fatalf("%v: %d tags", c.legs, len(list))
		}
		text, marked := "", ""
		for _, p := range list[0].pieces(c.here) {
			text += p.text
			if p.from == c.here {
				marked += p.text
			}
		}
		if text != c.want {
			t.Errorf("%v at leg %d: %q, want %q", c.legs, c.here, text, c.want)
		}
		if strings.Contains(","+text+",", ",8,") && c.here == 8 && marked != "8" {
			t.Errorf("%v: %q is marked", c.legs, marked)
		}
	}
}

func TestTagsKeepApartAndInside(t *testing.T) {
	var list tags
	list.add(2, 0, 1)
	list.add(6, 0, 2)
	list.add(7, 0, 3) // beside 2
	list.add(6, 1, 4)
	list.add(19, 1, 10)
	c := paneltest.Canvas(20, 2)
	plainly := func(int, int) cells.Style { return panel.Plain }
	list.draw(c.All(), 2, plainly, func(cells.Style) cells.Style { return panel.Strong })
	p := &cells.Pen{Profile: cells.NoColour}
	rows := p.Lines(c, nil)
	if got := strings.TrimRight(rows[1], " "); got != "      4           10" {
		t.Errorf("%q", got)
	}
	// A list that grew long moves its neighbour away.
	long, wide := tags{}, paneltest.Canvas(20, 1)
	for _, l := range []int{2, 4, 6, 8} {
		long.add(1, 0, l)
	}
	long.add(6, 0, 9)
	long.draw(wide.All(), 0, plainly, func(s cells.Style) cells.Style { return s })
	if got := strings.TrimRight(p.Lines(wide, nil)[0], " "); got != " 2,4,6,8 9" {
		t.Errorf("%q", got)
	}
	if c.At(2, 0).Rune != '1' || c.At(6, 0).Rune != '2' || c.At(8, 0).Rune != '3' || c.At(6, 0).Style != panel.Strong || c.At(8, 0).Style != panel.Plain {
		t.Errorf("%q", rows[0])
	}
}
