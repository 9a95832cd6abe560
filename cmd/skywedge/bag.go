package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
)

// bagUse is a bag, and how it came to be used: an answer always says which it was given with.
type bagUse struct {
	*kit.Bag
	file string // that it was read from; "" for one that is built in
	why  string
}

// String says which bag it is, and why it is that one.
func (b bagUse) String() string {
	if b.file == "" {
		return b.why
	}
	return nameOf(b.file) + ", " + b.why
}

// json is the bag's file, null for one that is built in.
func (b bagUse) json() *string {
	if b.file == "" {
		return nil
	}
	name := nameOf(b.file)
	return &name
}

// saveTo is the file that a change of the bag is saved to; "" where there is none.
func (b bagUse) saveTo() string {
	if b.file == "-" {
		return ""
	}
	return b.file
}

// change changes the bag in a file under its lock, as it stands there now; a bag that is built in becomes that file. With
// nothing changed (nil) nothing is written. remedy says what helps when the file lies open in a window.
func (b bagUse) change(file, remedy string, change func(*kit.Bag) (*kit.Bag, error)) error {
	lock, err := store.Acquire(file)
	var locked *store.LockedError
	if errors.As(err, &locked) {
		reason := lockedCard(locked).(*pathTrouble)
		reason.remedy = remedy
		return reason
	}
	defer lock.Release()
	was, next := store.Unwritten(file), b.Bag
	if b.file != "" {
		if was, err = store.Read(file); err != nil {
			return &pathTrouble{verb: "read", path: file, err: err}
		}
		var faults field.Faults
		if next, faults = kit.ReadBag(file, was.Data); next == nil || len(faults) > 0 {
			return faults
		}
	}
	if next, err = change(next); err != nil || next == nil {
		return err
	}
	if _, err := was.Save(next.Doc.Bytes()); err != nil {
		return unsaved(file, err)
	}
	return nil
}

// useBag looks for the bag of a card: the one named, bag.yaml in the card's folder, the one in the user's configuration
// folder, or the generic one that is built in. A card from standard input lies in the current folder.
func useBag(e *env, named, card string) (bagUse, error) {
	use := bagUse{file: named, why: "named with --bag"}
	switch {
	case named != "" && e.bagVariable != "":
		use.why = "named by " + e.bagVariable
	case named == "":
		if use = findBag(card); use.file == "" {
			use.Bag = kit.Generic()
			return use, nil
		}
	}
	var err error
	use.Bag, err = readBag(e, use.file)
	var trouble *pathTrouble
	switch {
	case err != nil && named != "" && e.bagVariable != "":
		err = e.badVariable(named, err)
	case named == "" && errors.As(err, &trouble) && trouble.reason != "": // nobody named it: what helps is another
		trouble.reason, trouble.remedy = trouble.reason+" in place of the bag", "move it away, or name a bag with --bag"
	}
	return use, err
}

// findBag tells which bag a card is answered with when none is named, without reading it.
func findBag(card string) bagUse {
	beside, here := "beside the card", filepath.Dir(card)
	if card == "-" || card == stdinName || card == "" {
		beside, here = "in this folder", "."
		card = ""
	}
	file, ok := store.FindBag(card)
	switch {
	case !ok:
		return bagUse{why: "the generic bag that is built in"}
	case filepath.Dir(file) == filepath.Clean(here):
		return bagUse{file: file, why: beside}
	}
	return bagUse{file: file, why: "in the configuration folder"}
}

// badVariable is what is wrong with a bag that the environment names. A bag that is one and has faults is told by them.
func (e *env) badVariable(named string, err error) error {
	if code, faults := codeOf(err); code == exitInvalid && faults != nil {
		return err
	}
	var trouble *pathTrouble
	reason := err.Error()
	if errors.As(err, &trouble) {
		reason = trouble.why()
	}
	return badValue{fmt.Errorf("%s in the environment is %q: %s", e.bagVariable, named, reason)}
}

func readBag(e *env, path string) (*kit.Bag, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, err
	}
	if e.bagVariable != "" && !isBag(data) {
		return nil, &pathTrouble{path: path, reason: "no bag", remedy: "name a file that begins with skywedge_bag"}
	}
	bag, faults := kit.ReadBag(name, data)
	if len(faults) > 0 {
		return nil, faults
	}
	return bag, nil
}
