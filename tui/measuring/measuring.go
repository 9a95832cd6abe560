// Package measuring is the page on which a filter is measured from the pilot's own pictures, step by step: it says what to
// photograph, takes the pictures, says what is wrong with each, shows what they tell beside what the bag has, and puts it
// there.
//
// The one hard idea: a picture of a hundred megapixels takes a second to read, so that a place on the page has a picture, or
// waits for one with a number of its own. What comes back for another number is of a picture that was taken away meanwhile,
// and is dropped. Nothing is written before the pilot says so, and then it is one step of undo.
package measuring

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/tui/files"
	"example.org/skywedge/tui/panel"
)

// The steps, in their order. Three of them are told by the same pictures of a wall.
const (
	stepLoss = iota
	stepColour
	stepMark
	stepCorners
	stepCount
)

var stepNames = [stepCount]string{"Loss", "Colour", "Mark", "Corners"}

// The sheets of pictures.
const (
	wall = iota
	glare
	sheetCount
)

// The first places of the wall's sheet.
const (
	bareAt = iota
	darkerAt
	throughAt
)

// place is where a picture is wanted.
type place struct {
	name    string  // what it shows
	setting float64 // of a variable
	ring    float64 // where the mark stands, of glare
	path    string  // of the picture; "" while none is given
	gen     int     // of its reading
	read    bool
	pic     *measure.Picture // nil while it is read, and where it cannot be
	wrong   string           // why it cannot be
}

// Page is the page. The zero value is closed.
type Page struct {
	open   bool
	filter string
	kind   kit.Kind
	turns  bool // it is measured at two positions of its ring, and its mark can be found
	step   int
	cursor [sheetCount]int // the place under it; behind the last one is what goes into the bag
	places [sheetCount][]place
	last   string  // the picture that was given last
	kelvin float64 // the white balance as the pilot gives it, 0: as the pictures tell
	label  func(key string) string

	gen     int // counts what is asked for in the background
	reading int // the number of the picture that is being read, 0 for none
	working bool
	asked   want
	got     found

	top    int  // the first line on the screen
	follow bool // the cursor is to be seen
}

// New returns the page, closed. label says a filter's field for people.
func New(label func(key string) string) Page { return Page{label: label} }

// IsOpen tells whether it is shown.
func (p *Page) IsOpen() bool { return p.open }

// Open shows the page for a filter. The pictures of the bare wall stay from one filter to the next.
func (p *Page) Open(f *kit.Filter) {
	if f.Name != p.filter || f.Kind != p.kind || measure.TwoRings(*f) != p.turns || len(p.places[wall]) == 0 {
		bare := []place{{name: "bare"}, {name: "darker"}}
		if len(p.places[wall]) > 0 {
			bare = slices.Clone(p.places[wall][:throughAt])
		}
		p.filter, p.kind, p.turns, p.step, p.got, p.asked = f.Name, f.Kind, measure.TwoRings(*f), stepLoss, found{}, want{}
		p.places = [sheetCount][]place{wall: append(bare, through(f)...)}
		p.cursor = [sheetCount]int{}
		if p.turns {
			for _, clock := range measure.OfferedTurns {
				deg, _ := measure.ParseClock(clock)
				p.places[glare] = append(p.places[glare], place{name: clock, ring: deg})
			}
		}
	}
	p.open, p.top, p.follow = true, 0, true
	p.next(0)
}

// through are the places for pictures through a filter: a polariser's ring is turned once, a variable has its settings.
func through(f *kit.Filter) []place {
	switch {
	case measure.TwoRings(*f):
		return []place{{name: "through"}, {name: "turned 90°"}}
	case f.Kind == kit.Variable:
		var list []place
		for _, s := range f.Settings() {
			list = append(list, place{name: "at " + exposure.FormatStops(s), setting: s})
		}
		return list
	}
	return []place{{name: "through"}}
}

// Close leaves the page. What was given stays for the next time.
func (p *Page) Close() { p.open = false }

