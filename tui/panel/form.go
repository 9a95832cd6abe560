package panel

import (
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui/cells"
)

// Row is one line of a form: a field of a document, or a heading.
type Row struct {
	Path     string
	Spec     *field.Spec
	Label    string
	Heading  bool
	Filter   bool // a field of a filter: it is the bag's and not the card's
	FilterAt int  // which of the bag
}

// labelCols is the width of the names in a form.
const labelCols = 16

// Form is lines of fields with a cursor.
type Form struct {
	Rows   []Row
	Cursor int  // the line under it; one outside Rows is nowhere
	Focus  bool // the cursor is in this form
	Shown  func(r Row) (text string, isDefault bool)
	Typing Typing
	Click  func(b Bench, line int)
}

// Draw draws the lines that fit, from line top on or as near as the cursor allows, and below the one under
// the cursor what is wrong with it. It returns the line it began with and how many it took.
func (f *Form) Draw(w Window, top int) (first, lines int) {
	cols, rows := w.Size()
	if rows <= 0 {
		return top, 0
	}
	fault := 0
	if f.Focus && f.Typing.Fault != "" {
		fault = 1
	}
	top = KeepInView(top, max(0, f.Cursor), len(f.Rows), max(1, rows-fault))
	y := 0
	for i := top; i < len(f.Rows) && y < rows; i++ {
		f.line(w, y, f.Rows[i], f.Focus && i == f.Cursor)
		w.OnClick(Box(0, y, cols, 1), func(b Bench, _, _ int) { f.Click(b, i) })
		y++
		if fault == 1 && i == f.Cursor && y < rows {
			w.TextIn(2, y, cols-2, "! "+f.Typing.Fault, Warn)
			y++
		}
	}
	More(w, top > 0, top+rows < len(f.Rows))
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
	w.TextIn(2, y, labelCols-1, r.Label, Dim.On(ground))
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
