//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.org/skywedge/plan/store"
	"github.com/creack/pty"
)

// patience is how long the program may take for anything; only a failing test waits as long. The race detector on a
// busy computer makes it slow.
const patience = 90 * time.Second

// desk is what outlives the program: a folder with cards, and the folders of the user.
type desk struct {
	t    *testing.T
	home string
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{t, t.TempDir()}
	if err := os.MkdirAll(d.cards(), 0o755); err != nil {
		t.Fatal(err)
	}
	return d
}

// put lays a file among the cards.
func (d *desk) put(name string, data []byte) {
	d.t.Helper()
	if err := os.WriteFile(filepath.Join(d.cards(), name), data, 0o644); err != nil {
		d.t.Fatal(err)
	}
}

// card returns what a file of the folder holds, nothing of one that is not there.
func (d *desk) card(name string) []byte {
	data, _ := os.ReadFile(filepath.Join(d.cards(), name))
	return data
}

func (d *desk) cards() string { return filepath.Join(d.home, "cards") }
func (d *desk) state() string { return filepath.Join(d.home, "state", "skywedge") }

// live is the program on a terminal, under a shell that says how it left it. Nobody draws what it shows: the bytes
// are searched, so that hundreds of windows cost little.
type live struct {
	t     *testing.T
	cmd   *exec.Cmd
	tty   *os.File
	keys  chan []byte
	ended chan struct{}

	mu  sync.Mutex
	raw []byte
}

// underShell compares the settings of the terminal before and after. The shell hears what signals the group gets
// and goes on.
const underShell = `trap : HUP INT QUIT TERM TSTP; was=$(stty -g); "$0" "$@"; code=$?
[ "$was" = "$(stty -g)" ] && is=same || is=changed
echo "left with $code, $is"`

// open starts the program in the folder of the cards, under the shell, and waits until it owns the screen.
func (d *desk) open(w, h int, args ...string) *live {
	d.t.Helper()
	return d.start(w, h, "sh", append([]string{"-c", underShell, liveProgram}, args...)...)
}

// openAlone does without the shell: what is killed is then taken notice of at once, while an orphan stays in the
// system's list for as long as its first process likes.
func (d *desk) openAlone(w, h int, args ...string) *live {
	d.t.Helper()
	return d.start(w, h, liveProgram, args...)
}

func (d *desk) start(w, h int, name string, args ...string) *live {
	d.t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = d.cards()
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8", "HOME=" + d.home,
		"XDG_STATE_HOME=" + filepath.Join(d.home, "state"), "XDG_CONFIG_HOME=" + filepath.Join(d.home, "config"),
		"TMPDIR=" + os.Getenv("TMPDIR"), "GORACE=exitcode=0 atexit_sleep_ms=0 log_path=" + filepath.Join(d.home, "race")}
	tty, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)})
	if err != nil {
		d.t.Skip("no pseudo-terminal here: ", err)
	}
	p := &live{t: d.t, cmd: cmd, tty: tty, keys: make(chan []byte, 8), ended: make(chan struct{})}
	go func() {
		buf := make([]byte, 1<<16)
		for {
			n, err := tty.Read(buf)
			p.mu.Lock()
			p.raw = append(p.raw, buf[:n]...)
			p.mu.Unlock()
			if err != nil { // nobody holds the other end
				close(p.ended)
				return
			}
		}
	}()
	go func() {
		for {
			select {
			case b := <-p.keys:
				_, _ = tty.Write(b)
			case <-p.ended:
				return
			}
		}
	}()
	d.t.Cleanup(func() {
		p.signal(syscall.SIGKILL)
		select {
		case <-p.ended:
		case <-time.After(patience): // somebody else holds the terminal
		}
		_ = cmd.Wait()
		_ = tty.Close()
	})
	if !p.until("\x1b[?1049h", 0, patience) || !p.until("\x1b[?25l", 0, patience) {
		d.t.Fatalf("the program did not start: %q", p.tail())
	}
	return p
}

// signal goes to the program and its shell.
func (p *live) signal(sig syscall.Signal) { _ = syscall.Kill(-p.cmd.Process.Pid, sig) }

