package field

import (
	"bytes"
	"sort"
	"strings"
	"testing"
)

// layouts are ways of writing a document that edits have to cope with.
var layouts = []string{
	"version: 1\nname: x\n",
	"{version: 1, name: x, legs: [{move: push, heading_deg: [1, 2], seconds: 3}]}\n",
	"{\n  version: 1, # first\n  name: x,\n}\n",
	"---\nversion: 1\nname: 'it''s'\n...\n",
	"legs:\n- move: push\n  heading_deg: 3\n  # inside\n\n- move: pull\n",
	"legs:\n  -\n    move: push\n    seconds: 3\n  -   {move: hold}",
	"legs: []   # none yet\nmarks: [1,2 , 3]\n",
	"legs:\nmarks:\n  - 1   # one\n  # two\n  - 2\n",
	"light:\n  # under\n  cloud_pct: 4\n\n\n  sun: auto\nnotes: >-\n  folded\n  text\n\n  # not a comment\nfps: 24\n",
	"name: a plain text\n  over two lines\nfps: 24\n",
	"name: \"over \\\n  two\"\nlight: {cloud_pct: 3,\n  sun: auto } # c\n",
	"version: 1\r\nname: x\r\nlegs:\r\n  - {move: push, seconds: 1}\r\n  - {move: hold, seconds: 2}\r\n",
	"notes: |+\n  kept\n\nfps: 24\n",
	"notes: |2\n    in\n  out\nfps: 24\n",
	"legs:\n- - a\n  - b\nname: ünïcödé # ü\n",
	"\xef\xbb\xbfversion: 1\nname: with a mark\n",
	"light: {cloud_pct: , sun: auto}\nname:# no\n",
	"skyline:\n  - [1, 2]\n  - - 3\n    - 4\n",
	"version: 1\nname: x\nplace: {lat: 1, lon: 2, zone: UTC}\ntake_off: now\nlegs:\n- {move: push, heading_deg: [1, 2], seconds: 3}",
	"version: 1\nname: >\n  x\n\nplace:\n  lat: 1\n  # of the place\n  lon: 2\n\n  zone: UTC # z\ntake_off: now\nlegs:\n  # of the list\n- # of the item\n  move: push\n  heading_deg:\n  - 1 # one\n  - 2\n  seconds: 3\n  target:\n    distance_m: 4\n   # odd\n# of the second\n- move: hold\n  heading_deg: \"NW\"\n  seconds: 3\n# end\n",
	"{version: 1, name: 'x',\n place: {lat: 1, lon: 2, zone: \"UTC\"}, # p\n take_off: now, legs: [{move: push, heading_deg: [1, 2], seconds: 3,}, # a\n {move: hold, heading_deg: 4, seconds: 5, target: {}}],\n marks: [], light: {}, skyline: [ ] }\n",
	"? name\n: x\n",
	"a: &a [x]\nb: *a\n",
	"place: {lat: 1, lon: 2, zone: UTC}\nfps: ~\n",
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(fixture(f, "card.yaml")))
	for _, text := range layouts {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, faults := Read("card.yaml", data, testSpec)
		if !sort.SliceIsSorted(faults, func(i, j int) bool { return faults[i].Line < faults[j].Line }) {
			t.Fatalf("faults are not in the order of the lines:\n%v", faults)
		}
		lines := bytes.Count(data, []byte("\n")) + 1
		for _, fault := range faults {
			if fault.Line < 1 || fault.Line > lines || fault.Column < 1 || fault.Found == "" || fault.Allowed == "" {
				t.Fatalf("a fault without a place or words: %+v", fault)
			}
			if i := strings.IndexFunc(fault.Error(), unprintable); i >= 0 {
				t.Fatalf("a control character in %q", fault.Error())
			}
			if len([]rune(fault.Found)) > 90 {
				t.Fatalf("%d characters found: %s", len([]rune(fault.Found)), fault.Found)
			}
		}
		if d == nil {
			if len(faults) == 0 {
				t.Fatal("neither a document nor a fault")
			}
			return
		}
		if !bytes.Equal(d.Bytes(), data) {
			t.Fatal("an unedited document changed")
		}
		// The library's writer is the last resort of an edit. Where the tree survives it, so must
		// the faults.
		if fresh, err := encode(d.root); err == nil {
			if e, again := Read("card.yaml", fresh, testSpec); e != nil && same(e.root, d.root, true) && len(again) != len(faults) {
				t.Fatalf("%d faults became %d:\n%s", len(faults), len(again), fresh)
			}
		}
	})
}

