package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/plan/store"
)

func measureRow() command {
	return command{manual.Command{
		Name: "measure", Args: "FILTER", Operand: manual.Files,
		Line: "what a filter really does, from your own pictures of a wall and of glare, into the bag; without pictures, what to photograph",
		More: "A set is a bare picture, a darker one and one through the filter; --through ends it. What stands before it holds on for the next, so that one bare picture serves several. Of a polariser and a hybrid two sets that follow each other belong together, the ring turned by 90° between them.",
		Flags: flags([]manual.Flag{
			{Name: "bare", Kind: manual.File, Value: "FILE", Many: true, Help: "a plain wall without the filter; a JPEG as the camera wrote it"},
			{Name: "darker", Kind: manual.File, Value: "FILE", Many: true, Help: "the same a stop darker, which tells the camera's tone curve"},
			{Name: "through", Kind: manual.File, Value: "FILE", Many: true, Help: "the same through the filter, about as bright as the first"},
			{Name: "setting", Kind: manual.Number, Value: "STOPS", Many: true, Help: "what a variable is set to by its marks, of the --through that follow"},
			{Name: "glare", Kind: manual.Text, Value: "CLOCK=FILE", Many: true, Help: "glare off a glossy floor or water with the mark there, facing the lens, such as 10:30=a.jpg; more of them may follow without the flag"},
			{Name: "kelvin", Kind: manual.Number, Value: "K", Help: "what the white balance was locked at, 2000 to 12000; otherwise as the pictures say, or 5500"},
			{Name: "ring", Kind: manual.Number, Value: "DEG", Help: "where a variable's rear mark stood, clockwise from 12 o'clock facing the lens, for the model's corners"},
			{Name: "camera", Kind: manual.Text, Value: "NAME", Help: "the camera of the bag, for the model's corners where the pictures tell no focal length; otherwise its first"},
			{Name: "yes", Help: "write it into the bag without asking"},
		}, jsonFlag, bagFlag),
		Example: []string{"measure ND16/PL --bag examples/bag.yaml"},
	}, measureCommand}
}

// measuring is one run of the command.
type measuring struct {
	filter kit.Filter
	bag    bagUse
	file   string // that is written to; "" where there is none
	camera kit.Camera
	result *measure.Result
	mark   *measure.Mark
	edits  []measure.Edit
	notes  []measure.Note

	refused field.Faults // why the bag cannot have it
	written bool
}

// setNames are the files of one set.
type setNames struct {
	bare, darker, through string
	setting               float64
}

// turnName is a picture of glare.
type turnName struct {
	ringDeg float64
	file    string
}

func measureCommand(e *env, a *manual.Asked) int {
	var names, loose []string
	for _, word := range a.Rest {
		if a.Given("glare") && looksLikeTurn(word) {
			loose = append(loose, word)
		} else {
			names = append(names, word)
		}
	}
	if len(names) != 1 {
		text := "name one filter of the bag"
		if len(names) > 1 {
			text += ", and each picture behind a flag of its own"
		}
		return usageError(e, "%s", text)
	}
	if k := a.Number("kelvin"); a.Given("kelvin") && !(k >= 2000 && k <= 12000) {
		return usageError(e, "--kelvin %g: give 2000 to 12000", k)
	}
	m := &measuring{}
	var err error
	if m.bag, err = useBag(e, a.Text("bag"), ""); err != nil {
		return failure(e, err)
	}
	if m.file = m.bag.saveTo(); m.bag.file == "" {
		m.file = store.BagFile
	}
	var ok bool
	if m.filter, ok = m.bag.FilterByName(names[0]); !ok {
		var all []string
		for _, f := range m.bag.Filters {
			all = append(all, f.Name)
		}
		return usageError(e, "%q is no filter of %s: give %s", names[0], m.bag, field.Choice(names[0], all))
	}
	m.camera = m.bag.Cameras[0]
	if name := a.Text("camera"); name != "" {
		if m.camera, ok = m.bag.CameraByName(name); !ok {
			var all []string
			for _, c := range m.bag.Cameras {
				all = append(all, c.Name)
			}
			return usageError(e, "--camera %q: give %s", name, field.Choice(name, all))
		}
	}
	sets, err := setsOf(a.Order, m.filter)
	if err != nil {
		return failure(e, badValue{err})
	}
	turns, err := turnsOf(a.Order, loose, m.filter)
	if err != nil {
		return failure(e, badValue{err})
	}
	if a.On("yes") && m.file == "" {
		return usageError(e, "--yes: a bag from standard input has no file to be written: name one with --bag")
	}
	if len(sets)+len(turns) > 0 {
		if err := m.look(sets, turns, measure.Options{WhiteBalanceK: a.Number("kelvin"), RingDeg: a.Number("ring")}); err != nil {
			return failMeasure(e, err)
		}
		var faults field.Faults
		if m.edits, faults = measure.Edits(m.bag.Bag, m.filter.Name, m.result, m.mark, e.now().Format(time.DateOnly)); len(faults) > 0 {
			return failure(e, faults)
		}
		_, m.refused = measure.Write(m.bag.Bag, m.filter.Name, m.edits)
	}
	if !e.asJSON {
		if err := m.tell(e); err != nil { // nothing goes into a bag that could not be shown
			return exitFailed
		}
	}
	if a.On("yes") && len(m.refused) > 0 { // it is the pictures that are wrong, not the bag
		return failure(e, errors.New("what was measured "+m.whyRefused()))
	}
	if len(m.edits) > 0 && (a.On("yes") || m.agreed(e)) {
		if err := m.write(e); err != nil {
			return failure(e, err)
		}
		m.written = true
	}
	if e.asJSON {
		return writeJSON(e, m.json())
	}
	m.tellEnd(e, len(sets)+len(turns) > 0)
	return exitDone
}

