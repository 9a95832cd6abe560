package filters

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui/measuring"
	"example.org/skywedge/tui/panel"
)

// form is the pane of the fields of a part of the bag: of a filter, a camera, a mode, or the settings.
type form struct {
	open   bool
	at     int // the part, by its place in the bag; the filters come first
	cursor int // the line
	scroll int
	more   bool
}

// formCols is how wide the form is beside all else, in windows from a width on; in others it stands in the
// place of the words about the filter.
const formCols, formBesideFrom = 44, 150

// rooms returns the room of the panes, and where the form stands; that is empty where it is not shown.
func (v *View) rooms(k panel.Known) (panes panel.Room, at panel.Rect) {
	panes = k.Room()
	switch {
	case !v.form.open || panes.Kind == panel.TooSmall:
	case panes.Cols >= formBesideFrom:
		at = panel.Box(panes.Cols-formCols, 0, formCols, panes.Rows)
		panes.Cols -= formCols + 2
	default:
		at = fit(panes, paneOne, v.count(k), shape(k)).panes[paneOne]
	}
	return panes, at
}

// FormKeys are the rows of the key table that work in the form.
func (v *View) FormKeys() []panel.Key {
	move := func(by int) func(panel.Bench) { return func(b panel.Bench) { v.MoveField(b, by) } }
	turn := func(by int) func(panel.Bench) { return func(b panel.Bench) { v.turn(b, by) } }
	nudge := func(n int) func(panel.Bench) { return func(b panel.Bench) { v.nudge(b, n) } }
	return []panel.Key{
		panel.On("up k", "Up k", "", "to the line above", 0, move(-1)),
		panel.On("down j", "Down j", "", "to the line below", 0, move(1)),
		panel.On("home g", "Home g", "", "to the first line", 0, move(-1000)),
		panel.On("end G", "End G", "", "to the last line", 0, move(1000)),
		panel.On("left h", "Left h", "", "to what lies before it in the bag: filters, cameras with their modes, settings", 0, turn(-1)),
		panel.On("right l", "Right l", "next", "to what lies behind it in the bag", 4, turn(1)),
		panel.On("enter", "Enter", "edit", "edit the field", 10, v.EditField),
		panel.On("+ =", "+", "nudge", "one step up, or the next word", 7, nudge(1)),
		panel.On("- _", "-", "", "one step down, or the word before", 0, nudge(-1)),
		panel.On("pgup", "PgUp", "", "five steps up", 0, nudge(5)),
		panel.On("pgdown", "PgDn", "", "five steps down", 0, nudge(-5)),
		panel.On("delete backspace", "Del", "", "put the field back to its default", 0, v.toDefault),
		panel.On("m", "m", "more", "show or fold the other fields", 3, func(b panel.Bench) { v.stay(b, func() { v.form.more = !v.form.more }) }),
		panel.On("a", "a", "add", "add one like it behind it: a filter, a camera, a mode", 4, v.add),
		panel.On("M", "M", "", "add a mode to this camera", 0, v.addMode),
		panel.On("r", "r", "cameras", "from the filters to the cameras, to the settings, and round", 3, v.round),
		panel.On("d", "d", "double", "duplicate this part", 2, v.duplicate),
		panel.On("x", "x", "delete", "take it out of the bag; asks", 3, v.askRemove),
		panel.On("tab shift+tab e", "Tab e", "back", "back to all the filters", 9, func(panel.Bench) { v.CloseForm() }),
	}
}

// FormOpen tells whether the fields of a filter are shown.
func (v *View) FormOpen() bool { return v.form.open }

// Page returns the page on which a filter is measured.
func (v *View) Page() *measuring.Page { return &v.page }

// openPage shows it for the chosen filter.
func (v *View) openPage(b panel.Bench) {
	bag, at := b.Bag(), v.at()
	if at < 0 || bag == nil || !b.MayEditBag() {
		return
	}
	if f, ok := bag.FilterByName(v.got.list[at].Filter); ok {
		v.page.Open(&f)
		return
	}
	b.Say("there is nothing on the lens to measure: choose a filter")
}

// openForm shows the fields of the chosen filter.
func (v *View) openForm(b panel.Bench) {
	if !b.MayEditBag() {
		return
	}
	v.form.open, v.pane = true, paneOne
	v.form.at = v.picked()
	v.MoveField(b, 0)
	v.pickShown()
}

