package tui

import (
	"bytes"
	"fmt"
	"os"
	"sync"
	"time"

	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/internal/tty"
	"example.org/skywedge/tui/pixels"
)

// terminal is the way to the screen. It takes screens from the model, as soon as they are drawn and only what of them
// differs, and codes such as those for the mouse from the runtime; the runtime's own drawing, which waits for the next of
// its ticks and writes whole lines, is left out. All of it is passed on in a goroutine of its own, so that a terminal that
// takes its time, or nothing at all, holds up neither keys nor signals. What would come before the last screen is through
// is not drawn (withhold); the newest is drawn then.
//
// It marks each frame as one synchronised update (mode 2026), so that a terminal that knows it never shows
// half a frame. Terminals that do not know it skip the marks.
//
// True pictures come last, a piece at a time while nothing else waits, and are gone before the screen is given back.
type terminal struct {
	file     *os.File // not embedded: its WriteString would go past the queue
	marks    bool
	drained  func() // called when a screen that was withheld can be drawn
	pictures *pixels.Sender
	first    string // goes ahead of the first frame, which paints over what a terminal prints that does not know it

	mu       sync.Mutex
	more     *sync.Cond // something to write, something written, or the end
	painter  cells.Painter
	frame    []byte // written into again
	ours     bool   // the screen is the workbench's, not the shell's
	queue    []byte
	writing  bool
	withheld bool
	off      bool // nothing goes through any more
}

// piece is how much is written at a time, so that a writer in a slow terminal can be stopped.
const piece = 4096

func newTerminal(f *os.File, term string, wrap func(code []byte) []byte) *terminal {
	t := &terminal{file: f, marks: term != "" && term != "dumb" && term != "linux"}
	t.more = sync.NewCond(&t.mu)
	t.pictures = pixels.NewSender(wrap, t.wake)
	go t.pass()
	return t
}

// Read, Close and Fd make it the terminal that the runtime asks for its size.
func (t *terminal) Read(b []byte) (int, error) { return t.file.Read(b) }

// Close closes the file.
func (t *terminal) Close() error { return t.file.Close() }

// Fd returns the number of the file.
func (t *terminal) Fd() uintptr { return t.file.Fd() }

// unpainted stands for the screen where the runtime asks for one: what it writes of it is left out. It is one letter of the
// private use area, which nothing else writes and no window is too narrow for.
const unpainted = "\ue0f1"

// Write takes what the runtime writes.
func (t *terminal) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.off || bytes.Contains(b, []byte(unpainted)) {
		return len(b), nil
	}
	switch {
	case bytes.Contains(b, []byte("\x1b[?1049l")):
		t.ours = false
		t.queue = append(t.queue, t.pictures.Leave()...)
	case bytes.Contains(b, []byte("\x1b[?1049h")):
		t.ours = true
		t.painter.Forget()
	case bytes.Contains(b, []byte("\x1b[2J")):
		t.painter.Forget()
	}
	t.queue = append(t.queue, b...)
	t.more.Broadcast()
	return len(b), nil
}

// forget tells that the terminal may have lost what it showed: the next screen is painted whole.
func (t *terminal) forget() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.painter.Forget()
}

// paint brings the screen to what was drawn.
func (t *terminal) paint(pen *cells.Pen, c *cells.Canvas) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.off || !t.ours {
		return
	}
	if t.frame = t.painter.Paint(t.frame[:0], pen, c); len(t.frame) == 0 {
		return
	}
	t.frame = fmt.Appendf(t.frame, "\x1b[%d;1H", c.H) // where a shell that takes over would write
	if !t.marks {
		t.queue = append(t.queue, t.frame...)
	} else {
		t.queue = append(append(t.queue, t.first...), "\x1b[?2026h"...)
		t.queue = append(append(append(t.queue, t.pictures.Before()...), t.frame...), t.pictures.After()...)
		t.queue = append(t.queue, "\x1b[?2026l"...)
		t.first = ""
	}
	t.more.Broadcast()
}

// wake has the writer look for something to write.
func (t *terminal) wake() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.more.Broadcast()
}

// send takes a code, however long: it is no frame and needs no marks.
func (t *terminal) send(code string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if !t.off {
		t.queue = append(t.queue, code...)
		t.more.Broadcast()
	}
}

// WriteString is Write: the runtime takes it where there is one.
func (t *terminal) WriteString(s string) (int, error) { return t.Write([]byte(s)) }

// pass passes on what was taken, until the end.
func (t *terminal) pass() {
	t.mu.Lock()
	defer t.mu.Unlock()
	for {
		for len(t.queue) == 0 && !t.off {
			b := t.pictures.Next()
			if b == nil {
				t.more.Wait()
				continue
			}
			t.mu.Unlock()
			_, _ = t.file.Write(b)
			t.mu.Lock()
		}
		if t.off {
			return
		}
		all := t.queue
		t.queue, t.writing = nil, true
		for len(all) > 0 && !t.off {
			n := min(len(all), piece)
			t.mu.Unlock()
			_, err := t.file.Write(all[:n])
			t.mu.Lock()
			if all = all[n:]; err != nil {
				all = nil // the terminal is gone; whoever reads from it hears of that
				t.painter.Forget()
			}
		}
		t.writing = false
		if len(t.queue) == 0 && t.withheld && t.drained != nil && !t.off {
			t.withheld = false
			go t.drained()
		}
		t.more.Broadcast()
	}
}

// withhold tells whether the terminal is still at the screen before.
func (t *terminal) withhold() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.queue) > 0 || t.writing {
		t.withheld = true
		return true
	}
	return false
}

// drain waits until everything is through, no longer than a while, and tells whether it is.
func (t *terminal) drain(atMost time.Duration) bool {
	late := false
	timer := time.AfterFunc(atMost, func() {
		t.mu.Lock()
		late = true
		t.mu.Unlock()
		t.more.Broadcast()
	})
	defer timer.Stop()
	t.mu.Lock()
	defer t.mu.Unlock()
	for (len(t.queue) > 0 || t.writing) && !late && !t.off {
		t.more.Wait()
	}
	return len(t.queue) == 0 && !t.writing
}

// plain is the terminal as it was found: no mouse, no pasting marks, the cursor, the other screen. The character before
// it ends whatever code was cut off.
const (
	cutOff = "\x18"
	plain  = "\x1b[?2026l\x1b[?2004l\x1b[?1006l\x1b[?1003l\x1b[?1002l\x1b[0m\x1b[?1049l\x1b[?25h\r"
)

// finish ends the writing. A terminal that does not take the rest in time is put right without it.
func (t *terminal) finish(atMost time.Duration) {
	through := t.drain(atMost)
	t.mu.Lock()
	t.off, t.queue = true, nil
	t.mu.Unlock()
	t.more.Broadcast()
	if through {
		return
	}
	tty.DiscardOutput(t.file) // lets go the writer that waits
	done := make(chan struct{})
	go func() {
		defer close(done)
		_, _ = t.file.WriteString(cutOff + string(t.pictures.Mend()) + plain)
	}()
	select {
	case <-done:
	case <-time.After(atMost):
	}
}
