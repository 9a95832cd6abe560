//go:build unix

package input

import (
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// Reader is a terminal whose reads never end inside an escape sequence, and whose pastes come to an end.
type Reader struct {
	*os.File
	Answered func(answer string) // takes what the terminal answers; nil for nobody
	paste    paste
	answers  answers
}

// Answers tells that what a terminal answers is told from what is typed here.
const Answers = true

// New wraps a terminal. The result still is a file, which the runtime needs for raw mode.
func New(f *os.File) *Reader { return &Reader{File: f} }

// Read reads whole runs. It may return nothing where only answers of the terminal came.
func (r *Reader) Read(p []byte) (int, error) {
	inPaste := r.paste.isOpen()
	n, err := r.paste.read(fileSource{r.File}, p)
	n, said := r.answers.take(p[:n], inPaste, time.Now())
	for _, a := range said {
		if r.Answered != nil {
			r.Answered(a)
		}
	}
	return n, err
}

type fileSource struct{ *os.File }

func (f fileSource) ready(ms int) bool {
	fds := []unix.PollFd{{Fd: int32(f.Fd()), Events: unix.POLLIN}}
	for {
		n, err := unix.Poll(fds, ms)
		if err == unix.EINTR {
			continue
		}
		return err == nil && n > 0 && fds[0].Revents&unix.POLLIN != 0
	}
}
