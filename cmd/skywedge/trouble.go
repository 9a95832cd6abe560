package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
	"github.com/charmbracelet/x/ansi"
)

// pathTrouble is what is wrong with a file: why, what to do, and which file, in this order. A path may be
// longer than a line; what helps must not stand behind it.
type pathTrouble struct {
	verb           string // read, write
	path           string
	reason, remedy string // "" as err says
	err            error
	code           int // 0: it failed
}

func (t *pathTrouble) Unwrap() error { return t.err }

func (t *pathTrouble) Error() string { return t.why() + ": " + nameOf(t.path) }

// why is the reason and the remedy, without the path.
func (t *pathTrouble) why() string {
	reason, remedy := t.reason, t.remedy
	if reason == "" {
		reason, remedy = said(t.verb, t.path, t.err)
	}
	if remedy != "" {
		reason += "; " + remedy
	}
	return reason
}

// said puts an error of the system so that it helps.
func said(verb, path string, err error) (reason, remedy string) {
	var known *store.FileError
	switch {
	case errors.As(err, &known) && known.Remedy != "" && !errors.Is(err, syscall.ENOSPC):
		return known.Reason, known.Remedy
	case errors.Is(err, fs.ErrNotExist) && verb == "read":
		if _, err := os.Lstat(path); err == nil {
			return "a link to a file that is gone", "mend the link or remove it"
		}
		return "no such file", "check its name and folder"
	case errors.Is(err, fs.ErrPermission) && verb == "read":
		return "no permission to read it", "change its permissions"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to " + verb + " it", "change its permissions or name another"
	case errors.Is(err, syscall.ENOSPC):
		return "no space left to " + verb + " it", "make room or name another"
	case errors.Is(err, syscall.ELOOP):
		return "a link that leads in a circle", "mend the link or remove it"
	}
	var pe *fs.PathError
	switch { // less the path, which comes last
	case errors.As(err, &pe):
		err = pe.Err
	case known != nil && known.Err != nil:
		err = known.Err
	}
	return "cannot " + verb + " it: " + field.Clean(err.Error(), 300), ""
}

// bothWrong is a card with faults whose bag, moreover, cannot be read.
type bothWrong struct {
	faults field.Faults
	err    error
}

func (b *bothWrong) Error() string { return b.err.Error() }

func (b *bothWrong) Unwrap() []error { return []error{b.err, b.faults} }

// badValue is a value of a flag that shows itself to be wrong only when the card is known.
type badValue struct{ error }

// bagForCard refuses a bag where a card is wanted.
func bagForCard(path string) error {
	return &pathTrouble{path: path, reason: "a bag, not a card", remedy: "give it with --bag", code: exitInvalid}
}

// pathForCard refuses a path where a card is wanted.
func pathForCard(path string) error {
	return &pathTrouble{path: path, reason: "a path, not a card", remedy: "skywedge legs makes a card of it", code: exitInvalid}
}

// pictureForCard refuses a picture where a card is wanted.
func pictureForCard(path string) error {
	return &pathTrouble{path: path, reason: "a picture, not a card", remedy: "skywedge with nothing but its name begins a shot from it", code: exitInvalid}
}

// codeOf returns the exit code that fits an error, and the faults that it holds.
func codeOf(err error) (int, field.Faults) {
	var faults field.Faults
	errors.As(err, &faults)
	var both *bothWrong
	var trouble *pathTrouble
	switch {
	case errors.As(err, new(badValue)):
		return exitUsage, nil
	case errors.As(err, &trouble) && trouble.code != 0:
		return trouble.code, faults
	case faults != nil && !errors.As(err, &both):
		return exitInvalid, faults
	}
	return exitFailed, faults
}

// middle shortens a path in its middle to a number of columns: "trip/…/harbour.yaml". The end says most, so it
// keeps two thirds.
func middle(path string, columns int) string {
	if columns < 3 || ansi.StringWidth(path) <= columns {
		return path
	}
	all := []rune(path)
	head, tail := "", ""
	for i := 0; i < len(all) && ansi.StringWidth(head)+ansi.StringWidth(string(all[i])) <= (columns-1)/3; i++ {
		head += string(all[i])
	}
	room := columns - 1 - ansi.StringWidth(head)
	for i := len(all) - 1; i >= 0 && ansi.StringWidth(tail)+ansi.StringWidth(string(all[i])) <= room; i-- {
		tail = string(all[i]) + tail
	}
	return head + "…" + tail
}

// isPipe tells a pipe that lies in a folder, which nothing may ever come out of, from one that a shell made for
// this command.
func isPipe(path string, mode fs.FileMode) bool {
	p := filepath.ToSlash(filepath.Clean(path))
	return mode&(fs.ModeNamedPipe|fs.ModeSocket) != 0 && !strings.HasPrefix(p, "/dev/") && !strings.HasPrefix(p, "/proc/")
}