func (p *live) resize(w, h int) {
	_ = pty.Setsize(p.tty, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)})
}

// send types. A program that takes no keys for long fails the test.
func (p *live) send(keys string) {
	p.t.Helper()
	select {
	case p.keys <- []byte(keys):
	case <-p.ended:
	case <-time.After(patience):
		p.hangs("takes no keys")
	}
}

// hangs fails the test, and has the program say where it stands.
func (p *live) hangs(what string) {
	p.t.Helper()
	was := p.tail()
	p.signal(syscall.SIGABRT)
	select {
	case <-p.ended:
	case <-time.After(patience):
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	stacks := p.raw[max(0, bytes.LastIndex(p.raw, []byte("SIGABRT"))):]
	p.t.Fatalf("the program %s; the last it wrote: %q; it stands at\n%s", what, was, stacks[:min(len(stacks), 40_000)])
}

// settle waits until nothing was written for a moment, no longer than a second, so that what is typed does not run
// away from a busy computer.
func (p *live) settle() { p.quiet(30*time.Millisecond, time.Second) }

// rest waits until all that was typed has been taken.
func (p *live) rest() { p.quiet(400*time.Millisecond, patience) }

func (p *live) quiet(moment, atMost time.Duration) {
	last, since := p.written(), time.Now()
	for end := time.Now().Add(atMost); time.Since(since) < moment && time.Now().Before(end) && !p.gone(); time.Sleep(5 * time.Millisecond) {
		if n := p.written(); n != last {
			last, since = n, time.Now()
		}
	}
}

// gone tells whether the program has ended.
func (p *live) gone() bool {
	select {
	case <-p.ended:
		return true
	default:
		return false
	}
}

// written returns how much it has written.
func (p *live) written() int { p.mu.Lock(); defer p.mu.Unlock(); return len(p.raw) }

// tail returns the last that it wrote.
func (p *live) tail() string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return string(p.raw[max(0, len(p.raw)-1500):])
}

// until waits until the program writes a text after so many bytes, and tells whether it did.
func (p *live) until(text string, from int, atMost time.Duration) bool {
	return p.untilMatch(regexp.MustCompile(regexp.QuoteMeta(text)), from, atMost)
}

// untilMatch is the same for an expression, of which no match is longer than a line.
func (p *live) untilMatch(text *regexp.Regexp, from int, atMost time.Duration) bool {
	return p.untilSeen(text, from, atMost, func() {})
}

// untilShown is the same for what stands on the screen. What stood there before, in the same cells, is not written again:
// the screen is asked for anew.
func (p *live) untilShown(text *regexp.Regexp, from int, atMost time.Duration) bool {
	const often = 150 * time.Millisecond
	asked := time.Now()
	return p.untilSeen(text, from, atMost, func() {
		if time.Since(asked) > often {
			asked = time.Now()
			p.send("\x0c")
		}
	})
}

func (p *live) untilSeen(text *regexp.Regexp, from int, atMost time.Duration, meanwhile func()) bool {
	const line = 500
	for end := time.Now().Add(atMost); ; time.Sleep(2 * time.Millisecond) {
		meanwhile()
		over := p.gone() || time.Now().After(end)
		p.mu.Lock()
		found := text.Match(p.raw[from:])
		from = max(from, len(p.raw)-line)
		p.mu.Unlock()
		if found || over {
			return found
		}
	}
}

// wait waits for the end.
func (p *live) wait() {
	p.t.Helper()
	select {
	case <-p.ended:
	case <-time.After(patience):
		p.hangs("did not leave")
	}
	_ = p.cmd.Wait()
}

var leftWith = regexp.MustCompile(`left with (\d+), (\w+)`)