// steps are those that mean something for the filter.
func (p *Page) steps() []int {
	if p.turns {
		return []int{stepLoss, stepColour, stepMark, stepCorners}
	}
	return []int{stepLoss, stepColour, stepCorners}
}

func (p *Page) sheet() int {
	if p.step == stepMark {
		return glare
	}
	return wall
}

// Keys are the rows of the key table that work on the page.
func (p *Page) Keys() []panel.Key {
	move := func(by int) func(panel.Bench) { return func(panel.Bench) { p.move(by) } }
	step := func(by int) func(panel.Bench) { return func(panel.Bench) { p.stepBy(by) } }
	scroll := func(by int) func(panel.Bench) {
		return func(panel.Bench) { p.top, p.follow = max(0, p.top+by), false }
	}
	kelvin := func(by float64) func(panel.Bench) { return func(b panel.Bench) { p.nudgeKelvin(b, by) } }
	return []panel.Key{
		panel.On("up k", "Up k", "", "to the picture above", 0, move(-1)),
		panel.On("down j", "Down j", "", "to the picture below, and behind the last to what goes into the bag", 0, move(1)),
		panel.On("home g", "Home g", "", "to the first picture", 0, move(-1000)),
		panel.On("end G", "End G", "", "to what goes into the bag", 0, move(1000)),
		panel.On("right l tab", "Right l", "step", "to the next step: loss, colour, mark, corners", 9, step(1)),
		panel.On("left h shift+tab", "Left h", "", "to the step before", 0, step(-1)),
		panel.On("enter", "Enter", "picture", "give the picture by its name, or dropped or pasted; in the last line: put what was measured into the bag", 12, p.enter),
		panel.On("d x delete backspace", "d", "drop", "take the picture away from its place; the file stays", 7, p.drop),
		panel.On("+ =", "+", "", "in the step colour: white balance was locked 100 K higher", 0, kelvin(100)),
		panel.On("- _", "-", "", "in the step colour: 100 K lower", 0, kelvin(-100)),
		panel.On("pgup", "PgUp", "", "scroll up", 0, scroll(-6)),
		panel.On("pgdown", "PgDn", "", "scroll down", 0, scroll(6)),
		panel.On("m", "Esc m", "leave", "back to all the filters; what was given stays until the program ends, and nothing is written", 11, func(panel.Bench) { p.Close() }),
	}
}

func (p *Page) move(by int) {
	at := &p.cursor[p.sheet()]
	*at = max(0, min(*at+by, len(p.places[p.sheet()])))
	p.follow = true
}

func (p *Page) stepBy(by int) {
	all := p.steps()
	i := slices.Index(all, p.step)
	p.goTo(all[(i+by+len(all))%len(all)])
}

func (p *Page) goTo(step int) { p.step, p.top, p.follow = step, 0, false }

// enter gives the picture under the cursor, or writes what was measured.
func (p *Page) enter(b panel.Bench) {
	sheet := p.sheet()
	if p.cursor[sheet] >= len(p.places[sheet]) {
		p.write(b)
		return
	}
	p.ask(b, "", p.begin())
}

// begin is what stands in the line at first: the picture there is, or the one in the folder after that which was given last.
func (p *Page) begin() string {
	at := &p.places[p.sheet()][p.cursor[p.sheet()]]
	switch {
	case at.path != "":
		return at.path
	case p.last == "":
		return ""
	}
	next := files.Beside(p.last, 1)
	if p.given(next) {
		return filepath.Dir(p.last) + string(filepath.Separator)
	}
	return next
}

// given tells whether a picture has a place already.
func (p *Page) given(path string) bool {
	for _, sheet := range p.places {
		for i := range sheet {
			if sheet[i].path != "" && sheet[i].path == path {
				return true
			}
		}
	}
	return false
}

// ask asks for a picture's file.
func (p *Page) ask(b panel.Bench, wrong, begin string) {
	at := &p.places[p.sheet()][p.cursor[p.sheet()]]
	text := "The picture for “" + at.name + "”: type its name (Tab completes it, Down is the next one), or drop or paste it here. Several fill the places below, too."
	if wrong != "" {
		text = wrong + " " + text
	}
	b.Ask(panel.Question{
		Text: text, Begin: begin, Verb: "take it", Esc: "back", Help: goOn,
		Enter: func(b panel.Bench, text string) { p.Give(b, text) },
	})
}

