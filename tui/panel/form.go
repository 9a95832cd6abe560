package panel

import (
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui/cells"
)

// Row is one line of a form: a field of a document, or a heading.
type Row struct {
	Path    string
	Spec    *field.Spec
	Label   string
	Heading bool
	Doubt   bool // its value may well be wrong; the label says so without colour
	Fixed   bool // other fields say it: nothing is typed here
	InBag   bool // it is the bag's and not the card's
}

// labelCols is the width of the names in a form.
const labelCols = 16

// Form is lines of fields with a cursor.
type Form struct {
	Rows   []Row
	Cursor int  // the line under it; one outside Rows is nowhere
	Focus  bool // the cursor is in this form
	Shown  func(r Row) (text string, isDefault bool)
	Asked  func(r Row) string // what is wrong with a field or missing there, "" for nothing; nil for none
	Typing Typing
	Click  func(b Bench, line int)
}

// mostAsked is how many lines a question beside a field takes at most.
const mostAsked = 3

// beside returns the lines under a field: what is wrong with it, what was understood, what is asked.
func (f *Form) beside(i, cols int) (lines []string, style cells.Style) {
	text, style := "", Warn
	switch here := f.Focus && i == f.Cursor; {
	case here && f.Typing.Fault != "":
		text = "! " + f.Typing.Fault
	case here && f.Typing.On && f.Typing.Said != "":
		text, style = f.Typing.Said, Dim
	case f.Asked != nil && !f.Rows[i].Heading:
		if text = f.Asked(f.Rows[i]); text != "" {
			text = "! " + text
		}
	}
	if text == "" {
		return nil, style
	}
	lines = cells.Wrap(text, max(cols, 1))
	return lines[:min(len(lines), mostAsked)], style
}

// Lines returns how many lines the form takes in so many columns.
func (f *Form) Lines(cols int) int {
	n := len(f.Rows)
	for i := range f.Rows {
		lines, _ := f.beside(i, cols-2)
		n += len(lines)
	}
	return n
}

// Draw draws the lines that fit, from line top on or as near as the cursor allows, and below a field what is wrong with
// it. It returns the line it began with and how many it took.
func (f *Form) Draw(w Window, top int) (first, lines int) {
	cols, rows := w.Size()
	if rows <= 0 {
		return top, 0
	}
	// The cursor and what stands beside its field are kept in view.
	at := max(0, min(f.Cursor, len(f.Rows)-1))
	top = KeepInView(top, at, len(f.Rows), rows)
	tall := func(from, to int) (n int) {
		for i := from; i <= to && i < len(f.Rows); i++ {
			under, _ := f.beside(i, cols-2)
			n += 1 + len(under)
		}
		return n
	}
	for top < at && tall(top, at) > rows {
		top++
	}
	for top > 0 && tall(top-1, len(f.Rows)-1) <= rows {
		top--
	}
	y, last := 0, top
	for i := top; i < len(f.Rows) && y < rows; i++ {
		f.line(w, y, f.Rows[i], f.Focus && i == f.Cursor)
		w.OnClick(Box(0, y, cols, 1), func(b Bench, _, _ int) { f.Click(b, i) })
		y, last = y+1, i+1
		under, style := f.beside(i, cols-2)
		for _, t := range under {
			if y < rows {
				w.TextIn(2, y, cols-2, t, style)
				y++
			}
		}
	}
	More(w, top > 0, last < len(f.Rows))
	return top, y
}

// line draws one field: its name, its value and its unit. A default is dim.
func (f *Form) line(w Window, y int, r Row, picked bool) {
	cols, _ := w.Size()
	if r.Heading {
		w.Text(2, y, r.Label, cells.Style{Fg: cells.Dim, Attr: cells.Bold})
		return
	}
	ground := cells.Default
	if picked {
		ground = cells.PickGround
		w.Fill(0, y, cols, 1, cells.Style{Bg: ground})
		w.Text(0, y, "▸", Accent.On(ground))
	}
	name := Dim
	if r.Doubt {
		name = Warn
	}
	w.TextIn(2, y, labelCols-1, r.Label, name.On(ground))
	x := 2 + labelCols
	if picked && f.Typing.On {
		f.Typing.Draw(w.Window, x, y, cols-x-1)
		return
	}
	text, isDefault := f.Shown(r)
	style := Plain
	if isDefault {
		style = Dim
	}
	if text == "" {
		text = "-"
	}
	unit := unitBehind(r.Spec.Unit)
	if !isNumber(text) {
		unit = "" // a word has none
	}
	x = w.Text(x, y, cells.Cut(Pretty(text, r.Spec), max(1, cols-x-1-cells.Width(unit))), style.On(ground))
	w.Text(x, y, unit, Dim.On(ground))
}

// isNumber tells whether a value begins as a number does.
func isNumber(text string) bool {
	c := text[0]
	return c >= '0' && c <= '9' || c == '-' && len(text) > 1 || c == '.'
}

// Pretty writes a value for people: an arrow in a pair, a date and time apart.
func Pretty(text string, spec *field.Spec) string {
	if a, b, ok := strings.Cut(text, " "); ok && spec.Pair && !strings.Contains(b, " ") {
		return a + "→" + b
	}
	if spec.Key == "take_off" {
		return strings.Replace(strings.TrimSuffix(text, ":00"), "T", " ", 1)
	}
	return text
}

// unitBehind returns the unit as it stands behind a number.
func unitBehind(u string) string {
	if u == "" || u == "°" || u == "%" {
		return u
	}
	return " " + u
}

// Label returns a field's name for people. The unit stands behind the value, so it leaves the name.
func Label(key string) string {
	switch key {
	case "lat":
		return "latitude"
	case "lon":
		return "longitude"
	case "take_off":
		return "take-off"
	case "ring_deg":
		return "ring mark"
	case "cloud_pct":
		return "cloud"
	case "air":
		return "kind of haze"
	case "air_c":
		return "temperature"
	case "ground_m":
		return "ground height"
	case "expose":
		return "expose for"
	case "exposure_s":
		return "long exposure"
	case "fps":
		return "frames a s"
	case "shutter_angle_deg":
		return "shutter angle"
	case "to":
		return "slides to"
	case "wind_from_deg":
		return "wind from"
	}
	for _, unit := range []string{"_deg", "_ms", "_km", "_m", "_s", "_c"} {
		if s, ok := strings.CutSuffix(key, unit); ok {
			key = s
			break
		}
	}
	return strings.ReplaceAll(key, "_", " ")
}
