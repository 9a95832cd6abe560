package tui

import (
	"fmt"
	"maps"
	"sync"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
	tea "github.com/charmbracelet/bubbletea"
)

// keepAfter is how long after the first change that is not kept yet the recovery files are written, however
// much is changed meanwhile. With the time that writing takes nothing is older than three seconds.
const keepAfter = 2 * time.Second

// job is what there is to keep of a document. Two equal jobs need no second writing.
type job struct {
	path, base string
	kind, name string
	changes    int
	doc        *field.Doc // nil when there is nothing to keep
	typing     store.Typing
	version    int
}

// keeper writes the recovery files of what lies open. It has its own clock and its own writer, so that a
// loop that waits for the terminal, or for anything else, keeps nothing from being kept. There is one writer at
// a time, and it takes what is newest: a slow write never lands last.
type keeper struct {
	window store.Window
	clock  func() time.Time
	tell   func(tea.Msg) // nil without a program

	mu     sync.Mutex
	want   map[document]job
	have   map[document]keptJob
	armed  bool
	closed bool

	writing sync.Mutex
}

// keptJob is a job that is on the disk.
type keptJob struct {
	job
	file string
	at   time.Time
}

func newKeeper(clock func() time.Time) *keeper {
	return &keeper{clock: clock, want: map[document]job{}, have: map[document]keptJob{}}
}

// publish says what there is to keep now, of all documents. What differs from what is kept is written within
// a time after the first difference; never by itself when that is 0.
func (k *keeper) publish(jobs map[document]job, within time.Duration) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.closed {
		return
	}
	k.want = jobs
	if within > 0 && !k.armed && len(k.due()) > 0 {
		k.armed = true
		time.AfterFunc(within, func() { k.fire(within) })
	}
}

// due lists the documents whose job is not the one on the disk. The caller holds mu.
func (k *keeper) due() map[document]job {
	list := map[document]job{}
	for d, j := range k.want {
		if k.have[d].job != j {
			list[d] = j
		}
	}
	for d := range k.have {
		if k.want[d].doc == nil {
			list[d] = job{}
		}
	}
	return list
}

// fire writes what is due and says so. After a failure it tries again.
func (k *keeper) fire(within time.Duration) {
	k.mu.Lock()
	k.armed = false
	k.mu.Unlock()
	err := k.flush()
	if k.tell != nil {
		k.tell(keptMsg{err})
	}
	if err != nil {
		k.mu.Lock()
		again := k.want
		k.mu.Unlock()
		k.publish(again, within)
	}
}

// flush writes what is due before it returns. Any goroutine may call it.
func (k *keeper) flush() (err error) {
	k.writing.Lock()
	defer k.writing.Unlock()
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("cannot keep a recovery file: %v", r)
		}
	}()
	k.mu.Lock()
	list, have, closed := k.due(), maps.Clone(k.have), k.closed
	k.mu.Unlock()
	if closed {
		return nil
	}
	for d, j := range list {
		is, e := k.write(have[d], j)
		if e != nil {
			if err == nil {
				err = e
			}
			continue
		}
		k.mu.Lock()
		if is.doc == nil {
			delete(k.have, d)
		} else {
			k.have[d] = is
		}
		k.mu.Unlock()
	}
	return err
}

// write makes the disk agree with one job, and takes away the file that stood for it under another name.
func (k *keeper) write(was keptJob, j job) (keptJob, error) {
	is := keptJob{job: j, at: k.clock()}
	if j.doc != nil {
		file, err := k.window.Keep(store.Recovery{Path: j.path, Saved: is.at, Base: j.base, Kind: j.kind, Name: j.name,
			Changes: j.changes, Typing: j.typing, Data: j.doc.Bytes()}, j.version)
		if err != nil {
			return is, err
		}
		is.file = file
	}
	if was.file != "" && was.file != is.file {
		return is, k.window.Drop(was.file)
	}
	return is, nil
}

// setAside leaves what is kept of a document for the next start: from here on it goes by another file.
func (k *keeper) setAside(d document) {
	k.mu.Lock()
	defer k.mu.Unlock()
	delete(k.have, d)
}

// keptAt returns when a document was last kept, and whether it is.
func (k *keeper) keptAt(d document) (time.Time, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	h, ok := k.have[d]
	return h.at, ok
}

// forget removes what this window keeps and nobody set aside.
func (k *keeper) forget() error {
	k.publish(nil, 0)
	return k.flush()
}

// close ends the keeping; what is kept may be decided on in other windows.
func (k *keeper) close() {
	k.writing.Lock()
	defer k.writing.Unlock()
	k.mu.Lock()
	defer k.mu.Unlock()
	k.closed = true
	k.window.Close()
}
