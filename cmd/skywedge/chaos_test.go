//go:build unix

package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// How long the storms last is in SKYWEDGE_CHAOS, as "20s" or "10m"; there are thirty kills a minute and five at
// least. SKYWEDGE_SEED repeats what was typed and drawn by lot, though not the moments of a busy computer.
const (
	chaosVariable = "SKYWEDGE_CHAOS"
	seedVariable  = "SKYWEDGE_SEED"
)

func chaosTime(t *testing.T) time.Duration {
	t.Helper()
	text := os.Getenv(chaosVariable)
	if text == "" {
		return 2 * time.Second
	}
	d, err := time.ParseDuration(text)
	if err != nil {
		t.Fatalf("%s: %v", chaosVariable, err)
	}
	return d
}

// lots returns what the test draws from, and names the seed where the test fails.
func lots(t *testing.T) *rand.Rand {
	t.Helper()
	seed := rand.Uint64()
	if text := os.Getenv(seedVariable); text != "" {
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			t.Fatalf("%s: %v", seedVariable, err)
		}
		seed = n
	}
	t.Cleanup(func() {
		if t.Failed() {
			t.Logf("again with %s=%d", seedVariable, seed)
		}
	})
	return rand.New(rand.NewPCG(seed, 9))
}

// ctrlS stops a terminal that is the shell's again, and is an s to the program.
const ctrlS = 0x13

// stormKeys are all that a keyboard has, as a terminal sends it, but that. There is no slash: what is typed as the
// name of a file stays in the folder of the cards.
var stormKeys = strings.Split("\x1b[A \x1b[B \x1b[C \x1b[D \x1b[H \x1b[F \x1b[5~ \x1b[6~ \x1b[3~ \x1b[2~ \x1b[Z \x1bOP \x1b[15~ \x1b[24~ \x1b[1;5C \x1b[1;3D \x1b[3;3~ "+
	"\x1bd \x1bb \x1bf \x1b\x7f \x1b \x1b \r \r \t \x7f \x7f \x01 \x05 \x0b \x0c \x12 \x15 \x17 \x16 \x03 \x1a + - = _ , . 1 2 3 4 5 6 7 8 9 0 "+
	"a b c d e f g h i j k l m n o p q r s t u v w x y z A E G J K N R S T ? ! : ; ( [ { ' \" # % & * | é ° 日", " ")

// halves are sequences that end too early, or begin with nothing, or go on too long.
var halves = []string{"\x1b[", "\x1b[1;", "\x1b[200", "\x1b[201~", "\x1b[<0;12", "\x1b[<0;", "\x1b[M", "\x1b[M !", "\x1bO", "\x1b]0;name", "\x1b]11;rgb:ff", "\x1bP1", "\x9b3",
	"\x1b\x1b\x1b", "\x1b[?", "\x1b[999999999999999999999A", "\x1b[<999999999;999999999;999999999M", "\x1b[<-1;-1;0M", "\xe2\x96", "\xff\xfe", "\xc0\x80", "\x00", "\x1b[I", "\x1b[O", "\x1b[1;2R", "\x18"}

// gust is one thing that happens: what to type, or a size.
func gust(r *rand.Rand) (keys string, w, h int) {
	text := func(n int) string {
		var b strings.Builder
		for range n {
			switch r.IntN(8) {
			case 0:
				b.WriteString("\n: ")
			case 1:
				b.WriteRune([]rune("日é°\u200b\u202e🛩\t-[{#&*'\"")[r.IntN(15)])
			default:
				b.WriteByte(byte('a' + r.IntN(26)))
			}
		}
		return b.String()
	}
	switch n := r.IntN(100); {
	case n < 8:
		return "", 1 + r.IntN(500), 1 + r.IntN(200)
	case n < 10:
		return "", 1 + r.IntN(3), 1 + r.IntN(3)
	case n < 15:
		return "\x1b[200~" + text(r.IntN(300)) + "\x1b[201~", 0, 0
	case n < 16:
		return "\x1b[200~" + text(r.IntN(9000)) + "\x1b[201~", 0, 0
	case n < 17:
		return "\x1b[200~" + text(r.IntN(300)), 0, 0
	case n < 24:
		return fmt.Sprintf("\x1b[<%d;%d;%d%c", r.IntN(70), r.IntN(520), r.IntN(210), "Mm"[r.IntN(2)]), 0, 0
	case n < 26:
		return "\x1b[M" + string([]byte{byte(32 + r.IntN(90)), byte(33 + r.IntN(14)), byte(33 + r.IntN(14))}), 0, 0
	case n < 33:
		return halves[r.IntN(len(halves))], 0, 0
	case n < 36:
		b := make([]byte, 1+r.IntN(20))
		for i := range b {
			if b[i] = byte(r.IntN(256)); b[i] == '/' || b[i] == ctrlS {
				b[i] = ' '
			}
		}
		return string(b), 0, 0
	case n < 46: // a field is opened, filled and kept or not
		return "\r" + text(1+r.IntN(6)) + []string{"\r", "\x1b[B", "\t", "\x1b[Z", ""}[r.IntN(5)], 0, 0
	case n < 52:
		return strings.Repeat(stormKeys[r.IntN(len(stormKeys))], 1+r.IntN(30)), 0, 0
	}
	return stormKeys[r.IntN(len(stormKeys))], 0, 0
}

