package tui

import (
	"crypto/sha256"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// keepAfter is how long after the last change unsaved work goes into a recovery file.
const keepAfter = 2 * time.Second

// keeper stands between the open cards and the disk.
type keeper struct {
	snaps map[*sheet]store.Snapshot
	locks map[*sheet]*store.Lock
	keyed map[*sheet]string // the path that recovery files are filed under
}

// open marks a card as open in this window. A second window gets it to look at.
func (k *keeper) open(s *sheet) {
	if k.snaps == nil {
		k.snaps, k.locks, k.keyed = map[*sheet]store.Snapshot{}, map[*sheet]*store.Lock{}, map[*sheet]string{}
	}
	k.keyed[s] = s.src.Path
	if s.src.Demo {
		if !s.src.New {
			k.keyed[s] = demoPath(filepath.Base(s.src.Path))
		}
		k.snaps[s] = store.Unwritten(k.keyed[s])
		return
	}
	k.snaps[s] = store.Snapshot{Path: s.src.Path, Exists: true, Data: s.src.Data, Sum: sha256.Sum256(s.src.Data)}
	if s.src.New {
		k.snaps[s] = store.Unwritten(s.src.Path)
	}
	lock, err := store.Acquire(s.src.Path)
	var held *store.LockedError
	if errors.As(err, &held) {
		s.readOnly = held.Error()
		return
	}
	k.locks[s] = lock
}

// fileless is the name that the recovery of what has no file goes by: the same from any folder.
func fileless(folder, name string) string {
	dir, err := store.StateDir()
	if err != nil {
		dir = os.TempDir()
	}
	return filepath.Join(dir, folder, name)
}

// demoPath is that of a copy of the demo.
func demoPath(name string) string { return fileless("demo", name) }

func (k *keeper) close() {
	for _, l := range k.locks {
		l.Release()
	}
}

// keepMsg asks to write the recovery file unless there were edits since.
type keepMsg struct{ edits int }

type keptMsg struct{ err error }

// laterKeep starts the wait for the recovery file after a change.
func (m *model) laterKeep() tea.Cmd {
	if m.edits == m.keptFor || m.keepAfter == 0 {
		return nil
	}
	m.keptFor = m.edits
	n := m.edits
	return tea.Tick(m.keepAfter, func(time.Time) tea.Msg { return keepMsg{n} })
}

// keep writes the recovery file of the card on the screen, off the event loop.
func (m *model) keep() tea.Cmd {
	s := m.sheet()
	if s.card == nil {
		return m.keepBag()
	}
	return tea.Batch(m.keepBag(), m.keepLater(m.keeper.keyed[s], m.keeper.snaps[s], s.card.Doc.Bytes(), s.unsaved))
}

// keepAll writes the recovery files of all unsaved cards before it returns: for signals and panics.
func (m *model) keepAll() {
	for _, s := range m.sheets {
		if s.unsaved && s.card != nil {
			_ = store.WriteRecovery(m.keeper.keyed[s], m.keeper.snaps[s], s.card.Doc.Bytes(), m.opt.Now())
		}
	}
	for _, d := range m.desks() {
		if d.unsaved {
			_ = store.WriteRecovery(d.keyed(), d.snap, d.bag.Doc.Bytes(), m.opt.Now())
		}
	}
}

// forgetAll removes the recovery files on a clean quit.
func (m *model) forgetAll() {
	for _, s := range m.sheets {
		if s.offered || !s.touched {
			continue // work of an earlier run that nobody decided on stays
		}
		_ = store.RemoveRecovery(m.keeper.keyed[s])
	}
	for _, d := range m.desks() {
		if d.touched && !d.offered {
			_ = store.RemoveRecovery(d.keyed())
		}
	}
}

// offerRecovery asks about unsaved work of an earlier run, once for each card.
func (m *model) offerRecovery() {
	s := m.sheet()
	if s.looked || s.readOnly != "" {
		return
	}
	s.looked = true
	r, ok, err := store.ReadRecovery(m.keeper.keyed[s])
	if err != nil {
		m.say(err.Error())
		return
	}
	if !ok || s.card != nil && string(r.Data) == string(s.card.Doc.Bytes()) {
		return
	}
	s.offered = true
	text := m.keptWords("Unsaved work on this card was", &r, !s.src.Demo)
	m.ask = question{on: true, text: text, choices: []choice{
		{"r", "restore it", func(m *model) tea.Cmd {
			s.offered = false
			c, _ := shot.ReadCard(s.src.Path, r.Data)
			if c == nil || c.Doc == nil {
				m.say("the kept work cannot be read as a card; it stays where it is")
				s.offered = true
				return nil
			}
			s.put(c, "", m.opt.Now())
			s.touched = true
			m.changed()
			m.say("restored; u goes back to the file")
			return nil
		}},
		{"x", "discard it", func(m *model) tea.Cmd {
			s.offered = false
			path := m.keeper.keyed[s]
			return guarded(m, func() tea.Msg { return keptMsg{store.RemoveRecovery(path)} })
		}},
		{"d", "show what differs", func(m *model) tea.Cmd {
			m.help = helpState{on: true, title: "What the kept work changes", lines: difference(s.card, r.Data), after: m.offerAgain(s)}
			return nil
		}},
	}, esc: "decide later"}
}

// offerAgain puts the question about unsaved work once more.
func (m *model) offerAgain(s *sheet) func() {
	return func() { s.looked = false; m.offerRecovery() }
}

// difference lists the lines that two versions of a card do not share.
func difference(c *shot.Card, kept []byte) []string {
	var was []string
	if c != nil {
		was = strings.Split(string(c.Doc.Bytes()), "\n")
	}
	now := strings.Split(string(kept), "\n")
	count := map[string]int{}
	for _, l := range was {
		count[l]++
	}
	for _, l := range now {
		count[l]--
	}
	var out []string
	for _, l := range was {
		if count[l] > 0 {
			out = append(out, "file  "+l)
			count[l]--
		}
	}
	for _, l := range now {
		if count[l] < 0 {
			out = append(out, "kept  "+l)
			count[l]++
		}
	}
	return out
}

// save writes the card to its file.
func (m *model) save() {
	s := m.sheet()
	switch {
	case s.desk.unsaved && (m.view == viewFilters || !s.unsaved && !s.src.New):
		m.saveBag()
	case s.card == nil:
		m.say("this file cannot be read as a card and is left as it is")
	case s.readOnly != "":
		m.say(s.readOnly)
		m.askSaveAs()
	case s.src.Demo:
		m.askSaveAs()
	case !s.unsaved && !s.src.New:
		m.say("nothing to save")
	default:
		m.saveAs(m.keeper.snaps[s], false)
	}
}

// saveAs writes the card over a snapshot, and asks when the file is no longer as it was.
func (m *model) saveAs(snap store.Snapshot, force bool) {
	s := m.sheet()
	data := s.card.Doc.Bytes()
	snap, err := write(snap, data, force)
	if err != nil {
		m.failedWrite(err, m.askCardConflict)
		return
	}
	_ = store.RemoveRecovery(m.keeper.keyed[s])
	if snap.Path != s.src.Path || s.src.Demo {
		m.keeper.locks[s].Release()
		delete(m.keeper.locks, s)
		s.src.Path, s.src.Demo, s.src.New, s.readOnly = snap.Path, false, false, ""
		m.keeper.keyed[s] = snap.Path
		if l, err := store.Acquire(snap.Path); err == nil {
			m.keeper.locks[s] = l
		}
	}
	m.keeper.snaps[s] = snap
	s.saved, s.src.New = data, false
	s.check()
	m.rememberPlace(s)
	m.wrote("saved as " + snap.Path)
}

func (m *model) askCardConflict(c *store.ChangedError) {
	m.askConflict(c,
		func(m *model) { m.saveAs(store.Snapshot{Path: c.Path}, true) },
		(*model).askSaveAs,
		func(m *model) {
			s := m.sheet()
			card, _ := shot.ReadCard(c.Path, c.Now.Data)
			if card == nil || card.Doc == nil {
				m.say("the file cannot be read as a card")
				return
			}
			m.keeper.snaps[s], s.saved = c.Now, c.Now.Data
			s.src.Path = c.Path
			s.put(card, "", m.opt.Now())
			m.changed()
		})
}

// askSaveAs asks for a name.
func (m *model) askSaveAs() {
	s := m.sheet()
	if s.card == nil {
		return
	}
	name := s.src.Path
	if s.src.Demo {
		name = filepath.Base(name)
	}
	if s.src.Demo && s.src.New {
		name = fileName(s.name())
	}
	m.askName("Save this card as", name, func(m *model, path string) {
		if s.readOnly == "" && path == s.src.Path && !s.src.Demo {
			m.saveAs(m.keeper.snaps[s], false)
			return
		}
		m.saveAs(store.Unwritten(path), false)
	})
}
