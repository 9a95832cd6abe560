package input

import (
	"bytes"
	"io"
	"strings"
	"testing"
)

// readAll reads a terminal to its end with the runtime's small buffer.
func readAll(t testing.TB, s source) (got string, reads int) {
	t.Helper()
	var p paste
	var all strings.Builder
	buf := make([]byte, 256)
	for {
		n, err := p.read(s, buf)
		if err != nil {
			return all.String(), reads
		}
		all.Write(buf[:n])
		reads++
	}
}

// A paste that is whole goes through as it is, however it is cut, and a Ctrl-C in the middle of one is text.
func TestAWholePasteIsLeftAlone(t *testing.T) {
	for _, parts := range [][]string{
		{"a\x1b[200~two\nlines\x1b[201~b"},
		{"a\x1b[20", "0~two\nli", "nes\x1b[2", "01~b"},
		{"\x1b[200~" + strings.Repeat("a book ", 200), "\x1b[201~"},
		{"\x1b[200~a\x03", "b\x1b[201~"},
		{"\x1b[200~\x1b[200~\x1b[201~", "jj"},
		{"\x1b[201~\x03"},
	} {
		want := strings.Join(parts, "")
		if got, _ := readAll(t, &pieces{parts: parts}); got != want {
			t.Errorf("%q became %q", want, got)
		}
	}
}

// A paste whose end does not come is ended: after a while, and at once by Ctrl-C.
func TestAnOpenPasteIsEnded(t *testing.T) {
	for _, c := range []struct {
		parts []string
		late  bool
		want  string
	}{
		{[]string{"\x1b[200~text", "q"}, true, "\x1b[200~text\x1b[201~q"},
		{[]string{"\x1b[200~text"}, false, "\x1b[200~text\x1b[201~"},
		{[]string{"\x1b[200~te", "xt\x03"}, false, "\x1b[200~text\x1b[201~\x03"},
		{[]string{"\x1b[200~text\x03\x03"}, true, "\x1b[200~text\x1b[201~\x03\x03"},
		{[]string{"\x1b[200~" + strings.Repeat("x", 218)}, true, "\x1b[200~" + strings.Repeat("x", 218) + "\x1b[201~"},
	} {
		if got, _ := readAll(t, &pieces{parts: c.parts, late: c.late}); got != c.want {
			t.Errorf("%q became %q", c.parts, got)
		}
	}
}

// Whatever a terminal sends, in whatever pieces: nothing is lost, changed or kept back, nothing is added but the ends
// of pastes, and none is left open in the end.
func FuzzReader(f *testing.F) {
	for _, s := range []string{"jjj", "\x1b", "\x1b[1;5C", "\x1b[<0;12;5M", "\x1b[M !", "\x1bO", "\x1b[200~a\x1b[201~", "\x1b[200~a\x03", "\x1b[20\x1b[200~",
		"\x1b[200~\x1b[201", "é\xff\xe2\x96", "\x1b]11;rgb:ff", strings.Repeat("\x1b[200~", 60)} {
		f.Add([]byte(s), uint8(3), false)
		f.Add([]byte(s+"\x1b[A"+s), uint8(200), true)
	}
	f.Fuzz(func(t *testing.T, sent []byte, size uint8, late bool) {
		p := &pieces{late: late}
		for rest := sent; len(rest) > 0; {
			n := min(len(rest), 1+int(size))
			p.parts, rest = append(p.parts, string(rest[:n])), rest[n:]
		}
		var f paste
		var got []byte
		buf := make([]byte, 256)
		room := 0 // for a mark after the last read
		for {
			n, err := f.read(p, buf)
			if err == io.EOF {
				break
			}
			if err != nil || n < 1 || n > len(buf) {
				t.Fatalf("%d bytes, %v", n, err)
			}
			got, room = append(got, buf[:n]...), len(buf)-n
		}
		if f.open && room >= len(pasteCloses) {
			t.Fatalf("%q leaves a paste open: %q", sent, got)
		}
		rest := sent
		for i := 0; i < len(got); {
			switch {
			case len(rest) > 0 && got[i] == rest[0] && !(bytes.HasPrefix(got[i:], []byte(pasteCloses)) && !bytes.HasPrefix(rest, []byte(pasteCloses))):
				rest = rest[1:]
				i++
			case bytes.HasPrefix(got[i:], []byte(pasteCloses)):
				i += len(pasteCloses)
			default:
				t.Fatalf("%q became %q", sent, got)
			}
		}
		if len(rest) > 0 {
			t.Fatalf("of %q is lost %q", sent, rest)
		}
	})
}
