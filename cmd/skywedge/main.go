// Command skywedge pre-visualises a drone photographer's shot on the ground: which filter, at which
// ring angle, with which shutter and ISO, and where along the flight the polariser will bite.
//
// Without a subcommand it opens the workbench; see "skywedge help". This package parses the command
// line and speaks to people and to other programs; it computes nothing.
package main

import (
	"fmt"
	"io"
	"os"
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
	out, err io.Writer
	now      func() time.Time
	terminal bool // both ends are a terminal: the workbench may open
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

func main() {
	e := &env{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout)}
	os.Exit(run(e, os.Args[1:]))
}

// run is the whole program without the process around it.
func run(e *env, args []string) int {
	if len(args) > 0 {
		switch args[0] {
		case "help", "--help", "-h":
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
	}
	return workbenchCommand(e, args)
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
