package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// What the program says to each card of the demo trip, as a practitioner reads it. A change of the model
// shows here first: look at the difference before it is written anew (go test ./cmd/skywedge -run Calls
// -update).
func TestCalls(t *testing.T) {
	cards, err := filepath.Glob("../../examples/[0-9]*.yaml")
	if err != nil || len(cards) < 5 {
		t.Fatalf("%d cards: %v", len(cards), err)
	}
	for _, card := range cards {
		var out, errs strings.Builder
		e := &env{in: strings.NewReader(""), out: &out, err: &errs, now: time.Now}
		if code := run(e, []string{"card", card}); code != exitDone {
			t.Fatalf("%s: exit %d: %s", card, code, errs.String())
		}
		golden := filepath.Join("testdata", "calls", strings.TrimSuffix(filepath.Base(card), ".yaml")+".txt")
		if *update {
			if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(golden, []byte(out.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got := out.String(); got != string(want) {
			t.Errorf("%s says something else now:\n%s", card, difference(string(want), got))
		}
	}
}

// difference lists the lines that one text has and the other has not.
func difference(want, got string) string {
	var b strings.Builder
	has := func(text, line string) bool { return strings.Contains("\n"+text, "\n"+line+"\n") }
	for _, l := range strings.Split(want, "\n") {
		if !has(got, l) {
			b.WriteString("- " + l + "\n")
		}
	}
	for _, l := range strings.Split(got, "\n") {
		if !has(want, l) {
			b.WriteString("+ " + l + "\n")
		}
	}
	return b.String()
}
