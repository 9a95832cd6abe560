package tui

import (
	"path/filepath"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
)

// openBag is a bag that lies open. Cards that are flown with it share it.
type openBag struct {
	openDoc[*kit.Bag]
	opened  *kit.Bag // as it was when it was opened
	changes int      // numbers the changes of the bag and of its cards
}

// bagOf returns the open bag of a card, which is opened where it is not yet.
func (m *model) bagOf(src Source) *openBag {
	bag, path := m.opt.Bag, m.opt.BagFile
	if src.Bag != nil {
		bag, path = src.Bag, ""
	}
	for _, s := range m.cards {
		if s.bag.opened == bag {
			return s.bag
		}
	}
	return openBagAt(bag, path, path != "" || src.Demo && !src.New)
}

// openBagAt opens a bag; path is its file, "" for one that is embedded. An exclusive one is changed by one window
// at a time: that of a file, and the demo's. The bag that takes the place of a missing one is each window's own.
func openBagAt(bag *kit.Bag, path string, exclusive bool) *openBag {
	o := &openBag{opened: bag}
	o.tick, o.exclusive = o.number, exclusive
	o.file, o.fileless = path, path == ""
	if o.fileless && bag != nil {
		o.file = bag.File
	}
	var data []byte
	if doc := o.written(bag); doc != nil {
		data = doc.Bytes()
	}
	o.open(o, bag, data)
	return o
}

// bags returns the bags that lie open.
func (m *model) bags() []*openBag {
	var list []*openBag
	for _, s := range m.cards {
		if !slices.Contains(list, s.bag) {
			list = append(list, s.bag)
		}
	}
	return list
}

// name is the bag's for people.
func (o *openBag) name() string {
	if o.fileless {
		return "the bag"
	}
	return "the bag " + filepath.Base(o.file)
}

func (o *openBag) title() string { return filepath.Base(o.file) }

func (o *openBag) number() int {
	o.changes++
	return o.changes
}

// putBag makes a bag the current one of the card on the screen.
func (m *model) putBag(b *kit.Bag, path string) {
	if ro := m.card().bag.readOnly; ro != "" {
		m.say(ro)
		return
	}
	m.card().bag.put(b, path, m.opt.Now())
	m.bagPut()
}

// bagPut is called after a step of the bag: there is nothing to redo any more.
func (m *model) bagPut() {
	s := m.card()
	s.future, s.lastPath = nil, ""
	m.bagChanged()
}

// bagChanged is called after every change of the bag of the card on the screen.
func (m *model) bagChanged() {
	m.calc.failed = ""
}

// What a bag does in its own way.

func (o *openBag) written(b *kit.Bag) *field.Doc {
	if b == nil {
		return nil
	}
	return b.Doc
}

func (o *openBag) read(file string, data []byte) (b *kit.Bag, wrong string) {
	b, faults := kit.ReadBag(file, data)
	if len(faults) > 0 {
		return nil, "is not a valid bag: " + faults[0].Error()
	}
	return b, ""
}

var bagPhrases = phrases{
	unreadable: "this bag cannot be edited here",
	saveAs:     "Save this bag as (beside the cards as " + store.BagFile + " it is found again)",
	savedAs:    "the bag is saved as ",
	saved:      "the bag is saved",
	kind:       "bag",
	keptWrong:  "the kept bag is not valid",
}

func (o *openBag) phrases() *phrases { return &bagPhrases }

// suggest returns a name beside the card: there the bag is found again.
func (o *openBag) suggest(m *model) string {
	switch s := m.card(); {
	case !o.fileless:
		return o.file
	case s.fileless:
		return store.BagFile
	default:
		return filepath.Join(filepath.Dir(s.file), store.BagFile)
	}
}

func (o *openBag) faults(*model) int {
	_, faults := kit.ReadBag(o.file, o.bytes())
	return faults.Count()
}

func (o *openBag) elsewhere(_ *model, _ string, save func()) { save() }

func (o *openBag) wrote() {}

func (o *openBag) replaced(m *model, kept bool) {
	m.bagPut()
	if kept {
		m.views.filters.FirstFilter()
	} else {
		m.views.filters.MoveField(m, 0)
	}
}
