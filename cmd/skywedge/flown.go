package main

import (
	"bufio"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/flown"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/words"
)

func flownRow() command {
	return command{manual.Command{
		Name: "flown", Args: "CARD [PICTURE…]", Operand: manual.Cards,
		Line: "the log: what was set and seen, typed or read from the pictures taken; without either it is printed; with --learn, what the logs teach",
		Flags: flags([]manual.Flag{
			{Name: "leg", Kind: manual.Number, Value: "N", Help: "which leg was flown, counted from 1; otherwise as the pictures' times say"},
			{Name: "filter", Kind: manual.Text, Value: "NAME", Help: "what was on the lens, or none; otherwise as planned"},
			{Name: "worked", Kind: manual.Text, Value: "WORD", Words: workedWords, Help: "did it work as planned"},
			{Name: "sky", Kind: manual.Text, Value: "WORD", Words: againstPlan, Help: "what the filter did to the sky, against the plan"},
			{Name: "glare", Kind: manual.Text, Value: "WORD", Words: againstPlan, Help: "what the filter took of the glare, against the plan"},
			{Name: "off", Kind: manual.Number, Value: "STOPS", Help: "by how much brighter it should have been, -10 to 10; darker is negative"},
			{Name: "meter", Kind: manual.Number, Value: "STOPS", Help: "what the camera's own meter showed, -10 to 10"},
			{Name: "learn", Help: "what this log and those of the cards beside it teach: your own offsets of the camera and the filters, and how far the calls came true"},
			{Name: "use", Help: "with --learn: write the offsets that are offered into the bag, for the plan to use"},
			{Name: "saw", Kind: manual.Text, Value: "TEXT", Help: "what it looked like"},
		}, jsonFlag, bagFlag, takeOffFlag),
		Example: []string{"flown examples/1-breakwater.yaml"},
	}, flownCommand}
}

var (
	workedWords = []string{shot.WorkedYes, shot.WorkedPartly, shot.WorkedNo}
	againstPlan = []string{shot.AsPlanned, shot.LessThan, shot.MoreThan}
)

// typedFlags say something that is written into the log.
var typedFlags = []string{"leg", "filter", "worked", "sky", "glare", "off", "meter", "saw"}

// leftPicture is a picture that did not go into the log, and why.
type leftPicture struct{ name, why string }

// logged is what an addition to a log came to.
type logged struct {
	lines []shot.Flown
	zone  []string // pictures whose time has no offset
	left  []leftPicture
}

func flownCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) == 0 {
		return usageError(e, "name a card, and the pictures that were taken")
	}
	path, pictures := a.Rest[0], a.Rest[1:]
	typed := slices.ContainsFunc(typedFlags, a.Given)
	switch {
	case path == "-" && (typed || len(pictures) > 0):
		return usageError(e, "a card from standard input has no file for its log: name one")
	case typed && len(pictures) == 0 && !a.Given("leg"):
		return usageError(e, "say with --leg which leg it was, or name a picture of it")
	case slices.ContainsFunc(pictures, isCardName):
		return usageError(e, "one card has a log at a time: name pictures after it")
	}
	for _, name := range []string{"off", "meter"} {
		if v := a.Number(name); a.Given(name) && !(v >= -10 && v <= 10) {
			return usageError(e, "--%s %g: give stops from -10 to 10", name, v)
		}
	}
	switch {
	case a.On("learn") && (typed || len(pictures) > 0):
		return usageError(e, "--learn reads the logs: give it alone, with a card")
	case a.On("learn"):
		return learnCommand(e, a, path)
	case a.On("use"):
		return usageError(e, "--use goes with --learn")
	case !typed && len(pictures) == 0:
		return printLog(e, a, path)
	}
	// The mark first: who holds it is at work on this card, and would lose against what is written here.
	lock, err := store.Acquire(path)
	var locked *store.LockedError
	if errors.As(err, &locked) {
		return failure(e, lockedCard(locked))
	}
	defer lock.Release()
	r, bag, err := solveFile(e, path, a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	was, err := store.Read(path)
	if err != nil {
		return failure(e, &pathTrouble{verb: "read", path: path, err: err})
	}
	card, faults := shot.ReadCard(path, was.Data)
	if len(faults) > 0 {
		return failure(e, faults)
	}
	if n := len(r.Legs); a.Given("leg") && !(a.Number("leg") == math.Trunc(a.Number("leg")) && a.Number("leg") >= 1 && a.Number("leg") <= float64(n)) {
		return usageError(e, "--leg %g: the card has legs 1 to %d", a.Number("leg"), n)
	}
	if name := a.Text("filter"); name != "" && name != words.Bare {
		if _, ok := r.Bag.FilterByName(name); !ok {
			var names []string
			for _, f := range r.Bag.Filters {
				names = append(names, f.Name)
			}
			return usageError(e, "--filter %q: give none or a filter of the bag: %s", name, field.Choice(name, names))
		}
	}
	done := addPictures(e, a, r, pictures)
	if len(pictures) == 0 {
		f := flown.Planned(r, int(a.Number("leg"))-1)
		f.When = flown.When(r, f.Leg, e.now())
		if a.Given("take-off") { // the pilot says when
			f.When = flown.Start(r, f.Leg)
		}
		planned := f.Filter
		if f = typedLine(a, f, r); f.Filter != planned {
			f.ShutterS, f.ISO = 0, 0 // the plan had them for its own filter; what was set nobody has said
		}
		done.lines = append(done.lines, f)
	}
	for _, f := range done.lines {
		if card, _, faults = card.AddFlown(f); card == nil {
			return failure(e, faults)
		}
	}
	if len(done.lines) > 0 {
		if _, err := was.Save(card.Bytes()); err != nil {
			return failure(e, unsaved(path, err))
		}
	}
	s, err := shotOf(e, path, card.Bytes(), bag.Bag, "")
	if err != nil {
		return failure(e, err)
	}
	return tellLogged(e, path, bag, s, done)
}

// lockedCard says that a workbench has the card open.
func lockedCard(l *store.LockedError) error {
	return lockedFor(l, "log it there in view 5, or close it first")
}

// lockedFor says it with what to do instead.
func lockedFor(l *store.LockedError, remedy string) error {
	who := "open in another window"
	if l.PID > 0 {
		who += fmt.Sprintf(" (process %d)", l.PID)
	}
	return &pathTrouble{path: l.Path, reason: who + ", so nothing was written", remedy: remedy}
}

// unsaved says why a file was not written.
func unsaved(path string, err error) error {
	var changed *store.ChangedError
	if errors.As(err, &changed) {
		return &pathTrouble{path: path, reason: "changed meanwhile, so nothing was written", remedy: "run it again"}
	}
	return &pathTrouble{verb: "write", path: path, err: err}
}

// typedLine puts into a line what the command line says.
func typedLine(a *manual.Asked, f shot.Flown, r *plan.Report) shot.Flown {
	if name := a.Text("filter"); name != "" {
		f = flown.With(f, r, name)
	}
	number := func(name string) *float64 {
		if !a.Given(name) {
			return nil
		}
		v := a.Number(name)
		return &v
	}
	f.OffStops, f.MeterStops = number("off"), number("meter")
	f.Worked, f.Sky, f.Glare, f.Saw = a.Text("worked"), a.Text("sky"), a.Text("glare"), strings.Join(strings.Fields(a.Text("saw")), " ")
	return f
}

