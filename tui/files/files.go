// Package files helps with the names of files that are typed, pasted or dropped into a terminal: it completes them, goes on
// to the next picture of a folder, and takes apart what a terminal pastes when several files are dropped on it.
//
// It lists one folder at a key of the pilot's, and reads no file.
package files

import (
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Homed puts the home folder in place of a leading ~, as a shell would.
func Homed(path string) string {
	if path != "~" && !(len(path) > 1 && path[0] == '~' && os.IsPathSeparator(path[1])) {
		return path
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return path
	}
	if len(path) <= 2 {
		return home + string(filepath.Separator)
	}
	return filepath.Join(home, path[2:])
}

// IsPicture tells whether a name is that of a JPEG.
func IsPicture(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".jpg" || ext == ".jpeg"
}

// pictures returns the folders and pictures of a folder, by name; folders end in a separator.
func pictures(dir string) []string {
	if dir == "" {
		dir = "."
	}
	entries, _ := os.ReadDir(dir) // one that cannot be read has none to offer
	var list []string
	for _, e := range entries {
		name := e.Name()
		folder := e.IsDir()
		if e.Type()&os.ModeSymlink != 0 {
			st, err := os.Stat(filepath.Join(dir, name))
			folder = err == nil && st.IsDir()
		}
		switch {
		case strings.HasPrefix(name, "."):
		case folder:
			list = append(list, name+string(filepath.Separator))
		case IsPicture(name):
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

// cut parts a typed path into its folder, with the separator, and what was begun of a name in it.
func cut(typed string) (dir, begun string) {
	i := len(typed)
	for i > 0 && !os.IsPathSeparator(typed[i-1]) {
		i--
	}
	return typed[:i], typed[i:]
}

// Complete goes on with a typed path as far as the pictures and folders that begin like it agree. Where several do, they
// are named.
func Complete(typed string) (next string, several []string) {
	dir, begun := cut(typed)
	var fit []string
	for _, exact := range []bool{true, false} { // letters of the other size fit where none else do
		for _, name := range pictures(Homed(dir)) {
			if strings.HasPrefix(name, begun) || !exact && len(name) >= len(begun) && strings.EqualFold(name[:len(begun)], begun) {
				fit = append(fit, name)
			}
		}
		if len(fit) > 0 {
			break
		}
	}
	switch len(fit) {
	case 0:
		return typed, nil
	case 1:
		return dir + fit[0], nil
	}
	common := fit[0]
	for _, name := range fit[1:] {
		n := 0
		for n < len(common) && n < len(name) && common[n] == name[n] {
			n++
		}
		common = common[:n]
	}
	if common = strings.ToValidUTF8(common, ""); len(common) < len(begun) {
		common = begun
	}
	return dir + common, fit
}

// Beside returns the next picture of the folder that a typed path lies in, or the one before; the typed path where there is
// none.
func Beside(typed string, by int) string {
	dir, begun := cut(typed)
	list := slices.DeleteFunc(pictures(Homed(dir)), func(name string) bool { return !IsPicture(name) })
	if len(list) == 0 {
		return typed
	}
	i, found := slices.BinarySearch(list, begun)
	if found || by < 0 {
		i += by
	}
	return dir + list[max(0, min(i, len(list)-1))]
}

// Split takes apart what is pasted: one path, or several as terminals and shells write them, with blanks or lines between,
// each plain, in quotation marks, with backslashes before its blanks, or as an address that begins with file://. A blank
// before which no name is whole, as it has no ending yet, is part of the name.
func Split(text string) []string {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil
	}
	if _, err := os.Stat(Homed(text)); err == nil { // whatever blanks and marks are in it
		return []string{text}
	}
	var out []string
	var word strings.Builder
	begun, quoted, quote := false, false, rune(0)
	end := func() {
		if begun {
			out = append(out, plain(word.String()))
		}
		begun, quoted = false, false
		word.Reset()
	}
	runes := []rune(text)
	for i := 0; i < len(runes); i++ {
		r := runes[i]
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case (r == '\'' || r == '"') && (!begun || quoted): // once there were marks they are no letters: 'it'\''s'
			quote, begun, quoted = r, true, true
		case r == '\\' && filepath.Separator != '\\' && i+1 < len(runes):
			i++
			begun = true
			word.WriteRune(runes[i])
		case r == ' ' && begun && !quoted && filepath.Ext(word.String()) == "":
			word.WriteRune(r)
		case r == ' ' || r == '\n' || r == '\r' || r == '\t':
			end()
		default:
			begun = true
			word.WriteRune(r)
		}
	}
	end()
	return out
}

// plain turns an address of a file into its path.
func plain(text string) string {
	u, err := url.Parse(text)
	if err != nil || u.Scheme != "file" || u.Path == "" {
		return text
	}
	if drive := strings.TrimPrefix(u.Path, "/"); filepath.VolumeName(drive) != "" {
		return filepath.FromSlash(drive)
	}
	return filepath.FromSlash(u.Path)
}
