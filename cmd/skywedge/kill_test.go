//go:build unix

package main

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/examples"
)

// keptList is over the screen when there is kept work.
var keptList = regexp.MustCompile("Nothing is lost")

var nameLine = regexp.MustCompile(`(?m)^name: .*$`)

// The program is killed at any moment of editing and saving. Its file, the version before and the kept work are each
// one whole version, and what the writers left half-written is gone after the next start.
func TestKills(t *testing.T) {
	r := lots(t)
	kills := max(5, int(chaosTime(t).Minutes()*30))
	d := newDesk(t)
	first := examples.Card("1-breakwater")
	d.put("card.yaml", first)
	was := nameLine.Find(first)
	whole := func(_ string, data []byte) string {
		name := nameLine.Find(data)
		known := bytes.Equal(name, was) || bytes.Equal(name, []byte("name: "+string(markPattern.Find(name))))
		if known && bytes.Equal(bytes.Replace(data, name, was, 1), first) {
			return ""
		}
		return fmt.Sprintf("is torn: %q", data)
	}
	marks, saved, strays := 0, 0, 0
	for kill := range kills {
		p := d.openAlone(120, 36, "card.yaml")
		if !d.swept() {
			t.Fatalf("kill %d: after the next start there still is %q", kill, d.strays())
		}
		if list, _ := d.kept(); len(list) > 0 && !p.untilShown(keptList, 0, patience) { // else it may come between two keys
			t.Fatalf("kill %d: kept work is not offered: %q", kill, p.tail())
		}
		if !calm(p, marks) {
			t.Fatalf("kill %d: it left by itself, or its name could not be reached: %q", kill, p.tail())
		}
		before := d.card("card.yaml")
		for end := time.Now().Add(time.Duration(r.IntN(600)) * time.Millisecond); time.Now().Before(end); {
			marks++
			p.send("\r\x15" + markNo(marks) + "\r")
			if r.IntN(3) > 0 {
				p.send("s")
			}
			time.Sleep(time.Duration(r.IntN(30_000)) * time.Microsecond)
		}
		if r.IntN(4) == 0 { // some are killed while the work is kept
			time.Sleep(time.Duration(1800+r.IntN(400)) * time.Millisecond)
		}
		p.signal(syscall.SIGKILL)
		p.wait()
		marks++
		if !bytes.Equal(d.card("card.yaml"), before) {
			saved++
		}
		if wrong := d.broken(p, whole); len(wrong) > 0 {
			t.Fatalf("kill %d:\n%s", kill, strings.Join(wrong, "\n"))
		}
		strays += d.age()
	}
	t.Logf("%d kills, %d after a save at least, %d edits, %d files left half-written and swept", kills, saved, marks, strays)
	if saved == 0 {
		t.Error("nothing was saved in any of them: the test proves nothing")
	}
}
