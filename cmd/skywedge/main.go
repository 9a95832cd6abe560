// Command skywedge pre-visualises a drone photographer's shot on the ground: which filter, at which
// ring angle, with which shutter and ISO, and where along the flight the polariser will bite.
//
// Without a subcommand it opens the workbench; see "skywedge help". This package parses the command
// line and speaks to people and to other programs; it computes nothing.
package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"
)

// Exit codes, part of the program's contract.
const (
	exitDone    = 0 // done
	exitFailed  = 1 // it failed: a file cannot be read, the terminal cannot be opened
	exitUsage   = 2 // the command line is wrong
	exitInvalid = 3 // a card or bag is not valid
)

// env is everything a command may touch of the world, so that tests can hold it.
type env struct {
	in       io.Reader
	out, err io.Writer // what is said to people goes here: every control character is spelt out on its way
	raw      io.Writer // out as it is, for pictures and JSON; set by run
	now      func() time.Time
	terminal bool // both ends are a terminal: the workbench may open
	columns  int  // of the terminal that err is; 0 when it is none

	hasJSON, asJSON bool // the command can answer as JSON, and is asked to
	told            told // what was said of many faults
	left            int  // files that were left out of several
}

// command is one row of the table of subcommands.
type command struct {
	name, args, help string
	run              func(e *env, args []string) int
}

func commands() []command {
	return []command{
		{"card", "CARD… [--brief] [--json]", "the call for a card, and one row a leg", cardCommand},
		{"sun", "--at LAT,LON --when TIME [--zone Z] [--json]", "sun, shadow, moon, the day's events, illuminance", sunCommand},
		{"sky", "(--at LAT,LON --when TIME | --sun AZ,ALT) [--toward AZ,ALT] [--cloud PCT] [--visibility KM | --aod DEPTH] [--ground NAME | --albedo X] [--air NAME] [--nm 550] [--json]", "sky luminance and polarisation", skyCommand},
		{"filters", "CARD [--json]", "every filter of the bag on this flight, best first, with the reasons", filtersCommand},
		{"frame", "CARD --second S [--filter F] [--setting STOPS] [--ring DEG] [--bare] [--exposed one|own|call] [--zebra] [--size WxH] (-o FILE.png | --json)", "the picture through the lens, or the numbers behind it", frameCommand},
		{"hours", "CARD [--over day|year] [--by MEASURE] [--json]", "the shot at every other time of its day or its year, and the best windows", hoursCommand},
		{"check", "FILE… [--json]", "is this card or bag valid?", checkCommand},
		{"fields", "[card|bag]", "every key of a card or a bag: unit, range, default, meaning", fieldsCommand},
	}
}

func main() { os.Exit(run(process(), os.Args[1:])) }

// process returns the world of this process.
func process() *env {
	return &env{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout), columns: columnsOf(os.Stderr)}
}

// run is the whole program without the process around it. A failed write of the answer is a failure of
// every command, whatever the command made of it.
func run(world *env, args []string) int {
	e, out := *world, &sink{w: world.out}
	e.raw, e.out, e.err = out, cleaned{out}, cleaned{world.err}
	code := dispatch(&e, args)
	e.tellRest()
	if out.failed != nil {
		e.asJSON = false // there is nowhere to write it
		return failure(&e, &pathTrouble{verb: "write", path: "standard output", err: out.failed})
	}
	return code
}

func dispatch(e *env, args []string) int {
	if len(args) == 0 {
		return workbenchCommand(e, args)
	}
	switch args[0] {
	case "help", "--help", "-h":
		if len(args) > 1 && !strings.HasPrefix(args[1], "-") && !isCommand(args[1]) {
			return noSuchCommand(e, args[1])
		}
		fmt.Fprint(e.out, usage())
		return exitDone
	case "version", "--version":
		fmt.Fprintln(e.out, "skywedge", version)
		return exitDone
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(e, args[1:])
		}
	}
	if !strings.HasPrefix(args[0], "-") && onlyACommand(args[0]) {
		e.asJSON = asksForJSON(args)
		return noSuchCommand(e, args[0])
	}
	return workbenchCommand(e, args)
}

func isCommand(name string) bool { return slices.Contains(commandNames(), name) }

func commandNames() []string {
	names := []string{"help", "version"}
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

// onlyACommand tells whether an argument can be no card or folder: it has no dot and no slash, and
// nothing of that name lies here.
func onlyACommand(arg string) bool {
	if strings.ContainsAny(arg, `./\`) {
		return false
	}
	_, err := os.Lstat(arg)
	return errors.Is(err, fs.ErrNotExist)
}

func usage() string {
	var b strings.Builder
	b.WriteString(usageHead)
	for _, c := range commands() {
		fmt.Fprintf(&b, "  skywedge %s %s\n      %s\n", c.name, c.args, c.help)
	}
	b.WriteString(usageFoot)
	return b.String()
}
