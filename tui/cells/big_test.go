package cells

import (
	"strings"
	"testing"
)

func TestEveryBigLetterHasItsDots(t *testing.T) {
	seen := map[[5]string]rune{}
	for r, d := range bigDots {
		for _, row := range d {
			if len(row) != len(d[0]) || strings.Trim(row, " #") != "" {
				t.Errorf("%q has a row %q", r, row)
			}
		}
		if other, twice := seen[d]; twice {
			t.Errorf("%q looks like %q", r, other)
		}
		seen[d] = r
	}
	for _, r := range "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/:.-+ " {
		if _, ok := bigDots[r]; !ok {
			t.Errorf("there is no %q", r)
		}
	}
}

func TestBig(t *testing.T) {
	c := newCanvas(20, 4)
	end := c.All().Big(1, 0, "1/5", Style{})
	if w, ok := BigWidth("1/5"); !ok || w != 11 || end != 12 {
		t.Errorf("width %d %v, end %d", w, ok, end)
	}
	p := &Pen{Profile: NoColour}
	got := strings.Join(p.Lines(c, nil), "\n")
	want := strings.Join([]string{
		" ▄█    █ █▀▀        ",
		"  █  ▄▀  ▀▀█        ",
		" ▀▀▀ ▀   ▀▀▀        ",
	}, "\n")
	if !strings.HasPrefix(plainRows(got), want) {
		t.Errorf("got\n%s\nwant\n%s", plainRows(got), want)
	}
	if _, ok := BigWidth("½"); ok {
		t.Error("there is no big ½")
	}
}

// plainRows takes escape sequences away.
func plainRows(s string) string {
	var b strings.Builder
	in := false
	for _, r := range s {
		switch {
		case r == '\x1b':
			in = true
		case in && r == 'm':
			in = false
		case !in:
			b.WriteRune(r)
		}
	}
	return b.String()
}