// storm lets things happen for a while.
func storm(p *live, r *rand.Rand, d time.Duration) (n int) {
	const much = 20_000 // cells: so large a picture is drawn for a while only, or little else would happen
	large := false
	for end := time.Now().Add(d); time.Now().Before(end) && !p.gone(); n++ {
		keys, w, h := gust(r)
		if n%(10+r.IntN(40)) == 0 || large { // under the race detector a large one takes a second to draw
			p.settle()
			if large {
				keys, w, h = "", 1+r.IntN(200), 1+r.IntN(60)
			}
		}
		if (keys == "q" || keys == "\x03") && r.IntN(8) > 0 {
			continue // or most storms were short
		}
		if w > 0 {
			p.resize(w, h)
			large = w*h > much
		} else {
			p.send(keys)
		}
		if r.IntN(3) == 0 {
			time.Sleep(time.Duration(r.IntN(20)) * time.Millisecond)
		}
	}
	if large { // what is still on its way is drawn within the patience of the test
		p.resize(80, 24)
	}
	return n
}

// markNo is the name that the n-th known edit gives to a card.
func markNo(n int) string { return fmt.Sprintf("mark%dx", n) }

// sawMark waits until the line of the card's name shows a mark that was typed there.
func sawMark(p *live, n, from int, atMost time.Duration) bool {
	return p.untilShown(regexp.MustCompile(`name +(\x1b\[[0-9;]*m)*`+markNo(n)), from, atMost)
}

var markPattern = regexp.MustCompile(`mark(\d+)x`)

// typing is on the bottom line while a field is open.
var typing = regexp.MustCompile(`Enter (\x1b\[[0-9;]*m)*keep`)

// calm goes from anywhere to the name of a card and gives it a mark; false when the program has ended. Esc leaves
// whatever is open and throws nothing away.
func calm(p *live, n int) bool {
	p.t.Helper()
	p.resize(120, 36)
	p.send("\x1b[201~")
	p.rest()
	for try := range 12 {
		for range 3 + 4*min(try, 2) {
			p.send("\x1b")
			time.Sleep(40 * time.Millisecond)
		}
		p.settle()
		from, atMost := p.written(), time.Duration(2+try)*time.Second
		p.send("/name\r") // find goes there, whatever else the form shows
		p.settle()
		p.send("\r")
		if p.untilShown(typing, from, atMost) { // else the mark would be so many commands
			p.send("\x15" + markNo(n) + "\r")
			if sawMark(p, n, from, atMost) {
				return true
			}
		}
		if p.gone() {
			return false
		}
	}
	// Keys of the storm can leave it where this way does not lead. It must still answer: a hung program is a failure.
	from := p.written()
	p.send("\x0c")
	for end := time.Now().Add(patience); p.written() == from && !p.gone(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			p.hangs("does not draw the screen anew")
		}
	}
	return false
}

// known are edits that the test knows: the marks, and when each was seen on the screen.
type known struct {
	from int
	seen []time.Time
}

