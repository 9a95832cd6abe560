//go:build unix

package screentest

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/x/vt"
)

// What a terminal of a few cells is told, and what the drawing must have and must not have.
func TestSVG(t *testing.T) {
	for _, c := range []struct {
		name, screen string
		has, not     []string
	}{
		{"words", "a <b> & c", []string{`<text x="0" y="15" textLength="90" fill="#dcdcd6">a &lt;b&gt; &amp; c</text>`}, []string{"path"}},
		{"two blanks part a run", "ab  c", []string{`textLength="20" fill="#dcdcd6">ab<`, `<text x="40" y="15" textLength="10" fill="#dcdcd6">c<`}, nil},
		{"bold", "\x1b[1mab\x1b[m c", []string{`textLength="20" font-weight="bold" fill="#dcdcd6">ab<`, `x="30" y="15" textLength="10" fill="#dcdcd6">c<`}, nil},
		{"an upper half", "\x1b[38;2;1;2;3;48;2;4;5;6m▀▀", []string{`"#010203" d="M0 0h20v10h-20z"`, `"#040506" d="M0 10h20v10h-20z"`}, []string{"text "}},
		{"a lower half", "\x1b[38;2;1;2;3m ▄", []string{`"#010203" d="M10 10h10v10h-10z"`}, []string{"text "}},
		{"an eighth", "\x1b[38;2;1;2;3;48;2;4;5;6m▁", []string{`"#010203" d="M0 17.5h10v2.5h-10z"`, `"#040506" d="M0 0h10v17.5h-10z"`}, nil},
		{"a whole block", "\x1b[38;2;1;2;3m█", []string{`"#010203" d="M0 0h10v20h-10z"`}, []string{"text "}},
		{"a ground", "\x1b[48;2;4;5;6mab", []string{`"#040506" d="M0 0h20v20h-20z"`, ">ab<"}, nil},
		{"the other way round", "\x1b[7mab", []string{`"#dcdcd6" d="M0 0h20v20h-20z"`, `fill="#101417">ab<`}, nil},
		{"lines", "\x1b[38;2;1;2;3m├──┤", []string{"M5 10h5v1h-5z", "M10 10h20v1h-20z", "M30 10h5v1h-5z", "M35 0h1v10h-1z"}, []string{"text "}},
		{"a sign stands in its cell", "a→b", []string{">a<", `x="15" y="15" text-anchor="middle" fill="#dcdcd6">→<`, ">b<"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			em := vt.NewEmulator(12, 2)
			if _, err := em.WriteString(c.screen); err != nil {
				t.Fatal(err)
			}
			svg := string(drawSVG(em, "a & b"))
			for _, want := range append(c.has, "<title>a &amp; b</title>", `viewBox="0 0 120 40"`) {
				if !strings.Contains(svg, want) {
					t.Errorf("%q is missing in\n%s", want, svg)
				}
			}
			for _, not := range c.not {
				if strings.Contains(svg, "<"+not) {
					t.Errorf("%q is in\n%s", not, svg)
				}
			}
			if again := string(drawSVG(em, "a & b")); again != svg {
				t.Error("drawn twice it is another")
			}
			for d := xml.NewDecoder(strings.NewReader(svg)); ; {
				if _, err := d.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}
