package sheet

import (
	_ "embed" // of the style
	"encoding/base64"
	"fmt"
	"strings"
)

// style is the page's look: light and dark as the reader's system has it, two shots on a sheet of A4, one column where
// it is narrow. It names nothing outside the page.
//
//go:embed style.css
var style string

// HTML sets a sheet as one page that needs nothing beside itself: no script, no font, no address.
func (s *Sheet) HTML() []byte {
	p := new(page)
	p.raw("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n",
		"<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>").text(s.Title).raw("</title>\n<style>\n", markup(style), "</style>\n</head>\n<body>\n<main>\n")
	p.raw("<h1>").text(s.Title).raw("</h1>\n")
	if len(s.Days) > 0 {
		p.trip(s)
	}
	for i := range s.Shots {
		p.shot(&s.Shots[i], i+1, len(s.Shots) > 1)
	}
	p.raw("</main>\n<footer><p>It plans pictures, not flights. Bag: ").text(s.Bag).raw(".</p></footer>\n</body>\n</html>\n")
	return p.b.Bytes()
}

// trip sets the days and what to pack.
func (p *page) trip(s *Sheet) {
	p.raw("<section class=\"trip\">\n")
	for i := range s.Days {
		d := &s.Days[i]
		p.raw("<h2>").text(d.Headline).raw("</h2>\n<ol class=\"stops\" start=\"").count(d.Stops[0].Shot + 1).raw("\">\n")
		for k := range d.Stops {
			x := &d.Stops[k]
			p.raw("<li>")
			if x.Way != "" {
				p.raw("<span class=\"way\">").text("before: " + x.Way).raw("</span>")
			}
			p.raw("<b>").text(x.TakeOff).raw(" <a href=\"#shot-").count(x.Shot + 1).raw("\">").text(x.Name).raw("</a></b> ")
			p.text(joined(x.Words))
			for _, c := range x.Conflicts {
				p.raw("<span class=\"mind\">Conflict: ").text(c).raw("</span>")
			}
			p.raw("</li>\n")
		}
		p.raw("</ol>\n")
		if d.Proposed != "" {
			p.raw("<p>Proposed, ").text(d.Proposed).raw(":</p>")
			p.list("", "", "", d.Order)
		}
	}
	p.raw("<h2>Packing</h2>\n")
	p.rows("<ul class=\"pack\">", s.Pack)
	p.raw("</section>\n")
}

func (p *page) shot(s *Shot, n int, numbered bool) {
	p.raw("<article class=\"shot\" id=\"shot-").count(n).raw("\">\n<header><h2>")
	if numbered {
		p.count(n).raw(". ")
	}
	head, where := s.Name, s.Where
	if !numbered { // the page has its name already
		head, where = where[0], where[1:]
	}
	p.text(head).raw("</h2>\n<p>").text(strings.Join(where, " · ")).raw("</p></header>\n")
	p.rows("<ul class=\"times\">", s.Times)
	p.list("<div class=\"mind\">", "<h3>Conflicts</h3>", "</div>", s.Conflicts)
	for i := range s.Flights {
		p.flight(&s.Flights[i], i+1, len(s.Flights) > 1)
	}
	p.raw("<p class=\"small\">").text(s.Magnetic).raw("</p>\n")
	p.raw("<div class=\"halves\">\n<div>\n")
	var expect, mind []string
	for i := range s.Flights {
		for k := range s.Flights[i].Legs {
			l := &s.Flights[i].Legs[k]
			expect, mind = appendLeg(expect, l.Number, l.Expect), appendLeg(mind, l.Number, l.LookOut)
		}
	}
	p.list("<section class=\"mind\">", "<h3>Look out</h3>", "</section>", mind)
	p.list("<section>", "<h3>Expect</h3>", "</section>", expect)
	p.strips(s)
	p.raw("</div>\n<div>\n<section><h3>Why</h3><p>").text(whyText(s)).raw("</p></section>\n")
	for i := range s.Flights {
		head := markup("<h3>If the meter disagrees</h3>")
		if i > 0 {
			head = "<h3>If the meter disagrees on the next flight</h3>"
		}
		p.list("<section>", head, "</section>", s.Flights[i].Ladder)
	}
	p.list("<section class=\"mind\">", "<h3>Cautions</h3>", "</section>", s.Cautions)
	if s.Notes != "" {
		p.raw("<section><h3>Notes</h3>")
		for _, line := range strings.Split(strings.TrimSpace(s.Notes), "\n") {
			p.raw("<p>").text(line).raw("</p>")
		}
		p.raw("</section>\n")
	}
	p.raw("</div>\n</div>\n</article>\n")
}

// whyText is why the call is what it is, and how sure.
func whyText(s *Shot) string { return strings.Join(append(append([]string{}, s.Why...), s.Sure), "; ") }

func joined(list []string) string {
	var some []string
	for _, t := range list {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, " · ")
}

// appendLeg adds what is said of a leg, on one line.
func appendLeg(list []string, leg int, said []string) []string {
	if len(said) == 0 {
		return list
	}
	return append(list, fmt.Sprintf("Leg %d: %s", leg, strings.Join(said, "; ")))
}

func (p *page) flight(f *Flight, n int, several bool) {
	p.raw("<section class=\"flight\">\n<h3>")
	if several {
		p.raw("Flight ").count(n).raw(": ")
	}
	p.text(f.Mount).raw("</h3>\n")
	if f.Change != "" {
		p.raw("<p>Land, ").text(f.Change).raw(".</p>\n")
	}
	p.raw("<div class=\"see\">\n")
	p.picture(f.Bare)
	p.picture(f.Seen)
	p.ring(f.Ring)
	p.raw("</div>\n<table>\n<thead><tr><th scope=\"col\">Leg</th><th scope=\"col\">Heading</th><th scope=\"col\">Lock</th><th scope=\"col\">Meter</th></tr></thead>\n<tbody>\n")
	for i := range f.Legs {
		p.leg(&f.Legs[i])
	}
	p.raw("</tbody>\n</table>\n</section>\n")
}

func (p *page) picture(x *Picture) {
	if x == nil {
		return
	}
	p.raw("<figure><img width=\"").count(x.W).raw("\" height=\"").count(x.H).raw("\" alt=\"").text(x.Alt).raw("\" src=\"data:image/png;base64,")
	p.b.WriteString(base64.StdEncoding.EncodeToString(x.PNG)) // its alphabet needs no escape
	p.raw("\"/><figcaption>").text(x.Caption).raw("</figcaption></figure>\n")
}

func (p *page) leg(l *Leg) {
	p.raw("<tr><th scope=\"row\">").count(l.Number).raw(" ").text(l.Move).raw("<small>").text(l.Start + ", " + l.How).raw("</small></th><td>").text(l.True).raw(" true")
	if l.Magnetic != "" {
		p.raw("<small>").text(l.Magnetic).raw(" magnetic</small>")
	}
	lock, meter := l.Lock, l.Meter
	if lock == "" {
		lock, meter = "cannot be exposed", "none"
	}
	p.raw("</td><td><b>")
	for i, part := range strings.Split(lock, ", ") {
		if i > 0 {
			p.raw(", ")
		}
		p.raw("<span class=\"whole\">").text(part).raw("</span>")
	}
	p.raw("</b></td><td>").text(meter).raw("</td></tr>\n")
}
