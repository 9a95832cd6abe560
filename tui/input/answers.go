package input

import (
	"bytes"
	"sync"
)

// What a terminal answers comes between the keys: whether it shows pictures, and how large a cell is in pixels. Taken for
// keys it would do things.
const (
	pictureAnswer = "\x1b_G"
	answerEnds    = "\x1b\\"
	sizeAnswer    = "\x1b[6;"
)

// longestAnswer is how long an answer may be in bytes before it counts as none: one that has lost its end must not swallow
// keys for ever (ours).
const longestAnswer = 256

// answers takes answers out of what is read.
type answers struct {
	mu   sync.Mutex
	part []byte // of one about pictures, whose end has not been read
}

// take returns how many of the bytes are left, moved to the front, and the answers that were among them. inPaste tells that
// the bytes begin inside a paste, which is text, whatever it looks like.
func (a *answers) take(b []byte, inPaste bool) (n int, said []string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	for i := 0; i < len(b); {
		rest := b[i:]
		switch {
		case len(a.part) > 0 || !inPaste && bytes.HasPrefix(rest, []byte(pictureAnswer)):
			a.part = append(a.part, b[i])
			i++
			if bytes.HasSuffix(a.part, []byte(answerEnds)) {
				said = append(said, string(a.part))
				a.part = nil
			} else if len(a.part) >= longestAnswer {
				a.part = nil
			}
			continue
		case !inPaste && bytes.HasPrefix(rest, []byte(sizeAnswer)):
			if end := sizeEnd(rest); end > 0 {
				said = append(said, string(rest[:end]))
				i += end
				continue
			}
		case inPaste && bytes.HasPrefix(rest, []byte(pasteCloses)):
			inPaste = false
		case bytes.HasPrefix(rest, []byte(pasteOpens)):
			inPaste = true
		}
		b[n] = b[i]
		n, i = n+1, i+1
	}
	return n, said
}

// sizeEnd returns where an answer about the size of a cell ends, 0 where it is something else: a key with a modifier
// begins alike.
func sizeEnd(b []byte) int {
	marks := 0
	for i := len(sizeAnswer); i < len(b); i++ {
		switch c := b[i]; {
		case c == ';':
			marks++
		case c == 't' && marks == 1:
			return i + 1
		case c < '0' || c > '9':
			return 0
		}
	}
	return 0
}