// OpenAt shows the fields of a part of the bag, by its place there.
func (v *View) OpenAt(b panel.Bench, at int) {
	if b.MayEditBag() {
		v.page.Close()
		v.form.open, v.pane, v.form.at, v.form.cursor = true, paneOne, at, 0
		v.MoveField(b, 0)
		v.pickShown()
	}
}

// CloseForm goes back to all filters.
func (v *View) CloseForm() { v.form.open, v.pane = false, paneAll }

// FirstFilter goes to the first field of the first filter of the bag.
func (v *View) FirstFilter() { v.form.at, v.form.cursor = 0, 0 }

// Field returns the field under the cursor, a row without a Spec where there is none.
func (v *View) Field(k panel.Known) panel.Row {
	if rows := v.rows(k.Bag()); v.form.cursor >= 0 && v.form.cursor < len(rows) {
		return rows[v.form.cursor]
	}
	return panel.Row{}
}

// MoveField goes by lines, and keeps the cursor and the filter inside what the bag has.
func (v *View) MoveField(k panel.Known, by int) {
	b := k.Bag()
	v.filters = len(b.Filters)
	v.form.at = max(0, min(v.form.at, len(b.Parts())-1))
	v.form.cursor = max(0, min(v.form.cursor+by, len(v.rows(b))-1))
}

// turn goes to another filter and stays on the same field where it has that too.
func (v *View) turn(k panel.Known, by int) {
	n := len(k.Bag().Parts())
	v.stay(k, func() { v.form.at = (v.form.at + by + n) % n })
	v.pickShown()
}

// stay keeps the cursor on its field while the lines change, where that field is still there.
func (v *View) stay(k panel.Known, change func()) {
	was := v.Field(k)
	change()
	for i, r := range v.rows(k.Bag()) {
		if was.Spec != nil && r.Spec.Key == was.Spec.Key {
			v.form.cursor = i
		}
	}
	v.MoveField(k, 0)
}

// EditField opens the field under the cursor for typing.
func (v *View) EditField(b panel.Bench) {
	r := v.Field(b)
	if r.Spec == nil {
		return
	}
	text, isDefault := shown(b.Bag(), r)
	if isDefault {
		text = ""
	}
	b.Edit(r, text)
}

// EditFieldOf opens a field of the bag for typing, by its path, and tells whether there is one.
func (v *View) EditFieldOf(b panel.Bench, path string) bool {
	v.page.Close()
	v.form.open, v.pane, v.form.more = true, paneOne, true
	for at, p := range b.Bag().Parts() {
		if !strings.HasPrefix(path, p.Path+".") {
			continue
		}
		v.form.at, v.form.cursor = at, 0
		v.MoveField(b, 0)
		v.pickShown()
		for i, r := range v.rows(b.Bag()) {
			if r.Path == path {
				v.form.cursor = i
				v.EditField(b)
				return true
			}
		}
	}
	return false
}

// shown returns what stands in a field and whether it is only the default.
func shown(b *kit.Bag, r panel.Row) (text string, isDefault bool) {
	if t := b.Doc.At(r.Path).Text(); t != "" {
		return t, false
	}
	return r.Spec.Default, true
}

// Fault says what is wrong with a field; where it is another one that no longer fits, by that field's name.
func Fault(faults field.Faults, r panel.Row) string {
	f := faults[0]
	text := "found " + f.Found + "; allowed: " + f.Allowed
	if f.Field != r.Path && f.Field != "" {
		key := strings.TrimPrefix(f.Field, "settings.")
		if i := strings.LastIndex(key, "]."); i >= 0 {
			key = key[i+2:]
		}
		text = label("filter", key) + ": " + text
	}
	return text
}

// set changes a field in one step.
func (v *View) set(b panel.Bench, r panel.Row, text string) {
	bag, faults := b.Bag().Set(r.Path, text)
	if bag == nil {
		if len(faults) > 0 {
			b.Say(Fault(faults, r))
		}
		return
	}
	b.SetBag(bag, r.Path)
	v.MoveField(b, 0)
	b.Say("")
}

func (v *View) nudge(b panel.Bench, n int) {
	r := v.Field(b)
	if r.Spec == nil {
		return
	}
	next, ok := b.Nudged(r, n)
	if !ok {
		b.Say("Enter edits this field")
		return
	}
	v.set(b, r, next)
}

