package tui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// What a card and a bag have in common when they meet the disk.

// write puts a text over a snapshot and gives the new one. A file that is no longer as it was is an error,
// of which changed tells, unless it is to be overwritten by force.
func write(snap store.Snapshot, data []byte, force bool) (store.Snapshot, error) {
	if !force {
		return snap.Save(data)
	}
	if err := store.Save(snap.Path, data, 0); err != nil {
		return snap, err
	}
	return store.Read(snap.Path)
}

// failedWrite says why nothing was written; a file that has changed asks what to do.
func (m *model) failedWrite(err error, conflict func(*store.ChangedError)) {
	var changed *store.ChangedError
	if errors.As(err, &changed) {
		conflict(changed)
		return
	}
	m.say(err.Error())
}

// wrote goes on with what waited for the save.
func (m *model) wrote(text string) {
	m.say(text)
	if f := m.afterSave; f != nil {
		m.afterSave = nil
		m.next = f(m)
	}
}

// askConflict asks what to do about a file that has changed since it was read.
func (m *model) askConflict(c *store.ChangedError, overwrite, saveAs, load func(m *model)) {
	do := func(f func(m *model)) func(*model) tea.Cmd {
		return func(m *model) tea.Cmd { f(m); return nil }
	}
	m.ask = question{on: true, text: c.Error() + ".", esc: "do nothing", choices: []choice{
		{"o", "overwrite it (the old one stays as " + filepath.Base(c.Path) + "~)", do(overwrite)},
		{"w", "save under another name", do(saveAs)},
		{"l", "load the file; u brings yours back", do(load)},
	}}
}

// askName asks for a file's name; one without an ending is YAML.
func (m *model) askName(text, name string, save func(m *model, path string)) {
	m.ask = question{on: true, text: text, input: true, line: newLine(name), esc: "do not save",
		enter: func(m *model, path string) {
			path = strings.TrimSpace(path)
			if path == "" {
				return
			}
			if filepath.Ext(path) == "" {
				path += ".yaml"
			}
			save(m, path)
		}}
}

// keptWords says that there is unsaved work of an earlier run.
func (m *model) keptWords(what string, r *store.Recovery, onDisk bool) string {
	text := fmt.Sprintf("%s kept at %s.", what, r.Saved.In(m.opt.Now().Location()).Format("2 Jan 15:04"))
	if onDisk && r.DiskChanged() {
		text += " The file has changed since."
	}
	return text
}

// keepLater writes a recovery file, or removes it when there is nothing to keep, off the event loop.
func (m *model) keepLater(path string, snap store.Snapshot, data []byte, unsaved bool) tea.Cmd {
	at := m.opt.Now()
	return guarded(m, func() tea.Msg {
		if !unsaved {
			return keptMsg{store.RemoveRecovery(path)}
		}
		return keptMsg{store.WriteRecovery(path, snap, data, at)}
	})
}
