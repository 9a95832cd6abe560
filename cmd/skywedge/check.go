package main

import (
	"fmt"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
)

// checkJSON is the contract of "check --json".
type checkJSON struct {
	Schema  int           `json:"schema"`
	Valid   bool          `json:"valid"`
	Faults  field.Faults  `json:"faults"`
	LeftOut []leftOutJSON `json:"left_out"` // files that cannot be read
}

func checkCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) == 0 {
		return usageError(e, "name a card or a bag, or - for standard input")
	}
	e.several = len(a.Rest) > 1
	answer := checkJSON{Schema: schema, Faults: field.Faults{}, LeftOut: []leftOutJSON{}}
	for _, path := range a.Rest {
		err := checkFile(e, path, a.Text("bag"))
		code, faults := codeOf(err)
		switch {
		case err == nil && !e.asJSON:
			fmt.Fprintf(e.out, "%s: valid\n", nameOf(path))
		case err == nil:
		case code == exitInvalid:
			answer.Faults = append(answer.Faults, faults...)
			if e.asJSON {
				continue
			}
			cut := e.told.more
			if e.tellFaults(faults); e.several && e.told.more > cut { // the file is named at least
				e.tellError("", &pathTrouble{path: path, reason: summary(err)}, 0)
			}
		case len(a.Rest) == 1:
			return failure(e, err)
		default:
			answer.LeftOut = append(answer.LeftOut, e.leaveOut(path, err))
		}
	}
	answer.Valid = len(answer.Faults)+len(answer.LeftOut) == 0
	if e.asJSON {
		writeJSON(e, answer)
	}
	if !answer.Valid {
		return exitInvalid
	}
	return exitDone
}

// checkFile reads one file as what it says it is. A card is held against its bag too.
func checkFile(e *env, path, bagPath string) error {
	name, data, err := readFile(e, path)
	if err != nil {
		return err
	}
	if isBag(data) {
		if _, faults := kit.ReadBag(name, data); len(faults) > 0 {
			return faults
		}
		return nil
	}
	_, faults := shot.ReadCard(name, data)
	bag, err := useBag(e, bagPath, path)
	if err != nil {
		return withBag(faults, err)
	}
	_, err = shotOf(e, name, data, bag.Bag, "")
	return err
}

// fieldsCommand prints the tables of fields that cards and bags are read by.
func fieldsCommand(e *env, a *manual.Asked) int {
	which, spec := "card", shot.CardSpec()
	if len(a.Rest) > 0 {
		which = a.Rest[0]
	}
	switch {
	case len(a.Rest) > 1 || (which != "card" && which != "bag"):
		return usageError(e, "name card or bag")
	case which == "bag":
		spec = kit.BagSpec()
	}
	if e.asJSON {
		return writeJSON(e, fieldsToJSON(which, spec))
	}
	fmt.Fprint(e.out, field.Reference(spec))
	return exitDone
}

// The contract of "fields --json".
type fieldsJSON struct {
	Schema int         `json:"schema"`
	Of     string      `json:"of"`
	Fields []fieldJSON `json:"fields"`
}

type fieldJSON struct {
	Field    string   `json:"field"`
	Allowed  string   `json:"allowed"`
	Words    []string `json:"words"`
	Unit     string   `json:"unit"`
	Min      *float64 `json:"min"`
	Max      *float64 `json:"max"`
	Default  *string  `json:"default"`
	Required bool     `json:"required"`
	Meaning  string   `json:"meaning"`
}

func fieldsToJSON(of string, spec *field.Spec) fieldsJSON {
	out := fieldsJSON{Schema: schema, Of: of, Fields: []fieldJSON{}}
	field.Walk(spec, func(path string, s *field.Spec) {
		ranged := s.Min != 0 || s.Max != 0
		j := fieldJSON{
			Field: path, Allowed: s.Summary(), Words: list(s.Words), Unit: s.Unit, Required: s.Required, Meaning: s.Help,
			Min: when(ranged, s.Min), Max: when(ranged, s.Max),
		}
		if s.Default != "" {
			j.Default = &s.Default
		}
		out.Fields = append(out.Fields, j)
	})
	return out
}
