package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/store"
)

// foldersJSON is the contract of "folders --json". A folder is null where the system tells of no home.
type foldersJSON struct {
	Schema        int      `json:"schema"`
	Configuration *string  `json:"configuration"`
	State         *string  `json:"state"`
	KeptWork      *string  `json:"kept_work"`
	KeptWorkCount int      `json:"kept_work_count"`
	Locks         *string  `json:"locks"`
	LastPlace     *string  `json:"last_place"`
	Bag           *string  `json:"bag"`
	BagWhy        string   `json:"bag_why"`
	BagSought     []string `json:"bag_sought"`
}

// foldersCommand tells where things are. It makes no folder and reads no bag.
func foldersCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) > 1 {
		return usageError(e, "name one card at most: its folder is where a bag is looked for first")
	}
	card := strings.Join(a.Rest, "")
	if st, err := os.Stat(card); err == nil && st.IsDir() {
		card = filepath.Join(card, "card.yaml") // any card of that folder
	}
	use := bagUse{file: a.Text("bag"), why: "named with --bag"}
	switch {
	case e.bagVariable != "":
		use.why = "named by " + e.bagVariable
	case use.file == "":
		use = findBag(card)
	}
	sought := store.BagPaths(card)
	for _, p := range []*string{&use.file, &sought[0]} {
		if abs, err := filepath.Abs(*p); err == nil && *p != "" && *p != "-" {
			*p = abs
		}
	}
	config, noConfig := store.ConfigDir()
	state, noState := store.StateDir()
	kept, count := store.KeptIn(state), 0
	if noState == nil {
		count = keptCount(kept.Work)
	}
	if e.asJSON {
		known := func(path string, err error) *string {
			if err != nil {
				return nil
			}
			return &path
		}
		return writeJSON(e, foldersJSON{
			Schema: schema, Configuration: known(config, noConfig), State: known(state, noState),
			KeptWork: known(kept.Work, noState), KeptWorkCount: count, Locks: known(kept.Locks, noState), LastPlace: known(kept.Place, noState),
			Bag: use.json(), BagWhy: use.why, BagSought: sought,
		})
	}
	row := func(name, path string, err error, note string) {
		switch {
		case err != nil:
			path, note = err.Error(), ""
		case !exists(path):
			note = "not there yet"
		}
		if note != "" {
			path += " (" + note + ")"
		}
		fmt.Fprintf(e.out, "%-14s %s\n", name, path)
	}
	row("configuration", config, noConfig, "")
	row("state", state, noState, "")
	row("  kept work", kept.Work, noState, fmt.Sprintf("%d not decided on", count))
	row("  open cards", kept.Locks, noState, "")
	row("  last place", kept.Place, noState, "")
	fmt.Fprintf(e.out, "%-14s %s\n", "bag", use)
	if a.Text("bag") == "" {
		for _, p := range sought {
			note := "there is none"
			if exists(p) {
				note = "there"
			}
			fmt.Fprintf(e.out, "%-14s %s (%s)\n", "  looked for", p, note)
		}
	} else if use.file != "-" && !exists(use.file) {
		fmt.Fprintf(e.out, "%-14s there is no such file\n", "")
	}
	return exitDone
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// keptCount counts the kept work without touching it.
func keptCount(dir string) int {
	entries, _ := os.ReadDir(dir) // a folder that is not there yet holds none
	return len(slices.DeleteFunc(entries, func(x fs.DirEntry) bool { return filepath.Ext(x.Name()) != ".recovery" }))
}
