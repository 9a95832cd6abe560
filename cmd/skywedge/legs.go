package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/route"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/zone"
	"example.org/skywedge/tui/cells"
)

func legsRow() command {
	return command{manual.Command{
		Name: "legs", Args: "PATH", Operand: manual.Files, Line: "a card drafted from a path drawn or flown elsewhere: GPX, KML or GeoJSON",
		More: "Straight and round pieces of the line become legs. What the file does not say is named in the card, over the key it is about.",
		Flags: flags([]manual.Flag{
			{Name: "o", Kind: manual.File, Value: "CARD", Help: "the card to write, which must not be there yet; otherwise it is printed"},
			{Name: "line", Kind: manual.Text, Value: "NAME", Help: "which line of the file, by its name or number, where there are several"},
			{Name: "toward", Kind: manual.Text, Value: "MARK", Help: "what the camera looks at: a point of the file by its name, or LAT,LON; track looks along the line; otherwise the only point of the file, or along the line"},
			{Name: "within", Kind: manual.Number, Value: "M", Help: "how far the legs may be off the line, 0.2 to 100; otherwise 1 of a drawn line and 3 of a flown one, or up to 24 where a card's 64 legs need it"},
			{Name: "speed", Kind: manual.Number, Value: "MS", Help: "metres a second, where the file has no times; otherwise 4"},
			{Name: "height", Kind: manual.Number, Value: "M", Help: "of the first point above take-off"},
			{Name: "take-off", Kind: manual.Text, Value: "TIME", Help: "when the flight begins; otherwise by the times in the file, or now"},
			{Name: "zone", Kind: manual.Text, Value: "ZONE", Help: "the time zone of the place, such as Europe/Madrid; otherwise as in the file, or that of the nearest town"},
			{Name: "camera", Kind: manual.Text, Value: "NAME", Help: "a camera of the bag; otherwise its first"},
		}, jsonFlag, bagFlag),
		Example: []string{"legs examples/headland.gpx"},
	}, legsCommand}
}

// The contract of "legs --json".
type legsJSON struct {
	Schema  int      `json:"schema"`
	File    string   `json:"file"`
	Bag     *string  `json:"bag"`
	Out     *string  `json:"out"`
	Line    *string  `json:"line"`
	Legs    int      `json:"legs"`
	LengthM float64  `json:"length_m"`
	Seconds float64  `json:"seconds"`
	WithinM float64  `json:"within_m"`
	OffM    float64  `json:"off_m"`
	Missing []string `json:"missing"`
	Assumed []string `json:"assumed"`
	Card    string   `json:"card"`
}

func legsCommand(e *env, a *manual.Asked) int {
	out := a.Text("o")
	switch {
	case len(a.Rest) != 1:
		return usageError(e, "name one path: a .gpx, .kml or .geojson, or - for standard input")
	case out != "" && out != "-" && !isCardName(out): // or a slip writes over the path
		return usageError(e, "-o %s: a card's name ends in .yaml", nameOf(out))
	case a.Given("within") && !(a.Number("within") >= 0.2 && a.Number("within") <= 100):
		return usageError(e, "--within %g: give 0.2 to 100 metres", a.Number("within"))
	case a.Given("speed") && !(a.Number("speed") >= 0.1 && a.Number("speed") <= 60):
		return usageError(e, "--speed %g: give 0.1 to 60 metres a second", a.Number("speed"))
	case a.Given("height") && !(a.Number("height") >= 0 && a.Number("height") <= 6000):
		return usageError(e, "--height %g: give 0 to 6000 metres above take-off", a.Number("height"))
	}
	name, data, err := readPath(e, a.Rest[0])
	if err != nil {
		return failure(e, err)
	}
	d, err := route.Read(name, data)
	if err != nil {
		return failure(e, err)
	}
	bag, err := useBag(e, a.Text("bag"), a.Rest[0])
	if err != nil {
		return failure(e, err)
	}
	w, err := wishOf(e, a, d, bag)
	if err != nil {
		return failure(e, err)
	}
	draft, err := d.Draft(w)
	var wish *route.WishError
	switch {
	case errors.As(err, &wish):
		return usageError(e, "%v", err)
	case err != nil:
		return failure(e, err)
	}
	if out != "" && out != "-" {
		if err := newCard(out, draft.Card); err != nil {
			return failure(e, err)
		}
	}
	return tellDraft(e, d, draft, out, bag)
}

// readPath reads a path's file, or standard input, and not more of it than a path may hold and a byte.
func readPath(e *env, path string) (name string, data []byte, err error) {
	in, name := e.in, stdinName
	if path != "-" {
		name = path
		st, err := os.Stat(path)
		switch {
		case err != nil:
			return path, nil, &pathTrouble{verb: "read", path: path, err: err}
		case st.IsDir():
			return path, nil, &pathTrouble{path: path, reason: "a folder", remedy: "name a path in it"}
		case isPipe(path, st.Mode()):
			return path, nil, &pathTrouble{path: path, reason: "a pipe, not a file", remedy: `give what comes out of it as standard input, with the name "-"`}
		case isCardName(path):
			return path, nil, &pathTrouble{path: path, reason: "a card has its legs already", remedy: "name a .gpx, .kml or .geojson"}
		}
		f, err := os.Open(path)
		if err != nil {
			return path, nil, &pathTrouble{verb: "read", path: path, err: err}
		}
		defer f.Close()
		in = f
	}
	if data, err = io.ReadAll(io.LimitReader(in, route.MaxBytes+1)); err != nil {
		err = &pathTrouble{verb: "read", path: name, err: err}
	}
	return name, data, err
}

