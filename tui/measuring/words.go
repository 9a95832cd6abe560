package measuring

import (
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/plan/words"
)

// todo says what to photograph for the step on the screen, or what of the same pictures it shows.
func (p *Page) todo(f *kit.Filter) []string {
	switch p.step {
	case stepMark:
		return measure.MarkSteps(*f)
	case stepColour:
		return []string{"From the pictures of the wall, too. The white balance must be locked, the same in all of them: + and - say at what."}
	case stepCorners:
		return []string{"From the pictures of the wall, too: what the filter takes in each part of the frame against its middle. What the lens does by itself is in both and drops out."}
	}
	return measure.WallSteps(*f)
}

// exposed is how a picture was exposed: "1/60  ISO 100  f/2.8", or without its aperture, the same in all of them.
func (at *place) exposed(aperture bool) string {
	if at.pic == nil {
		return ""
	}
	d, parts := &at.pic.Data, []string(nil)
	if d.ShutterS != nil {
		parts = append(parts, fmt.Sprintf("%-7s", exposure.FormatShutter(*d.ShutterS)))
	}
	if d.ISO != nil {
		parts = append(parts, fmt.Sprintf("ISO %-4s", exposure.FormatISO(*d.ISO)))
	}
	if d.Aperture != nil && aperture {
		parts = append(parts, exposure.FormatAperture(*d.Aperture))
	}
	return strings.TrimRight(strings.Join(parts, "  "), " ")
}

// state says in a word or two how a place stands; bad that something is wrong there, which stands below it.
func (p *Page) state(sheet, i int) (text string, bad bool) {
	at := &p.places[sheet][i]
	switch {
	case at.path == "" && sheet == wall && i == darkerAt:
		return "none: rougher without it", false
	case at.path == "":
		return "none", false
	case at.wrong != "":
		return "!", true
	case at.pic == nil:
		return "reading ...", false
	case len(p.notesOf(sheet, at)) > 0:
		return "!", true
	}
	if r := p.got.result; sheet == wall && i >= throughAt && r != nil {
		for s, of := range p.got.sets {
			if of == i && s < len(r.Sets) && math.Abs(r.Sets[s].Brighter) >= 1./6 {
				word := "brighter"
				if r.Sets[s].Brighter < 0 {
					word = "darker"
				}
				return "ok, " + strings.TrimSuffix(strings.TrimSuffix(words.AboutStops(r.Sets[s].Brighter), "s"), " stop") + " " + word, false
			}
		}
	}
	return "ok", false
}

// notesOf returns what is wrong with the picture of a place.
func (p *Page) notesOf(sheet int, at *place) (out []string) {
	if at.wrong != "" {
		return []string{at.wrong}
	}
	if at.pic == nil {
		return nil
	}
	for _, n := range p.got.notes[sheet] {
		if n.Picture == at.pic.Name {
			out = append(out, n.Text)
		}
	}
	return out
}

// common returns what is wrong with the pictures of a sheet together.
func (p *Page) common(sheet int) (out []string) {
	for _, n := range p.got.notes[sheet] {
		if n.Picture == "" {
			out = append(out, n.Text)
		}
	}
	return out
}

func figure(v float64, decimals int) string { return words.Minus(field.Figure(v, decimals)) }

// fixed is a figure with one decimal, so that two beside each other look alike.
func fixed(v float64) string { return words.Minus(strconv.FormatFloat(round(v, 1), 'f', 1, 64)) }

func signed(v float64, decimals int) string {
	text := figure(v, decimals)
	if v > 0 && text != "0" {
		text = "+" + text
	}
	return text
}

// told is what the pictures say for the step on the screen, a line each; the first ones matter most.
func (p *Page) told(f *kit.Filter) []string {
	r, m := p.got.result, p.got.mark
	switch {
	case p.step == stepMark && m != nil:
		return markWords(m, f)
	case p.step == stepMark || r == nil:
		return nil
	case p.step == stepColour:
		return colourWords(r, f)
	case p.step == stepCorners:
		return cornerWords(r)
	}
	var out []string
	for _, g := range r.Groups {
		text := fmt.Sprintf("you %s ±%s stops · ", fixed(g.Stops), fixed(g.StopsError))
		if f.Kind == kit.Variable {
			text = "at " + exposure.FormatStops(g.SettingStops) + ": " + text
		}
		whose := "label"
		if f.MeasuredStops > 0 || len(f.Measured) > 0 {
			whose = "measured before"
		}
		text += whose + " " + fixed(g.Label)
		switch d := g.Stops - g.Label; {
		case math.Abs(d) <= g.StopsError:
			text += ": as it says"
		case d > 0:
			text += ": it takes " + fixed(d) + " more"
		default:
			text += ": it takes " + fixed(-d) + " less"
		}
		out = append(out, text)
	}
	return append(out, summary(r))
}

