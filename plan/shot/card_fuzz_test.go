package shot

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/skywedge/kit/field"
)

// editOf makes one of the edits of a card; what is taken from the numbers and the text.
func editOf(c *Card, what, a, b uint8, text string) (*Card, field.Faults) {
	legs := c.legCount() + 1
	leg, to := int(a)%legs, int(b)%legs
	paths := []string{"take_off", "purpose", "ring_deg", "shutter_s", "place.zone", "skywedge", "flown[0].leg", text}
	for _, f := range legFields() {
		paths = append(paths, LegPath(leg, f.Key))
	}
	path := paths[int(b)%len(paths)]
	switch what % 8 {
	case 0:
		return c.Set(path, text)
	case 1:
		return c.Set(LegPath(leg, "move"), moveWords[int(b)%len(moveWords)])
	case 2:
		return c.InsertLeg(leg)
	case 3:
		return c.DuplicateLeg(leg)
	case 4:
		return c.RemoveLeg(leg)
	case 5:
		return c.MoveLeg(leg, to)
	case 6:
		return c.Split(leg, float64(b)/4)
	}
	return c.Nudge(path, int(int8(a)), testBag())
}

// commentsOf returns the comments of a card whose texts hold no "#".
func commentsOf(text []byte) (all []string) {
	for _, line := range strings.Split(string(text), "\n") {
		if _, comment, ok := strings.Cut(line, "#"); ok {
			all = append(all, strings.TrimSpace(comment))
		}
	}
	slices.Sort(all)
	return all
}

// Edits in a row never panic, never change the card that they start from, bring no fault into the table's
// part of it, survive writing and reading, and keep the comments, except those of a leg that is removed.
func FuzzCardEdit(f *testing.F) {
	seeds := []string{threeLegs, nudgeCard, "legs: {}\n", "legs: [{}, 3]\ntake_off: soon\n", head + "legs: # none\n"}
	for _, pattern := range []string{"../../examples/[0-9]*.yaml", "testdata/cards/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatal(pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			seeds = append(seeds, string(data))
		}
	}
	for _, leg := range splitLegs {
		seeds = append(seeds, withLeg(leg))
	}
	for i, seed := range seeds {
		script := make([]byte, 0, 24)
		for k := range uint8(8) {
			script = append(script, k, uint8(i)+k, uint8(i)*7+5*k)
		}
		f.Add(seed, script, "2 3")
	}
	f.Fuzz(func(t *testing.T, text string, script []byte, typed string) {
		c, _ := ReadCard("card.yaml", []byte(text))
		plain := !strings.ContainsAny(text+typed, "\"'|>&*!\r") && !strings.Contains(typed, "#") // comments can be told by sight
		for k := 0; k+2 < len(script) && k < 30 && c != nil && c.Doc != nil; k += 3 {
			before := c.Bytes()
			next, faults := editOf(c, script[k], script[k+1], script[k+2], typed)
			if !bytes.Equal(c.Bytes(), before) {
				t.Fatal("an edit changed the card that it started from")
			}
			if next == nil {
				if len(faults) == 0 {
					t.Fatal("refused without a fault")
				}
				continue
			}
			again, found := ReadCard("card.yaml", next.Bytes())
			if again == nil || !again.Doc.Equal(next.Doc) {
				t.Fatalf("an edited card does not come back: %v\n%s", found, next.Bytes())
			}
			if len(c.Doc.Faults()) == 0 && len(found) > 0 {
				t.Fatalf("an edit brought in %v\n%s", found, next.Bytes())
			}
			if was, is := commentsOf(before), commentsOf(next.Bytes()); plain && script[k]%8 != 4 && !slices.Equal(was, is) {
				t.Fatalf("the comments %q are %q:\n%s", was, is, next.Bytes())
			}
			again.Shot(testBag(), testNow)
			c = next
		}
	})
}
