package input

import (
	"bytes"
	"sync"
)

// A paste comes between two marks. The runtime's reader of keys waits for the second one for ever and takes all keys,
// Ctrl-C too, for what is pasted: a terminal that leaves the mark out would leave a dead keyboard.
const (
	pasteOpens  = "\x1b[200~"
	pasteCloses = "\x1b[201~"
	interrupt   = 0x03 // Ctrl-C
)

// pasteWait is how long a paste may pause before it counts as ended, in milliseconds; ours. It is longer than a line
// stalls now and then, and shorter than a person looks for what broke.
const pasteWait = 1000

// paste follows the marks through what is read. After a suspension the runtime's reader of before may be at its last
// read while the next begins.
type paste struct {
	mu   sync.Mutex
	last [len(pasteOpens)]byte
	open bool
}

// pass takes bytes that were read.
func (p *paste) pass(b []byte) {
	for _, c := range b {
		copy(p.last[:], p.last[1:])
		p.last[len(p.last)-1] = c
		mark := pasteOpens
		if p.open {
			mark = pasteCloses
		}
		if string(p.last[:]) == mark {
			p.open = !p.open
		}
	}
}

// isOpen tells whether what is read next belongs to a paste.
func (p *paste) isOpen() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.open
}

// end returns where in the bytes just read the second mark is to be put: before a Ctrl-C that nothing follows, which
// is a person's, and after all when nothing follows for long. It is −1 where the paste goes on.
func (p *paste) end(s source, b []byte) int {
	if !p.open {
		return -1
	}
	if text := bytes.TrimRight(b, string(rune(interrupt))); len(text) < len(b) && !s.ready(tailWait) {
		return len(text)
	}
	if !s.ready(pasteWait) {
		return len(b)
	}
	return -1
}

// close puts the second mark into a buffer that holds n bytes and returns how many it holds then. The caller has seen
// to the room.
func (p *paste) close(buf []byte, n, at int) int {
	copy(buf[at+len(pasteCloses):], buf[at:n])
	copy(buf[at:], pasteCloses)
	p.open = false
	return n + len(pasteCloses)
}
