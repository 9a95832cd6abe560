package manual

import (
	"fmt"
	"strings"
)

// Shells lists the shells that Completion knows.
func Shells() []string { return []string{"bash", "zsh", "fish"} }

// Completion writes what a shell reads to complete command lines; "" for one that is not known. The first line says how
// it is used.
func (p *Program) Completion(shell string) string {
	switch shell {
	case "bash":
		return p.bash()
	case "zsh":
		return p.zsh()
	case "fish":
		return p.fish()
	}
	return ""
}

// quoted is a word or a text within single quotes, for any of the three.
func quoted(text, apostrophe string) string {
	return "'" + strings.ReplaceAll(text, "'", apostrophe) + "'"
}

// bash writes for the shell's own function, down to version 3.2.
func (p *Program) bash() string {
	var b strings.Builder
	quote := func(words []string) string { return quoted(strings.Join(words, " "), `'\''`) }
	fmt.Fprintf(&b, "# Completion for bash; in ~/.bashrc: source <(%[1]s completion bash)\n_%[1]s() {\n", p.Name)
	b.WriteString(`    local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} command= flags= words= files= IFS=$' \t\n'
    COMPREPLY=()
    if ((COMP_CWORD > 1)); then
        case ${COMP_WORDS[1]} in
`)
	fmt.Fprintf(&b, "        %s) command=${COMP_WORDS[1]} ;;\n        esac\n    fi\n    case $command in\n", strings.Join(p.Names(), "|"))
	for _, c := range p.all() {
		var flags []string
		fmt.Fprintf(&b, "    %s)\n        case $prev in\n", quote([]string{c.Name}))
		for i := range c.Flags {
			f := &c.Flags[i]
			flags = append(flags, f.Dashed())
			switch {
			case f.Kind == File:
				fmt.Fprintf(&b, "        %s) files=any ;;\n", f.Dashed())
			case len(f.Words) > 0:
				fmt.Fprintf(&b, "        %s) words=%s ;;\n", f.Dashed(), quote(f.Words))
			case f.Kind != Switch:
				fmt.Fprintf(&b, "        %s) return ;;\n", f.Dashed())
			}
		}
		fmt.Fprintf(&b, "        *) flags=%s", quote(append(flags, "--help")))
		if words := p.operands(c); len(words) > 0 {
			fmt.Fprintf(&b, " words=%s", quote(words))
		}
		if files := map[Operand]string{Files: "any", Cards: "cards"}[c.Operand]; files != "" {
			fmt.Fprintf(&b, " files=%s", files)
		}
		b.WriteString(" ;;\n        esac ;;\n")
	}
	fmt.Fprintf(&b, `    esac
    if [[ $cur == -* && -n $flags ]]; then
        COMPREPLY=($(compgen -W "$flags" -- "$cur"))
        return
    fi
    ((COMP_CWORD == 1)) || [[ -n $command ]] || [[ -z $flags ]] || words=
    [[ -n $words ]] && COMPREPLY=($(compgen -W "$words" -- "$cur"))
    IFS=$'\n'
    case $files in
    any) COMPREPLY+=($(compgen -f -- "$cur")) ;;
    cards) COMPREPLY+=($(compgen -d -- "$cur") $(compgen -f -X '!*.y*ml' -- "$cur")) ;;
    esac
    if [[ -n $files && -e ${COMPREPLY[0]} ]]; then
        compopt -o filenames 2>/dev/null
    fi
}
complete -F _%[1]s %[1]s
`, p.Name)
	return b.String()
}

// all is the commands and what runs without one.
func (p *Program) all() []*Command {
	all := []*Command{&p.Main}
	for i := range p.Commands {
		all = append(all, &p.Commands[i])
	}
	return all
}

// operands lists the words that may stand for what is no flag; without a command these are the commands.
func (p *Program) operands(c *Command) []string {
	if c.Name == "" {
		return p.Names()
	}
	return c.Words
}

