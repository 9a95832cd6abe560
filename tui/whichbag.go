package tui

import (
	"path/filepath"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/words"
	tea "github.com/charmbracelet/bubbletea"
)

// which says which bag a card is answered with.
func (o *openBag) which() string {
	switch {
	case o.opened == nil:
		return "no bag"
	case !o.fileless:
		return filepath.Base(o.file)
	case o.opened.File == kit.GenericFile:
		return "the generic bag"
	}
	return "the demo's bag"
}

// elsewhere saves a card under another name. Where that lies in a folder whose cards are answered with another bag,
// the pilot says first what is to become of this one.
func (o *openCard) elsewhere(m *model, path string, save func()) {
	there, found := store.FindBag(path)
	other := kit.Generic()
	name := "the generic bag"
	switch {
	case found && !o.bag.fileless && store.Same(there, o.bag.file):
		save()
		return
	case found:
		name = there
		if snap, err := store.Read(there); err == nil {
			other, _ = kit.ReadBag(there, snap.Data) // nil where it is no valid one: another in any case
		}
	}
	if o.kit() == nil || o.kit().Doc == nil || other != nil && other.Doc.Equal(o.kit().Doc) {
		save()
		return
	}
	beside := filepath.Join(filepath.Dir(path), store.BagFile)
	q := question{on: true, esc: "do not save", text: words.Sentence(o.bag.which()) + " goes with this card. Opened from there, it would be answered with " + name + "."}
	do := func(f func()) func(*model) tea.Cmd {
		return func(m *model) tea.Cmd { f(); return nil }
	}
	if !found || !store.Same(there, beside) {
		q.choices = append(q.choices, choice{"c", "copy the bag along, as " + store.BagFile + " beside it", do(func() {
			if m.copyBag(o, beside) {
				save()
			}
		})})
	}
	q.choices = append(q.choices, choice{"a", "save the card alone", do(save)})
	m.ask = q
}

// copyBag writes the bag of a card to a file of its own, which is the card's bag from then on.
func (m *model) copyBag(o *openCard, path string) bool {
	data := o.bag.bytes()
	if _, err := store.Unwritten(path).Save(data); err != nil {
		m.say("the bag is not copied, and the card not saved: " + err.Error())
		return false
	}
	bag, faults := kit.ReadBag(path, data)
	if len(faults) > 0 {
		m.say("the copied bag: " + faults[0].Error())
		return false
	}
	changes := o.bag.changes
	o.bag = openBagAt(bag, path, true)
	o.bag.changes = changes
	return true
}

// askOwnBag begins a bag of the pilot's own in place of one that is built in.
func (m *model) askOwnBag() {
	o := m.card().bag
	if !m.MayEditBag() || !m.mayEdit() {
		return
	}
	if !o.fileless {
		m.say(filepath.Base(o.file) + " is a bag of your own already; a card in another folder can have another")
		return
	}
	begin := func(bag *kit.Bag, said string) func(*model) tea.Cmd {
		return func(m *model) tea.Cmd { m.beginBag(bag, said); return nil }
	}
	empty, faults := kit.ReadBag(store.BagFile, kit.EmptyBag(m.card().text("camera")))
	if len(faults) > 0 {
		m.say(faults[0].Error())
		return
	}
	m.ask = question{on: true, text: "Begin a bag of your own. It takes the place of " + o.which() + ", until u brings that back.", esc: "leave it", choices: []choice{
		{"e", "empty: one camera, no filters", begin(empty, "an empty bag: set what the camera can do, then add your filters; s saves it")},
		{"g", "from the generic bag", begin(kit.Generic(), "the generic bag, to be made yours; s saves it")},
	}}
}

// beginBag puts a bag in the place of the one there is. The card takes its first camera where it names none of it, in
// the same step of undo.
func (m *model) beginBag(bag *kit.Bag, said string) {
	s := m.card()
	cards := len(s.past)
	m.putBag(bag, "")
	if _, ok := bag.CameraByName(s.text("camera")); !ok && len(bag.Cameras) > 0 {
		if c, _ := s.current.Set("camera", bag.Cameras[0].Name); c != nil {
			n := s.bag.changes
			s.history.settle(s.current, func() int { return n })
			s.past[cards].n = n
			s.try(c)
		}
	}
	m.changed()
	m.show(viewFilters)
	m.views.filters.OpenAt(m, len(bag.Filters))
	if len(bag.Filters) == 0 {
		m.views.filters.OpenAt(m, 1)
	}
	m.say(said)
}
