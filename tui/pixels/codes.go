package pixels

import (
	"encoding/base64"
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Picture is a picture for the terminal and the cells that it covers.
type Picture struct {
	ID               int
	X, Y, Cols, Rows int // cells, from 0
	PNG              []byte
}

// firstID is the number of the first picture; each place on the screen has its own. The numbers of a terminal are shared
// by all that runs in it, so this is one that nobody hits by counting from 1 (ours).
const firstID = 0x5d3a40

// question is the number under which the terminal is asked.
const question = firstID - 1

// Question asks a terminal whether it shows pictures: one that does answers with its number, any other is silent.
func Question() string {
	return ansi.KittyGraphics([]byte("AAAA"), "a=q", "i="+strconv.Itoa(question), "s=1", "v=1", "t=d", "f=24")
}

// cellQuestion asks for the size of a cell in pixels (XTWINOPS 16).
const cellQuestion = "\x1b[16t"

// Every code asks for silence (q=2), also of errors: an answer that nobody awaits any more is typed at the shell.
const silent = "q=2"

// payload is how many letters of a picture go in one code, a multiple of 4. With what is around them they are about a
// kilobyte: so much of a picture a key waits for at the most, over a slow line. The protocol allows 4096.
const payload = 984

// piece is a part of what brings a picture to the terminal.
type piece struct {
	code []byte
	id   int
	more bool // the picture goes on
}

// send returns the pieces that bring a picture to the terminal without showing it.
func (p *Picture) send() []piece {
	text := base64.StdEncoding.EncodeToString(p.PNG)
	var out []piece
	for first := true; first || text != ""; first = false {
		n := min(len(text), payload)
		more := n < len(text)
		keys := []string{silent, "m=0"}
		if more {
			keys[1] = "m=1"
		}
		if first {
			keys = append([]string{"a=t", "f=100", "t=d", "i=" + strconv.Itoa(p.ID)}, keys...)
		}
		out = append(out, piece{[]byte(ansi.KittyGraphics([]byte(text[:n]), keys...)), p.ID, more})
		text = text[n:]
	}
	return out
}

// place returns the code that shows a picture, or shows it again. The cursor stays where it was.
func (p *Picture) place() string {
	return fmt.Sprintf("\x1b7\x1b[%d;%dH", p.Y+1, p.X+1) +
		ansi.KittyGraphics(nil, "a=p", "i="+strconv.Itoa(p.ID), "p=1", fmt.Sprintf("c=%d", p.Cols), fmt.Sprintf("r=%d", p.Rows), "C=1", silent) + "\x1b8"
}

// cutShort ends a picture of which the rest does not come: without it, it is none.
var cutShort = ansi.KittyGraphics(nil, silent, "m=0")

// hide takes a picture off the screen, and free out of the terminal's memory.
func hide(id int) string { return remove("d=i", id) }
func free(id int) string { return remove("d=I", id) }

func remove(how string, id int) string {
	return ansi.KittyGraphics(nil, "a=d", how, "i="+strconv.Itoa(id), silent)
}

// answered reads what the terminal answered: that it shows pictures, or the size of a cell.
func answered(text string) (shows bool, cellW, cellH int) {
	if t, ok := strings.CutPrefix(text, "\x1b_G"); ok {
		keys, said, _ := strings.Cut(strings.TrimSuffix(t, "\x1b\\"), ";")
		for _, k := range strings.Split(keys, ",") {
			shows = shows || k == "i="+strconv.Itoa(question)
		}
		return shows && said == "OK", 0, 0
	}
	if _, err := fmt.Sscanf(text, "\x1b[6;%d;%dt", &cellH, &cellW); err != nil {
		return false, 0, 0
	}
	return false, cellW, cellH
}
