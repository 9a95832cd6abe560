package input

import (
	"bytes"
	"sync"
	"time"
)

// What a terminal answers comes between the keys: whether it shows pictures, and how large a cell is in pixels. Taken for
// keys it would do things.
const (
	pictureAnswer = "\x1b_G"
	answerEnds    = "\x1b\\"
	sizeAnswer    = "\x1b[6;"
)

// An answer that has lost its end must not swallow keys. It is longer than longestAnswer bytes then, or pauses for longer
// than answerWait, or a byte comes that no answer has, such as that of Esc, an arrow or Ctrl-C (the limits are ours).
const (
	longestAnswer = 1024
	answerWait    = time.Second
)

// answers takes answers out of what is read.
type answers struct {
	mu   sync.Mutex
	part []byte    // of one about pictures, whose end has not been read
	last time.Time // when it was read
}

// take returns how many of the bytes read just now are left, moved to the front, and the answers that were among them.
// inPaste tells that the bytes begin inside a paste, which is text, whatever it looks like.
func (a *answers) take(b []byte, inPaste bool, now time.Time) (n int, said []string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if now.Sub(a.last) > answerWait {
		a.part = nil
	}
	a.last = now
	for i := 0; i < len(b); {
		rest := b[i:]
		if len(a.part) > 0 && !a.goesOn(rest) {
			a.part = nil
		}
		switch {
		case len(a.part) > 0 || !inPaste && bytes.HasPrefix(rest, []byte(pictureAnswer)):
			a.part = append(a.part, b[i])
			i++
			switch {
			case bytes.HasSuffix(a.part, []byte(answerEnds)):
				said = append(said, string(a.part))
				a.part = nil
			case oldEnd(a.part[len(a.part)-1]):
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

// goesOn tells whether the answer that has begun goes on with these bytes.
func (a *answers) goesOn(b []byte) bool {
	switch {
	case len(a.part) >= longestAnswer:
		return false
	case len(a.part) == 1: // the Esc that it begins with
		return true
	case a.part[len(a.part)-1] == 0x1b:
		return b[0] == '\\'
	case b[0] == 0x1b: // the end may have been cut behind it
		return len(b) == 1 || b[1] == '\\'
	}
	return b[0] >= ' ' && b[0] <= '~' || oldEnd(b[0])
}

// oldEnd tells whether a byte is one that some terminals end a string with (BEL, and ST of eight bits). What ends so is
// nothing that the protocol has, and is thrown away.
func oldEnd(c byte) bool { return c == 0x07 || c == 0x9c }

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
