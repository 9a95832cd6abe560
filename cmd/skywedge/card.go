package main

import (
	"errors"
	"fmt"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
)

// cardPerLeg is the count of moments a leg is judged at outside the workbench.
const cardPerLeg = 32

func cardCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) == 0 {
		return usageError(e, `name a card, or - for standard input`)
	}
	answers := []any{}
	for i, path := range a.Rest {
		r, bag, err := solveFile(e, path, a.Text("bag"), a.Text("take-off"))
		if len(a.Rest) == 1 && err != nil || errors.As(err, new(badValue)) {
			return failure(e, err)
		}
		switch {
		case err != nil:
			answers = append(answers, e.leaveOut(path, err))
			continue
		case e.asJSON:
			j := cardToJSON(r)
			j.File, j.Bag = nameOf(path), bag.json()
			answers = append(answers, j)
			continue
		case i > e.left:
			fmt.Fprintln(e.out)
		}
		if a.On("brief") {
			fmt.Fprint(e.out, briefText(r, bag))
		} else {
			fmt.Fprint(e.out, cardText(r, bag))
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
func solveFile(e *env, path, bagPath, takeOff string) (*plan.Report, bagUse, error) {
	shot, bag, err := shotFile(e, path, bagPath, takeOff)
	if err != nil {
		return nil, bag, err
	}
	return solved(shot, bag.Bag), bag, nil
}

// plainFile is the same without how sure the call is, which takes three times as long as the rest: for what shows the
// flight as it is called.
func plainFile(e *env, path, bagPath, takeOff string) (*plan.Report, bagUse, error) {
	shot, bag, err := shotFile(e, path, bagPath, takeOff)
	if err != nil {
		return nil, bag, err
	}
	return plan.Solve(shot, bag.Bag, plan.Options{PerLeg: cardPerLeg, Fine: true, SkipSureness: true}), bag, nil
}

// shotFile reads a card and its bag. The error holds all that is wrong with both.
func shotFile(e *env, path, bagPath, takeOff string) (*shot.Shot, bagUse, error) {
	s, _, bag, err := shotAndCard(e, path, bagPath, takeOff)
	return s, bag, err
}

// shotAndCard does the same, and returns the card as it is written too.
func shotAndCard(e *env, path, bagPath, takeOff string) (*shot.Shot, *shot.Card, bagUse, error) {
	name, data, err := readFile(e, path)
	if err != nil {
		return nil, nil, bagUse{}, err
	}
	if isBag(data) {
		return nil, nil, bagUse{}, bagForCard(name)
	}
	bag, err := useBag(e, bagPath, path)
	if err != nil {
		_, faults := shot.ReadCard(name, data)
		return nil, nil, bag, withBag(faults, err)
	}
	s, err := shotOf(e, name, data, bag.Bag, takeOff)
	if err != nil {
		return nil, nil, bag, err
	}
	card, _ := shot.ReadCard(name, data) // it was read once and is sound
	return s, card, bag, nil
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

// stamp formats a time for JSON.
func stamp(t time.Time) string { return t.Format(time.RFC3339) }
