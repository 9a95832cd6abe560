package main

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/learn"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/cells"
)

// The contract of "flown --learn --json".
type learnJSON struct {
	Schema   int          `json:"schema"`
	File     string       `json:"file"`
	Bag      *string      `json:"bag"`
	Cards    int          `json:"cards"`
	Lines    int          `json:"lines"`
	Evidence int          `json:"evidence_lines"`
	Flights  int          `json:"flights"`
	Camera   *offsetJSON  `json:"camera"`
	Filters  []offsetJSON `json:"filters"`
	Words    []wordsJSON  `json:"words"`
	Written  []string     `json:"written"`
}

type offsetJSON struct {
	Name       string    `json:"name"`
	Median     float64   `json:"median_stops"`
	Error      float64   `json:"error_stops"`
	N          int       `json:"n"`
	Use        bool      `json:"use"`
	WithCamera bool      `json:"with_camera"`
	InUse      float64   `json:"in_use_stops"`
	Far        []farJSON `json:"far_off"`
}

type farJSON struct {
	File  string  `json:"file"`
	Day   string  `json:"day"`
	Stops float64 `json:"stops"`
}

type wordsJSON struct {
	Confidence string `json:"confidence"`
	Yes        int    `json:"worked_yes"`
	Partly     int    `json:"worked_partly"`
	No         int    `json:"worked_no"`
	Sky        [3]int `json:"sky"`
	Glare      [3]int `json:"glare"`
}

// learnCommand tells what the logs of a card and of those beside it teach, and writes it into the bag when told to.
func learnCommand(e *env, a *manual.Asked, path string) int {
	s, bag, err := shotFile(e, path, a.Text("bag"), "")
	if err != nil {
		return failure(e, err)
	}
	lines, cards := logsBeside(e, path, s, bag.Bag)
	l := learn.Of(lines, s.Camera.Name, func(filter string) float64 {
		if f, ok := bag.FilterByName(filter); ok {
			return f.OffsetStops
		}
		if filter == "" {
			return s.Camera.OffsetStops
		}
		return 0
	})
	var written []string
	file := ""
	if a.On("use") {
		if written, file, err = useOffsets(e, path, bag, s.Camera.Name, &l); err != nil {
			return failure(e, err)
		}
	}
	if e.asJSON {
		return writeJSON(e, learnToJSON(path, bag, cards, &l, written))
	}
	text := learnText(s, cards, &l) + usedText(a.On("use"), &l, written, file)
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if e.wide > 0 && cells.Width(line) > e.wide {
			line = strings.Join(cells.Wrap(line, e.wide-4), "\n    ")
		}
		fmt.Fprintln(e.out, line)
	}
	return exitDone
}

// logsBeside reads the logs of a card and of the others in its folder that were flown with the same camera. What is no card
// there, or has a fault, has nothing to teach.
func logsBeside(e *env, path string, own *shot.Shot, bag *kit.Bag) (lines []learn.Line, cards int) {
	add := func(file string, s *shot.Shot) {
		cards++
		for _, f := range s.Flown {
			day := ""
			if !f.When.IsZero() {
				day = s.Local(f.When).Format(time.DateOnly)
			}
			lines = append(lines, learn.Line{Card: filepath.Base(file), Day: day, Flown: f})
		}
	}
	add(path, own)
	if path == "-" {
		return lines, cards
	}
	others, _ := filepath.Glob(filepath.Join(globbed(filepath.Dir(path)), "*.y*ml"))
	for _, file := range others {
		if !isCardName(file) || store.Same(file, path) {
			continue
		}
		name, data, err := readFile(e, file)
		if err != nil || isBag(data) {
			continue
		}
		if s, err := shotOf(e, name, data, bag, ""); err == nil && s.Camera.Name == own.Camera.Name {
			add(file, s)
		}
	}
	return lines, cards
}

// globbed spells a folder so that its name means itself in a pattern.
func globbed(dir string) string {
	return strings.NewReplacer("*", "[*]", "?", "[?]", "[", "[[]").Replace(dir)
}

// useOffsets writes what is offered into the bag. One that is built in is laid beside the card first.
func useOffsets(e *env, card string, bag bagUse, camera string, l *learn.Learned) (written []string, file string, err error) {
	file = bag.saveTo()
	if bag.file == "" && card != "-" {
		file = filepath.Join(filepath.Dir(card), store.BagFile)
	}
	if file == "" {
		return nil, "", badValue{errors.New("--use: a bag from standard input has no file to be written: name one with --bag")}
	}
	on := e.now().Format(time.DateOnly)
	err = bag.change(file, "set offset_stops there in view 3, or close it first", func(next *kit.Bag) (*kit.Bag, error) {
		set := func(isCamera bool, o *learn.Offset) error {
			if !o.Offered {
				return nil
			}
			b, faults := next.SetOffset(isCamera, o.Name, o.Write, on)
			if b == nil {
				return faults
			}
			next = b
			written = append(written, o.Name)
			return nil
		}
		var err error
		if l.Camera != nil {
			err = set(true, l.Camera)
		}
		for i := range l.Filters {
			if err == nil {
				err = set(false, &l.Filters[i])
			}
		}
		if len(written) == 0 {
			next = nil
		}
		return next, err
	})
	if err != nil {
		written = nil
	}
	return written, file, err
}