// edit makes one of the edits; what is taken from the numbers and the text.
func edit(d *Doc, what, a, b uint8, text string) (*Doc, Faults) {
	var paths []string
	var visit func(v Value)
	visit = func(v Value) {
		paths = append(paths, v.Path())
		if v.n == nil {
			return
		}
		for i := range v.n.items {
			if v.n.kind == mapNode {
				visit(v.Get(v.n.keys[i].value))
			} else {
				visit(v.Index(i))
			}
		}
		if s := v.spec; s != nil && v.n.kind == mapNode {
			for i := range s.Fields {
				if v.n.find(s.Fields[i].Key) < 0 {
					visit(v.Get(s.Fields[i].Key))
				}
			}
		}
	}
	visit(d.Root())
	paths = append(paths, "light.sun", "legs[0].target.distance_m", "nowhere[3].at")
	path := paths[int(a)%len(paths)]
	switch what % 5 {
	case 0:
		return d.Set(path, text)
	case 1:
		return d.Remove(path)
	case 2:
		return d.Insert([]string{"legs", "marks", "skyline", path}[b%4], int(a)%4, text)
	case 3:
		return d.Swap([]string{"legs", "marks", "skyline", path}[b%4], int(a)%4, int(b)/4%4)
	}
	return d.Nudge(path, int(int8(b)), nil)
}

// lostComment returns a comment of a document that is not in another, or "".
func lostComment(d, e *Doc) string {
	has := map[string]int{}
	for _, comment := range e.commentsIn(e.root, 0, 0, len(e.text)) {
		has[comment]++
	}
	for _, comment := range d.commentsIn(d.root, 0, 0, len(d.text)) {
		if has[comment]--; has[comment] < 0 {
			return comment
		}
	}
	return ""
}

func FuzzSet(f *testing.F) {
	card := fixture(f, "card.yaml")
	for _, text := range append(layouts, card) {
		for what := range uint8(5) {
			for a := range uint8(12) {
				f.Add(text, what, a*3, uint8(1), "35 50")
			}
			f.Add(text, what, uint8(1), what, "{move: hold, heading_deg: 9, seconds: 4}")
			f.Add(text, what, uint8(1), what, "move: hold\nheading_deg: 9\nseconds: 4")
			f.Add(text, what, uint8(2), uint8(4), "a: b # \"c\"")
		}
	}
	f.Fuzz(func(t *testing.T, text string, what, a, b uint8, typed string) {
		d, _ := Read("card.yaml", []byte(text), testSpec)
		if d == nil {
			return
		}
		before := d.Bytes()
		e, faults := edit(d, what, a, b, typed)
		if !bytes.Equal(d.Bytes(), before) {
			t.Fatal("an edit changed the document that it started from")
		}
		if e == nil {
			if len(faults) == 0 {
				t.Fatal("refused without a fault")
			}
			return
		}
		if len(d.Faults()) == 0 && len(e.Faults()) > 0 {
			t.Fatalf("an edit brought in %v", e.Faults())
		}
		if what%5 != 1 && typed != "" && lostComment(d, e) != "" {
			t.Fatalf("the comment %q is lost:\n%s", lostComment(d, e), e.Bytes())
		}
		again, _ := Read("card.yaml", e.Bytes(), testSpec)
		if again == nil || !again.Equal(e) || !bytes.Equal(again.Bytes(), e.Bytes()) {
			t.Fatalf("an edited document does not survive a second reading:\n%s", e.Bytes())
		}
	})
}
