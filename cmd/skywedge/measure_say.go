package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

// The contract of "measure --json". Of a variable what stands outside settings is of the lightest one.
type measureJSON struct {
	Schema       int           `json:"schema"`
	Filter       string        `json:"filter"`
	Bag          *string       `json:"bag"`
	Label        *float64      `json:"label_stops"`
	Stops        *float64      `json:"stops"`
	StopsError   *float64      `json:"stops_error"`
	Cast         *float64      `json:"cast_mired"`
	CastError    *float64      `json:"cast_error"`
	Tint         *float64      `json:"tint"`
	WhiteBalance *float64      `json:"white_balance_k"`
	ColourKnown  *bool         `json:"colour_known"`
	Corners      []*float64    `json:"corner_stops"`
	ModelCorners []*float64    `json:"model_corner_stops"`
	Map          []*float64    `json:"map_stops"`
	ModelMap     []*float64    `json:"model_map_stops"`
	Mark         *float64      `json:"mark_deg"`
	MarkError    *float64      `json:"mark_error_deg"`
	Pairs        int           `json:"pairs"`
	Settings     []settingJSON `json:"settings"`
	Warnings     []string      `json:"warnings"`
	Photograph   []string      `json:"photograph"`
	Edits        []editJSON    `json:"edits"`
	Written      *string       `json:"written"`
}

type settingJSON struct {
	Setting    float64 `json:"setting_stops"`
	Stops      float64 `json:"stops"`
	StopsError float64 `json:"stops_error"`
	Cast       float64 `json:"cast_mired"`
	CastError  float64 `json:"cast_error"`
	Tint       float64 `json:"tint"`
}

type editJSON struct {
	Key string  `json:"key"`
	Was *string `json:"was"`
	Now *string `json:"now"`
}

func (m *measuring) json() measureJSON {
	j := measureJSON{
		Schema: schema, Filter: m.filter.Name, Bag: m.bag.json(), Settings: []settingJSON{}, Warnings: []string{}, Photograph: []string{}, Edits: []editJSON{},
		Corners: []*float64{}, ModelCorners: []*float64{}, Map: []*float64{}, ModelMap: []*float64{},
	}
	known := func(v float64) *float64 {
		if math.IsNaN(v) {
			return nil
		}
		return &v
	}
	all := func(v []float64) (list []*float64) {
		for _, x := range v {
			list = append(list, known(x))
		}
		return list
	}
	if r := m.result; r != nil {
		g := &r.Groups[0]
		j.Label, j.Stops, j.StopsError, j.Cast, j.CastError, j.Tint = &g.Label, &g.Stops, &g.StopsError, &g.CastMired, &g.CastError, &g.Tint
		j.WhiteBalance, j.ColourKnown, j.Pairs = &r.WhiteBalanceK, &r.ColourKnown, len(r.Sets)
		j.Corners, j.ModelCorners = all(g.Corners[:]), all(g.ModelCorners[:])
		j.Map, j.ModelMap = all(g.Map[:]), all(g.ModelMap[:])
		if m.filter.Kind == kit.Variable {
			for _, g := range r.Groups {
				j.Settings = append(j.Settings, settingJSON{g.SettingStops, g.Stops, g.StopsError, g.CastMired, g.CastError, g.Tint})
			}
		}
	}
	if m.mark != nil {
		j.Mark, j.MarkError = &m.mark.Deg, &m.mark.ErrorDeg
	}
	if m.result == nil && m.mark == nil {
		j.Photograph = append(measure.WallSteps(m.filter), measure.MarkSteps(m.filter)...)
	}
	for _, n := range m.notes {
		j.Warnings = append(j.Warnings, n.String())
	}
	text := func(s string) *string {
		if s == "" {
			return nil
		}
		return &s
	}
	if len(m.refused) > 0 {
		j.Warnings = append(j.Warnings, "what was measured "+m.whyRefused())
	}
	for _, x := range m.edits {
		j.Edits = append(j.Edits, editJSON{x.Key, text(x.Was), text(x.Now)})
	}
	if m.written {
		j.Written = text(nameOf(m.file))
	}
	return j
}