func (v *View) toDefault(b panel.Bench) {
	r := v.Field(b)
	switch {
	case r.Spec == nil || !b.Bag().Doc.At(r.Path).Exists():
	case r.Spec.Required:
		b.Say("this field is needed; Enter edits it")
	default:
		v.set(b, r, "")
	}
}

// part returns the part of the bag whose fields are shown.
func (v *View) part(b *kit.Bag) kit.Part {
	all := b.Parts()
	return all[max(0, min(v.form.at, len(all)-1))]
}

// goTo shows the fields of a part by its path.
func (v *View) goTo(b panel.Bench, path string) {
	for i, p := range b.Bag().Parts() {
		if p.Path == path {
			v.form.at = i
		}
	}
	v.form.cursor = 0
	v.MoveField(b, 0)
	v.pickShown()
}

// round goes on to the first part of the next sort, and stays on a sort of its own over its modes.
func (v *View) round(b panel.Bench) {
	all := b.Bag().Parts()
	kind := v.part(b.Bag()).Kind
	for i := range all {
		at := (v.form.at + 1 + i) % len(all)
		if k := all[at].Kind; k != kind && k != "mode" {
			v.goTo(b, all[at].Path)
			return
		}
	}
}

// change puts a bag with a part more or less, and goes to a part.
func (v *View) change(b panel.Bench, bag *kit.Bag, faults field.Faults, path, said string) {
	if bag == nil || len(faults) > 0 {
		b.Say("that does not fit: found " + faults[0].Found + "; allowed: " + faults[0].Allowed)
		return
	}
	b.SetBag(bag, "")
	v.goTo(b, path)
	b.Say(said)
}

func (v *View) add(b panel.Bench) {
	next, path, faults := b.Bag().AddBeside(v.part(b.Bag()).Path)
	said := "a new filter: set its name, kind and stops"
	if strings.HasPrefix(path, "cameras") {
		said = "new: set its name and what it can do"
	}
	v.change(b, next, faults, path, said)
}

func (v *View) addMode(b panel.Bench) {
	at := v.part(b.Bag())
	camera, _, _ := strings.Cut(at.Path, ".")
	if at.Kind != "camera" && at.Kind != "mode" {
		b.Say("a mode belongs to a camera; r goes to the cameras")
		return
	}
	next, path, faults := b.Bag().AddMode(camera)
	v.change(b, next, faults, path, "a new mode: set its name, its frame rates and what differs from the camera")
}

func (v *View) duplicate(b panel.Bench) {
	part := v.part(b.Bag())
	if part.Kind == "settings" || part.Kind == "filter" && len(b.Bag().Filters) == 0 {
		return
	}
	next, path, faults := b.Bag().Duplicate(part.Path)
	v.change(b, next, faults, path, "")
}

func (v *View) askRemove(b panel.Bench) {
	bag, at := b.Bag(), v.form.at
	part := v.part(bag)
	if part.Kind == "filter" && len(bag.Filters) == 0 {
		return
	}
	text, yes := fmt.Sprintf("Take %s out of the bag?", part.Name), "take it out"
	if part.Kind == "settings" {
		text, yes = "Put all settings back to their defaults?", "put them back"
	}
	b.Confirm(text, yes, "keep it", func(b panel.Bench) {
		next, faults := bag.Remove(part.Path)
		if next == nil || len(faults) > 0 {
			v.change(b, nil, faults, "", "")
			return
		}
		all := next.Parts()
		to := max(0, min(at, len(all)-1))
		if to > 0 && all[to].Kind != part.Kind { // stay among its own
			to--
		}
		v.change(b, next, nil, all[to].Path, "out of the bag; u brings it back")
	})
}

// picked returns the filter that is chosen among all of them, by its place in the bag. The bare lens has no
// fields: the filter looked at before, then.
func (v *View) picked() int {
	if at := v.at(); at >= 0 {
		if i := v.bagIndex(v.got.list[at].Filter); i != bareLens {
			return i
		}
	}
	return v.form.at
}

// pickShown chooses the filter whose fields are shown among all of them.
func (v *View) pickShown() {
	if v.form.at < v.filters {
		v.pick, v.moved, v.scroll = v.form.at, true, 0
	}
}
