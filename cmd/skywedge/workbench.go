package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"sort"
	"strings"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui"
)

// workbenchCommand opens the workbench on the cards given, on the cards of a folder, or on the demo.
// Without a terminal it prints the first card's call instead.
func workbenchCommand(e *env, args []string) int {
	f := newFlags("skywedge")
	bagPath := f.String("bag", "", "")
	theme := f.String("theme", "", "")
	ascii := f.Bool("ascii", false, "")
	noMouse := f.Bool("no-mouse", false, "")
	rest, code, ok := parsed(e, f, args)
	if !ok {
		return code
	}
	if *theme != "" && *theme != "dark" && *theme != "light" {
		return usageError(e, "--theme %q: give dark or light", *theme)
	}
	sources, bag, bagFile, err := gather(e, rest, *bagPath)
	if err != nil {
		return failure(e, err)
	}
	if !e.terminal {
		r, err := solve(e, sources[0].Path, sources[0].Data, bag, "")
		if err != nil {
			return failure(e, err)
		}
		fmt.Fprint(e.out, cardText(r))
		return exitDone
	}
	sweep(sources, e.now())
	if os.Getenv("GOGC") == "" {
		// Every keystroke makes some megabytes of a new answer. Collected five times as seldom, the time
		// from key to paint falls from 23 to 15 ms (two cores), for some tens of megabytes.
		debug.SetGCPercent(500)
	}
	err = tui.Run(context.Background(), tui.Options{
		Cards: sources, Bag: bag, BagFile: bagFile, Theme: *theme, ASCII: *ascii, NoMouse: *noMouse, Now: e.now,
	})
	if err != nil {
		return failure(e, err)
	}
	return exitDone
}

// sweep removes what saves that were killed left behind in the folders of the cards.
func sweep(sources []tui.Source, now time.Time) {
	swept := map[string]bool{}
	for _, s := range sources {
		if dir := filepath.Dir(s.Path); !s.Demo && !swept[dir] {
			swept[dir] = true
			store.Sweep(dir, now)
		}
	}
}

// gather reads what is to be opened and finds the bag that goes with it, and the bag's file: "" for one
// that is built in.
func gather(e *env, paths []string, bagPath string) ([]tui.Source, *kit.Bag, string, error) {
	if len(paths) == 0 {
		return demo(e, bagPath)
	}
	var files []string
	for _, p := range paths {
		if st, err := os.Stat(p); err == nil && st.IsDir() {
			inside, err := cardsIn(p)
			if err != nil {
				return nil, nil, "", err
			}
			files = append(files, inside...)
			continue
		}
		files = append(files, p)
	}
	var sources []tui.Source
	for _, p := range files {
		name, data, err := readFile(e, p)
		if err != nil {
			if os.IsNotExist(err) && !strings.ContainsAny(p, "./"+string(filepath.Separator)) {
				return nil, nil, "", fmt.Errorf(`there is no command or card %q: run "skywedge help" for the commands`, p)
			}
			if os.IsNotExist(err) && e.terminal && isCardName(p) {
				sources = append(sources, tui.Source{Path: p, New: true}) // a new card, made there when it is saved
				continue
			}
			return nil, nil, "", err
		}
		sources = append(sources, tui.Source{Path: name, Data: data})
	}
	bag, file, err := bagAndFile(e, bagPath, files[0])
	return sources, bag, file, err
}

func demo(e *env, bagPath string) ([]tui.Source, *kit.Bag, string, error) {
	var sources []tui.Source
	for _, name := range examples.Cards() {
		sources = append(sources, tui.Source{Path: name, Data: examples.Card(name), Demo: true})
	}
	if bagPath != "" {
		bag, file, err := bagAndFile(e, bagPath, "")
		return sources, bag, file, err
	}
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		return nil, nil, "", faults
	}
	return sources, bag, "", nil
}

// isCardName tells whether a file's name is a card's.
func isCardName(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	return ext == ".yaml" || ext == ".yml"
}

// cardsIn lists the cards of a folder by name: its YAML files that are no bag.
func cardsIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var files []string
	for _, x := range entries {
		if x.IsDir() || strings.HasPrefix(x.Name(), ".") || !isCardName(x.Name()) {
			continue
		}
		p := filepath.Join(dir, x.Name())
		data, err := os.ReadFile(p)
		if err != nil {
			return nil, err
		}
		if !isBag(data) {
			files = append(files, p)
		}
	}
	if len(files) == 0 {
		return nil, errors.New(dir + " holds no card: name a card, or start one with the demo")
	}
	sort.Strings(files)
	return files, nil
}
