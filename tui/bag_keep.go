package tui

import (
	"path/filepath"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// openSheet opens a card with the bag that goes with it. A bag is opened once for all its cards.
func (m *model) openSheet(src Source) *sheet {
	bag, path := m.opt.Bag, m.opt.BagFile
	if src.Bag != nil {
		bag, path = src.Bag, ""
	}
	var d *desk
	for _, s := range m.sheets {
		if s.opened == bag {
			d = s.desk
		}
	}
	if d == nil {
		d = openDesk(bag, path)
	}
	s := openSheet(src, d.bag)
	s.bag, s.desk, s.opened = d.bag, d, bag
	m.sheets = append(m.sheets, s)
	return s
}

// desks gives the bags that lie open.
func (m *model) desks() []*desk {
	var list []*desk
	for _, s := range m.sheets {
		if s.desk != nil && !slices.Contains(list, s.desk) {
			list = append(list, s.desk)
		}
	}
	return list
}

// keepBag writes the recovery file of the bag, off the event loop.
func (m *model) keepBag() tea.Cmd {
	d := m.sheet().desk
	if !d.touched || d.bag == nil {
		return nil
	}
	return m.keepLater(d.keyed(), d.snap, d.bag.Doc.Bytes(), d.unsaved)
}

// offerBag asks about unsaved work of an earlier run on the bag, once.
func (m *model) offerBag() {
	d := m.sheet().desk
	if d == nil || d.looked || d.bag == nil || d.bag.Doc == nil || m.ask.on {
		return
	}
	d.looked = true
	r, ok, err := store.ReadRecovery(d.keyed())
	if err != nil {
		m.say(err.Error())
		return
	}
	if !ok || string(r.Data) == string(d.bag.Doc.Bytes()) {
		return
	}
	d.offered = true
	text := m.keptWords("Unsaved changes of the bag were", &r, d.path != "")
	m.ask = question{on: true, text: text, esc: "decide later", choices: []choice{
		{"r", "restore them", func(m *model) tea.Cmd {
			b, faults := kit.ReadBag(d.bag.File, r.Data)
			if len(faults) > 0 {
				m.say("the kept bag is not valid; it stays where it is")
				return nil
			}
			d.offered = false
			m.putBag(b, "")
			m.views.filters.FirstFilter()
			m.say("restored; u goes back to the file")
			return nil
		}},
		{"x", "discard them", func(m *model) tea.Cmd {
			d.offered = false
			return guarded(m, func() tea.Msg { return keptMsg{store.RemoveRecovery(d.keyed())} })
		}},
	}}
}

// saveBag writes the bag to its file.
func (m *model) saveBag() {
	d := m.sheet().desk
	switch {
	case !d.unsaved:
		m.say("nothing to save in the bag")
	case d.path == "":
		m.askSaveBagAs()
	default:
		m.saveBagAs(d.snap, false)
	}
}

// saveBagAs writes the bag over a snapshot, and asks when the file is no longer as it was.
func (m *model) saveBagAs(snap store.Snapshot, force bool) {
	d := m.sheet().desk
	data := d.bag.Doc.Bytes()
	snap, err := write(snap, data, force)
	if err != nil {
		m.failedWrite(err, m.askBagConflict)
		return
	}
	_ = store.RemoveRecovery(d.keyed())
	d.path, d.snap, d.saved, d.unsaved = snap.Path, snap, data, false
	m.wrote("the bag is saved as " + snap.Path)
}

func (m *model) askBagConflict(c *store.ChangedError) {
	m.askConflict(c,
		func(m *model) { m.saveBagAs(store.Snapshot{Path: c.Path}, true) },
		(*model).askSaveBagAs,
		func(m *model) {
			b, faults := kit.ReadBag(c.Path, c.Now.Data)
			if len(faults) > 0 {
				m.say("the file is not a valid bag: " + faults[0].Error())
				return
			}
			d := m.sheet().desk
			d.path, d.snap, d.saved = c.Path, c.Now, c.Now.Data
			m.putBag(b, "")
			m.views.filters.MoveField(m, 0)
		})
}

// askSaveBagAs asks for a name: beside the card it is found again.
func (m *model) askSaveBagAs() {
	s := m.sheet()
	d := s.desk
	name := d.path
	if name == "" {
		name = store.BagFile
		if !s.src.Demo {
			name = filepath.Join(filepath.Dir(s.src.Path), store.BagFile)
		}
	}
	m.askName("Save this bag as (beside the cards as "+store.BagFile+" it is found again)", name, func(m *model, path string) {
		if path == d.path {
			m.saveBagAs(d.snap, false)
			return
		}
		m.saveBagAs(store.Unwritten(path), false)
	})
}