// tell says what was measured beside the label and the model, and what would change in the bag. The error is that it could
// not be said.
func (m *measuring) tell(e *env) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s of %s\n", m.filter.Name, m.filter.Kind, m.bag)
	if m.result == nil && m.mark == nil {
		m.tellSteps(&b)
	}
	if m.result != nil {
		for i := range m.result.Groups {
			m.tellGroup(&b, &m.result.Groups[i], e.wide)
		}
	}
	if m.mark != nil {
		fmt.Fprintf(&b, "\n  mark     in the bag %s°, measured %s° ±%.0f°, from the mark to the pass axis, clockwise facing the lens\n           glare was brightest with the mark at %s; %.0f %% of the light came and went\n",
			field.Figure(m.filter.MarkDeg, 0), field.Figure(m.mark.Deg, 0), m.mark.ErrorDeg, kit.Clock(m.mark.BrightestAt), 100*m.mark.Depth)
	}
	var notes []string
	for _, n := range m.notes {
		notes = append(notes, n.String())
	}
	listing(&b, "mind", notes)
	if len(m.edits) > 0 {
		fmt.Fprintf(&b, "\nfor the bag\n")
		for _, x := range m.edits {
			fmt.Fprintf(&b, "  %-22s %s, was %s\n", x.Key, or(x.Now, "nothing"), or(x.Was, "nothing"))
		}
	}
	for line := range strings.Lines(b.String()) {
		if _, err := fmt.Fprintln(e.out, hanging(strings.TrimSuffix(line, "\n"), e.wide)); err != nil {
			return err
		}
	}
	return nil
}