// addPictures makes lines of pictures. One that no line comes of is told with the reason.
func addPictures(e *env, a *manual.Asked, r *plan.Report, pictures []string) (done logged) {
	asked := bufio.NewScanner(e.in)
	for _, path := range pictures {
		name := filepath.Base(path)
		leave := func(format string, v ...any) {
			done.left = append(done.left, leftPicture{path, fmt.Sprintf(format, v...)})
		}
		same := func(f shot.Flown) bool { return f.Picture == name }
		if slices.ContainsFunc(r.Shot.Flown, same) || slices.ContainsFunc(done.lines, same) {
			leave("it is in the log already")
			continue
		}
		p, err := readPicture(path)
		if err != nil {
			leave("%v", err)
			continue
		}
		at := p.At(r.Shot.Zone)
		away, placed := flown.AwayM(p, r.Shot)
		fits := flown.Legs(r, at, flown.Heading(p, r.Shot))
		elsewhen := false // it is put on a leg that was not flown then
		switch {
		case placed && away > flown.FarM:
			leave("it was taken %.0f km from the card's place", away/1000)
			continue
		case a.Given("leg"):
			leg := int(a.Number("leg")) - 1
			i := slices.IndexFunc(fits, func(f flown.Fit) bool { return f.Leg == leg })
			if fit := (flown.Fit{Leg: leg}); i < 0 {
				fits, elsewhen = []flown.Fit{fit}, !at.IsZero()
			} else {
				fits = fits[i : i+1]
			}
		case at.IsZero():
			leave("no time is written in it; say with --leg which leg it is of")
			continue
		case len(fits) == 0:
			leave("taken at %s, when no leg was flown: the card flies %s; say with --take-off when it was flown, or with --leg which leg it is of",
				r.Shot.Local(at).Format("2006-01-02 15:04:05"), flightSpan(r))
			continue
		}
		fit := fits[0]
		if len(fits) > 1 {
			var ok bool
			if fit, ok = askLeg(e, asked, r, name, at, fits); !ok {
				leave("taken at %s, when %s fit: say with --leg which", r.Shot.Local(at).Format("15:04:05"), legNames(fits))
				continue
			}
		}
		f := typedLine(a, flown.Of(flown.Planned(r, fit.Leg), p, at, name), r)
		f.Take = fit.Take
		if elsewhen { // the plan is for the light of another hour
			f.PlannedEV100, f.PlannedMeter, f.OffsetStops, f.Confidence = nil, nil, 0, ""
		}
		if !p.HasOffset && !at.IsZero() {
			done.zone = append(done.zone, name)
		}
		done.lines = append(done.lines, f)
	}
	return done
}

// flightSpan is when a card's legs are flown, on its clock.
func flightSpan(r *plan.Report) string {
	if len(r.Path) == 0 {
		return "no leg"
	}
	first, last := r.Path[0].Time[0], r.Path[len(r.Path)-1].Time[1]
	return r.Shot.Local(first).Format("2006-01-02 15:04") + " to " + r.Shot.OnTheClock(last)
}

func legNames(fits []flown.Fit) string {
	var names []string
	for _, f := range fits {
		names = append(names, strconv.Itoa(f.Leg+1))
	}
	return words.Legs(names)
}

// askLeg asks on a terminal which of several legs a picture is of; elsewhere nobody can be asked.
func askLeg(e *env, in *bufio.Scanner, r *plan.Report, name string, at time.Time, fits []flown.Fit) (flown.Fit, bool) {
	if !e.terminal || e.asJSON {
		return flown.Fit{}, false
	}
	for {
		fmt.Fprintf(e.out, "%s, taken at %s, may be of", name, r.Shot.Local(at).Format("15:04:05"))
		for i, f := range fits {
			if i > 0 {
				fmt.Fprint(e.out, " or")
			}
			fmt.Fprintf(e.out, " leg %d (%s, %.0f°)", f.Leg+1, r.Legs[f.Leg].Move, r.Legs[f.Leg].Heading[0])
		}
		fmt.Fprint(e.out, "\nwhich leg? Enter leaves it out: ")
		if !in.Scan() || strings.TrimSpace(in.Text()) == "" {
			return flown.Fit{}, false
		}
		for _, f := range fits {
			if strings.TrimSpace(in.Text()) == strconv.Itoa(f.Leg+1) {
				return f, true
			}
		}
	}
}

// readPicture reads what stands beside a picture.
func readPicture(path string) (*photo.Picture, error) {
	st, err := os.Stat(path)
	switch {
	case err != nil:
		reason, remedy := said("read", path, err)
		if remedy != "" {
			reason += "; " + remedy
		}
		return nil, errors.New(reason)
	case !st.Mode().IsRegular():
		return nil, errors.New("not a file")
	}
	f, err := os.Open(path)
	if err != nil {
		reason, _ := said("read", path, err)
		return nil, errors.New(reason)
	}
	defer f.Close()
	return photo.Read(f)
}
