package files

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// folder holds pictures, a folder and what is neither.
func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"IMG_1.JPG", "IMG_2.jpg", "IMG_3.jpeg", "wall.jpg", ".hidden.jpg", "notes.txt", "a b.jpg"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "walls"), 0o700); err != nil {
		t.Fatal(err)
	}
	return dir + string(filepath.Separator)
}

func TestComplete(t *testing.T) {
	dir := folder(t)
	sep := string(filepath.Separator)
	for typed, want := range map[string]struct {
		next string
		n    int
	}{
		"I": {"IMG_", 3}, "img": {"IMG_", 3}, "IMG_2": {"IMG_2.jpg", 0}, "w": {"wall", 2}, "walls": {"walls" + sep, 0}, "": {"", 6}, "x": {"x", 0},
		"notes": {"notes", 0}, "walls" + sep: {"walls" + sep, 0}, "none" + sep + "x": {"none" + sep + "x", 0},
	} {
		if next, several := Complete(dir + typed); next != dir+want.next || len(several) != want.n {
			t.Errorf("%q: %q, %q", typed, next, several)
		}
	}
	t.Chdir(dir)
	if next, _ := Complete("wall."); next != "wall.jpg" {
		t.Errorf("here: %q", next)
	}
}

func TestBeside(t *testing.T) {
	dir := folder(t)
	for _, c := range []struct {
		typed string
		by    int
		want  string
	}{
		{"", 1, "IMG_1.JPG"}, {"IMG_1.JPG", 1, "IMG_2.jpg"}, {"IMG_2.jpg", -1, "IMG_1.JPG"}, {"IMG_1.JPG", -1, "IMG_1.JPG"},
		{"wall.jpg", 1, "wall.jpg"}, {"IMG_25", 1, "IMG_3.jpeg"}, {"IMG_25", -1, "IMG_2.jpg"}, {"none/x", 1, "none/x"},
	} {
		if got := Beside(dir+c.typed, c.by); got != dir+c.want {
			t.Errorf("%q by %d: %q", c.typed, c.by, got)
		}
	}
}

// What terminals paste of dropped files; a file whose name has blanks is one, as it is.
func TestSplit(t *testing.T) {
	dir := folder(t)
	if err := os.Mkdir(dir+"more walls", 0o700); err != nil {
		t.Fatal(err)
	}
	of := filepath.FromSlash
	for text, want := range map[string][]string{
		"":                                  nil,
		"  \n":                              nil,
		"/x/a.jpg":                          {"/x/a.jpg"},
		"/x/a.jpg /x/b.jpg\n/x/c.jpg":       {"/x/a.jpg", "/x/b.jpg", "/x/c.jpg"},
		"'/x/a b.jpg' '/x/c.jpg'":           {"/x/a b.jpg", "/x/c.jpg"},
		`"/x/a b.jpg"`:                      {"/x/a b.jpg"},
		"file:///x/a%20b.jpg file:///y.jpg": {of("/x/a b.jpg"), of("/y.jpg")},
		"/x/it's.jpg":                       {"/x/it's.jpg"},
		"'/x/never ends":                    {"/x/never ends"},
		dir + "a b.jpg":                     {dir + "a b.jpg"},
		dir + "more walls":                  {dir + "more walls"},
		"/x/not there.jpg":                  {"/x/not there.jpg"}, // mistyped, it is one mistake and not two
		"/x/a b.jpg /x/c  d.jpg":            {"/x/a b.jpg", "/x/c  d.jpg"},
		"'/x/walls' /x/c.jpg":               {"/x/walls", "/x/c.jpg"},
	} {
		if got := Split(text); !slices.Equal(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	if filepath.Separator == '\\' {
		return // there a backslash parts folders
	}
	if got, want := Split(`/x/a\ b.jpg /x/it\'s.jpg '/x/it'\''s one.jpg'`), []string{"/x/a b.jpg", "/x/it's.jpg", "/x/it's one.jpg"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestHomed(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home) // where Windows has it
	sep := string(filepath.Separator)
	for path, want := range map[string]string{"~": home + sep, "~/": home + sep, "~" + sep + "a": filepath.Join(home, "a"), "~a": "~a", "/a": "/a", "a~": "a~", "": ""} {
		if got := Homed(path); got != want {
			t.Errorf("%q: %q", path, got)
		}
	}
}

// Whatever is pasted, nothing of it is lost but marks and blanks, and nothing is made up.
func FuzzSplit(f *testing.F) {
	for _, s := range []string{"'/x/a b.jpg' /c", `/x/a\ b`, "file:///a%zz", "\\", "'", "a\x00b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, p := range Split(text) {
			if len(p) > 3*len(text) { // bytes that are no UTF-8 become a character of three
				t.Errorf("%q became %q", text, p)
			}
		}
	})
}
