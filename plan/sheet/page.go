package sheet

import (
	"bytes"
	"html"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
)

// mostRunes is the longest text that is set: a card may hold a thousand times as much.
const mostRunes = 2000

// markup is what is written as it is. Only constants of this package are of this type, so that nothing that came from
// outside can be markup: the compiler sees to it that a string goes through [page.text].
type markup string

// page is a page of HTML that is also well-formed XML.
type page struct{ b bytes.Buffer }

func (p *page) raw(list ...markup) *page {
	for _, m := range list {
		p.b.WriteString(string(m))
	}
	return p
}

// text sets a text, between tags or in an attribute's quotes. What does not show or would turn what stands beside it is
// spelt out.
func (p *page) text(s string) *page {
	p.b.WriteString(html.EscapeString(field.Clean(s, mostRunes)))
	return p
}

// num sets a number of a drawing.
func (p *page) num(x float64) *page {
	p.b.WriteString(strconv.FormatFloat(x, 'f', 1, 64))
	return p
}

func (p *page) count(n int) *page {
	p.b.WriteString(strconv.Itoa(n))
	return p
}

// list sets a heading and a list under it, nothing where the list is empty.
func (p *page) list(open, head, shut markup, items []string) {
	if len(items) == 0 {
		return
	}
	p.raw(open, head, "<ul>")
	for _, t := range items {
		p.raw("<li>").text(t).raw("</li>")
	}
	p.raw("</ul>", shut, "\n")
}

// rows sets figures with their names, and smaller what stands behind a figure's comma.
func (p *page) rows(open markup, list []Row) {
	p.raw(open)
	for _, r := range list {
		figure, rest, more := strings.Cut(r.Value, ", ")
		p.raw("<li><span class=\"small\">").text(r.Name).raw("</span> <b>").text(figure).raw("</b>")
		if more {
			p.raw("<span>, ").text(rest).raw("</span>")
		}
		p.raw("</li>")
	}
	p.raw("</ul>\n")
}