func learnToJSON(path string, bag bagUse, cards int, l *learn.Learned, written []string) learnJSON {
	j := learnJSON{
		Schema: schema, File: nameOf(path), Bag: bag.json(), Cards: cards, Lines: l.Lines, Evidence: l.Evidence, Flights: l.Flights,
		Filters: []offsetJSON{}, Words: []wordsJSON{}, Written: list(written),
	}
	offset := func(o *learn.Offset) offsetJSON {
		x := offsetJSON{o.Name, o.Median, o.Error, o.N, o.Offered, o.WithCamera, o.InUse, []farJSON{}}
		for _, f := range o.Far {
			x.Far = append(x.Far, farJSON{nameOf(f.Card), f.Day, f.Stops})
		}
		return x
	}
	if l.Camera != nil {
		c := offset(l.Camera)
		j.Camera = &c
	}
	for i := range l.Filters {
		j.Filters = append(j.Filters, offset(&l.Filters[i]))
	}
	for _, w := range l.Words {
		j.Words = append(j.Words, wordsJSON{w.Confidence, w.Yes, w.Partly, w.No, w.Sky, w.Glare})
	}
	return j
}

// learnText is what the logs teach, for people.
func learnText(s *shot.Shot, cards int, l *learn.Learned) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s: %s in the logs, %s of the light", s.Camera.Name, count(cards, "card", "cards"), count(l.Lines, "line", "lines"), count(l.Evidence, "tells", "tell"))
	fmt.Fprintf(&b, " (%s)\n", count(l.Flights, "flight", "flights"))
	if l.Evidence < l.Lines {
		fmt.Fprintln(&b, "a line tells when shutter, ISO and aperture are known, and with them the meter (behind the planned filter), or by how much it was too dark or too bright, or that the camera's own exposure worked")
	}
	if l.Camera != nil || len(l.Filters) > 0 {
		fmt.Fprintf(&b, "\nmore light than planned, in stops\n")
		if l.Camera != nil {
			offsetText(&b, "camera", l.Camera)
		}
		for i := range l.Filters {
			offsetText(&b, l.Filters[i].Title(), &l.Filters[i])
		}
	} else if l.Evidence > 0 {
		fmt.Fprintf(&b, "an offset is shown from %d flights with the same filter, or without one\n", learn.ShownFrom)
	}
	if len(l.Words) > 0 {
		fmt.Fprintf(&b, "\nthe call        worked   partly   no    sky, glare as planned   less   more\n")
		for _, w := range l.Words {
			name := w.Confidence
			if name == "close" {
				name = "toss-up"
			}
			fmt.Fprintf(&b, "%-14s %7d  %7d %4d  %22d  %5d  %5d\n", name, w.Yes, w.Partly, w.No, w.Sky[0]+w.Glare[0], w.Sky[1]+w.Glare[1], w.Sky[2]+w.Glare[2])
		}
	}
	return b.String()
}

func offsetText(b *strings.Builder, title string, o *learn.Offset) {
	say := "too small to be used"
	switch {
	case o.Offered:
		say = "offered"
	case math.Abs(o.InUse) >= 0.05:
		say = "in use"
	case o.N < learn.OfferedFrom:
		say = "too few to be used"
	}
	fmt.Fprintf(b, "  %-24s %+.2f ±%.2f, %s: %s\n", title, o.Median, o.Error, count(o.N, "flight", "flights"), say)
	for _, f := range o.Far {
		fmt.Fprintf(b, "    %-22s %+.2f, far off the others\n", strings.TrimSpace(f.Card+" "+f.Day), f.Stops)
	}
}

// usedText says what was written, or what could be.
func usedText(use bool, l *learn.Learned, written []string, file string) string {
	offered := l.Camera != nil && l.Camera.Offered
	for i := range l.Filters {
		offered = offered || l.Filters[i].Offered
	}
	switch {
	case len(written) > 0:
		return fmt.Sprintf("\nwritten into %s as offset_stops: %s. From now on the plan has it.\nTo undo it move %s~ back where there is one, or empty offset_stops in view 3.\n", nameOf(file), strings.Join(written, ", "), nameOf(file))
	case use:
		return "\nnothing is offered, so nothing was written\n"
	case offered:
		return "\nThe plan does not use it. With --use it goes into the bag.\n"
	}
	return ""
}
