//go:build unix

package input

import (
	"io"
	"os"
	"slices"
	"strings"
	"testing"
)

// A real file: what is cut inside an escape sequence comes in one piece, answers go to whom they are for and are no keys,
// and an end is an end.
func TestReaderOfAFile(t *testing.T) {
	in, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r := New(in)
	defer r.Close()
	var said []string
	buf := make([]byte, 256)
	read := func() string {
		t.Helper()
		n, err := r.Read(buf)
		if err != nil {
			t.Fatal(err)
		}
		return string(buf[:n])
	}
	send := func(text string) {
		if _, err := io.WriteString(out, text); err != nil {
			t.Error(err)
		}
	}
	send("j" + yes + "k") // nobody listens: it is no key all the same
	if got := read(); got != "jk" {
		t.Errorf("%q", got)
	}
	r.Answered = func(a string) { said = append(said, a) }
	send(yes)
	if got := read(); got != "" || !slices.Equal(said, []string{yes}) {
		t.Errorf("%q, answered %q", got, said)
	}
	// The second half is there before the tail was waited for, in a read of its own.
	send("x" + strings.Repeat("y", 100) + "\x1b[1;")
	joined := make(chan string)
	go func() { joined <- read() }()
	send("5C")
	if got := <-joined; !strings.HasSuffix(got, "y\x1b[1;5C") {
		t.Errorf("%q", got)
	}
	send("\x1b[200~" + yes + "\x1b[201~")
	if got := read(); got != "\x1b[200~"+yes+"\x1b[201~" || len(said) != 1 {
		t.Errorf("in a paste: %q, answered %q", got, said)
	}
	out.Close()
	if n, err := r.Read(buf); n != 0 || err != io.EOF {
		t.Errorf("at the end: %d, %v", n, err)
	}
}
