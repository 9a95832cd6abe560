package manual

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
)

// Asked is a command line that was read.
type Asked struct {
	command *Command
	Rest    []string // what is no flag, in its order
	Order   []Given  // the flags as they stood, those that were given again as well
	values  map[string]string
	fromEnv map[string]bool
}

// Given is a flag with its value, as it stood on a command line.
type Given struct{ Name, Value string }

// ErrHelp is returned for a command line that asks for the command's help.
var ErrHelp = errors.New("help is asked for")

// Read reads what stands behind a command's name: flags and arguments in any order, as people type them, a value
// behind a blank or behind "=". After "--" everything is an argument. What it returns beside an error holds what was
// understood.
func (c *Command) Read(args []string) (*Asked, error) {
	a := &Asked{command: c, values: map[string]string{}, fromEnv: map[string]bool{}}
	for len(args) > 0 {
		arg := args[0]
		args = args[1:]
		switch {
		case arg == "--":
			a.Rest = append(a.Rest, args...)
			return a, nil
		case len(arg) < 2 || arg[0] != '-':
			a.Rest = append(a.Rest, arg)
			continue
		}
		name, value, inside := strings.Cut(strings.TrimPrefix(arg[1:], "-"), "=")
		f := c.Flag(name)
		switch {
		case f == nil && (name == "help" || name == "h"):
			return a, ErrHelp
		case f == nil:
			return a, c.noFlag(arg, name)
		case f.Kind == Switch && !inside:
			value = "true"
		case f.Kind != Switch && !inside:
			if len(args) == 0 {
				return a, fmt.Errorf("%s needs a value: %s", f.Dashed(), f.said())
			}
			value, args = args[0], args[1:]
		}
		if err := f.check(value); err != nil {
			return a, err
		}
		a.values[name] = value
		a.Order = append(a.Order, Given{name, value})
	}
	return a, nil
}

// noFlag says that a flag is not known, and which one may be meant.
func (c *Command) noFlag(arg, name string) error {
	var names []string
	for i := range c.Flags {
		names = append(names, c.Flags[i].Name)
	}
	arg, _, _ = strings.Cut(arg, "=")
	if near := field.Nearest(name, names); near != "" {
		return fmt.Errorf("there is no flag %s: did you mean %s?", arg, c.Flag(near).Dashed())
	}
	return fmt.Errorf("there is no flag %s", arg)
}

func (f *Flag) check(value string) error {
	switch f.Kind {
	case Switch:
		if _, err := strconv.ParseBool(value); err != nil {
			return fmt.Errorf("%s takes no value: leave out %q", f.Dashed(), value)
		}
	case Number:
		if v, err := strconv.ParseFloat(value, 64); err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s %q: give a number", f.Dashed(), value)
		}
	default:
		if err := f.CheckWord(value); err != nil {
			return fmt.Errorf("%s %q: %w", f.Dashed(), value, err)
		}
	}
	return nil
}

// CheckWord tells what to give instead of a value that is none of a flag's words.
func (f *Flag) CheckWord(value string) error {
	for _, w := range f.Words {
		if w == value {
			return nil
		}
	}
	if len(f.Words) == 0 {
		return nil
	}
	text := "give " + list(f.Words, "or")
	if near := field.Nearest(value, f.Words); near != "" {
		text += "; did you mean " + near + "?"
	}
	return errors.New(text)
}

// list joins words with commas, and the last with "or" or "and".
func list(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
	}
	return strings.Join(words, "")
}

// Given tells whether a flag stood on the command line.
func (a *Asked) Given(name string) bool {
	_, ok := a.values[name]
	return ok
}

// On tells whether a switch is on.
func (a *Asked) On(name string) bool {
	on, _ := strconv.ParseBool(a.Text(name))
	return on
}

// Text returns a flag's value, or what holds without it. To ask for a flag that the table does not have is a
// mistake of the program.
func (a *Asked) Text(name string) string {
	f := a.command.Flag(name)
	if f == nil {
		panic(fmt.Sprintf("the command %q has no flag %q", a.command.Name, name))
	}
	if v, ok := a.values[name]; ok {
		return v
	}
	return f.Default
}

// Number returns the value of a flag that is a number, 0 when it is not given and has no default.
func (a *Asked) Number(name string) float64 {
	v, _ := strconv.ParseFloat(a.Text(name), 64)
	return v
}

// Fill gives flags that are not on the command line the values that the environment has for them. An empty one counts
// as none. The error names the variable.
func (a *Asked) Fill(env func(string) string) error {
	for i := range a.command.Flags {
		f := &a.command.Flags[i]
		if f.Env == "" || a.Given(f.Name) || env(f.Env) == "" {
			continue
		}
		value := env(f.Env)
		if err := f.CheckWord(value); err != nil {
			return fmt.Errorf("%s in the environment is %q: %w", f.Env, value, err)
		}
		a.values[f.Name], a.fromEnv[f.Name] = value, true
	}
	return nil
}

// FromEnv names the variable that a flag's value comes from, "" where it stood on the command line or is the default.
func (a *Asked) FromEnv(name string) string {
	if !a.fromEnv[name] {
		return ""
	}
	return a.command.Flag(name).Env
}
