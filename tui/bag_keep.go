package tui

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

func sumOf(data []byte) [sha256.Size]byte { return sha256.Sum256(data) }

func stopsWords(x float64) string { return exposure.FormatStops(x) }

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
	path, snap, unsaved, data, at := d.keyed(), d.snap, d.unsaved, d.bag.Doc.Bytes(), m.opt.Now()
	return guarded(m, func() tea.Msg {
		if !unsaved {
			return keptMsg{store.RemoveRecovery(path)}
		}
		return keptMsg{store.WriteRecovery(path, snap, data, at)}
	})
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
	text := fmt.Sprintf("Unsaved changes of the bag were kept at %s.", r.Saved.In(m.opt.Now().Location()).Format("2 Jan 15:04"))
	if d.path != "" && r.DiskChanged() {
		text += " The file has changed since."
	}
	m.ask = question{on: true, text: text, esc: "decide later", choices: []choice{
		{"r", "restore them", func(m *model) tea.Cmd {
			b, faults := kit.ReadBag(d.bag.File, r.Data)
			if len(faults) > 0 {
				m.say("the kept bag is not valid; it stays where it is")
				return nil
			}
			d.offered = false
			m.putBag(b, "")
			m.bag.at, m.bag.cursor = 0, 0
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
	var err error
	if force {
		if err = store.Save(snap.Path, data, 0); err == nil {
			snap, err = store.Read(snap.Path)
		}
	} else {
		snap, err = snap.Save(data)
	}
	var changed *store.ChangedError
	if errors.As(err, &changed) {
		m.askBagConflict(changed)
		return
	}
	if err != nil {
		m.say(err.Error())
		return
	}
	_ = store.RemoveRecovery(d.keyed())
	d.path, d.snap, d.saved, d.unsaved = snap.Path, snap, data, false
	m.say("the bag is saved as " + snap.Path)
	if m.afterSave != nil {
		f := m.afterSave
		m.afterSave = nil
		m.next = f(m)
	}
}

func (m *model) askBagConflict(c *store.ChangedError) {
	m.ask = question{on: true, text: c.Error() + ".", esc: "do nothing", choices: []choice{
		{"o", "overwrite it (the old one stays as " + filepath.Base(c.Path) + "~)", func(m *model) tea.Cmd {
			m.saveBagAs(store.Snapshot{Path: c.Path}, true)
			return nil
		}},
		{"w", "save under another name", func(m *model) tea.Cmd { m.askSaveBagAs(); return nil }},
		{"l", "load the file; u brings yours back", func(m *model) tea.Cmd {
			b, faults := kit.ReadBag(c.Path, c.Now.Data)
			if len(faults) > 0 {
				m.say("the file is not a valid bag: " + faults[0].Error())
				return nil
			}
			d := m.sheet().desk
			d.path, d.snap, d.saved = c.Path, c.Now, c.Now.Data
			m.putBag(b, "")
			m.bagMove(0)
			return nil
		}},
	}}
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
	m.ask = question{on: true, text: "Save this bag as (beside the cards as " + store.BagFile + " it is found again)", input: true, line: newLine(name), esc: "do not save",
		enter: func(m *model, path string) {
			path = strings.TrimSpace(path)
			if path == "" {
				return
			}
			if filepath.Ext(path) == "" {
				path += ".yaml"
			}
			if path == d.path {
				m.saveBagAs(d.snap, false)
				return
			}
			m.saveBagAs(store.Unwritten(path), false)
		}}
}
