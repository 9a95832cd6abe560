// Package shot reads a card and says what flight it describes.
//
// A [Card] is what is written, with its comments; a [Shot] is the same checked, with units and defaults
// filled in; [Path] flies it and returns a [Moment] for every step: where the aircraft is, where it looks,
// and where the sun stands then. The one hard idea is that a card may be written relative to the sun
// ("sun+90"), so that headings, speeds and times depend on one another: a leg is resolved only when it is
// known when it is flown, and [Shot.At] resolves all of them anew for another take-off.
//
// Headings and bearings are degrees from true north, clockwise; pitch is 0 level and −90 straight down;
// heights are metres above take-off; positions are metres east, north and up of the take-off point.
package shot