// left looks how the program left: with no failure, and the terminal as it was found.
func (p *live) left() (wrong []string) {
	p.wait()
	p.mu.Lock()
	defer p.mu.Unlock()
	said := leftWith.FindSubmatch(p.raw)
	switch {
	case said == nil:
		return append(wrong, "the shell did not come back")
	case string(said[1]) != "0":
		wrong = append(wrong, "exit code "+string(said[1]))
	}
	if string(said[2]) != "same" {
		wrong = append(wrong, "the settings of the terminal were changed")
	}
	for mode, want := range map[string]byte{"?1049": 'l', "?1002": 'l', "?1003": 'l', "?1006": 'l', "?2004": 'l', "?2026": 'l', "?25": 'h'} {
		on, off := bytes.LastIndex(p.raw, []byte("\x1b["+mode+"h")), bytes.LastIndex(p.raw, []byte("\x1b["+mode+"l"))
		if (on > off) != (want == 'h') && (on >= 0 || off >= 0) {
			wrong = append(wrong, fmt.Sprintf("mode %s was left %v", mode, on > off))
		}
	}
	return wrong
}

// broken looks for what no program may leave behind: a panic, a race, a failure in its log, a file or kept work that
// cannot be read.
func (d *desk) broken(p *live, whole func(name string, data []byte) string) (wrong []string) {
	p.mu.Lock()
	for _, bad := range []string{"panic:", "goroutine ", "DATA RACE", "the workbench failed", "fatal error:"} {
		if i := bytes.Index(p.raw, []byte(bad)); i >= 0 {
			wrong = append(wrong, fmt.Sprintf("it wrote %q", p.raw[max(0, i-200):min(len(p.raw), i+3000)]))
		}
	}
	p.mu.Unlock()
	if text, err := os.ReadFile(filepath.Join(d.state(), "log")); err == nil {
		wrong = append(wrong, fmt.Sprintf("its log: %s", text))
	}
	wrong = append(wrong, d.races()...)
	files, err := os.ReadDir(d.cards())
	if err != nil {
		wrong = append(wrong, err.Error())
	}
	for _, f := range files {
		if strings.HasSuffix(f.Name(), ".tmp") || f.IsDir() {
			continue
		}
		data, err := os.ReadFile(filepath.Join(d.cards(), f.Name()))
		if err != nil {
			wrong = append(wrong, err.Error())
		} else if said := whole(f.Name(), data); said != "" {
			wrong = append(wrong, f.Name()+" "+said)
		}
	}
	kept, torn := d.kept()
	for _, r := range kept {
		if said := whole(filepath.Base(r.Path), r.Data); said != "" {
			wrong = append(wrong, "kept work on "+r.Path+" "+said)
		}
	}
	return append(wrong, torn...)
}

// races returns what the race detector reported, but for one of the runtime with itself: who is suspended and resized
// at once has it look for its output (checkResize) while it sets it anew to what it was (initInput, version 1.3.10).
func (d *desk) races() (found []string) {
	files, _ := filepath.Glob(filepath.Join(d.home, "race*"))
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			return append(found, err.Error())
		}
		for _, report := range strings.Split(string(text), "==================\n") {
			own := strings.Contains(report, "bubbletea.(*Program).checkResize()") && strings.Contains(report, "bubbletea.(*Program).initInput()")
			if strings.Contains(report, "WARNING: DATA RACE") && !own {
				found = append(found, report)
			}
		}
	}
	return found
}

// kept reads all kept work.
func (d *desk) kept() (list []store.Recovery, torn []string) {
	files, _ := filepath.Glob(filepath.Join(d.state(), "recovery", "*.recovery"))
	for _, f := range files {
		r, err := store.Recovery{File: f}.Read()
		if err != nil {
			torn = append(torn, err.Error())
			continue
		}
		list = append(list, r)
	}
	return list, torn
}

// strays lists what killed writers left half-written.
func (d *desk) strays() []string {
	a, _ := filepath.Glob(filepath.Join(d.cards(), ".skywedge-*"))
	b, _ := filepath.Glob(filepath.Join(d.state(), "recovery", ".skywedge-*"))
	return slices.Concat(a, b)
}

// age makes the strays old enough to be swept, and returns how many there are.
func (d *desk) age() int {
	list := d.strays()
	for _, name := range list {
		then := time.Now().Add(-time.Minute)
		_ = os.Chtimes(name, then, then)
	}
	return len(list)
}

// swept waits until a program that has started has taken the strays away.
func (d *desk) swept() bool {
	for end := time.Now().Add(patience); len(d.strays()) > 0; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			return false
		}
	}
	return true
}
