package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/sheet"
	"example.org/skywedge/plan/trip"
)

func sheetRow() command {
	return command{manual.Command{
		Name: "sheet", Args: "DIR|CARD -o FILE", Operand: manual.Cards, Line: "a page to print or to carry on a phone: times, legs, ring, settings, pictures, cautions",
		Flags: flags([]manual.Flag{
			{Name: "o", Kind: manual.File, Value: "FILE", Help: "where the sheet goes: .html is one page that needs no network, with pictures, two shots on a sheet of A4; .md the same as text"},
		}, bagFlag),
		Example: []string{"sheet examples/2-lighthouse.yaml -o sheet.html"},
	}, sheetCommand}
}

func sheetCommand(e *env, a *manual.Asked) int {
	out := a.Text("o")
	set := map[string]func(*sheet.Sheet) []byte{".html": (*sheet.Sheet).HTML, ".md": (*sheet.Sheet).Markdown}[strings.ToLower(filepath.Ext(out))]
	switch {
	case len(a.Rest) != 1:
		return usageError(e, "name one card or one folder of cards, or - for a card from standard input")
	case out == "":
		return usageError(e, "say where the sheet goes with -o FILE.html or FILE.md")
	case set == nil:
		return usageError(e, "-o %s: a sheet is written as .html, with pictures, or as .md, as text", nameOf(out))
	}
	cards, title, bag, err := sheetCards(e, a.Rest[0], a.Text("bag"))
	if err == nil {
		cards, err = workOut(cards)
	}
	if err != nil {
		return failure(e, err)
	}
	s, err := sheet.Of(trip.Of(cards), title, bag.String())
	if err != nil {
		return failure(e, err)
	}
	data := set(s)
	if err := writeOutput(out, data); err != nil {
		return failure(e, err)
	}
	fmt.Fprintf(e.out, "%s: %s, %d kB\n", nameOf(out), count(len(s.Shots), "shot", "shots"), (len(data)+999)/1000)
	if e.left > 0 {
		return exitInvalid
	}
	return exitDone
}

// sheetCards reads a folder of cards, or one card, and says how the whole is called.
func sheetCards(e *env, path, bagPath string) ([]trip.Card, string, bagUse, error) {
	if st, err := os.Stat(path); err == nil && st.IsDir() && path != "-" {
		cards, _, bag, err := tripCards(e, path, bagPath)
		return cards, tripTitle(path), bag, err
	}
	s, bag, err := shotFile(e, path, bagPath, "")
	if err != nil {
		return nil, "", bag, err
	}
	return []trip.Card{{File: nameOf(path), Shot: s, Bag: bag.Bag}}, "", bag, nil
}

// tripTitle names a trip by its folder.
func tripTitle(dir string) string {
	if full, err := filepath.Abs(dir); err == nil {
		dir = full
	}
	return "Trip: " + filepath.Base(dir)
}
