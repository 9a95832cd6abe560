package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"sort"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui"
)

// workbenchCommand opens the workbench on the cards given, on the cards of a folder, or on the demo.
// Without a terminal it prints the first card's call instead.
func workbenchCommand(e *env, a *manual.Asked) int {
	sources, bag, err := gather(e, a.Rest, a.Text("bag"))
	if err != nil {
		return failure(e, err)
	}
	if !e.terminal {
		return printFirst(e, sources, bag)
	}
	e.tellRest() // what was left out stands above the workbench and is there again when it is closed
	e.told = told{}
	sweep(sources, e.now())
	if os.Getenv("GOGC") == "" {
		// Every keystroke makes some megabytes of a new answer. Collected five times as seldom, the time
		// from key to paint falls from 23 to 15 ms (two cores), for some tens of megabytes.
		debug.SetGCPercent(500)
	}
	err = tui.Run(context.Background(), tui.Options{
		Cards: sources, Bag: bag.Bag, BagFile: bag.saveTo(), Theme: a.Text("theme"), Pixels: a.Text("pixels"), ASCII: a.On("ascii"), NoMouse: a.On("no-mouse"), Now: e.now,
	})
	if err != nil {
		return failure(e, err)
	}
	return exitDone
}

// printFirst prints the call of the first card that has one.
func printFirst(e *env, sources []tui.Source, bag bagUse) int {
	for _, s := range sources {
		r, err := solve(e, s.Path, s.Data, bag.Bag, "")
		if err != nil && len(sources) == 1 && e.left == 0 {
			return failure(e, err)
		}
		if err != nil {
			e.leaveOut(s.Path, err)
			continue
		}
		fmt.Fprint(e.out, cardText(r, bag))
		break
	}
	if e.left > 0 {
		return exitInvalid
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

// gather reads what is to be opened and finds the bag that goes with it.
func gather(e *env, paths []string, bagPath string) ([]tui.Source, bagUse, error) {
	if len(paths) == 0 {
		return demo(e, bagPath)
	}
	files, err := expand(e, paths)
	if err != nil {
		return nil, bagUse{}, err
	}
	var sources []tui.Source
	pictures := 0
	for _, p := range files {
		if picture, err := pictureIn(p); picture != nil || err != nil {
			if err == nil {
				pictures++
				err = mayBegin(e, picture, pictures)
			}
			switch {
			case err == nil:
				sources = append(sources, tui.Source{Path: p, Picture: picture})
			case len(files) == 1:
				return nil, bagUse{}, err
			default:
				e.leaveOut(p, err)
			}
			continue
		}
		name, data, err := readFile(e, p)
		_, gone := os.Lstat(p)
		switch {
		case err == nil && isBag(data) && len(files) == 1:
			return nil, bagUse{}, bagForCard(p)
		case err == nil && isBag(data):
			e.leaveOut(p, bagForCard(p))
		case err == nil && len(data) > field.MaxBytes:
			_, faults := shot.ReadCard(name, data) // it is not whole: opened, it could be saved so
			if len(files) == 1 {
				return nil, bagUse{}, faults
			}
			e.leaveOut(p, faults)
		case err == nil:
			sources = append(sources, tui.Source{Path: name, Data: data})
		case errors.Is(gone, fs.ErrNotExist) && onlyACommand(p):
			return nil, bagUse{}, badValue{fmt.Errorf("there is no command or card %q", p)}
		case errors.Is(gone, fs.ErrNotExist) && e.terminal && isCardName(p):
			sources = append(sources, tui.Source{Path: p, New: true}) // a new card, made there when it is saved
		case len(files) == 1:
			return nil, bagUse{}, err
		default:
			e.leaveOut(p, err)
		}
	}
	if len(sources) == 0 {
		return nil, bagUse{}, &pathTrouble{path: paths[0], code: exitInvalid,
			reason: "there is no card that can be opened", remedy: "name one, or start one with the demo"}
	}
	bag, err := useBag(e, bagPath, sources[0].Path)
	return sources, bag, err
}

// pictureNames are the endings of pictures, by which one is known that cannot be read here.
var pictureNames = []string{".jpg", ".jpeg", ".tif", ".tiff", ".dng", ".heic", ".heif", ".png", ".webp", ".avif", ".gif"}

func isPictureName(path string) bool {
	return slices.Contains(pictureNames, strings.ToLower(filepath.Ext(path)))
}

// pictureIn reads what stands beside a picture; nil where a file is none, or where reading it as a card will say what is
// wrong with it.
func pictureIn(path string) (*taken.Picture, error) {
	st, err := os.Stat(path)
	if err != nil || !st.Mode().IsRegular() {
		return nil, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil
	}
	defer f.Close()
	p, err := photo.Read(f)
	switch {
	case err == nil:
		return &taken.Picture{File: path, Tells: p}, nil
	case errors.Is(err, photo.ErrNoData):
		return &taken.Picture{File: path, Tells: &photo.Picture{}}, nil
	case errors.Is(err, photo.ErrNoPicture) && !isPictureName(path):
		return nil, nil
	}
	return nil, &pathTrouble{path: path, reason: err.Error(), err: err}
}

// mayBegin says why a shot cannot begin from a picture, the n-th.
func mayBegin(e *env, p *taken.Picture, n int) error {
	switch err := p.Begins(); {
	case err != nil:
		return &pathTrouble{path: p.File, reason: err.Error(), err: err}
	case !e.terminal:
		return &pathTrouble{path: p.File, reason: "a picture begins a shot in the workbench, which needs a terminal", remedy: "run it on one"}
	case n > tui.MostNewShots:
		return &pathTrouble{path: p.File, reason: fmt.Sprintf("at most %d pictures begin shots at a time", tui.MostNewShots), remedy: "save those first"}
	}
	return nil
}

// expand puts the cards of a folder in the place of the folder.
func expand(e *env, paths []string) (files []string, err error) {
	for _, p := range paths {
		st, err := os.Stat(p)
		if err != nil || !st.IsDir() {
			files = append(files, p)
			continue
		}
		inside, err := cardsIn(e, p)
		if err != nil {
			return nil, err
		}
		files = append(files, inside...)
	}
	return files, nil
}

func demo(e *env, bagPath string) ([]tui.Source, bagUse, error) {
	var sources []tui.Source
	for _, name := range examples.Cards() {
		sources = append(sources, tui.Source{Path: name, Data: examples.Card(name), Demo: true})
	}
	if bagPath != "" && e.bagVariable == "" { // a bag of one's own, named for every day, has not the demo's cameras
		bag, err := useBag(e, bagPath, "")
		return sources, bag, err
	}
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		return nil, bagUse{}, faults
	}
	return sources, bagUse{Bag: bag, why: "the demo trip's own"}, nil
}

// isCardName tells whether a file's name is a card's.
func isCardName(path string) bool {
	ext := strings.ToLower(filepath.Ext(path))
	return ext == ".yaml" || ext == ".yml"
}

// cardsIn lists the cards of a folder by name: its YAML files that are no bag. The bag of the folder is
// read where it is needed; any other file that is no card is said to be left out.
func cardsIn(e *env, dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, &pathTrouble{verb: "read", path: dir, err: err}
	}
	var files []string
	for _, x := range entries {
		if x.IsDir() || strings.HasPrefix(x.Name(), ".") || !isCardName(x.Name()) {
			continue
		}
		p := filepath.Join(dir, x.Name())
		_, data, err := readFile(e, p)
		switch {
		case x.Name() == store.BagFile && (err != nil || isBag(data)): // its turn comes
		case err != nil:
			e.leaveOut(p, err)
		case isBag(data):
			e.leaveOut(p, bagForCard(p))
		default:
			files = append(files, p)
		}
	}
	if len(files) == 0 {
		return nil, &pathTrouble{path: dir, reason: "no card in this folder", remedy: "name a card, or start one with the demo"}
	}
	sort.Strings(files)
	return files, nil
}
