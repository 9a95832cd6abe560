package tui

import (
	"fmt"
	"strings"
	"time"

	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// keep writes the recovery file, or removes it when there is nothing to keep, off the event loop.
func (o *openDoc[T]) keep(m *model) tea.Cmd {
	data := o.bytes()
	if !o.touched || data == nil {
		return nil
	}
	key, snap, unsaved, at := o.key, o.snap, o.unsaved, m.opt.Now()
	return guarded(m, func() tea.Msg {
		if !unsaved {
			return keptMsg{store.RemoveRecovery(key)}
		}
		return keptMsg{store.WriteRecovery(key, snap, data, at)}
	})
}

// keepNow writes the recovery file of unsaved work before it returns.
func (o *openDoc[T]) keepNow(at time.Time) {
	if o.unsaved {
		_ = store.WriteRecovery(o.key, o.snap, o.bytes(), at)
	}
}

// forget removes the recovery file, where it is ours: work of an earlier run that nobody decided on stays.
func (o *openDoc[T]) forget() {
	if o.touched && !o.offered {
		_ = store.RemoveRecovery(o.key)
	}
}

// offer asks about unsaved work of an earlier run, once.
func (o *openDoc[T]) offer(m *model) {
	if o.looked || o.readOnly != "" || m.ask.on {
		return
	}
	o.looked = true
	r, ok, err := store.ReadRecovery(o.key)
	if err != nil {
		m.say(err.Error())
		return
	}
	is := o.bytes()
	if !ok || is != nil && string(r.Data) == string(is) {
		return
	}
	o.offered = true
	say := o.kind.phrases()
	text := fmt.Sprintf("%s kept at %s.", say.kept, r.Saved.In(m.opt.Now().Location()).Format("2 Jan 15:04"))
	if !o.fileless && r.DiskChanged() {
		text += " The file has changed since."
	}
	m.ask = question{on: true, text: text, esc: "decide later", choices: []choice{
		{"r", say.restore, func(m *model) tea.Cmd { o.restore(m, r.Data); return nil }},
		{"x", say.discard, func(m *model) tea.Cmd {
			o.offered = false
			key := o.key
			return guarded(m, func() tea.Msg { return keptMsg{store.RemoveRecovery(key)} })
		}},
	}}
	if say.compare != "" {
		m.ask.choices = append(m.ask.choices, choice{"d", say.compare, func(m *model) tea.Cmd {
			m.help = helpState{on: true, title: "What the kept work changes", lines: difference(o.bytes(), r.Data),
				after: func() { o.looked = false; o.offer(m) }}
			return nil
		}})
	}
}

// restore makes kept work the current document.
func (o *openDoc[T]) restore(m *model, data []byte) {
	doc, wrong := o.kind.read(o.file, data)
	if wrong != "" {
		m.say(o.kind.phrases().keptWrong + "; it stays where it is")
		return
	}
	o.offered = false
	o.put(doc, "", m.opt.Now())
	o.kind.replaced(m, true)
	m.say("restored; u goes back to the file")
}

// difference lists the lines that two texts do not share.
func difference(file, kept []byte) []string {
	var was []string
	if file != nil {
		was = strings.Split(string(file), "\n")
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
