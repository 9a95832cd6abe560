// Package input stands between the terminal and the workbench's reader of keys.
//
// A key such as an arrow is a run of bytes that begins with Esc. When a slow line or a full buffer
// cuts such a run in two, the reader takes the first half for Esc and the second for typed text.
// This package holds an incomplete run back for a moment, so that it arrives whole.
package input

import "unicode/utf8"

// tailWait is how long an incomplete run may wait for its rest, in milliseconds. A lone Esc key is
// delayed by it too, which nobody notices.
const tailWait = 25

// longestRun is the room kept free in a reader's buffer for the rest of a cut run. A mouse report
// in SGR coding has at most 20 bytes.
const longestRun = 32

// incomplete tells whether the bytes end inside an escape sequence or inside a UTF-8 character.
func incomplete(b []byte) bool {
	start := -1
	for i := len(b) - 1; i >= 0 && i >= len(b)-longestRun; i-- {
		if b[i] == 0x1b {
			start = i
			break
		}
	}
	if start >= 0 {
		return open(b[start:])
	}
	return cutRune(b)
}

// open tells whether a run that begins with Esc still wants bytes.
func open(b []byte) bool {
	if len(b) == 1 {
		return true
	}
	switch b[1] {
	case '[':
		if len(b) > 2 && b[2] == 'M' { // the old mouse report: three bytes follow
			return len(b) < 6
		}
		for _, c := range b[2:] {
			if c >= 0x40 && c <= 0x7e && !(c == '[' && len(b) == 3) {
				return false
			}
		}
		return true
	case 'O': // function keys of the application mode: one byte follows
		return len(b) < 3
	case '_': // Alt and a key, or the beginning of an answer
		return len(b) < 3
	}
	return cutRune(b[1:])
}

// cutRune tells whether the bytes end inside a UTF-8 character.
func cutRune(b []byte) bool {
	for i := len(b) - 1; i >= 0 && i >= len(b)-utf8.UTFMax; i-- {
		if utf8.RuneStart(b[i]) {
			return b[i] >= 0xc0 && !utf8.FullRune(b[i:])
		}
	}
	return false
}

// source is a terminal's end that bytes are read from.
type source interface {
	Read(p []byte) (int, error)
	// ready waits at most ms milliseconds for bytes to read.
	ready(ms int) bool
}

// read fills p with at least one byte and, if it can, never ends inside a run. Nothing is kept back
// between calls: what does not fit stays in the terminal's own queue, so that a caller who waits
// for the terminal to become readable is not left waiting. A paste whose end does not come is ended.
func (f *paste) read(s source, p []byte) (int, error) {
	n, err := readRuns(s, p)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.pass(p[:n])
	if err != nil || len(p)-n < len(pasteCloses) {
		return n, err
	}
	if at := f.end(s, p[:n]); at >= 0 {
		n = f.close(p, n, at)
	}
	return n, nil
}

// readRuns reads what is there, to the end of a run.
func readRuns(s source, p []byte) (int, error) {
	room := len(p)
	if room > 2*longestRun {
		room -= longestRun
	}
	n, err := s.Read(p[:room])
	for err == nil && n > 0 && n < len(p) && incomplete(p[:n]) && s.ready(tailWait) {
		next := room
		if n >= room {
			next = n + 1 // only the rest of this run: one byte at a time
		}
		var more int
		more, err = s.Read(p[n:next])
		n += more
		if more == 0 {
			break
		}
	}
	if n > 0 {
		err = nil
	}
	return n, err
}
