package main

import (
	"fmt"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/flown"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

// The contract of "flown --json". What a line does not say is null.
type flownJSON struct {
	Schema  int              `json:"schema"`
	File    string           `json:"file"`
	Bag     *string          `json:"bag"`
	Name    string           `json:"name"`
	Lines   []flownLineJSON  `json:"flown"`
	Added   int              `json:"added"`
	NoZone  []string         `json:"zone_assumed"`
	LeftOut []leftPictureOut `json:"left_out"`
}

type flownLineJSON struct {
	When         *string  `json:"when"`
	Leg          *int     `json:"leg"` // counted from 0
	Take         *int     `json:"take"`
	Filter       *string  `json:"filter"`
	RingDeg      *float64 `json:"ring_deg"`
	ShutterS     *float64 `json:"shutter_s"`
	ISO          *float64 `json:"iso"`
	Aperture     *float64 `json:"aperture"`
	PlannedEV    *float64 `json:"planned_ev100"`
	OffsetStops  float64  `json:"offset_stops"`
	PlannedMeter *float64 `json:"planned_meter_stops"`
	Meter        *float64 `json:"meter_stops"`
	Off          *float64 `json:"off_stops"`
	Auto         bool     `json:"auto_exposure"`
	Worked       *string  `json:"worked"`
	Confidence   *string  `json:"confidence"`
	Sky          *string  `json:"sky"`
	Glare        *string  `json:"glare"`
	Picture      *string  `json:"picture"`
	Saw          *string  `json:"saw"`
}

type leftPictureOut struct {
	File  string `json:"file"`
	Error string `json:"error"`
}

// printLog prints the log as it stands.
func printLog(e *env, a *manual.Asked, path string) int {
	s, bag, err := shotFile(e, path, a.Text("bag"), "")
	if err != nil {
		return failure(e, err)
	}
	if e.asJSON {
		return writeJSON(e, flownToJSON(path, bag, s, logged{}))
	}
	fmt.Fprint(e.out, logText(s, e.wide))
	return exitDone
}

// tellLogged says what went into a log. The exit code is 3 where a picture was left out.
func tellLogged(e *env, path string, bag bagUse, s *shot.Shot, done logged) int {
	code := exitDone
	if len(done.left) > 0 {
		code = exitInvalid
	}
	if e.asJSON {
		writeJSON(e, flownToJSON(path, bag, s, done))
		return code
	}
	for _, l := range done.left {
		e.tellError("left out: ", &pathTrouble{path: l.name, reason: l.why}, 0)
	}
	if len(done.zone) > 0 {
		fmt.Fprintf(e.out, "no offset is written in %s: the time is taken for one of %s\n", strings.Join(done.zone, ", "), s.Zone)
	}
	for i, f := range done.lines {
		fmt.Fprintln(e.out, lineText(s, len(s.Flown)-len(done.lines)+i+1, &f, e.wide))
	}
	switch n := len(done.lines); n {
	case 0:
		fmt.Fprintln(e.out, "nothing was written")
	default:
		fmt.Fprintf(e.out, "%s in the log of %s; the version before is %s~\n", count(n, "new line", "new lines"), nameOf(path), nameOf(path))
	}
	return code
}

func flownToJSON(path string, bag bagUse, s *shot.Shot, done logged) flownJSON {
	j := flownJSON{
		Schema: schema, File: nameOf(path), Bag: bag.json(), Name: s.Name, Lines: []flownLineJSON{}, Added: len(done.lines),
		NoZone: list(done.zone), LeftOut: []leftPictureOut{},
	}
	text := func(t string) *string {
		if t == "" {
			return nil
		}
		return &t
	}
	for i := range s.Flown {
		f := &s.Flown[i]
		l := flownLineJSON{
			Filter: text(f.Filter), RingDeg: f.RingDeg, ShutterS: when(f.ShutterS > 0, f.ShutterS), ISO: when(f.ISO > 0, f.ISO),
			Aperture: when(f.Aperture > 0, f.Aperture), PlannedEV: f.PlannedEV100, OffsetStops: f.OffsetStops, PlannedMeter: f.PlannedMeter,
			Meter: f.MeterStops, Off: f.OffStops, Auto: f.Auto, Worked: text(f.Worked), Confidence: text(f.Confidence),
			Sky: text(f.Sky), Glare: text(f.Glare), Picture: text(f.Picture), Saw: text(f.Saw),
		}
		if !f.When.IsZero() {
			l.When = text(stamp(s.Local(f.When)))
		}
		if f.Leg >= 0 {
			l.Leg = &f.Leg
		}
		if f.Take > 0 {
			l.Take = &f.Take
		}
		j.Lines = append(j.Lines, l)
	}
	for _, l := range done.left {
		j.LeftOut = append(j.LeftOut, leftPictureOut{nameOf(l.name), l.why})
	}
	return j
}

// logText is the log, a line each.
func logText(s *shot.Shot, wide int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s · ", s.Name)
	if len(s.Flown) == 0 {
		fmt.Fprintln(&b, "nothing in the log yet")
		return b.String()
	}
	fmt.Fprintf(&b, "%s in the log\n\n", count(len(s.Flown), "line", "lines"))
	for i := range s.Flown {
		fmt.Fprintln(&b, lineText(s, i+1, &s.Flown[i], wide))
	}
	return b.String()
}

// lineText is one line of the log, in words; on a terminal of so many columns in several, which break between words.
func lineText(s *shot.Shot, number int, f *shot.Flown, wide int) string {
	var parts []string
	add := func(ok bool, text string) {
		if ok {
			parts = append(parts, text)
		}
	}
	if f.Leg >= 0 && f.Leg < len(s.Legs) {
		leg := fmt.Sprintf("leg %d, %s", f.Leg+1, s.Legs[f.Leg].Move)
		if f.Take > 0 && s.Takes > 1 {
			leg += fmt.Sprintf(", take %d", f.Take)
		}
		add(true, leg)
	}
	add(!f.When.IsZero(), s.Local(f.When).Format("2006-01-02 15:04:05"))
	add(f.Filter != "", words.FilterTitle(f.Filter, 0))
	set := flown.Set(f)
	add(set != "", set)
	parts = append(parts, flown.Seen(f)...)
	add(f.Picture != "", f.Picture)
	text := strings.Join(parts, " · ")
	const lead = 5
	if wide > 2*lead {
		text = strings.Join(cells.Wrap(text, wide-lead), "\n"+strings.Repeat(" ", lead))
	}
	return fmt.Sprintf("%3d  %s", number, text)
}