// edit marks the name of the card again and again, under which the cursor is.
func (k *known) edit(p *live, r *rand.Rand, d time.Duration) {
	p.t.Helper()
	for end := time.Now().Add(d); time.Now().Before(end); {
		n, from := k.from+len(k.seen), p.written()
		p.send("\r\x15" + markNo(n) + "\r")
		if !sawMark(p, n, from, patience/3) {
			return // keys of the storm that were still on their way came between
		}
		k.seen = append(k.seen, time.Now())
		time.Sleep(time.Duration(r.IntN(250)) * time.Millisecond)
	}
}

// last returns the last mark that was seen a while before an end, −1 for none.
func (k *known) last(end time.Time, before time.Duration) int {
	n := -1
	for i, at := range k.seen {
		if end.Sub(at) > before {
			n = k.from + i
		}
	}
	return n
}

// newestKept returns the newest mark in the kept work, in a document or in the field that was being typed.
func (d *desk) newestKept() int {
	n := -1
	list, _ := d.kept()
	for _, r := range list {
		for _, m := range markPattern.FindAllSubmatch(append(bytes.Clone(r.Data), r.Typing.Text...), -1) {
			if i, err := strconv.Atoi(string(m[1])); err == nil {
				n = max(n, i)
			}
		}
	}
	return n
}

// wholeCard says what is wrong with what should be a card or a bag.
func wholeCard(name string, data []byte) string {
	if c, faults := shot.ReadCard(name, data); c != nil && c.Doc != nil || len(faults) == 0 {
		return ""
	}
	if b, _ := kit.ReadBag(name, data); b != nil {
		return ""
	}
	return fmt.Sprintf("is torn: %q", data[:min(len(data), 400)])
}

// Whatever is typed, pasted, clicked and resized, and however it ends: no panic and no race, the program leaves when
// it is told to, the terminal is as it was found, every file is whole, and everything that was edited more than three
// seconds before a kill is kept, everything at all before any other end.
func TestChaos(t *testing.T) {
	r, atMost := lots(t), chaosTime(t)
	share := min(atMost/3, 3*time.Second)
	var d *desk
	marks, counts := 0, map[string]int{}
	for round, end := 0, time.Now().Add(atMost); round == 0 || time.Now().Before(end); round++ {
		if round%8 == 0 {
			d = newDesk(t)
			for _, name := range examples.Cards() {
				d.put(name, examples.Card(name))
			}
			d.put("bag.yaml", examples.Bag())
		}
		args := [][]string{nil, {"."}, {"1-breakwater.yaml"}, {"1-breakwater.yaml", "new.yaml", "--ascii"}}[r.IntN(4)]
		p := d.open(1+r.IntN(200), 1+r.IntN(60), args...)
		counts["things that happened"] += storm(p, r, time.Duration(r.Int64N(int64(share))))
		k := known{from: marks}
		if r.IntN(4) > 0 && calm(p, marks) {
			k.seen = append(k.seen, time.Now())
			k.edit(p, r, time.Duration(r.Int64N(int64(2*share))))
			marks += len(k.seen)
			counts["edits known"] += len(k.seen)
		}
		how := []string{"killed", "killed", "told by a signal", "Ctrl-C"}[r.IntN(4)]
		if p.gone() {
			how = "left by itself"
		}
		before := time.Duration(0)
		ended := time.Now()
		switch how {
		case "killed":
			before = 3 * time.Second
			p.signal(syscall.SIGKILL)
			p.wait()
		case "told by a signal":
			p.signal([]syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGINT}[r.IntN(4)])
		case "Ctrl-C": // the first may close what is open, the next asks, one more leaves
			for range 600 {
				if p.send("\x03"); p.gone() {
					break
				}
				time.Sleep(50 * time.Millisecond)
			}
		}
		counts[how]++
		var wrong []string
		if how != "killed" {
			wrong = p.left()
		}
		wrong = append(wrong, d.broken(p, wholeCard)...)
		if how != "left by itself" {
			if want, got := k.last(ended, before), d.newestKept(); want > got {
				wrong = append(wrong, fmt.Sprintf("mark %d was seen %v before the end, and %d is the newest that is kept", want, ended.Sub(k.seen[want-k.from]), got))
			} else if want >= 0 {
				counts["ends with all kept"]++
			}
		}
		counts["strays"] += d.age()
		if len(wrong) > 0 {
			t.Fatalf("round %d, %q, %s:\n%s\nthe last it wrote: %q", round, args, how, strings.Join(wrong, "\n"), p.tail())
		}
	}
	t.Log(counts)
}
