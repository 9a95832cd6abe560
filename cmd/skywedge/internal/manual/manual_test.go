package manual

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/skywedge/tui/cells"
)

// demo is a table with every kind of flag.
func demo() *Program {
	return &Program{
		Name: "prog", Line: "shows a table", Intro: "prog shows what a table of commands gives.", Caution: "Mind the gap.",
		Main: Command{Args: "[FILE…]", Line: "opens files", Operand: Files, Flags: []Flag{{Name: "plain", Help: "no ornament"}}},
		Commands: []Command{
			{Name: "show", Args: "FILE", Line: "shows a file", Operand: Cards, Example: []string{"show a.yaml --size 3"}, Flags: []Flag{
				{Name: "brief", Help: "in short"},
				{Name: "colour", Kind: Text, Value: "NAME", Default: "red", Words: []string{"red", "green"}, Help: "of what"},
				{Name: "size", Kind: Number, Value: "N", Help: "how large it's drawn"},
				{Name: "o", Kind: File, Value: "FILE", Help: "where to"},
			}},
			{Name: "list", Args: "KIND", Line: "lists what's there", Operand: Word, Words: []string{"one", "two"}},
		},
		Notes: []Note{{Title: "Codes", Entries: [][2]string{{"0", "done"}}}},
	}
}

func TestRead(t *testing.T) {
	show := demo().Command("show")
	for line, want := range map[string]string{
		"a.yaml":                           "a.yaml | false red 0 ",
		"--brief a b":                      "a b | true red 0 ",
		"a --brief b -size -3":             "a b | true red -3 ",
		"--size=4.5 --colour green -o=x a": "a | false green 4.5 x",
		"-o - -":                           "- | false red 0 -",
		"--brief=false a":                  "a | false red 0 ",
		"a -- --brief -x":                  "a --brief -x | false red 0 ",
		"--colour red --colour green":      " | false green 0 ",
		"--bref":                           "there is no flag --bref: did you mean --brief?",
		"--nothing=1 a":                    "there is no flag --nothing",
		"--size":                           "--size needs a value: --size N",
		"--size big":                       `--size "big": give a number`,
		"--size NaN":                       `--size "NaN": give a number`,
		"--colour gren":                    `--colour "gren": give red or green; did you mean green?`,
		"--brief=perhaps":                  `--brief takes no value: leave out "perhaps"`,
		"a -h":                             ErrHelp.Error(),
		"--help --nothing":                 ErrHelp.Error(),
	} {
		a, err := show.Read(strings.Fields(line))
		got := ""
		if err != nil {
			got = err.Error()
		} else {
			got = strings.Join(a.Rest, " ") + " | " + strings.Join([]string{word(a.On("brief")), a.Text("colour"), trim(a.Number("size")), a.Text("o")}, " ")
		}
		if got != want {
			t.Errorf("%q: %q, want %q", line, got, want)
		}
	}
	if _, err := show.Read([]string{"-h"}); !errors.Is(err, ErrHelp) {
		t.Error(err)
	}
	if a, err := show.Read(strings.Fields("--size 1 a --brief -size=2")); err != nil || len(a.Order) != 3 || a.Order[0] != (Given{"size", "1"}) || a.Order[2] != (Given{"size", "2"}) {
		t.Errorf("flags that are given again: %v, %v", a.Order, err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a flag that is not in the table has a value")
		}
	}()
	a, _ := show.Read(nil)
	a.Text("sise")
}

// What stands in the environment holds where the command line says nothing, and only there.
func TestFill(t *testing.T) {
	c := Command{Name: "show", Flags: []Flag{{Name: "colour", Kind: Text, Default: "red", Words: []string{"red", "green", "blue"}, Env: "COLOUR"}}}
	for _, k := range []struct {
		args            []string
		env, want, from string
	}{
		{nil, "", "red", ""},
		{nil, "green", "green", "COLOUR"},
		{[]string{"--colour", "blue"}, "green", "blue", ""},
		{[]string{"--colour", "blue"}, "wrong", "blue", ""},
		{nil, "wrong", "COLOUR in the environment is \"wrong\": give red, green or blue", ""},
	} {
		a, err := c.Read(k.args)
		if err == nil {
			err = a.Fill(func(string) string { return k.env })
		}
		got := a.Text("colour")
		if err != nil {
			got = err.Error()
		}
		if got != k.want || a.FromEnv("colour") != k.from {
			t.Errorf("%q, %q in the environment: %q from %q, want %q from %q", k.args, k.env, got, a.FromEnv("colour"), k.want, k.from)
		}
	}
}

// Every text fits its width, and none is lost on the way.
func TestHelpFitsTheTerminal(t *testing.T) {
	p := demo()
	for _, columns := range []int{0, 1, 40, 60, 80, 200} {
		width := max(leastWidth, min(columns, widestWidth))
		if columns == 0 {
			width = usualWidth
		}
		overview, help := p.Overview(columns), p.Help(p.Command("show"), columns)
		for _, line := range strings.Split(overview+help, "\n") {
			if cells.Width(line) > width {
				t.Errorf("at %d: %q", columns, line)
			}
		}
		for _, want := range append(p.Names(), p.Caution, "--plain", "0  done", "opens files") {
			if !strings.Contains(overview, want) {
				t.Errorf("at %d the overview lacks %q:\n%s", columns, want, overview)
			}
		}
		for _, f := range p.Command("show").Flags {
			flat := strings.Join(strings.Fields(help), " ")
			if !strings.Contains(help, f.said()) || !strings.Contains(flat, f.meaning()) {
				t.Errorf("at %d the help lacks %q:\n%s", columns, f.said()+" "+f.meaning(), help)
			}
		}
		if !strings.Contains(help, "prog show a.yaml --size 3") || !strings.HasPrefix(help, "prog show FILE [FLAG…]\n") {
			t.Error(help)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("--size\x001\x00a\x00--\x00-x")
	f.Fuzz(func(t *testing.T, line string) {
		c := demo().Command("show")
		args := strings.Split(line, "\x00")
		a, err := c.Read(args)
		if err == nil && !slices.Contains([]string{"red", "green"}, a.Text("colour")) {
			t.Errorf("%q gives the colour %q", args, a.Text("colour"))
		}
		if a == nil {
			t.Fatal("nothing was read")
		}
	})
}

func word(on bool) string { return map[bool]string{true: "true", false: "false"}[on] }

func trim(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
