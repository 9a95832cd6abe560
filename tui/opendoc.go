package tui

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"path/filepath"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
)

// openDoc is a document that lies open: the document as it is now, what can be undone and redone, its file
// and what of it is not saved yet. A card and a bag are the same in all this; where they differ they answer
// as [kind]. A document cannot change: every edit puts another one in its place.
type openDoc[T comparable] struct {
	kind    kind[T]
	current T
	history[T]
	tick func() int // numbers a change

	file      string // its file, or the name of what has none
	fileless  bool   // it has no file: saving asks where
	unwritten bool   // nothing was read: saving makes its file
	snap      store.Snapshot
	saved     []byte // the text as the file has it
	unsaved   bool

	exclusive bool // one window at a time may change it
	lock      *store.Lock
	readOnly  string // why it cannot be changed here; "" when it can

	key       string       // the path that its recovery file goes by
	savedStep int          // how many steps of undo there were when it was last as its file
	version   int          // counts the versions of kept work that were set aside
	typing    store.Typing // restored text of a field that is still to be opened
}

// kind is what a card and a bag do in their own way. It is an [openCard] or an [openBag].
type kind[T any] interface {
	// written returns what is written to the file, nil for what could not be read as a document.
	written(T) *field.Doc
	// read reads a document, or says what is wrong with it.
	read(file string, data []byte) (doc T, wrong string)
	phrases() *phrases
	// title returns its name for people.
	title() string
	// suggest returns the name that saving under another one begins with.
	suggest(m *model) string
	// faults counts what is wrong with it, which does not keep it from being saved.
	faults(m *model) int
	// elsewhere is asked before it is saved under another name: it calls save, or asks first.
	elsewhere(m *model, path string, save func())
	// wrote is called after a save.
	wrote()
	// replaced is called after the document was replaced by one from the disk: by kept work, or by the file.
	replaced(m *model, kept bool)
}

// phrases are what is said of a document.
type phrases struct {
	unreadable string // of a file that cannot be edited
	saveAs     string // asks for a file's name
	savedAs    string // before the file's name
	saved      string // the same where more is said
	kind       string // card or bag
	keptWrong  string // of kept work that cannot be read
}

// document is an open document of either kind.
type document interface {
	name() string // for people
	isUnsaved() bool
	isAt(path string) bool     // its file is at the path
	isKeptAs(path string) bool // its kept work goes by the path
	bytes() []byte
	locked() string // why it cannot be changed, "" when it can
	save(m *model)
	// job returns what there is to keep, with the text of the field that is being typed.
	job(typing store.Typing) job
	// restore makes kept work the current document and tells whether it could; self is the document.
	restore(m *model, self document, r store.Recovery) bool
	release()
}

// open lays a document open. data is what its file holds, where it was read from one.
func (o *openDoc[T]) open(k kind[T], doc T, data []byte) {
	o.kind, o.current, o.saved = k, doc, data
	if o.fileless || o.unwritten {
		o.saved = o.bytes()
	}
	o.key = o.file
	if o.fileless && !o.unwritten {
		o.key = demoPath(filepath.Base(o.file))
	}
	o.snap = store.Unwritten(o.key)
	if !o.fileless && !o.unwritten {
		o.snap = store.Snapshot{Path: o.file, Exists: true, Data: data, Sum: sha256.Sum256(data)}
	}
	if !o.exclusive {
		return
	}
	lock, err := store.Acquire(o.key)
	var held *store.LockedError
	if errors.As(err, &held) {
		o.readOnly = held.Error()
		return
	}
	o.lock = lock
}

// release lets other windows write it.
func (o *openDoc[T]) release() {
	o.lock.Release()
	o.lock = nil
}

// bytes returns the document as its file would hold it, nil for what could not be read.
func (o *openDoc[T]) bytes() []byte {
	d := o.kind.written(o.current)
	if d == nil {
		return nil
	}
	return d.Bytes()
}

func (o *openDoc[T]) isUnsaved() bool { return o.unsaved }

// put makes a document the current one. The one before becomes a step of undo, unless the same field was
// changed a moment ago.
func (o *openDoc[T]) put(doc T, path string, now time.Time) {
	if o.readOnly != "" {
		return // whoever asks has said why
	}
	o.record(o.current, path, now, o.tick)
	o.try(doc)
}

// try shows a document without a step of undo, while a field of it is being typed.
func (o *openDoc[T]) try(doc T) {
	o.current = doc
	o.check()
}

// check finds out whether there is something to save.
func (o *openDoc[T]) check() {
	data := o.bytes()
	o.unsaved = data != nil && !bytes.Equal(data, o.saved)
}

// settle ends typing: base was the document before it.
func (o *openDoc[T]) settle(base T) {
	if !o.same(base, o.current) {
		o.history.settle(base, o.tick)
	}
	o.lastPath = ""
}

// abandon goes back to the document before typing; redo brings what was typed.
func (o *openDoc[T]) abandon(base T) (kept bool) {
	typed := o.current
	o.try(base)
	o.lastPath = ""
	if o.same(typed, base) {
		return false
	}
	o.history.abandon(typed, o.tick)
	return true
}

// same tells whether two documents hold the same values.
func (o *openDoc[T]) same(a, b T) bool { return a == b || o.kind.written(a).Equal(o.kind.written(b)) }

// step goes back (−1) or forth (+1) in the history.
func (o *openDoc[T]) step(dir int) bool {
	doc, ok := o.history.step(dir, o.current)
	if ok {
		o.try(doc)
	}
	return ok
}
