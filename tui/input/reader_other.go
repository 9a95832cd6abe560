//go:build !unix

package input

import "os"

// Reader is a terminal; where keys arrive as events there is nothing to hold back.
type Reader struct {
	*os.File
	Answered func(answer string) // never called: answers come as events too
}

// Answers tells that what a terminal answers is told from what is typed; it is not here.
const Answers = false

// New wraps a terminal.
func New(f *os.File) *Reader { return &Reader{File: f} }
