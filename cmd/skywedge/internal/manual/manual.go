// Package manual is what there is to say about a command line: which commands there are, what each takes, and an
// example. From one such table it reads a command line, and writes the help on the screen, the completion of three
// shells and a page for man. It runs nothing.
package manual

// Program is a program and its commands.
type Program struct {
	Name     string
	Line     string    // what it is, in a few words
	Intro    string    // what it is for, a paragraph
	Main     Command   // what runs when no command is named; its Name is ""
	Commands []Command // in the order of the help
	Notes    []Note    // what holds for all of them
	Caution  string    // the last paragraph of every help
}

// Note is a title and what stands under it: entries, or a paragraph.
type Note struct {
	Title   string
	Entries [][2]string // a word and its meaning
	Text    string
}

// Command is one command, or what the program does without one.
type Command struct {
	Name    string
	Args    string // what must be given, as a person would write it: "CARD --second S"
	Line    string // what it answers, in one line
	More    string // what else there is to know, a paragraph
	Flags   []Flag
	Operand Operand
	Words   []string // of an operand that is one of some words
	Example []string // command lines that work on the demo trip, each without the program's name
}

// Operand is what a command takes besides flags, for completion.
type Operand uint8

// The operands.
const (
	Nothing Operand = iota
	Files           // any file
	Cards           // files of cards, and folders on the way to them
	Word            // one of Command.Words
)

// Kind is what a flag's value is.
type Kind uint8

// The kinds of flags.
const (
	Switch Kind = iota // given or not
	Text
	Number
	File
)

// Flag is one flag of a command.
type Flag struct {
	Name    string // without dashes
	Kind    Kind
	Value   string   // what stands for its value in a help: "FILE"; none of a switch
	Default string   // what holds when it is not given; "" where nothing does
	Words   []string // all that its value may be; nil for anything
	Told    bool     // Help tells what each word means
	Many    bool     // may be given again: Asked.Order has them all
	Env     string   // the variable of the environment that stands for it when it is not given
	Help    string
}

// Dashed returns the flag as it is typed.
func (f *Flag) Dashed() string {
	if len(f.Name) == 1 {
		return "-" + f.Name
	}
	return "--" + f.Name
}

// Flag returns the flag of a name, nil when the command has none.
func (c *Command) Flag(name string) *Flag {
	for i := range c.Flags {
		if c.Flags[i].Name == name {
			return &c.Flags[i]
		}
	}
	return nil
}

// Command returns the command of a name, nil when there is none.
func (p *Program) Command(name string) *Command {
	for i := range p.Commands {
		if p.Commands[i].Name == name {
			return &p.Commands[i]
		}
	}
	return nil
}

// Names lists the names of the commands.
func (p *Program) Names() []string {
	var names []string
	for i := range p.Commands {
		names = append(names, p.Commands[i].Name)
	}
	return names
}

// usage is the line that says how a command is called.
func (p *Program) usage(c *Command) string {
	line := p.Name
	for _, part := range []string{c.Name, c.Args} {
		if part != "" {
			line += " " + part
		}
	}
	if len(c.Flags) > 0 {
		line += " [FLAG…]"
	}
	return line
}

// said is the flag with what stands for its value.
func (f *Flag) said() string {
	if f.Kind == Switch {
		return f.Dashed()
	}
	return f.Dashed() + " " + f.Value
}

// meaning is what is told of a flag: its help, its words, and what holds without it.
func (f *Flag) meaning() string {
	text := f.Help
	if len(f.Words) > 0 && !f.Told {
		text += ": " + list(f.Words, "or")
	}
	if f.Env != "" {
		text += "; " + f.Env + " in the environment stands for it"
	}
	if f.Many {
		text += "; may be given again"
	}
	if f.Default != "" {
		text += "; " + f.Default + " by default"
	}
	return text
}
