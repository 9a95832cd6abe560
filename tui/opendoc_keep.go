package tui

import (
	"bytes"
	"encoding/hex"
	"strings"

	"example.org/skywedge/plan/store"
)

// job returns what there is to keep of the document: nothing when all of it is saved and no field of it is
// being typed.
func (o *openDoc[T]) job(typing store.Typing) job {
	doc := o.kind.written(o.current)
	if typing.Field == "" {
		typing = o.typing
	}
	if doc == nil || !o.unsaved && typing.Field == "" {
		return job{}
	}
	j := job{path: o.key, kind: o.kind.phrases().kind, name: o.kind.title(), changes: o.changes(), doc: doc, typing: typing, version: o.version}
	if o.snap.Exists {
		j.base = hex.EncodeToString(o.snap.Sum[:])
	}
	return j
}

// changes counts the steps between the document and its file, one at least.
func (o *openDoc[T]) changes() int {
	n := len(o.past) - o.savedStep
	return max(1, n, -n)
}

// restore makes kept work the current document. What is unsaved of it stays kept as a version of its own.
func (o *openDoc[T]) restore(m *model, self document, r store.Recovery) bool {
	doc, wrong := o.kind.read(o.file, r.Data)
	if wrong != "" {
		m.say(o.kind.phrases().keptWrong + "; it stays where it is")
		return false
	}
	if o.unsaved && !bytes.Equal(o.bytes(), r.Data) {
		if err := m.keepAll(); err != nil {
			m.sayWrong("", err)
			return false
		}
		m.keeper.setAside(self)
		o.version++
	}
	o.put(doc, "", m.opt.Now())
	o.savedStep = len(o.past) - r.Changes
	o.typing = r.Typing
	o.kind.replaced(m, true)
	return true
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
