package kit

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// bagComments returns the comments of a bag whose texts hold no "#".
func bagComments(text []byte) (all []string) {
	for line := range strings.Lines(string(text)) {
		if _, comment, ok := strings.Cut(line, "#"); ok {
			all = append(all, strings.TrimSpace(comment))
		}
	}
	slices.Sort(all)
	return all
}

// Edits of a bag in a row never panic, never change the bag that they start from, give a bag that can be read again
// with the same values, and keep the comments, except those of a part that is removed.
func FuzzBagEdit(f *testing.F) {
	for i, seed := range []string{editBag, string(genericBag), "skywedge_bag: 1\n"} {
		for k := range uint8(5) {
			f.Add(seed, []byte{k, uint8(i), 2, k + 1, 1, 7, k + 2, 0, 11}, "2.5")
		}
	}
	f.Fuzz(func(t *testing.T, text string, script []byte, typed string) {
		b, faults := ReadBag("bag.yaml", []byte(text))
		if len(faults) > 0 {
			return
		}
		plain := !strings.ContainsAny(text+typed, "\"'|>&*!\r") && !strings.Contains(typed, "#")
		for k := 0; k+2 < len(script) && k < 30; k += 3 {
			before := b.Doc.Bytes()
			i := int(script[k+1]) % (len(b.Filters) + 1)
			parts := b.Parts()
			part := parts[int(script[k+1])%len(parts)]
			var next *Bag
			what := script[k] % 6
			switch what {
			case 0:
				next, _, faults = b.AddBeside(part.Path)
			case 1:
				next, _, faults = b.Duplicate(part.Path)
			case 2:
				next, faults = b.Remove(part.Path)
			case 3:
				kinds := []Kind{Polariser, Density, Hybrid, Variable, Diffusion}
				next, faults = b.SetFilter(i, "kind", string(kinds[int(script[k+2])%len(kinds)]))
			case 4:
				keys, _ := b.PartFields(part.Path)
				if len(keys) == 0 {
					continue
				}
				next, faults = b.Set(part.Path+"."+keys[int(script[k+2])%len(keys)], typed)
			case 5:
				next, _, faults = b.AddMode("cameras[0]")
			}
			if !bytes.Equal(b.Doc.Bytes(), before) {
				t.Fatal("an edit changed the bag that it started from")
			}
			if next == nil {
				if len(faults) == 0 {
					t.Fatalf("edit %d of %s was refused without a fault:\n%s", what, part.Path, before)
				}
				continue
			}
			again, found := ReadBag("bag.yaml", next.Doc.Bytes())
			if len(found) > 0 || !again.Doc.Equal(next.Doc) {
				t.Fatalf("an edited bag does not come back: %v\n%s", found, next.Doc.Bytes())
			}
			if was, is := bagComments(before), bagComments(next.Doc.Bytes()); plain && what != 2 && !slices.Equal(was, is) {
				t.Fatalf("the comments %q are %q:\n%s", was, is, next.Doc.Bytes())
			}
			b = next
		}
	})
}