// goOn helps with a path: Tab completes it, Down and Up go to the pictures beside it.
func goOn(text, key string) (string, []string) {
	switch key {
	case "down":
		return files.Beside(text, 1), nil
	case "up":
		return files.Beside(text, -1), nil
	}
	return files.Complete(text)
}

// Give takes pictures by what was typed, pasted or dropped, for the place under the cursor and those below it.
func (p *Page) Give(b panel.Bench, text string) {
	list := files.Split(text)
	sheet := p.sheet()
	places := p.places[sheet]
	at := p.cursor[sheet]
	if len(list) == 0 || at >= len(places) {
		b.Say("go to a line for a picture first; d takes away the one that is there")
		return
	}
	for i := range list {
		list[i] = files.Homed(list[i])
	}
	if st, err := os.Stat(list[0]); err == nil && st.IsDir() && len(list) == 1 {
		p.ask(b, "That is a folder.", filepath.Clean(list[0])+string(filepath.Separator))
		return
	}
	over := 0
	for _, path := range list {
		if at >= len(places) {
			over++
			continue
		}
		p.gen++
		was := places[at]
		places[at] = place{name: was.name, setting: was.setting, ring: was.ring, path: path, gen: p.gen}
		p.last = path
		at++
	}
	p.cursor[sheet] = at - 1
	p.next(1)
	if over > 0 {
		b.Say(fmt.Sprintf("%d more than there are places from here on: left out", over))
	}
}

// next goes on to the first place without a picture, from so many places behind the cursor on, and behind the last where
// each has one.
func (p *Page) next(by int) {
	sheet := p.sheet()
	at := p.cursor[sheet] + by
	for at < len(p.places[sheet]) && p.places[sheet][at].path != "" {
		at++
	}
	p.cursor[sheet], p.follow = min(at, len(p.places[sheet])), true
}

// drop takes the picture under the cursor away.
func (p *Page) drop(b panel.Bench) {
	sheet := p.sheet()
	if at := p.cursor[sheet]; at < len(p.places[sheet]) && p.places[sheet][at].path != "" {
		was := p.places[sheet][at]
		p.places[sheet][at] = place{name: was.name, setting: was.setting, ring: was.ring}
		b.Say(filepath.Base(was.path) + " is taken away from here; the file stays")
		return
	}
	b.Say("there is no picture in this line")
}

// The white balance that cameras are locked at (ours).
const leastK, mostK = 2000, 12000

func (p *Page) nudgeKelvin(b panel.Bench, by float64) {
	if p.step != stepColour {
		b.Say("+ and - are for the step colour: at what the white balance was locked")
		return
	}
	if p.kelvin == 0 {
		p.kelvin = measure.DefaultWhiteBalanceK
		if r := p.got.result; r != nil {
			p.kelvin = r.WhiteBalanceK
		}
	}
	p.kelvin = max(leastK, min(math.Round((p.kelvin+by)/100)*100, mostK))
}

// write puts what was measured into the bag, in one step of undo. A bag without a file is asked for one: a measurement is
// worth keeping.
func (p *Page) write(b panel.Bench) {
	switch {
	case !b.MayEditBag():
		return
	case p.busy() || p.asked != p.want(b):
		b.Say("the pictures are still being read")
		return
	case len(p.got.edits) == 0:
		b.Say(p.nothing())
		return
	}
	bag, faults := measure.Write(b.Bag(), p.filter, p.got.edits)
	if bag == nil || len(faults) > 0 {
		b.Say("that does not fit into the bag: found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
		return
	}
	exists, _ := b.BagFile()
	b.SetBag(bag, "")
	p.Close()
	if !exists {
		b.Say(p.filter + " as you measured it; the bag has no file yet; u takes it back")
		b.SaveBag()
		return
	}
	b.Say(p.filter + " as you measured it is in the bag; s saves it, u takes it back")
}
