package input

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"
)

const yes = "\x1b_Gi=6109759;OK\x1b\\"

func TestAnswersAreTakenOut(t *testing.T) {
	for _, c := range []struct {
		read []string
		keys string
		said []string
	}{
		{[]string{"j" + yes + "k"}, "jk", []string{yes}},
		{[]string{yes + "\x1b[6;18;9t"}, "", []string{yes, "\x1b[6;18;9t"}},
		{[]string{"j\x1b_Gi=61", "09759;O", "K\x1b", "\\k"}, "jk", []string{yes}},
		{[]string{"\x1b[6;5~\x1b[6~"}, "\x1b[6;5~\x1b[6~", nil},                   // Ctrl-PgDn, PgDn
		{[]string{"\x1b[6;18tj\x1b[6;1;2;3tk"}, "\x1b[6;18tj\x1b[6;1;2;3tk", nil}, // neither has a height and a width
		{[]string{"\x1b_x\x1b_"}, "\x1b_x\x1b_", nil},                             // Alt and an underscore
		{[]string{"\x1b[200~" + yes + "\x1b[201~" + yes}, "\x1b[200~" + yes + "\x1b[201~", []string{yes}},
		{[]string{"\x1b_Gi=1;" + strings.Repeat("E", 400) + "\x1b\\j"}, "j", []string{"\x1b_Gi=1;" + strings.Repeat("E", 400) + "\x1b\\"}},
		{[]string{"\x1b_Gi=1;" + strings.Repeat("E", 1400) + "j"}, strings.Repeat("E", 7+1400-longestAnswer) + "j", nil},
		// Without an end: what no answer has is a key again, and so is what follows.
		{[]string{"\x1b_Gi=1;OK", "\x03q"}, "\x03q", nil},
		{[]string{"\x1b_Gi=1;OK\x1b[Bq"}, "\x1b[Bq", nil},
		{[]string{"\x1b_Gi=1;OK", "\rq"}, "\rq", nil},
		{[]string{"\x1b_Gi=1;OK", "éq"}, "éq", nil},
		{[]string{"\x1b_Gi=1;OK" + yes + "q"}, "q", []string{yes}},
		{[]string{"\x1b_Gi=1;OK\x07q", "\x1b_Gi=1;OK\x9cq"}, "qq", nil},
	} {
		var a answers
		at := time.Now()
		keys := ""
		var said []string
		for _, r := range c.read {
			b := []byte(r)
			n, s := a.take(b, false, at)
			keys += string(b[:n])
			said = append(said, s...)
		}
		if keys != c.keys || !slices.Equal(said, c.said) {
			t.Errorf("%q: keys %q, answers %q", c.read, keys, said)
		}
	}
}

// An answer that pauses for long has lost its end: what comes then is typed.
func TestAnAnswerThatStops(t *testing.T) {
	for _, c := range []struct {
		pause time.Duration
		keys  string
	}{{answerWait / 2, ""}, {2 * answerWait, "q"}} {
		var a answers
		at := time.Now()
		a.take([]byte("\x1b_Gi=1;OK"), false, at)
		b := []byte("q")
		if n, _ := a.take(b, false, at.Add(c.pause)); string(b[:n]) != c.keys {
			t.Errorf("after %v: %q", c.pause, b[:n])
		}
	}
}

// Keys and answers that arrive in any pieces: the keys come through whole and in their order, and every answer is heard.
func TestAnswersBetweenKeys(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	keys := []string{"j", "\x1b[A", "\x1bOP", "\x1b[<32;118;35M", "é", "\x1b[6;5~", "\x1b[200~text\x1b[201~", "\r"}
	for round := range 300 {
		var sent, typed strings.Builder
		var want []string
		for range 30 {
			if rnd.Intn(5) == 0 {
				a := []string{yes, fmt.Sprintf("\x1b[6;%d;%dt", rnd.Intn(40), rnd.Intn(20)), "\x1b_Gi=6109759;ENODATA: too little\x1b\\"}[rnd.Intn(3)]
				sent.WriteString(a)
				want = append(want, a)
				continue
			}
			k := keys[rnd.Intn(len(keys))]
			sent.WriteString(k)
			typed.WriteString(k)
		}
		p := &pieces{}
		for rest := sent.String(); rest != ""; {
			n := min(len(rest), 1+rnd.Intn(100))
			p.parts, rest = append(p.parts, rest[:n]), rest[n:]
		}
		var f paste
		var a answers
		var got strings.Builder
		var said []string
		buf := make([]byte, 256)
		for {
			inPaste := f.isOpen()
			n, err := f.read(p, buf)
			if err != nil {
				break
			}
			n, s := a.take(buf[:n], inPaste, time.Time{})
			got.Write(buf[:n])
			said = append(said, s...)
		}
		if got.String() != typed.String() || !slices.Equal(said, want) {
			t.Fatalf("round %d: %q became %q and %q", round, sent.String(), got.String(), said)
		}
	}
}