// zsh writes for the system of functions that compinit starts.
func (p *Program) zsh() string {
	var b strings.Builder
	// within a specification brackets and colons have a meaning
	in := strings.NewReplacer(`\`, `\\`, "[", `\[`, "]", `\]`, ":", `\:`, "'", `'\''`)
	fmt.Fprintf(&b, "#compdef %[1]s\n# Completion for zsh; in ~/.zshrc, after compinit: source <(%[1]s completion zsh)\n_%[1]s() {\n  local -a commands\n  commands=(\n", p.Name)
	for i := range p.Commands {
		fmt.Fprintf(&b, "    '%s:%s'\n", p.Commands[i].Name, in.Replace(p.Commands[i].Line))
	}
	b.WriteString("  )\n  if (( CURRENT == 2 )) && [[ $words[2] != -* ]]; then\n    _describe -t commands command commands\n    _files -g '*.(yaml|yml)(-.)'\n    return\n  fi\n")
	b.WriteString("  local command=$words[2]\n  case $command in\n")
	fmt.Fprintf(&b, "  %s) shift words; (( CURRENT-- )) ;;\n  *) command= ;;\n  esac\n  case $command in\n", strings.Join(p.Names(), "|"))
	for _, c := range p.all() {
		fmt.Fprintf(&b, "  '%s')\n    _arguments '(- *)'{-h,--help}'[what the command takes]'", c.Name)
		for i := range c.Flags {
			f := &c.Flags[i]
			again := ""
			if f.Many {
				again = "*"
			}
			b.WriteString(" \\\n      '" + again + f.Dashed() + "[" + in.Replace(f.Help) + "]")
			if f.Kind != Switch {
				fmt.Fprintf(&b, ":%s:", in.Replace(f.Value))
			}
			switch {
			case f.Kind == File:
				b.WriteString("_files")
			case len(f.Words) > 0:
				fmt.Fprintf(&b, "(%s)", strings.Join(f.Words, " "))
			}
			b.WriteString("'")
		}
		switch c.Operand {
		case Files:
			b.WriteString(" \\\n      '*:file:_files'")
		case Cards:
			b.WriteString(` \` + "\n" + `      '*:card:_files -g "*.(yaml|yml)(-.)"'`)
		case Word:
			fmt.Fprintf(&b, " \\\n      ':word:(%s)'", strings.Join(c.Words, " "))
		}
		b.WriteString(" ;;\n")
	}
	fmt.Fprintf(&b, "  esac\n}\nif [[ $funcstack[1] == _%[1]s ]]; then\n  _%[1]s \"$@\"\nelse\n  compdef _%[1]s %[1]s\nfi\n", p.Name)
	return b.String()
}

// fish writes one line for every word that may be typed.
func (p *Program) fish() string {
	var b strings.Builder
	say := func(text string) string { return quoted(strings.ReplaceAll(text, `\`, `\\`), `\'`) }
	fmt.Fprintf(&b, `# Completion for fish; in ~/.config/fish/config.fish: %[1]s completion fish | source
function __%[1]s_command
    set -l words (commandline -opc)
    if test (count $words) -gt 1; and contains -- $words[2] %[2]s
        echo $words[2]
    end
end
function __%[1]s_first
    test (count (commandline -opc)) -eq 1
end
function __%[1]s_in
    test "$(__%[1]s_command)" = "$argv[1]"
end
complete -c %[1]s -f
`, p.Name, strings.Join(p.Names(), " "))
	for i := range p.Commands {
		fmt.Fprintf(&b, "complete -c %[1]s -n __%[1]s_first -a %[2]s -d %[3]s\n", p.Name, p.Commands[i].Name, say(p.Commands[i].Line))
	}
	for _, c := range p.all() {
		lead := fmt.Sprintf("complete -c %[1]s -n '__%[1]s_in \"%[2]s\"'", p.Name, c.Name)
		for i := range c.Flags {
			f := &c.Flags[i]
			name := "-l " + f.Name
			if len(f.Name) == 1 {
				name = "-s " + f.Name
			}
			takes := ""
			switch {
			case f.Kind == File:
				takes = " -r -F"
			case len(f.Words) > 0:
				takes = " -x -a " + say(strings.Join(f.Words, " "))
			case f.Kind != Switch:
				takes = " -x"
			}
			fmt.Fprintf(&b, "%s %s%s -d %s\n", lead, name, takes, say(f.Help))
		}
		switch c.Operand {
		case Files:
			fmt.Fprintf(&b, "%s -F\n", lead)
		case Cards:
			fmt.Fprintf(&b, "%s -a '(__fish_complete_suffix .yaml)'\n", lead)
		case Word:
			fmt.Fprintf(&b, "%s -a %s\n", lead, say(strings.Join(c.Words, " ")))
		}
	}
	return b.String()
}
