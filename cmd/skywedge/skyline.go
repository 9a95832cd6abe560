package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/ridge"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

func skylineRow() command {
	return command{manual.Command{
		Name: "skyline", Args: "CARD --tiles DIR", Operand: manual.Cards, Line: "the ridge as seen from take-off, from elevation tiles, into the card; and when the sun leaves",
		More: "Tiles are files of the open layout .hgt: a degree each, named by their south-west corner (N43W009.hgt), 1201 or 3601 posts a side. " +
			"The tile of the take-off and those around it lie in one folder; a tile that is missing is taken for the sea, which is said. " +
			"It goes by the ground: trees and houses are not in it.",
		Flags: flags([]manual.Flag{
			{Name: "tiles", Kind: manual.File, Value: "DIR", Help: "the folder of the tiles"},
			{Name: "height", Kind: manual.Number, Value: "M", Help: "as seen from so many metres above the take-off, 0 to 10000; it is printed only: the card's skyline is that of the take-off"},
			{Name: "yes", Help: "replace the skyline that the card has already, without asking"},
		}, jsonFlag, bagFlag, takeOffFlag),
		Example: []string{"skyline examples/3-estuary.yaml --tiles tiles"},
	}, skylineCommand}
}

// eyeM is how high a pilot's eyes are above the ground (ours).
const eyeM = 1.7

// foundLine is what a search for a skyline came to.
type foundLine struct {
	path    string
	bag     bagUse
	s       *shot.Shot
	cardM   *float64 // the height of the take-off by the card; nil where it has none
	line    *ridge.Line
	height  float64 // that it is seen from, above the ground
	printed bool    // it is for looking at, not for the card
	points  [][2]float64
	within  float64
	before  ridge.Sun // with the skyline that the card has
	sun     ridge.Sun
	high    float64 // how high the highest leg flies, 0 where that is not asked
	highSun ridge.Sun
	written bool
	why     string // it was not
}

func skylineCommand(e *env, a *manual.Asked) int {
	switch h := a.Number("height"); {
	case len(a.Rest) != 1:
		return usageError(e, "name one card, or - for standard input")
	case a.Text("tiles") == "":
		return usageError(e, "say with --tiles DIR where the elevation tiles are")
	case a.Given("height") && !(h >= 0 && h <= 10000):
		return usageError(e, "--height %g: give metres from 0 to 10000", h)
	case a.Given("height") && a.On("yes"):
		return usageError(e, "--height prints only: give it without --yes")
	}
	f := &foundLine{path: a.Rest[0], height: eyeM, printed: a.Given("height") || a.Rest[0] == "-"}
	if a.Given("height") {
		f.height = a.Number("height")
	}
	var was store.Snapshot
	if !f.printed {
		// The mark first: who holds it is at work on this card, and would lose against what is written here.
		lock, err := store.Acquire(f.path)
		var locked *store.LockedError
		if errors.As(err, &locked) {
			return failure(e, lockedFor(locked, "write the skyline there, or close it first"))
		}
		defer lock.Release()
		if was, err = store.Read(f.path); err != nil && !errors.Is(err, os.ErrNotExist) {
			return failure(e, &pathTrouble{verb: "read", path: f.path, err: err})
		}
	}
	var err error
	var card *shot.Card
	if f.s, card, f.bag, err = shotAndCard(e, f.path, a.Text("bag"), a.Text("take-off")); err != nil {
		return failure(e, err)
	}
	if card.Doc.At("place.elevation_m").Exists() {
		f.cardM = &f.s.ElevationM
	}
	if err := f.look(a.Text("tiles")); err != nil {
		return failure(e, err)
	}
	if f.printed {
		f.why = "for looking at only: the card's skyline is that of the take-off"
		if f.path == "-" {
			f.why = "a card from standard input has no file"
		}
		return f.tell(e)
	}
	if !e.asJSON {
		fmt.Fprint(e.out, f.text(e.wide))
	}
	code := exitDone
	switch same := shot.SkylineText(f.points) == shot.SkylineText(f.s.Skyline); {
	case same:
		f.why = "the card has this skyline already"
	case len(f.s.Skyline) > 0 && !a.On("yes") && !f.agreed(e):
		f.why = "the card keeps its skyline"
		if !e.terminal || e.asJSON { // nobody was asked
			f.why, code = "the card has a skyline already: --yes replaces it", exitFailed
		}
	default:
		if err := f.write(was); err != nil {
			return failure(e, err)
		}
	}
	if e.asJSON {
		writeJSON(e, skylineToJSON(f))
		return code
	}
	switch {
	case f.written:
		fmt.Fprintf(e.out, "\nwritten into %s; the version before is %s~\n", nameOf(f.path), nameOf(f.path))
	case code != exitDone:
		fmt.Fprintln(e.out)
		e.tellWrapped("skywedge: not written: " + f.why)
	default:
		fmt.Fprintf(e.out, "\nnot written: %s\n", f.why)
	}
	return code
}

