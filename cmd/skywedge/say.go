package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/tui/cells"
	"github.com/charmbracelet/x/ansi"
)

// This file owns what is said to people outside the answers themselves. Rules: errors start with
// "skywedge: ", in lower case, and say what to do; faults of a card or bag are one line each,
// "file:line:column: field: found …; allowed: …"; hints propose a command that works.

// usageError says what is wrong with a command line and how to get help.
func usageError(e *env, format string, a ...any) int {
	text, of := fmt.Sprintf(format, a...), "help"
	if e.command != "" {
		text, of = e.command+": "+text, "help "+e.command
	}
	text = field.Clean(text, 1500)
	if e.asJSON {
		writeJSON(e, problem(text, nil))
		return exitUsage
	}
	e.tellWrapped("skywedge: " + text)
	e.tellWrapped(fmt.Sprintf("skywedge: run \"skywedge %s\" for %s", of, map[bool]string{true: "the commands and their flags", false: "its flags and an example"}[of == "help"]))
	return exitUsage
}

// tellWrapped says a text, on a terminal in lines that break between words.
func (e *env) tellWrapped(text string) {
	if e.columns > 0 && cells.Width(text) > e.columns {
		text = strings.Join(cells.Wrap(text, e.columns), "\n")
	}
	fmt.Fprintln(e.err, text)
}

// noSuchCommand refuses what can only be a command's name.
func noSuchCommand(e *env, name string) int {
	hint := ""
	if near := field.Nearest(name, program().Names()); near != "" {
		hint = ": did you mean " + near + "?"
	}
	return usageError(e, "there is no command or card %q%s", name, hint)
}

// problemJSON is what a command prints that was asked for JSON and failed.
type problemJSON struct {
	Schema int          `json:"schema"`
	Error  string       `json:"error"`
	Faults field.Faults `json:"faults"`
}

// leftOutJSON stands in a list of answers in the place of one that there is none of.
type leftOutJSON struct {
	Schema int          `json:"schema"`
	File   string       `json:"file"`
	Error  string       `json:"error"`
	Faults field.Faults `json:"faults"`
}

// schema is the version of what --json prints.
const schema = 1

func problem(text string, faults field.Faults) problemJSON {
	if faults == nil {
		faults = field.Faults{}
	}
	return problemJSON{schema, text, faults}
}

// failure says that something could not be done, and returns the exit code that fits the error.
func failure(e *env, err error) int {
	code, faults := codeOf(err)
	switch {
	case code == exitUsage:
		return usageError(e, "%v", err)
	case e.asJSON:
		writeJSON(e, problem(summary(err), faults))
		return code
	}
	e.tellFaults(faults)
	if code != exitInvalid || faults == nil {
		e.tellError("", err, 1)
	}
	return code
}

// leaveOut says that one file of several gives no answer, and returns what stands for it in JSON.
func (e *env) leaveOut(path string, err error) leftOutJSON {
	e.left, e.several = e.left+1, true
	_, faults := codeOf(err)
	p := problem(summary(err), faults)
	if !e.asJSON {
		e.tellFaults(faults)
		var trouble *pathTrouble
		if !errors.As(err, &trouble) {
			err = &pathTrouble{path: path, reason: p.Error}
		}
		e.tellError("left out: ", err, 0)
	}
	return leftOutJSON{schema, nameOf(path), p.Error, p.Faults}
}

// summary is an error on one line; of faults it is their count.
func summary(err error) string {
	if code, faults := codeOf(err); code == exitInvalid && faults != nil {
		return "not valid, " + count(faults.Count(), "fault", "faults")
	}
	return field.Clean(err.Error(), 6000)
}

// A terminal shows so much of what is wrong (ours): more than anybody mends at once.
const (
	mostLines = 40
	mostBytes = 4096
)

// told is how much was said of many faults, and how much was not.
type told struct{ lines, bytes, more, files int }

// forNames is the share of that which is kept for the names of files that are left out, of several (ours): what is
// wrong with the first must not hide which the others are.
const forNames = 4

// tell says one line of many, which stands for so many faults, 0 for that a file is left out. On a terminal it stops
// when there are too many.
func (e *env) tell(line string, faults int) {
	tall := 1 + strings.Count(line, "\n")
	lines, room, cut := mostLines, mostBytes-64, e.told.more // less the lines that say how many more there are
	switch {
	case faults == 0:
		cut = e.told.files
	case e.several:
		lines, room = lines-lines/forNames, room-room/forNames
	}
	if e.columns > 0 && (cut > 0 || e.told.lines+tall > lines || e.told.bytes+len(line) >= room) {
		if e.told.more += faults; faults == 0 {
			e.told.files++
		}
		return
	}
	e.told.lines += tall
	e.told.bytes += len(line) + 1
	fmt.Fprintln(e.err, line)
}

// tellRest says how many faults were not said.
func (e *env) tellRest() {
	if e.told.files > 0 {
		fmt.Fprintf(e.err, "and %s left out\n", count(e.told.files, "more file", "more files"))
	}
	if e.told.more == 0 {
		return
	}
	where := "--json has all"
	if !e.hasJSON {
		where = "skywedge check --json has all"
	}
	fmt.Fprintf(e.err, "and %d more (%s)\n", e.told.more, where)
}

// tellFaults says a line a fault. On a terminal a third of the line is the file's.
func (e *env) tellFaults(faults field.Faults) {
	for i, f := range faults {
		if e.columns > 0 {
			f.File = middle(f.File, max(12, e.columns/3))
		}
		e.tell(f.Error(), faults[i:i+1].Count())
	}
}

// tellError says an error on one line, or on two where a path needs a line of a terminal of its own.
func (e *env) tellError(lead string, err error, faults int) {
	var trouble *pathTrouble
	if !errors.As(err, &trouble) {
		e.tell("skywedge: "+lead+field.Clean(err.Error(), 1500), faults)
		return
	}
	line, path := "skywedge: "+lead+trouble.why()+": ", nameOf(trouble.path)
	if e.columns > 0 && ansi.StringWidth(line+path) > e.columns {
		const indent = "  "
		line, path = strings.TrimSuffix(line, " ")+"\n"+indent, middle(path, e.columns-len(indent))
	}
	e.tell(line+path, faults)
}

// listing writes lines with a lead: "  · ".
func listing(b *strings.Builder, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", title)
	for _, l := range lines {
		fmt.Fprintf(b, "  - %s\n", l)
	}
}
