package plan

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows names, for every package below the workbench, the packages of this module that stand directly under
// it. A package may import these and whatever stands under them, and nothing else of this module.
var arrows = map[string][]string{
	"sun":                    {},
	"kit/field":              {},
	"kit":                    {"kit/field"},
	"kit/photo":              {},
	"kit/photo/phototest":    {}, // for tests
	"examples":               {},
	"plan/internal/angle":    {},
	"plan/internal/fastlog":  {},
	"plan/internal/once":     {},
	"plan/internal/piece":    {},
	"plan/internal/runs":     {},
	"plan/internal/wgs84":    {},
	"plan/internal/parallel": {},
	"plan/internal/rank":     {},
	"plan/internal/plantest": {"plan/shot"}, // for tests: no row has it under it
	"plan/exposure":          {},
	"plan/store":             {},
	"plan/place":             {},
	"plan/zone":              {"plan/place"},
	"plan/motion":            {"plan/internal/rank"},
	"plan/water":             {"sun"},
	"plan/words":             {"plan/exposure"},
	"plan/shot":              {"kit", "kit/field", "sun", "plan/exposure", "plan/place", "plan/internal/angle"},
	"plan/route":             {"plan/shot", "plan/internal/wgs84"},
	"plan/light":             {"plan/shot", "plan/water", "plan/exposure", "plan/internal/once", "plan/internal/fastlog"},
	"plan/frame":             {"plan/light", "plan/internal/rank", "plan/internal/fastlog", "plan/internal/piece"},
	"plan/picture":           {"plan/light", "plan/internal/fastlog", "plan/internal/parallel"},
	"plan/setting":           {"plan/shot", "plan/motion", "plan/words", "plan/internal/once"},
	"plan/mounting":          {"plan/shot", "plan/words"},
	"plan/glass":             {"plan/frame", "plan/mounting", "plan/internal/once"},
	"plan/hours":             {"plan/shot", "plan/words"},
	"plan/caution":           {"plan/light", "plan/words", "plan/zone"},
	"plan":                   {"plan/setting", "plan/mounting", "plan/hours", "plan/caution", "plan/glass", "plan/picture", "plan/motion", "plan/words", "plan/internal/once", "plan/internal/parallel", "plan/internal/runs"},
	"plan/compass":           {"plan"},
	"plan/advice":            {"plan"},
	"plan/walk":              {"plan/advice"},
	"plan/strip":             {"plan"},
	"plan/trip":              {"plan/advice", "plan/place"},
	"plan/sheet":             {"plan/trip", "plan/walk", "plan/strip"},
	"plan/flown":             {"plan", "plan/place", "kit/photo"},
	"plan/learn":             {"plan/shot", "plan/words"},
	"plan/taken":             {"plan/hours", "plan/zone", "kit/photo"},
	"plan/measure":           {"kit", "kit/photo", "plan/words"},
	"plan/ridge":             {"plan/shot", "plan/words", "plan/internal/parallel", "plan/internal/wgs84"},
	"plan/ridge/ridgetest":   {}, // for tests
}

// libraries are the modules of others that these packages may use; r3 (vectors) may be used everywhere.
var libraries = map[string][]string{
	"kit/field": {"gopkg.in/yaml.v3"},
	"kit/photo": {"github.com/bep/imagemeta"},
	"sun":       {"github.com/sixdouglas/suncalc", "gonum.org/v1/gonum/integrate/quad"},
}

const vectors = "gonum.org/v1/gonum/spatial/r3"

// worldly are the packages of the standard library that reach disk, clock, terminal, network or chance.
// What is below the workbench is worked out from its arguments alone, saving excepted. The tests' own
// package draws its flights from a seed.
var worldly = []string{"os", "syscall", "net", "log", "plugin", "math/rand", "crypto/rand", "testing"}

var mayTouchTheWorld = []string{"plan/store", "plan/internal/plantest"}

