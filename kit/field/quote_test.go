package field

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// What a terminal would act on or not show is spelt out; letters of any script stay.
func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"Küste 2, 夕方":           "Küste 2, 夕方",
		"a\x1b[2Jb\a":           "a<U+001B>[2Jb<U+0007>",
		"a\u009b31m":            "a<U+009B>31m",
		"gpj\u202egnp.yaml":     "gpj<U+202E>gnp.yaml",
		"a\u200bb\u2066c\ufeff": "a<U+200B>b<U+2066>c<U+FEFF>",
		"soft\u00adhyphen":      "soft<U+00AD>hyphen",
		"two\nlines\tand\x00":   `two\nlines\tand<U+0000>`,
		"\x9b31m \ufffd":        "<0x9B>31m \ufffd",
		"tag\U000e0041":         "tag<U+E0041>",
	} {
		if got := Clean(text, 100); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	if got := Clean(strings.Repeat("x", 50), 10); got != strings.Repeat("x", 10)+"…" {
		t.Errorf("%q", got)
	}
}

func FuzzClean(f *testing.F) {
	f.Add("a\x1b[2Jb\u202e\x9b", 8)
	f.Fuzz(func(t *testing.T, text string, limit int) {
		limit = max(0, limit%1000)
		got := Clean(text, limit)
		if !utf8.ValidString(got) || strings.IndexFunc(got, func(r rune) bool { return !unicode.IsGraphic(r) }) >= 0 {
			t.Fatalf("%q is shown as %q", text, got)
		}
		if n := utf8.RuneCountInString(got); n > limit+1 {
			t.Fatalf("%d characters of at most %d: %q", n, limit, got)
		}
	})
}
