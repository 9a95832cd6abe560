package main

import (
	"errors"
	"fmt"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
)

// checkJSON is the contract of "check --json".
type checkJSON struct {
	Valid  bool         `json:"valid"`
	Faults field.Faults `json:"faults"`
}

func checkCommand(e *env, args []string) int {
	f := newFlags("check")
	asJSON := f.Bool("json", false, "")
	bagPath := f.String("bag", "", "")
	rest, code, ok := parsed(e, f, args)
	if !ok {
		return code
	}
	if len(rest) == 0 {
		return usageError(e, "check: name a card or a bag, or - for standard input")
	}
	answer := checkJSON{Faults: field.Faults{}}
	for _, path := range rest {
		faults, err := checkFile(e, path, *bagPath)
		if err != nil {
			return failure(e, err)
		}
		answer.Faults = append(answer.Faults, faults...)
		if *asJSON {
			continue
		}
		if len(faults) > 0 {
			fmt.Fprintln(e.err, faults.Error())
		} else {
			fmt.Fprintf(e.out, "%s: valid\n", path)
		}
	}
	answer.Valid = len(answer.Faults) == 0
	if *asJSON {
		if code := writeJSON(e, answer); code != exitDone {
			return code
		}
	}
	if !answer.Valid {
		return exitInvalid
	}
	return exitDone
}

// checkFile reads one file as what it says it is. A card is held against its bag too.
func checkFile(e *env, path, bagPath string) (field.Faults, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, err
	}
	if isBag(data) {
		_, faults := kit.ReadBag(name, data)
		return faults, nil
	}
	card, faults := shot.ReadCard(name, data)
	if card == nil {
		return faults, nil
	}
	bag, err := findBag(e, bagPath, path)
	var bagFaults field.Faults
	switch {
	case errors.As(err, &bagFaults):
		return append(faults, bagFaults...), nil
	case err != nil:
		return nil, err
	}
	_, more := card.Shot(bag, e.now())
	if len(more) > 0 {
		return more, nil
	}
	return faults, nil
}

// fieldsCommand prints the tables of fields that cards and bags are read by.
func fieldsCommand(e *env, args []string) int {
	f := newFlags("fields")
	rest, code, ok := parsed(e, f, args)
	if !ok {
		return code
	}
	which := "card"
	if len(rest) > 0 {
		which = rest[0]
	}
	switch {
	case len(rest) > 1 || (which != "card" && which != "bag"):
		return usageError(e, "fields: name card or bag")
	case which == "bag":
		fmt.Fprint(e.out, field.Reference(kit.BagSpec()))
	default:
		fmt.Fprint(e.out, field.Reference(shot.CardSpec()))
	}
	return exitDone
}
