package tui

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Imports run one way: tui, then the views, then panel, then cells. A view knows neither the workbench nor
// another view.
func TestImportsRunOneWay(t *testing.T) {
	const root = "example.org/skywedge/tui/"
	views := []string{root + "panel", root + "cells", root + "ring", root + "pixels"}
	allowed := map[string][]string{
		"cells": nil, "input": nil, "early": {root + "cells"}, "panel": {root + "cells"}, "pixels": {root + "cells"},
		"clock": nil, "tour": views, "ring": {root + "panel", root + "cells"}, "call": views,
		"compass": views, "filters": append([]string{root + "measuring"}, views...), "hours": views, "trip": views, "walk": views, "lens": views, "strips": views,
		"where": views, "files": nil, "measuring": append([]string{root + "files"}, views...),
	}
	for dir, ours := range allowed {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Errorf("%s: no files, %v", dir, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range f.Imports {
				path, _ := strconv.Unquote(i.Path.Value)
				if path+"/" == root || strings.HasPrefix(path, root) && !slices.Contains(ours, path) {
					t.Errorf("%s imports %s", file, path)
				}
			}
		}
	}
}
