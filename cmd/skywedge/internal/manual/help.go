package manual

import (
	"strings"

	"example.org/skywedge/tui/cells"
)

// Widths of a help in columns. What is no terminal gets the usual one; a line that is longer than the widest is hard
// to read.
const (
	usualWidth  = 80
	leastWidth  = 40
	widestWidth = 100
)

// page is a text that is being written for so many columns.
type page struct {
	strings.Builder
	width int
}

func newPage(columns int) *page {
	if columns <= 0 {
		columns = usualWidth
	}
	return &page{width: max(leastWidth, min(widestWidth, columns))}
}

// para writes a paragraph, the first line with one indent and the others with another.
func (p *page) para(first, rest, text string) {
	for i, line := range cells.Wrap(text, p.width-max(cells.Width(first), cells.Width(rest))) {
		if i == 0 {
			p.WriteString(first + line + "\n")
		} else {
			p.WriteString(rest + line + "\n")
		}
	}
}

// table writes words and their meanings in two columns; where the first would leave too little for the second, the
// meaning stands below.
func (p *page) table(rows [][2]string) {
	const indent, gap, most, enough = 2, 2, 24, 30
	wide := 0
	for _, r := range rows {
		if w := cells.Width(r[0]); w <= most {
			wide = max(wide, w)
		}
	}
	at := indent + wide + gap
	if p.width-at < enough {
		at = 2 * indent
	}
	for _, r := range rows {
		lead := strings.Repeat(" ", indent) + r[0]
		rest := strings.Repeat(" ", at)
		if w := cells.Width(lead); w+gap <= at {
			p.para(lead+strings.Repeat(" ", at-w), rest, r[1])
			continue
		}
		p.para(strings.Repeat(" ", indent), rest, r[0])
		p.para(rest, rest, r[1])
	}
}

func (p *page) title(text string) { p.WriteString("\n" + text + "\n") }

// Overview is the help of the whole program, for a terminal of so many columns; 0 where there is none.
func (p *Program) Overview(columns int) string {
	w := newPage(columns)
	w.para("", "", p.Intro)
	w.WriteByte('\n')
	w.para("  ", "      ", p.usage(&p.Main))
	w.para("      ", "      ", p.Main.Line)
	w.para("  ", "      ", p.Name+" COMMAND …")
	w.para("      ", "      ", `one of these; "`+p.Name+` help COMMAND" tells what each takes:`)
	w.WriteByte('\n')
	var rows [][2]string
	for i := range p.Commands {
		rows = append(rows, [2]string{p.Commands[i].Name, p.Commands[i].Line})
	}
	w.table(rows)
	w.flags("Flags of the workbench", &p.Main)
	w.notes(p)
	return w.String()
}

// Help is the help of one command.
func (p *Program) Help(c *Command, columns int) string {
	w := newPage(columns)
	w.para("", "    ", p.usage(c))
	w.WriteByte('\n')
	w.para("", "", sentence(c.Line))
	if c.More != "" {
		w.para("", "", c.More)
	}
	w.flags("Flags", c)
	if len(c.Example) > 0 {
		w.title(map[bool]string{true: "Example", false: "Examples"}[len(c.Example) == 1])
		for _, x := range c.Example {
			w.para("  ", "      ", p.Name+" "+x)
		}
	}
	return w.String()
}

func (p *page) flags(title string, c *Command) {
	if len(c.Flags) == 0 {
		return
	}
	p.title(title)
	var rows [][2]string
	for i := range c.Flags {
		rows = append(rows, [2]string{c.Flags[i].said(), c.Flags[i].meaning()})
	}
	p.table(rows)
}

func (p *page) notes(of *Program) {
	for i := range of.Notes {
		n := &of.Notes[i]
		p.title(n.Title)
		if n.Text != "" {
			p.para("  ", "  ", n.Text)
		}
		p.table(n.Entries)
	}
	p.WriteByte('\n')
	p.para("", "", of.Caution)
}

// sentence makes a line that says what a command answers stand alone.
func sentence(line string) string {
	if line == "" {
		return ""
	}
	r := []rune(line)
	text := strings.ToUpper(string(r[:1])) + string(r[1:])
	if !strings.HasSuffix(text, "?") && !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}
