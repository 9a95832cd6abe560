//go:build !unix

package input

import "os"

// Reader is a terminal; where keys arrive as events there is nothing to hold back.
type Reader struct{ *os.File }

// New wraps a terminal.
func New(f *os.File) *Reader { return &Reader{f} }