// worldlyCalls are the functions of otherwise pure packages that read the clock or write to the terminal.
var worldlyCalls = map[string][]string{
	"time": {"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Local"},
	"fmt":  {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
}

// under returns all that a package may import of this module.
func under(pkg string) map[string]bool {
	all := map[string]bool{}
	var add func(string)
	add = func(p string) {
		for _, q := range arrows[p] {
			if !all[q] {
				all[q] = true
				add(q)
			}
		}
	}
	add(pkg)
	return all
}

// againstTheMap says what is wrong with an import by a package of this module, both without the module's
// path where they are of it; "" when nothing is.
func againstTheMap(module, pkg, imported string) string {
	if pkg == "cmd" || strings.HasPrefix(pkg, "cmd/") {
		return ""
	}
	own, isOwn := strings.CutPrefix(imported, module+"/")
	if pkg == "tui" || strings.HasPrefix(pkg, "tui/") {
		if isOwn && strings.HasPrefix(own, "cmd/") {
			return "the workbench knows no command"
		}
		return ""
	}
	if _, known := arrows[pkg]; !known {
		return "it has no row in arrows: say where it stands"
	}
	first, _, _ := strings.Cut(imported, "/")
	switch {
	case isOwn && !under(pkg)[own]:
		return "it does not stand under it"
	case isOwn, imported == vectors:
	case strings.Contains(first, ".") && !slices.Contains(libraries[pkg], imported):
		return "it is a library of others"
	case slices.Contains(mayTouchTheWorld, pkg):
	case slices.ContainsFunc(worldly, func(w string) bool { return imported == w || strings.HasPrefix(imported, w+"/") }):
		return "it reaches the world outside"
	}
	return ""
}

// worldlyUse returns the calls of a file that read the clock or write to the terminal, as "time.Now".
func worldlyUse(f *ast.File) []string {
	names := map[string]string{}
	for _, im := range f.Imports {
		p, _ := strconv.Unquote(im.Path.Value)
		name := path.Base(p)
		if im.Name != nil {
			name = im.Name.Name
		}
		names[name] = p
	}
	var found []string
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := s.X.(*ast.Ident); ok && slices.Contains(worldlyCalls[names[x.Name]], s.Sel.Name) {
				found = append(found, names[x.Name]+"."+s.Sel.Name)
			}
		}
		return true
	})
	return found
}

// Imports run one way through the whole module, and only saving, the workbench and the program touch the
// world.
func TestImportsRunOneWay(t *testing.T) {
	mod, err := os.ReadFile("../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	first, _, _ := strings.Cut(string(mod), "\n")
	module := strings.TrimPrefix(first, "module ")
	seen := map[string]bool{}
	err = filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if name := d.Name(); name == "testdata" || name != ".." && strings.HasPrefix(name, ".") {
				return fs.SkipDir
			}
			return nil
		case !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go"):
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel("..", filepath.Dir(file))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(rel)
		seen[pkg] = true
		for _, im := range f.Imports {
			p, _ := strconv.Unquote(im.Path.Value)
			if wrong := againstTheMap(module, pkg, p); wrong != "" {
				t.Errorf("%s imports %s: %s", file, p, wrong)
			}
		}
		if _, below := arrows[pkg]; below && !slices.Contains(mayTouchTheWorld, pkg) {
			for _, use := range worldlyUse(f) {
				t.Errorf("%s uses %s: hand it in from above", file, use)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range maps.Keys(arrows) {
		if !seen[pkg] {
			t.Errorf("arrows has a row for %s, which is not there", pkg)
		}
	}
	if !seen["cmd/skywedge"] || !seen["tui"] {
		t.Errorf("the walk saw only %v", seen)
	}
}

// The check itself sees what it is for.
func TestImportCheckSees(t *testing.T) {
	for _, c := range []struct {
		pkg, imported string
		wrong         bool
	}{
		{"plan/light", "m/plan", true},
		{"plan/light", "m/kit", false}, // by way of plan/shot
		{"plan/light", "m/plan/frame", true},
		{"plan", "m/plan/walk", true},
		{"plan", "m/tui", true},
		{"tui", "m/cmd/skywedge", true},
		{"cmd/skywedge", "m/plan/shot", false},
		{"sun", "m/kit", true},
		{"kit", "m/sun", true},
		{"plan/motion", "m/sun", true},
		{"plan/exposure", "m/plan/words", true},
		{"plan", "m/plan/internal/plantest", true},
		{"plan", "os", true},
		{"plan", "os/exec", true},
		{"plan/store", "os", false},
		{"plan/store", "m/kit", true},
		{"plan", "gopkg.in/yaml.v3", true},
		{"kit/field", "gopkg.in/yaml.v3", false},
		{"plan/shot", "math", false},
		{"plan/new", "math", true},
	} {
		if wrong := againstTheMap("m", c.pkg, c.imported); (wrong != "") != c.wrong {
			t.Errorf("%s imports %s: %q", c.pkg, c.imported, wrong)
		}
	}
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", `package x
import clock "time"
var a, b = clock.Now, clock.UTC
`, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := worldlyUse(f); !slices.Equal(got, []string{"time.Now"}) {
		t.Errorf("calls %v", got)
	}
}
