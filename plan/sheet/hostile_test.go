package sheet

import (
	"fmt"
	"html"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// evil are texts that would do harm where they were not escaped. They stand in every place of a sheet that a card, a bag
// or a folder can fill.
var evil = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `' onmouseover='alert(1)`, `</style><script>x</script>`, `</title></head><body onload=x>`,
	`<!-- -->]]>&amp;&lt;`, "a\x00b\x1b[31m\u202e\u2028c\xff", `javascript:alert(1)`, "![x](http://example.org/x.png)", "[x](javascript:alert(1))", "<https://example.org>",
	"```", "| a | b |", "# heading", "- item", "1. item", "***", "https://example.org www.example.org a@example.org", "&#60;script&#62;", "\n\n# heading\n<b>",
}

// hostile is a sheet of the demo with a text in the place of every other, with all that a sheet can have on it.
func hostile(t *testing.T, text string) *Sheet {
	t.Helper()
	s := *whole(t)
	s.Days = slices.Clone(s.Days)
	s.Days[0].Proposed, s.Days[0].Order = "x", []string{"x", "x"}
	s.Shots = slices.Clone(s.Shots)
	for i := range s.Shots {
		x := &s.Shots[i]
		x.Notes, x.Conflicts, x.Flights = "x", []string{"x"}, slices.Clone(x.Flights)
		f := &x.Flights[0]
		f.Change, f.Ring = "x", &Ring{Words: []string{"x"}, Front: "x"}
		x.Flights = append(x.Flights, *f)
	}
	return filled(reflect.ValueOf(&s), text).Interface().(*Sheet)
}

// filled copies a value with a text in the place of every other. A picture has a few bytes only, so that it is quick.
func filled(v reflect.Value, text string) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.String:
		out.SetString(text)
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(filled(v.Elem(), text))
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			out.SetBytes([]byte{1, 2, 3})
			break
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(filled(v.Index(i), text))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(filled(v.Field(i), text))
		}
	default:
		out.Set(v)
	}
	return out
}

const harmless = "The harmless description of a thing"

// A hostile text stays a text: the page has the elements and the attributes that it has with a harmless one, no others.
func TestHostileNames(t *testing.T) {
	t.Parallel()
	frame := func(list []element) string {
		var b strings.Builder
		for _, e := range list {
			fmt.Fprint(&b, e.name, slices.Sorted(maps.Keys(e.attr)), " ")
		}
		return b.String()
	}
	plain := hostile(t, harmless).HTML()
	want := frame(checkPage(t, plain))
	for _, text := range evil {
		page := hostile(t, strings.ReplaceAll(text, "\n", " ")).HTML()
		list := elements(t, page)
		if got := frame(list); got != want {
			t.Errorf("%q makes other elements", text)
		}
		for _, e := range list { // the browser is told nothing but what the style says
			if e.name == "style" && e.text != "\n"+style {
				t.Errorf("%q gets into the style", text)
			}
		}
	}
}

// In Markdown every character that could act is escaped, and the lines are those that a harmless text makes.
func TestHostileMarkdown(t *testing.T) {
	t.Parallel()
	want := string(hostile(t, harmless).Markdown())
	for _, text := range evil {
		got := firstMD(text)
		for i := 0; i < len(got); i++ {
			switch {
			case got[i] == '\\':
				i++
			case strings.IndexByte(special, got[i]) >= 0, got[i] == '@', got[i] == '\n', strings.HasPrefix(got[i:], "://"):
				t.Errorf("%q becomes %q: %q stands free", text, got, got[i])
			}
		}
		if strings.HasPrefix(got, "- ") || strings.HasPrefix(got, "1. ") || strings.Contains(got, "www.") {
			t.Errorf("%q becomes %q", text, got)
		}
		text = strings.TrimSpace(strings.ReplaceAll(text, "\n", " "))
		doc := strings.NewReplacer(firstMD(text), harmless, escapedMD(text), harmless).Replace(string(hostile(t, text).Markdown()))
		if doc != want {
			t.Errorf("%q makes other lines:\n%s", text, doc)
		}
	}
	for _, r := range "\\`*_[]<>&#|~!$@" { // CommonMark and its tables, strikethrough, mathematics and mentions
		if got := escapedMD("a" + string(r) + "b"); got != "a\\"+string(r)+"b" {
			t.Errorf("%q stands free: %s", r, got)
		}
	}
	for text, want := range map[string]string{
		"+⅔ stop": `\+⅔ stop`, "1. item": `1\. item`, "1/50, ISO 100": "1/50, ISO 100", "−⅓": "−⅓", "25 % (of it)": "25 % (of it)", "a_b": `a\_b`,
	} {
		if got := firstMD(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func FuzzTexts(f *testing.F) {
	for _, text := range evil {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p := new(page)
		p.raw(`<p title="`).text(text).raw(`">`).text(text).raw("</p>")
		list := elements(t, p.b.Bytes())
		if len(list) != 1 || len(list[0].attr) != 1 || list[0].attr["title"] != list[0].text {
			t.Errorf("%q becomes %+v", text, list)
		}
		if strings.ContainsAny(html.UnescapeString(p.b.String()), "\x00\x1b\n") || strings.ContainsAny(firstMD(text), "\x00\x1b\n") {
			t.Errorf("%q passes through", text)
		}
	})
}
