package manual

import (
	"fmt"
	"strings"
)

// ManPage writes a page for man in the macros of man(7). The version and the date stand in its foot; a date that is not
// known is "".
func (p *Program) ManPage(version, date string) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH %s 1 %q %q\n", strings.ToUpper(p.Name), date, p.Name+" "+version)
	section := func(title string) { fmt.Fprintf(&b, ".SH %s\n", roff(strings.ToUpper(title))) }
	section("name")
	fmt.Fprintf(&b, "%s \\- %s\n", roff(p.Name), roff(p.Line))
	section("synopsis")
	fmt.Fprintf(&b, ".B %s\n%s\n.br\n.B %s\n.I command\n%s\n", roff(p.Name), roff(strings.TrimPrefix(p.usage(&p.Main), p.Name+" ")), roff(p.Name), roff("[FLAG…] …"))
	section("description")
	fmt.Fprintf(&b, "%s\n.PP\nWithout a command: %s.\n", roff(p.Intro), roff(p.Main.Line))
	manFlags(&b, &p.Main)
	section("commands")
	for i := range p.Commands {
		c := &p.Commands[i]
		fmt.Fprintf(&b, ".SS %s\n%s\n", roff(strings.TrimSpace(c.Name+" "+c.Args)), roff(sentence(c.Line)))
		if c.More != "" {
			fmt.Fprintln(&b, roff(c.More))
		}
		manFlags(&b, c)
		for _, x := range c.Example {
			fmt.Fprintf(&b, ".PP\nExample:\n.PP\n.RS 4\n.B %s\n.RE\n", roff(p.Name+" "+x))
		}
	}
	for i := range p.Notes {
		n := &p.Notes[i]
		section(n.Title)
		if n.Text != "" {
			fmt.Fprintln(&b, roff(n.Text))
		}
		for _, e := range n.Entries {
			fmt.Fprintf(&b, ".TP\n.B %s\n%s\n", roff(e[0]), roff(e[1]))
		}
	}
	section("cautions")
	fmt.Fprintln(&b, roff(p.Caution))
	return b.String()
}

func manFlags(b *strings.Builder, c *Command) {
	for i := range c.Flags {
		f := &c.Flags[i]
		fmt.Fprintf(b, ".TP\n.B %s\n%s\n", roff(f.said()), roff(f.meaning()))
	}
}

// roff writes text so that the formatter takes nothing in it for its own: backslashes, dashes that are to stay dashes,
// and a line that would begin like a request. What is not ASCII is named by its number.
func roff(text string) string {
	var b strings.Builder
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") {
		b.WriteString(`\&`)
	}
	for _, r := range text {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '…':
			b.WriteString("...")
		case r == '"':
			b.WriteString(`\(dq`)
		case r > '~':
			fmt.Fprintf(&b, `\[u%04X]`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