// wishOf reads what the flags add to a path, and finds the zone and the camera where they say none.
func wishOf(e *env, a *manual.Asked, d *route.Drawn, bag bagUse) (route.Wish, error) {
	w := route.Wish{Line: a.Text("line"), Toward: a.Text("toward"), WithinM: a.Number("within"), SpeedMS: a.Number("speed"), Now: e.now(), Zone: a.Text("zone"), Camera: a.Text("camera")}
	if a.Given("height") {
		h := a.Number("height")
		w.HeightM = &h
	}
	start, when, err := d.Start(w.Line)
	if err != nil {
		var wish *route.WishError
		if errors.As(err, &wish) {
			err = badValue{err}
		}
		return w, err
	}
	if when.IsZero() {
		when = w.Now
	}
	if w.Zone == "" {
		w.Zone = d.Zone
	}
	if w.Zone == "" {
		w.Zone, w.ZoneOf = zoneNear(start, when)
	}
	in, err := shot.LoadZone(w.Zone)
	if err != nil {
		return w, badValue{fmt.Errorf("--zone %q: give %w", w.Zone, err)}
	}
	if text := a.Text("take-off"); text != "" {
		if w.TakeOff, err = shot.ParseTakeOff(text, w.Now, in); err != nil {
			return w, badValue{fmt.Errorf("--take-off %q: give %w", text, err)}
		}
	}
	var names []string
	for _, c := range bag.Cameras {
		names = append(names, c.Name)
		if c.Name == w.Camera {
			return w, nil
		}
	}
	if w.Camera != "" || len(names) == 0 {
		return w, badValue{fmt.Errorf("--camera %q: give a camera of the bag: %s", w.Camera, field.Choice(w.Camera, names))}
	}
	w.Camera = names[0]
	if len(names) > 1 {
		w.CameraOf = "the first of the bag; there are " + field.Either(names)
	}
	return w, nil
}

// zoneNear returns the zone of the nearest town, and how it was found.
func zoneNear(p place.Point, at time.Time) (name, how string) {
	near := zone.Nearest(p, at)
	if len(near) == 0 {
		return "UTC", "no zone is known near it, so UTC"
	}
	how = fmt.Sprintf("%s (%s) is kept by the nearest town of the time zone database, %.0f km off", near[0].Zone, zone.Sign(near[0].Offset), near[0].Km)
	for _, n := range near[1:] {
		if n.Offset != near[0].Offset {
			how += fmt.Sprintf("; %s (%s) is near too: look which it is", n.Zone, zone.Sign(n.Offset))
			break
		}
	}
	return near[0].Zone, how
}

// newCard writes a card that is not there yet.
func newCard(path string, data []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return &pathTrouble{path: path, reason: "it is there already and is left alone", remedy: "name a card that is not"}
	}
	if err := store.Save(path, data, 0); err != nil {
		return &pathTrouble{verb: "write", path: path, err: errors.Unwrap(err)}
	}
	return nil
}

// tellDraft prints a draft: the card, or what became of it.
func tellDraft(e *env, d *route.Drawn, draft *route.Draft, out string, bag bagUse) int {
	j := legsJSON{Schema: schema, File: nameOf(d.File), Bag: bag.json(), Legs: draft.Legs, LengthM: draft.LengthM, Seconds: draft.Seconds,
		WithinM: draft.WithinM, OffM: draft.OffM, Missing: []string{}, Assumed: []string{}, Card: string(draft.Card)}
	for _, n := range draft.Notes {
		if n.Missing {
			j.Missing = append(j.Missing, n.Text)
		} else {
			j.Assumed = append(j.Assumed, n.Text)
		}
	}
	switch {
	case e.asJSON:
		if draft.Line != "" {
			j.Line = &draft.Line
		}
		if out != "" && out != "-" {
			named := nameOf(out)
			j.Out = &named
		}
		return writeJSON(e, j)
	case out == "" || out == "-":
		e.raw.Write(draft.Card)
		return exitDone
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s from %s, %s in %s, within %s m of its line\n", nameOf(out), count(draft.Legs, "leg", "legs"), nameOf(filepath.Base(d.File)),
		field.Figure(draft.LengthM, 0)+" m", field.Figure(draft.Seconds, 0)+" s", field.Figure(draft.WithinM, 1))
	e.bullets(&b, "look at", j.Missing)
	e.bullets(&b, "taken from the file", j.Assumed)
	fmt.Fprint(e.out, b.String())
	return exitDone
}

// bullets writes lines under a title, on a terminal in lines that break between words.
func (e *env) bullets(b *strings.Builder, title string, lines []string) {
	if len(lines) > 0 && title != "" {
		fmt.Fprintf(b, "\n%s\n", title)
	}
	for _, l := range lines {
		if e.wide > 20 {
			l = strings.Join(cells.Wrap(l, e.wide-4), "\n    ")
		}
		fmt.Fprintf(b, "  - %s\n", l)
	}
}