// hanging breaks a line that is too wide between words, and sets what follows under the beginning of its text: behind a
// number, a dash or a title.
func hanging(line string, wide int) string {
	if wide <= 0 || cells.Width(line) <= wide {
		return line
	}
	lead := 0
	for i := range min(len(line), 22) {
		if i >= 2 && line[i] != ' ' && line[i-1] == ' ' && (line[i-2] == ' ' || line[i-2] == '-') {
			lead = i
		}
	}
	return line[:lead] + strings.Join(cells.Wrap(line[lead:], wide-lead), "\n"+strings.Repeat(" ", lead))
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// tellSteps says what to photograph.
func (m *measuring) tellSteps(b *strings.Builder) {
	name := m.filter.Name
	if strings.ContainsAny(name, " '\"$") {
		name = strconv.Quote(name)
	}
	list := func(title, call string, steps []string) {
		if len(steps) == 0 {
			return
		}
		fmt.Fprintf(b, "\n%s\n", title)
		for i, s := range steps {
			fmt.Fprintf(b, "  %d  %s\n", i+1, s)
		}
		fmt.Fprintf(b, "  skywedge measure %s %s\n", name, call)
	}
	call := "--bare A.jpg --darker B.jpg --through C.jpg"
	switch m.filter.Kind {
	case kit.Variable:
		call = "--bare A.jpg --darker B.jpg --setting 2 --through C.jpg --setting 3 --through D.jpg"
		if s := m.filter.Settings(); len(s) > 1 {
			call = fmt.Sprintf("--bare A.jpg --darker B.jpg --setting %g --through C.jpg --setting %g --through D.jpg", s[0], s[1])
		}
	case kit.Polariser, kit.Hybrid:
		call += " --through D.jpg"
	}
	list("its loss, its colour and its corners", call, measure.WallSteps(m.filter))
	list("where its mark stands", "--glare 12:00=A.jpg 1:00=B.jpg 2:00=C.jpg 3:00=D.jpg 4:00=E.jpg 5:00=F.jpg", measure.MarkSteps(m.filter))
}

// tellGroup says what was measured at one setting.
func (m *measuring) tellGroup(b *strings.Builder, g *measure.Group, wide int) {
	at := ""
	if m.filter.Kind == kit.Variable {
		at = fmt.Sprintf(" at %g", g.SettingStops)
	}
	has := "label"
	if m.filter.MeasuredOn != "" {
		has = "in the bag"
	}
	fmt.Fprintf(b, "\n  loss%s     %s %.2f, measured %.2f ±%.2f stops, from %s\n", at, has, g.Label, g.Stops, g.StopsError, count(g.Sets, "set", "sets"))
	if m.result.ColourKnown {
		m.tellColour(b, g, has)
	} else {
		fmt.Fprintf(b, "  cast     not known: the white balance was not locked\n")
	}
	fmt.Fprintf(b, "  corners  measured %s%s\n", corners(g.Corners), besideModel(g.ModelCorners))
	left, right := mapLines("stops against the middle, measured", &g.Map), mapLines("by the model", &g.ModelMap)
	if math.IsNaN(g.ModelMap[0]) {
		right = nil
	}
	across := 0
	for _, l := range left {
		across = max(across, cells.Width(l))
	}
	apart := wide > 0 && 2+across+3+across > wide
	for i := 0; i < len(left); i++ {
		line := "  " + left[i]
		if right != nil && !apart {
			line += strings.Repeat(" ", across-cells.Width(left[i])+3) + right[i]
		}
		fmt.Fprintf(b, "%s\n", line)
	}
	if apart {
		for _, l := range right {
			fmt.Fprintf(b, "  %s\n", l)
		}
	}
}

// tellColour says how it colours the light, beside what the bag has.
func (m *measuring) tellColour(b *strings.Builder, g *measure.Group, has string) {
	way := ""
	if math.Abs(g.CastMired) >= 0.5 {
		way = ", " + words.Cast(g.CastMired)
	}
	fmt.Fprintf(b, "  cast     %s %s, measured %s ±%.0f mired%s, under a white balance of %.0f K\n", has, plus(m.filter.CastMired, 0), plus(g.CastMired, 0), g.CastError, way, m.result.WhiteBalanceK)
	fmt.Fprintf(b, "  tint     %s %s, measured %s; magenta is positive\n", has, plus(m.filter.Tint, 0), plus(g.Tint, 0))
}

// plus is a number with its sign.
func plus(v float64, places int) string {
	text := field.Figure(v, places)
	if v > 0 && text != "0" {
		text = "+" + text
	}
	return words.Minus(text)
}

// corners names the four, in stops.
func corners(c [4]float64) string {
	var all []string
	for i, name := range []string{"top left", "top right", "bottom left", "bottom right"} {
		text := "not seen"
		if !math.IsNaN(c[i]) {
			text = plus(c[i], 1)
		}
		all = append(all, name+" "+text)
	}
	return strings.Join(all, ", ")
}

// besideModel adds the model's corners; nothing where the field of the pictures is not known.
func besideModel(c [4]float64) string {
	if math.IsNaN(c[0]) {
		return ""
	}
	return "\n           model    " + corners(c)
}

// mapLines draws a map in tenths of a stop, a line a row, under a title.
func mapLines(title string, m *measure.Map) []string {
	lines := []string{title}
	for row := range measure.Down {
		line := ""
		for _, v := range m[row*measure.Across : (row+1)*measure.Across] {
			text := "·" // left out
			if !math.IsNaN(v) {
				text = words.Minus(strings.Replace(field.Figure(v, 1), "0.", ".", 1))
			}
			line += strings.Repeat(" ", max(0, 4-cells.Width(text))) + text
		}
		lines = append(lines, line)
	}
	return lines
}

// tellEnd says what was written, or how to write it.
func (m *measuring) tellEnd(e *env, looked bool) {
	switch {
	case !looked:
	case m.written && m.bag.file == "":
		fmt.Fprintf(e.out, "\nThe bag that is built in was copied to %s, and what was measured written there.\n", nameOf(m.file))
	case m.written:
		fmt.Fprintf(e.out, "\nwritten into %s; the version before is %s~\n", nameOf(m.file), nameOf(m.file))
	case len(m.edits) == 0:
		fmt.Fprintf(e.out, "\nThe bag has it just so: nothing to write.\n")
	case len(m.refused) > 0:
		fmt.Fprintf(e.out, "\nWhat was measured %s.\n", m.whyRefused())
	case m.file == "":
		fmt.Fprintf(e.out, "\nNothing was written: the bag came from standard input.\n")
	case e.terminal:
		fmt.Fprintf(e.out, "nothing was written\n")
	default:
		fmt.Fprintf(e.out, "\nNothing was written. With --yes it goes into %s.\n", nameOf(m.file))
	}
}