// looksLikeTurn tells a picture of glare that follows the first from the name of a filter: also one whose position is
// mistyped, so that it can be told.
func looksLikeTurn(word string) bool {
	return strings.Contains(word, "=") && word[0] >= '0' && word[0] <= '9'
}

// setsOf puts the pictures of the command line together to sets.
func setsOf(order []manual.Given, f kit.Filter) (sets []setNames, err error) {
	count := map[string]int{}
	for _, g := range order {
		count[g.Name]++
	}
	var now setNames
	for _, g := range order { // of what is given but once the place does not matter
		switch {
		case g.Name == "bare" && count["bare"] == 1:
			now.bare = g.Value
		case g.Name == "darker" && count["darker"] == 1 && count["bare"] <= 1:
			now.darker = g.Value
		case g.Name == "setting" && count["setting"] == 1:
			now.setting = stopsOf(g.Value)
		}
	}
	open := false
	for _, g := range order {
		switch g.Name {
		case "bare":
			if count["bare"] > 1 {
				now.bare, now.darker = g.Value, ""
			}
			open = true
		case "darker":
			now.darker, open = g.Value, true
		case "setting":
			now.setting = stopsOf(g.Value)
			if f.Kind != kit.Variable {
				return nil, fmt.Errorf("--setting: %s is a %s; only a variable is set to something", f.Name, f.Kind)
			}
			if !(now.setting >= f.FromStops && now.setting <= f.ToStops) {
				return nil, fmt.Errorf("--setting %g: %s goes from %g to %g stops", now.setting, f.Name, f.FromStops, f.ToStops)
			}
		case "through":
			now.through = g.Value
			switch {
			case now.bare == "":
				return nil, fmt.Errorf("--through %s: give the bare picture of the same wall before it, with --bare", g.Value)
			case f.Kind == kit.Variable && now.setting == 0:
				return nil, fmt.Errorf("--through %s: say before it, with --setting, what %s was set to", g.Value, f.Name)
			}
			sets, open = append(sets, now), false
		}
	}
	if open && (count["through"] == 0 || count["bare"] > 1) {
		return nil, errors.New("a bare picture tells nothing alone: give the one through the filter behind it, with --through")
	}
	return sets, nil
}

// turnsOf reads the pictures of glare: those behind --glare, and what follows them.
func turnsOf(order []manual.Given, loose []string, f kit.Filter) (turns []turnName, err error) {
	var all []string
	for _, g := range order {
		if g.Name == "glare" {
			all = append(all, g.Value)
		}
	}
	if all = append(all, loose...); len(all) > 0 && len(measure.MarkSteps(f)) == 0 {
		return nil, fmt.Errorf("--glare: %s is a %s; it is the mark of a polariser or a hybrid whose ring turns that is found so", f.Name, f.Kind)
	}
	for _, word := range all {
		clock, file, ok := strings.Cut(word, "=")
		deg, isClock := measure.ParseClock(clock)
		if !ok || !isClock || file == "" {
			return nil, fmt.Errorf("--glare %q: give where the mark stood and the picture, as 10:30=FILE", word)
		}
		turns = append(turns, turnName{deg, file})
	}
	return turns, nil
}

// pictureErrors are pictures that cannot be read, or that nothing can be measured from: all of them are told.
type pictureErrors []error

