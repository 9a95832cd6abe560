package input

import (
	"io"
	"math/rand"
	"strings"
	"testing"
)

func TestIncomplete(t *testing.T) {
	for _, c := range []struct {
		bytes string
		want  bool
	}{
		{"", false}, {"a", false}, {"jjj", false}, {"\x1b", true}, {"a\x1b", true},
		{"\x1b[", true}, {"\x1b[A", false}, {"\x1b[1;5", true}, {"\x1b[1;5C", false},
		{"\x1b[<0;12;5", true}, {"\x1b[<0;12;5M", false}, {"\x1b[<0;12;5Mx", false},
		{"\x1b[M", true}, {"\x1b[M !", true}, {"\x1b[M !!", false},
		{"\x1bO", true}, {"\x1bOP", false}, {"\x1b[[", true}, {"\x1b[[A", false},
		{"\x1ba", false}, {"\x1b\x1b[A", false}, {"\x1b\x1b", true},
		{"\x1b[200~some text", false}, {"\xe2", true}, {"\xe2\x96", true}, {"\xe2\x96\x80", false}, {"\x1b\xc3", true},
		{"\x1b[5~", false}, {"\x1b[15", true},
	} {
		if got := incomplete([]byte(c.bytes)); got != c.want {
			t.Errorf("incomplete(%q) = %v, want %v", c.bytes, got, c.want)
		}
	}
}

// pieces is a terminal that delivers its bytes in given pieces. late pieces do not come within the
// time that a tail waits.
type pieces struct {
	parts []string
	late  bool
	waits int
}

func (p *pieces) Read(b []byte) (int, error) {
	if len(p.parts) == 0 {
		return 0, io.EOF
	}
	n := copy(b, p.parts[0])
	if p.parts[0] = p.parts[0][n:]; p.parts[0] == "" {
		p.parts = p.parts[1:]
	}
	return n, nil
}

func (p *pieces) ready(int) bool { p.waits++; return !p.late && len(p.parts) > 0 }

func TestReadJoinsACutSequence(t *testing.T) {
	p := &pieces{parts: []string{"x\x1b[", "1;5", "C", "y"}}
	buf := make([]byte, 256)
	n, err := readRuns(p, buf)
	if err != nil || string(buf[:n]) != "x\x1b[1;5C" {
		t.Fatalf("got %q, %v", buf[:n], err)
	}
}

func TestReadGivesALoneEscAfterTheWait(t *testing.T) {
	p := &pieces{parts: []string{"\x1b", "j"}, late: true}
	buf := make([]byte, 256)
	n, err := readRuns(p, buf)
	if err != nil || string(buf[:n]) != "\x1b" || p.waits != 1 {
		t.Fatalf("got %q, %v after %d waits", buf[:n], err, p.waits)
	}
}

func TestReadDoesNotWaitForPlainText(t *testing.T) {
	p := &pieces{parts: []string{"jjj"}}
	if _, err := readRuns(p, make([]byte, 256)); err != nil || p.waits != 0 {
		t.Fatalf("%v, %d waits", err, p.waits)
	}
}

// A long burst of mouse reports, cut anywhere and read into the small buffer that the runtime
// uses, arrives as whole reports and complete.
func TestReadNeverEndsInsideAMouseReport(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for round := 0; round < 200; round++ {
		all := strings.Repeat("\x1b[<32;118;35M\x1b[<0;7;5m", 60)
		var parts []string
		for rest := all; rest != ""; {
			n := min(len(rest), 1+rnd.Intn(400))
			parts, rest = append(parts, rest[:n]), rest[n:]
		}
		p := &pieces{parts: parts}
		var got strings.Builder
		buf := make([]byte, 256)
		for {
			n, err := readRuns(p, buf)
			if err != nil {
				break
			}
			if incomplete(buf[:n]) || n == len(buf) && buf[n-1] != 'M' && buf[n-1] != 'm' {
				t.Fatalf("a read ends inside a report: %q", buf[:n])
			}
			got.Write(buf[:n])
		}
		if got.String() != all {
			t.Fatal("bytes were lost or changed")
		}
	}
}
