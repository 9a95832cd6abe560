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
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
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
	wide     int  // of the terminal that out is; 0 when it is none

	command         string // the name of the one that runs, "" of the workbench
	bagVariable     string // the variable of the environment that --bag was taken from, or ""
	hasJSON, asJSON bool   // the command can answer as JSON, and is asked to
	told            told   // what was said of many faults
	several         bool   // several files are asked for: one may be left out
	left            int    // files that were left out of several
}

func main() { os.Exit(run(process(), os.Args[1:])) }

// process returns the world of this process.
func process() *env {
	return &env{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now,
		terminal: isTerminal(os.Stdin) && isTerminal(os.Stdout), columns: columnsOf(os.Stderr), wide: columnsOf(os.Stdout)}
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
	rows := table()
	if len(args) == 0 {
		return e.ask(&rows[0], args)
	}
	switch args[0] {
	case "help", "--help", "-h":
		return helpCommand(e, args[1:])
	case "--version":
		args = append([]string{"version"}, args[1:]...)
	}
	for i := range rows[1:] {
		if c := &rows[i+1]; c.Name == args[0] {
			return e.ask(c, args[1:])
		}
	}
	if !strings.HasPrefix(args[0], "-") && onlyACommand(args[0]) {
		e.asJSON = asksForJSON(args)
		return noSuchCommand(e, args[0])
	}
	return e.ask(&rows[0], args)
}

// ask reads a command's line and runs it. What every command shares is settled here: help asked for, a wrong line.
func (e *env) ask(c *command, args []string) int {
	a, err := c.Read(args)
	e.command, e.hasJSON = c.Name, c.Flag("json") != nil
	e.asJSON = err != nil && asksForJSON(args) || e.hasJSON && a.On("json")
	if err == nil {
		err = a.Fill(os.Getenv)
	}
	if c.Flag("bag") != nil {
		e.bagVariable = a.FromEnv("bag")
	}
	switch p := program(); {
	case errors.Is(err, manual.ErrHelp) && c.Name == "":
		fmt.Fprint(e.out, p.Overview(e.wide))
		return exitDone
	case errors.Is(err, manual.ErrHelp):
		fmt.Fprint(e.out, p.Help(p.Command(c.Name), e.wide))
		return exitDone
	case err != nil:
		return usageError(e, "%v", err)
	case c.Operand == manual.Nothing && len(a.Rest) > 0:
		return usageError(e, "%q is not expected here", a.Rest[0])
	}
	return c.run(e, a)
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