// summary is the colour and the corners in a line.
func summary(r *measure.Result) string {
	g := &r.Groups[0]
	text := fmt.Sprintf("cast %s ±%s mired", signed(g.CastMired, 0), figure(g.CastError, 0))
	if !r.ColourKnown {
		text = "cast not known"
	}
	if c := worst(g.Corners); !math.IsNaN(c) {
		text += " · corners " + signed(round(c, 1), 1)
		if model := worst(g.ModelCorners); !math.IsNaN(model) {
			text += " (model " + signed(round(model, 1), 1) + ")"
		}
	}
	return text
}

func round(v float64, decimals int) float64 {
	s := math.Pow10(decimals)
	return math.Round(v*s)/s + 0
}

// worst returns the corner that differs most from the middle.
func worst(c [4]float64) float64 {
	out := c[0]
	for _, v := range c[1:] {
		if math.Abs(v) > math.Abs(out) || math.IsNaN(out) {
			out = v
		}
	}
	return out
}

func colourWords(r *measure.Result, f *kit.Filter) []string {
	if !r.ColourKnown {
		return []string{"the white balance was not locked: the colour is not known and is not written"}
	}
	var out []string
	for _, g := range r.Groups {
		text := fmt.Sprintf("cast %s ±%s mired, %s", signed(g.CastMired, 0), figure(g.CastError, 0), side(g.CastMired, g.CastError, "warmer", "cooler"))
		text += fmt.Sprintf(" · tint %s, %s", signed(g.Tint, 0), side(g.Tint, tintSeen, "magenta", "green"))
		if f.Kind == kit.Variable {
			text = "at " + exposure.FormatStops(g.SettingStops) + ": " + text
		}
		out = append(out, text)
	}
	return append(out, fmt.Sprintf("the bag has cast %s, tint %s", signed(f.CastMired, 0), signed(f.Tint, 0)),
		fmt.Sprintf("white balance taken to be locked at %.0f K", r.WhiteBalanceK))
}

// tintSeen is the least tint that is called one (ours).
const tintSeen = 3

// side names the side of a figure, where it is beyond its error.
func side(v, off float64, over, under string) string {
	switch {
	case math.Abs(v) <= off:
		return "next to none"
	case v > 0:
		return over
	}
	return under
}

func cornerWords(r *measure.Result) (out []string) {
	for i := range r.Groups {
		g := &r.Groups[i]
		text := ""
		if g.SettingStops > 0 {
			text = "at " + exposure.FormatStops(g.SettingStops) + ": "
		}
		for c, name := range []string{"top left", "top right", "bottom left", "bottom right"} {
			if c > 0 {
				text += ", "
			}
			text += name + " " + stopsAt(g.Corners[c])
		}
		out = append(out, text+" stops")
	}
	return out
}

// stopsAt says a patch against the middle: "−0.2"; a dash where it is not known.
func stopsAt(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return signed(round(v, 1), 1)
}

func markWords(m *measure.Mark, f *kit.Filter) []string {
	text := fmt.Sprintf("mark to pass %s° ±%s°", figure(m.Deg, 0), figure(m.ErrorDeg, 0))
	if d := math.Abs(math.Remainder(m.Deg-f.MarkDeg, 180)); d <= m.ErrorDeg {
		text += " · the bag has " + figure(f.MarkDeg, 0) + "°: the same"
	} else {
		text += " · the bag has " + figure(f.MarkDeg, 0) + "°: " + figure(d, 0) + "° off"
	}
	return []string{text, fmt.Sprintf("the glare was brightest with the mark at %s; the ring took %.0f %% of it at most", kit.Clock(m.BrightestAt), 200*m.Depth/(1+m.Depth))}
}

// nothing says why there is nothing to put into the bag.
func (p *Page) nothing() string {
	given := func(list []place) (n int) {
		for i := range list {
			if list[i].path != "" {
				n++
			}
		}
		return n
	}
	walls := p.places[wall]
	switch {
	case p.got.result != nil || p.got.mark != nil:
		return "the bag has all of it already"
	case p.step == stepMark && given(p.places[glare]) < leastTurns:
		return fmt.Sprintf("nothing to write yet: it takes pictures of at least %d positions", leastTurns)
	case p.step != stepMark && (walls[bareAt].path == "" || given(walls[throughAt:]) == 0):
		return "nothing to write yet: it takes one picture bare and one through the filter"
	}
	return "nothing to write: mend first what is wrong above"
}

// into says what would be written into the bag.
func (p *Page) into() string {
	var out []string
	for _, e := range p.got.edits {
		if strings.Contains(e.Key, "_error_") || e.Key == "measured_on" { // they go along
			continue
		}
		text := p.label(e.Key) + " " + words.Minus(e.Now)
		for _, spec := range kit.FilterFields(p.kind) {
			switch {
			case spec.Key != e.Key || spec.Unit == "":
			case spec.Unit == "°":
				text += spec.Unit
			default:
				text += " " + spec.Unit
			}
		}
		switch {
		case e.Now == "":
			text = "no " + p.label(e.Key)
		case e.Was != "":
			text += " (was " + words.Minus(e.Was) + ")"
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "the same as before, with its errors and the day"
	}
	return strings.Join(out, ", ") + ", with its errors and the day"
}

func fileName(at *place) string {
	if at.path == "" {
		return ""
	}
	return filepath.Base(at.path)
}