// look finds the skyline, as seen from the ground or from a height; for a card's also what the highest leg sees.
func (f *foundLine) look(dir string) error {
	st, err := os.Stat(dir)
	switch {
	case err != nil:
		return &pathTrouble{verb: "read", path: dir, err: err}
	case !st.IsDir():
		return &pathTrouble{path: dir, reason: "not a folder", remedy: "give --tiles the folder that the tiles lie in"}
	}
	tiles, err := ridge.Open(os.DirFS(dir))
	if err != nil {
		return tileTrouble(dir, err)
	}
	defer tiles.Close()
	from := ridge.From{LatDeg: f.s.LatDeg, LonDeg: f.s.LonDeg, EyeM: f.height, GroundM: f.cardM}
	if f.line, err = tiles.Look(context.Background(), from); err != nil {
		return tileTrouble(dir, err)
	}
	f.points, f.within = f.line.Thin()
	f.before, f.sun = ridge.SunOver(f.s, f.s.Skyline), ridge.SunOver(f.s, f.points)
	if f.printed {
		return nil
	}
	for _, m := range shot.Path(f.s, 2) {
		f.high = max(f.high, m.AboveM)
	}
	if from.EyeM = f.high; f.high > 0 {
		line, err := tiles.Look(context.Background(), from)
		if err != nil {
			return tileTrouble(dir, err)
		}
		points, _ := line.Thin()
		f.highSun = ridge.SunOver(f.s, points)
	}
	return nil
}

// tileTrouble says what is wrong with a tile, and in which folder it is.
func tileTrouble(dir string, err error) error {
	var t *ridge.Trouble
	if !errors.As(err, &t) {
		return err
	}
	return &pathTrouble{verb: "read", path: filepath.Join(dir, t.File), reason: t.Reason, remedy: t.Remedy, err: t.Err}
}

// agreed asks whether a skyline may be replaced; where nobody can be asked it may not.
func (f *foundLine) agreed(e *env) bool {
	if !e.terminal || e.asJSON {
		return false
	}
	fmt.Fprintf(e.out, "\nreplace the card's skyline of %s? y or n: ", count(len(f.s.Skyline), "point", "points"))
	in := bufio.NewScanner(e.in)
	in.Scan()
	answer := strings.ToLower(strings.TrimSpace(in.Text()))
	return answer == "y" || answer == "yes"
}

// write puts the skyline into the card.
func (f *foundLine) write(was store.Snapshot) error {
	card, faults := shot.ReadCard(f.path, was.Data)
	if len(faults) == 0 {
		card, faults = card.Set("skyline", shot.SkylineText(f.points))
	}
	if len(faults) > 0 {
		return faults
	}
	if bytes.Equal(card.Bytes(), was.Data) {
		return nil
	}
	if _, err := was.Save(card.Bytes()); err != nil {
		return unsaved(f.path, err)
	}
	f.written = true
	return nil
}

func (f *foundLine) tell(e *env) int {
	if e.asJSON {
		return writeJSON(e, skylineToJSON(f))
	}
	fmt.Fprintf(e.out, "%s\nnot written: %s\n", f.text(e.wide), f.why)
	return exitDone
}

// text says what was found, and what it changes. On a terminal its lines break between words.
func (f *foundLine) text(wide int) string {
	var b strings.Builder
	s, l := f.s, f.line
	say := func(lead, text string) {
		if wide > 0 && cells.Width(lead+text) > wide {
			text = strings.Join(cells.Wrap(text, max(20, wide-cells.Width(lead))), "\n"+strings.Repeat(" ", cells.Width(lead)))
		}
		b.WriteString(lead + text + "\n")
	}
	say("", s.Name)
	say("", fmt.Sprintf("%.4f, %.4f, ground at %.0f m by the tiles · seen from %g m above it", s.LatDeg, s.LonDeg, l.GroundM, f.height))
	list, top := l.Sectors()
	say("", fmt.Sprintf("skyline of %s, within %.2f° of the full one · highest %s at %.0f° (%s), %s off", count(len(f.points), "point", "points"), f.within,
		altitude(top.Deg), top.BearingDeg, shot.Compass(top.BearingDeg), ridge.Distance(top.Km)))
	b.WriteString("\n")
	inLine := 4
	if wide > 0 && wide < 77 {
		inLine = 2
	}
	for k, x := range list {
		gap := "   "
		if (k+1)%inLine == 0 {
			gap = "\n"
		}
		fmt.Fprintf(&b, "%-3s %6s %6s%s", shot.Compass(float64(k)*22.5), altitude(x.Deg), ridge.Distance(x.Km), gap)
	}
	day := s.Local(s.TakeOff).Format("Mon 2 Jan")
	fmt.Fprintf(&b, "\nthe sun on %s, its centre\n", day)
	for _, line := range f.sun.Words(s) {
		say("  - ", line)
	}
	if f.high > 0 {
		say("  - ", fmt.Sprintf("seen from the highest leg, %.0f m up: %s", f.high, last(f.highSun.Words(s))))
	}
	if len(s.Skyline) > 0 {
		say("  - ", "with the skyline that the card has: "+last(f.before.Words(s)))
	}
	var notes []string
	notes = append(notes, l.Cautions(f.cardM)...)
	if f.height > eyeM || f.high > 0 && !f.printed {
		notes = append(notes, "up in the air ridges stand lower and the sun stays longer; plans go by the skyline of the take-off")
	}
	notes = append(notes, fmt.Sprintf("no trees, no houses; air bends light by k %g. Looked as far as %.0f km, %s read", ridge.Refraction, l.FarKm, count(len(l.Tiles), "tile", "tiles")))
	fmt.Fprintln(&b)
	for _, n := range notes {
		say("  ! ", n)
	}
	return b.String()
}

func last(list []string) string { return list[len(list)-1] }

// altitude writes an angle above the horizon.
func altitude(deg float64) string { return words.Minus(fmt.Sprintf("%.1f°", math.Round(10*deg)/10+0)) }
