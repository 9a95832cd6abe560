package main

import (
	"errors"
	"fmt"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
)

// cardPerLeg is the count of moments a leg is judged at outside the workbench.
const cardPerLeg = 32

func cardCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) == 0 {
		return usageError(e, `name a card, or - for standard input`)
	}
	answers := []any{}
	for i, path := range a.Rest {
		r, err := solveFile(e, path, a.Text("bag"), a.Text("take-off"))
		if len(a.Rest) == 1 && err != nil || errors.As(err, new(badValue)) {
			return failure(e, err)
		}
		switch {
		case err != nil:
			answers = append(answers, e.leaveOut(path, err))
			continue
		case e.asJSON:
			answers = append(answers, cardToJSON(r))
			continue
		case i > e.left:
			fmt.Fprintln(e.out)
		}
		if a.On("brief") {
			fmt.Fprint(e.out, advice.Brief(r))
		} else {
			fmt.Fprint(e.out, cardText(r))
		}
	}
	switch {
	case e.asJSON && len(a.Rest) == 1:
		writeJSON(e, answers[0])
	case e.asJSON:
		writeJSON(e, answers)
	}
	if e.left > 0 {
		return exitInvalid
	}
	return exitDone
}

// solveFile reads a card and its bag and works the shot out.
func solveFile(e *env, path, bagPath, takeOff string) (*plan.Report, error) {
	shot, bag, err := shotFile(e, path, bagPath, takeOff)
	if err != nil {
		return nil, err
	}
	return solved(shot, bag), nil
}

// shotFile reads a card and its bag. The error holds all that is wrong with both.
func shotFile(e *env, path, bagPath, takeOff string) (*shot.Shot, *kit.Bag, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, nil, err
	}
	if isBag(data) {
		return nil, nil, bagForCard(name)
	}
	bag, err := findBag(e, bagPath, path)
	if err != nil {
		_, faults := shot.ReadCard(name, data)
		return nil, nil, withBag(faults, err)
	}
	shot, err := shotOf(e, name, data, bag, takeOff)
	return shot, bag, err
}

// withBag adds what is wrong with a bag to the faults of a card's text.
func withBag(faults field.Faults, err error) error {
	var bag field.Faults
	switch {
	case errors.As(err, &bag):
		return append(faults, bag...)
	case len(faults) > 0:
		return &bothWrong{faults, err}
	}
	return err
}

// shotOf checks a card. A take-off on the command line wins over the card's.
func shotOf(e *env, name string, data []byte, bag *kit.Bag, takeOff string) (*shot.Shot, error) {
	card, faults := shot.ReadCard(name, data)
	if card == nil {
		return nil, faults
	}
	s0, faults := card.Shot(bag, e.now())
	if len(faults) > 0 {
		return nil, faults
	}
	if takeOff == "" {
		return s0, nil
	}
	t, err := shot.ParseTakeOff(takeOff, e.now(), s0.Zone)
	if err != nil {
		return nil, badValue{fmt.Errorf("--take-off %q: give %w", takeOff, err)}
	}
	if s0, err = s0.At(t); err != nil {
		return nil, fmt.Errorf("--take-off: the card does not fit together then: %w", err)
	}
	return s0, nil
}

func solve(e *env, name string, data []byte, bag *kit.Bag, takeOff string) (*plan.Report, error) {
	shot, err := shotOf(e, name, data, bag, takeOff)
	if err != nil {
		return nil, err
	}
	return solved(shot, bag), nil
}

func solved(shot *shot.Shot, bag *kit.Bag) *plan.Report {
	return plan.Solve(shot, bag, plan.Options{PerLeg: cardPerLeg, Fine: true})
}

// findBag looks for the bag: the one named, bag.yaml in the card's folder, the one in the user's
// configuration folder, or the generic one that is built in.
func findBag(e *env, named, card string) (*kit.Bag, error) {
	bag, _, err := bagAndFile(e, named, card)
	return bag, err
}

// bagAndFile returns the file that the bag was read from too, "" where it has none to be saved to.
func bagAndFile(e *env, named, card string) (*kit.Bag, string, error) {
	if named == "" {
		if card == "-" {
			card = ""
		}
		p, ok := store.FindBag(card)
		if !ok {
			return kit.Generic(), "", nil
		}
		named = p
	}
	bag, err := readBag(e, named)
	if named == "-" {
		named = ""
	}
	return bag, named, err
}

func readBag(e *env, path string) (*kit.Bag, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, err
	}
	bag, faults := kit.ReadBag(name, data)
	if len(faults) > 0 {
		return nil, faults
	}
	return bag, nil
}

// stamp formats a time for JSON.
func stamp(t time.Time) string { return t.Format(time.RFC3339) }
