package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"example.org/skywedge/kit/field"
)

// This file owns what is said to people outside the answers themselves. Rules: errors start with
// "skywedge: ", in lower case, and say what to do; faults of a card or bag are one line each,
// "file:line:column: field: found …; allowed: …"; hints propose a command that works.

// version is set at release time with -ldflags "-X main.version=…".
var version = "0.1.0-dev"

const usageHead = `skywedge plans one shot of a small drone on the ground: filter or none, ring angle,
shutter, ISO, and what the polariser will do to the sky along the flight.

  skywedge [CARD…|DIR]
      the workbench, on the demo trip or on the cards given; a name ending in .yaml that is
      not there yet begins a new card
`

const usageFoot = `
Flags of the commands:
  --json               the answer as JSON, with exact values
  --bag FILE           the bag to use; otherwise bag.yaml beside the card, then the one in the
                       configuration folder, then a generic one
  --take-off TIME      instead of the card's: 2026-09-18T19:40, now or now+10 (minutes)
  --by MEASURE         of the hours: call (how well the bag holds it), sky, strength, uneven, glare,
                       haze, light, headroom, left (minutes of clean light), sun
  --half               the left half of a frame bare, the right half through the filter
  --exposed HOW        of a frame: one exposure and white balance for bare and filtered, so that what
                       the filter does shows; own, each at its own; or call, as the call sets it
  --zebra              stripes over what clips, and over what is noisy at an ISO above the clean one
  --theme dark|light   the workbench's palette; --ascii without block characters;
  --no-mouse           leaves the mouse to the terminal

A card is read from standard input as "-". TIME is RFC 3339 (2026-09-18T19:40:00+02:00), or
without an offset together with --zone Europe/Madrid, or now, or now+10.
Exit codes: 0 done, 1 it failed, 2 the command line is wrong, 3 a card or bag is not valid.

It plans pictures, not flights: check the rules, airspace and permissions for your place and date.
`

// usageError says what is wrong with a command line and how to get help.
func usageError(e *env, format string, a ...any) int {
	fmt.Fprintf(e.err, "skywedge: "+format+"\n", a...)
	fmt.Fprintln(e.err, `skywedge: run "skywedge help" for the commands and their flags`)
	return exitUsage
}

// failure says that something could not be done, and gives the exit code that fits the error.
func failure(e *env, err error) int {
	var faults field.Faults
	if errors.As(err, &faults) {
		fmt.Fprintln(e.err, faults.Error())
		return exitInvalid
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		fmt.Fprintf(e.err, "skywedge: cannot %s %s: %v\n", pe.Op, pe.Path, pe.Err)
		return exitFailed
	}
	fmt.Fprintf(e.err, "skywedge: %v\n", err)
	return exitFailed
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
