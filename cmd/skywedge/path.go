package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/route"
)

// pathKinds are the endings of a path's file and what they stand for.
var pathKinds = map[string]route.Format{".gpx": route.GPX, ".kml": route.KML, ".geojson": route.GeoJSON, ".json": route.GeoJSON}

// isPathName tells whether a file's name is a path's.
func isPathName(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	_, is := pathKinds[ext]
	return is && ext != ".json" || ext == ".kmz"
}

func pathRow() command {
	return command{manual.Command{
		Name: "path", Args: "CARD -o FILE", Operand: manual.Cards, Line: "a card's path as a line for a map: GPX, KML or GeoJSON",
		More: "A line for each leg, with heights, the times of the first takes and where the camera looks; marks for take-off and the subjects. skywedge legs reads it back.",
		Flags: flags([]manual.Flag{
			{Name: "o", Kind: manual.File, Value: "FILE", Help: "where the path goes: .gpx, .kml or .geojson; - is standard output"},
			{Name: "as", Kind: manual.Text, Value: "FORM", Words: []string{"gpx", "kml", "geojson"}, Help: "which of the three goes to standard output; gpx by default"},
		}, jsonFlag, bagFlag, takeOffFlag),
		Example: []string{"path examples/1-breakwater.yaml -o breakwater.kml"},
	}, pathCommand}
}

// The contract of "path --json".
type pathJSON struct {
	Schema  int        `json:"schema"`
	File    string     `json:"file"`
	Bag     *string    `json:"bag"`
	Out     string     `json:"out"`
	Format  string     `json:"format"`
	Legs    int        `json:"legs"`
	Points  int        `json:"points"`
	HeightM [2]float64 `json:"height_m"`
	Assumed []string   `json:"assumed"`
}

func pathCommand(e *env, a *manual.Asked) int {
	out, as := a.Text("o"), a.Text("as")
	kind, known := pathKinds[strings.ToLower(filepath.Ext(out))]
	switch {
	case len(a.Rest) != 1:
		return usageError(e, "name one card, or - for standard input")
	case out == "":
		return usageError(e, "say where the path goes with -o FILE.gpx, FILE.kml or FILE.geojson")
	case out == "-" && e.asJSON:
		return usageError(e, "--json has standard output already: give -o the name of a file")
	case out == "-":
		kind = pathKinds["."+as]
	case !known: // or a slip writes over a card
		return usageError(e, "-o %s: a path is written as .gpx, .kml or .geojson", nameOf(out))
	case as != "" && pathKinds["."+as] != kind:
		return usageError(e, "--as %s: the name %s says another; --as is for -o -", as, nameOf(out))
	}
	name := nameOf(a.Rest[0])
	s, card, bag, err := shotAndCard(e, a.Rest[0], a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	high := card.Doc.At("place.elevation_m").Exists()
	d, err := route.Of(s, high)
	if err != nil {
		return failure(e, &pathTrouble{path: name, reason: err.Error(), remedy: "take another place"})
	}
	doc := d.Encode(kind)
	if out == "-" {
		e.raw.Write(doc)
		return exitDone
	}
	if err := writeOutput(out, doc); err != nil {
		return failure(e, err)
	}
	j := pathJSON{Schema: schema, File: name, Bag: bag.json(), Out: out, Format: kind.String(), Legs: len(s.Legs), Assumed: list(route.Said(s, kind, high))}
	j.HeightM = s.Legs[0].Height
	for _, l := range d.Lines {
		j.Points += len(l.Points)
		for _, p := range l.Points {
			j.HeightM = [2]float64{min(j.HeightM[0], p.HeightM), max(j.HeightM[1], p.HeightM)}
		}
	}
	if e.asJSON {
		j.File = nameOf(j.File)
		return writeJSON(e, j)
	}
	fmt.Fprintf(e.out, "%s: %s as %s, %s\n", nameOf(out), count(j.Legs, "leg", "legs"), kind, count(j.Points, "point", "points"))
	var b strings.Builder
	e.bullets(&b, "", j.Assumed)
	fmt.Fprint(e.out, b.String())
	return exitDone
}
