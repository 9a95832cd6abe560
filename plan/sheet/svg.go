package sheet

import (
	"math"
	"strings"
)

// Sizes of a drawing in its own units (ours).
const (
	ringBox    = 120.
	ringRadius = 46.
	markHalf   = 9. // of a mark's square
	stripWide  = 300.
	stripTall  = 34.
)

// ring draws the ring as it is seen facing the lens: the mark that is spoken full, the equal one opposite hollow.
func (p *page) ring(g *Ring) {
	if g == nil {
		return
	}
	p.raw("<figure class=\"ring\"><svg viewBox=\"0 0 120 120\" role=\"img\" aria-label=\"").text("The ring facing the lens: "+strings.Join(g.Words, ", ")).raw("\">",
		"<circle class=\"line\" cx=\"60\" cy=\"60\" r=\"46\"/>")
	p.mark("full", g.First)
	p.mark("hollow", g.Second)
	p.raw("<text x=\"60\" y=\"33\">12</text><text x=\"60\" y=\"58\">facing</text><text x=\"60\" y=\"72\">the lens</text><text x=\"60\" y=\"97\">6</text></svg><figcaption>")
	p.text(strings.Join(g.Words, ", "))
	if g.Front != "" {
		p.raw("<br/>front sheet ").text(g.Front)
	}
	p.raw("</figcaption></figure>\n")
}

func (p *page) mark(class markup, deg float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	p.raw("<rect class=\"", class, "\" x=\"").num(ringBox/2 + ringRadius*sin - markHalf).raw("\" y=\"").num(ringBox/2 - ringRadius*cos - markHalf)
	p.raw("\" width=\"18\" height=\"18\"/>")
}

// strips draws the measures that change over the flight, with a line where a leg begins, and says the others.
func (p *page) strips(s *Shot) {
	if len(s.Strips)+len(s.Steady) == 0 {
		return
	}
	p.raw("<section class=\"strips\"><h3>Along the flight</h3>\n")
	if len(s.Strips) > 0 && len(s.Strips[0].Cuts) > 0 {
		p.raw("<p class=\"small\">A line stands where a leg begins.</p>\n")
	}
	for i := range s.Strips {
		x := &s.Strips[i]
		p.raw("<figure><figcaption>").text(x.Name + ": " + x.Words).raw("</figcaption><svg viewBox=\"0 0 300 34\" preserveAspectRatio=\"none\" role=\"img\" aria-label=\"")
		p.text(x.Name + " over the flight: " + x.Words).raw("\">")
		p.area(x)
		for _, c := range x.Cuts {
			p.raw("<path class=\"cut\" d=\"M").num(c * stripWide).raw(" 0V34\"/>")
		}
		p.raw("</svg></figure>\n")
	}
	for _, t := range s.Steady {
		p.raw("<p class=\"small\">").text(t).raw("</p>\n")
	}
	p.raw("</section>\n")
}

// area fills between nothing and the measure; where that is not known it leaves a gap.
func (p *page) area(x *Strip) {
	at := func(i int) float64 { return stripWide * float64(i) / float64(len(x.Points)-1) }
	tall := func(v float64) float64 { return stripTall * (1 - v) }
	for from := 0; from < len(x.Points); from++ {
		to := from
		for to < len(x.Points) && !math.IsNaN(x.Points[to]) {
			to++
		}
		if to == from {
			continue
		}
		p.raw("<path class=\"area\" d=\"M").num(at(from)).raw(" ").num(tall(x.Zero))
		for i := from; i < to; i++ {
			p.raw("L").num(at(i)).raw(" ").num(tall(x.Points[i]))
		}
		p.raw("L").num(at(to - 1)).raw(" ").num(tall(x.Zero)).raw("Z\"/>")
		from = to
	}
}
