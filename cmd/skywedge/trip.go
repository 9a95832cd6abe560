package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/trip"
)

func tripRow() command {
	return command{manual.Command{
		Name: "trip", Args: "DIR", Operand: manual.Cards, Line: "the cards of a folder as one plan: windows, order, ways, conflicts, batteries, packing",
		Flags: flags([]manual.Flag{
			{Name: "ics", Kind: manual.File, Value: "FILE", Help: "the shots as the cards have them, for a calendar, with an alarm 20 minutes before; - is standard output, in place of the answer"},
			{Name: "csv", Kind: manual.File, Value: "FILE", Help: "the same as a table; - is standard output"},
		}, jsonFlag, bagFlag),
		Example: []string{"trip examples"},
	}, tripCommand}
}

// tripFiles are the forms that the plan is written in, by the name of the flag and the ending of the file.
var tripFiles = [...]string{"ics", "csv"}

func tripCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) != 1 {
		return usageError(e, "name one folder of cards")
	}
	dir := a.Rest[0]
	plain := 0 // what goes to standard output in place of the answer
	for _, name := range tripFiles {
		switch to := a.Text(name); {
		case to == "-":
			plain++
		case to != "" && !strings.EqualFold(filepath.Ext(to), "."+name): // or a slip writes over a card
			return usageError(e, "--%s %s: give a name that ends in .%s, or -", name, nameOf(to), name)
		}
	}
	if plain > 1 || plain == 1 && e.asJSON {
		return usageError(e, "only one answer can go to standard output")
	}
	cards, left, bag, err := tripCards(e, dir, a.Text("bag"))
	if err == nil {
		cards, err = workOut(cards)
	}
	if err != nil {
		return failure(e, err)
	}
	p := trip.Of(cards)
	for _, name := range tripFiles {
		to := a.Text(name)
		if to == "" {
			continue
		}
		data := trip.Table(p)
		if name == "ics" {
			data = trip.Calendar(p, e.now())
		}
		if to == "-" {
			e.raw.Write(data)
		} else if err := writeOutput(to, data); err != nil {
			return failure(e, err)
		}
	}
	switch {
	case e.asJSON:
		writeJSON(e, tripToJSON(p, bag, left))
	case plain == 0:
		fmt.Fprint(e.out, tripText(p, bag))
	}
	if e.left > 0 {
		return exitInvalid
	}
	return exitDone
}

// tripCards reads the cards of a folder and the bag that they share; left stands in an answer for those that are left
// out.
func tripCards(e *env, dir, bagPath string) (cards []trip.Card, left []any, bag bagUse, err error) {
	if st, err := os.Stat(dir); err == nil && !st.IsDir() {
		return nil, nil, bag, badValue{fmt.Errorf("%q is no folder: name the one that the cards are in", nameOf(dir))}
	}
	files, err := cardsIn(e, dir)
	if err != nil {
		return nil, nil, bag, err
	}
	if bag, err = useBag(e, bagPath, filepath.Join(dir, "card")); err != nil {
		return nil, nil, bag, err
	}
	e.several = true
	for _, file := range files {
		s, err := readShot(e, file, bag)
		if err != nil {
			left = append(left, e.leaveOut(file, err))
			continue
		}
		cards = append(cards, trip.Card{File: nameOf(file), Shot: s, Bag: bag.Bag})
	}
	if len(cards) == 0 {
		err = &pathTrouble{path: dir, reason: "no card in it is valid", remedy: "mend one", code: exitInvalid}
	}
	return cards, left, bag, err
}

// workOut makes the calls of cards, and tries what little errors would change.
func workOut(cards []trip.Card) ([]trip.Card, error) {
	cards, err := trip.WorkAll(context.Background(), cards, runtime.GOMAXPROCS(0), nil)
	if err != nil {
		return nil, err
	}
	return trip.SureAll(context.Background(), cards, runtime.GOMAXPROCS(0), nil)
}

// readShot reads one card of several that share a bag.
func readShot(e *env, file string, bag bagUse) (*shot.Shot, error) {
	name, data, err := readFile(e, file)
	if err != nil {
		return nil, err
	}
	return shotOf(e, name, data, bag.Bag, "")
}

// tripText is the plan in words, a day after the other.
func tripText(p *trip.Plan, bag bagUse) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s on %s · bag: %s\n", count(len(p.Cards), "shot", "shots"), count(len(p.Days), "day", "days"), bag)
	for i := range p.Days {
		dayText(&b, p, &p.Days[i])
	}
	b.WriteByte('\n')
	packingText(&b, &p.Packing)
	b.WriteString("caution  check the rules, airspace and permissions for every place and date; power off before changing filters\n")
	return b.String()
}

func dayText(b *strings.Builder, p *trip.Plan, d *trip.Day) {
	fmt.Fprintf(b, "\n%s\n", d.Headline(p.Cards))
	for i := range d.Stops {
		s := &d.Stops[i]
		c := &p.Cards[s.Card]
		if way := s.Way(c); way != "" {
			fmt.Fprintf(b, "         %s\n", way)
		}
		fmt.Fprintf(b, "  %s  %s · to %s · %s\n", c.Shot.OnTheClock(s.TakeOff), c.Shot.Name, c.Shot.OnTheClock(s.Landing), s.BatteryWords())
		fmt.Fprintf(b, "         %s · %s\n", c.Mounts(), c.Report.Call.SureWords())
		fmt.Fprintf(b, "         %s\n", c.WindowWords())
		for _, x := range s.Conflicts {
			fmt.Fprintf(b, "       ! %s\n", x)
		}
	}
	if !d.Better(p.Cards) {
		return
	}
	fmt.Fprintf(b, "  proposed: %s\n", d.ProposedWords(p.Cards))
	for i := range d.Order {
		m := &d.Order[i]
		c := &p.Cards[m.Card]
		was := ""
		if t := c.Shot.TakeOff; !t.Equal(m.TakeOff) {
			was = " (now " + c.Shot.OnTheClock(t) + ")"
		}
		way := m.Way(c)
		if way != "" {
			way = " · " + way
		}
		fmt.Fprintf(b, "    %s  %s%s%s\n", c.Shot.OnTheClock(m.TakeOff), c.Shot.Name, was, way)
	}
}

func packingText(b *strings.Builder, k *trip.Packing) {
	row := func(title string, list []string) {
		if len(list) > 0 {
			fmt.Fprintf(b, "%-8s %s\n", title, strings.Join(list, ", "))
		}
	}
	batteries := count(k.Batteries, "battery", "batteries")
	if len(k.Unknown) > 0 {
		batteries += ", without those of " + strings.Join(k.Unknown, ", ") + ": not known"
	}
	row("pack", append([]string{batteries}, k.Used...))
	row("spare", k.Spare)
	row("leave", k.Leave)
	for _, m := range k.Missing {
		fmt.Fprintf(b, "missing  a density of %s would serve %s\n", exposure.FormatStops(m.Stops), strings.Join(m.WouldServe, ", "))
	}
}
