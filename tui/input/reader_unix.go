//go:build unix

package input

import (
	"os"

	"golang.org/x/sys/unix"
)

// Reader is a terminal whose reads never end inside an escape sequence, and whose pastes come to an end.
type Reader struct {
	*os.File
	paste paste
}

// New wraps a terminal. The result still is a file, which the runtime needs for raw mode.
func New(f *os.File) *Reader { return &Reader{File: f} }

// Read reads whole runs.
func (r *Reader) Read(p []byte) (int, error) { return r.paste.read(fileSource{r.File}, p) }

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
