// Package examples holds the demo: a trip of invented shots on a windy Atlantic coast and the bag
// that goes with it. It is embedded, so that the program has something to show without any file.
//
// The places are ordinary stretches of one coast; the breakwater, the lighthouse and the stacks on them are
// invented.
//
// A trip is a folder: its cards in the order of their names, and one bag beside them. The files here
// are just that, and can be copied out and flown.
package examples

import (
	"embed"
	"io/fs"
	"sort"
	"strings"
)

//go:embed *.yaml
var files embed.FS

// BagName is the file name of the bag, beside the cards of a trip.
const BagName = "bag.yaml"

// Bag returns the demo's bag.
func Bag() []byte { return mustRead(BagName) }

// Cards returns the file names of the demo's cards, in the order of the trip.
func Cards() []string {
	names, err := fs.Glob(files, "*.yaml")
	if err != nil {
		panic("examples: " + err.Error())
	}
	var cards []string
	for _, n := range names {
		if n != BagName {
			cards = append(cards, n)
		}
	}
	sort.Strings(cards)
	return cards
}

// Card returns the text of a card by its file name, with or without ".yaml".
func Card(name string) []byte {
	if !strings.HasSuffix(name, ".yaml") {
		name += ".yaml"
	}
	return mustRead(name)
}

func mustRead(name string) []byte {
	b, err := files.ReadFile(name)
	if err != nil {
		panic("examples: " + err.Error())
	}
	return b
}
