package store

import (
	"os"
	"path/filepath"
	"testing"
)

func TestTheFirstStartIsTheFirstOnly(t *testing.T) {
	state, _ := home(t)
	if !FirstStart() || FirstStart() {
		t.Error("it is told once")
	}
	if _, err := os.Stat(filepath.Join(state, program, greetedFile)); err != nil {
		t.Error(err)
	}
	home(t)
	if err := RememberPlace(Place{43, -8, "Europe/Madrid"}); err != nil {
		t.Fatal(err)
	}
	if FirstStart() {
		t.Error("who saved a card knows the program")
	}
	t.Setenv("XDG_STATE_HOME", "")
	t.Setenv("HOME", "")
	if FirstStart() {
		t.Error("without a state folder it would be told every time")
	}
}