func (p pictureErrors) Error() string {
	var all []string
	for _, err := range p {
		all = append(all, err.Error())
	}
	return strings.Join(all, "; ")
}

// failMeasure says why nothing was measured.
func failMeasure(e *env, err error) int {
	var all pictureErrors
	if e.asJSON || !errors.As(err, &all) {
		return failure(e, err)
	}
	for _, one := range all {
		e.tellError("", one, 1)
	}
	fmt.Fprintln(e.err, "nothing was measured")
	return exitFailed
}

// look reads the pictures and measures.
func (m *measuring) look(sets []setNames, turns []turnName, o measure.Options) error {
	read := map[string]*measure.Picture{}
	var wrong pictureErrors
	open := func(path string) *measure.Picture {
		if p, known := read[path]; known || path == "" {
			return p
		}
		p, err := openPicture(path)
		if read[path] = p; err != nil {
			wrong = append(wrong, err)
		}
		return p
	}
	var pics []measure.Set
	for _, s := range sets {
		pics = append(pics, measure.Set{Bare: open(s.bare), Darker: open(s.darker), Through: open(s.through), SettingStops: s.setting})
	}
	var glare []measure.Turn
	for _, t := range turns {
		glare = append(glare, measure.Turn{RingDeg: t.ringDeg, Picture: open(t.file)})
	}
	if len(wrong) > 0 {
		return wrong
	}
	var faults measure.Faults
	if len(pics) > 0 {
		o.Field, _ = measure.FieldOf(pics[0].Bare, m.camera)
		if m.result, faults = measure.Measure(m.filter, pics, o); m.result != nil {
			m.notes = m.result.Warnings
		}
	}
	if len(glare) > 0 {
		mark, warnings, more := measure.MeasureMark(glare)
		m.mark, m.notes, faults = &mark, append(m.notes, warnings...), append(faults, more...)
	}
	for _, f := range faults {
		if text := field.Clean(f.Text, 1500); f.Picture != "" {
			wrong = append(wrong, &pathTrouble{path: f.Picture, reason: text})
		} else {
			wrong = append(wrong, errors.New(text))
		}
	}
	if len(wrong) > 0 {
		return wrong
	}
	return nil
}

// openPicture reads a picture whose light is measured.
func openPicture(path string) (*measure.Picture, error) {
	st, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, &pathTrouble{verb: "read", path: path, err: err}
	case st.IsDir():
		return nil, &pathTrouble{path: path, reason: "a folder", remedy: "name a picture in it"}
	case !st.Mode().IsRegular():
		return nil, &pathTrouble{path: path, reason: "not a file", remedy: "name a JPEG"}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, &pathTrouble{verb: "read", path: path, err: err}
	}
	defer f.Close()
	p, err := measure.Read(path, f)
	var system *os.PathError
	switch {
	case errors.As(err, &system):
		return nil, &pathTrouble{verb: "read", path: path, err: err}
	case err != nil:
		return nil, &pathTrouble{path: path, reason: err.Error(), err: err}
	}
	return p, nil
}

// agreed asks on a terminal whether to write; elsewhere nobody can be asked.
func (m *measuring) agreed(e *env) bool {
	if !e.terminal || e.asJSON || m.file == "" || len(m.refused) > 0 {
		return false
	}
	fmt.Fprintf(e.out, "\nwrite this into %s? y or n: ", nameOf(m.file))
	in := bufio.NewScanner(e.in)
	return in.Scan() && slices.Contains([]string{"y", "yes"}, strings.ToLower(strings.TrimSpace(in.Text())))
}

// whyRefused says why the bag cannot have what was measured.
func (m *measuring) whyRefused() string {
	f := m.refused[0]
	key := f.Field[strings.LastIndexByte(f.Field, '.')+1:]
	return fmt.Sprintf("does not fit into the bag, and nothing was written: %s would be %s; allowed: %s", key, strings.Trim(f.Found, `"`), f.Allowed)
}

// write puts what was measured into the bag, as it stands there now.
func (m *measuring) write(e *env) error {
	return m.bag.change(m.file, "measure it there in view 3, or close it first", func(b *kit.Bag) (*kit.Bag, error) {
		edits, faults := measure.Edits(b, m.filter.Name, m.result, m.mark, e.now().Format(time.DateOnly))
		if len(faults) > 0 {
			return nil, faults
		}
		next, faults := measure.Write(b, m.filter.Name, edits)
		if len(faults) > 0 {
			return nil, faults
		}
		return next, nil
	})
}

// stopsOf is the value of a flag that is known to be a number.
func stopsOf(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}
