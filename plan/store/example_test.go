package store_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"example.org/skywedge/plan/store"
)

// A save replaces the file whole and keeps the version before as NAME~.
func ExampleSave() {
	dir, err := os.MkdirTemp("", "cards")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	card := filepath.Join(dir, "breakwater.yaml")

	for _, text := range []string{"aim: sky\n", "aim: water\n"} {
		if err := store.Save(card, []byte(text), 0); err != nil {
			panic(err)
		}
	}
	for _, name := range []string{card, card + "~"} {
		b, _ := os.ReadFile(name)
		fmt.Printf("%s: %s", filepath.Base(name), b)
	}
	// Output:
	// breakwater.yaml: aim: water
	// breakwater.yaml~: aim: sky
}

// A file that somebody else changed since it was read is not overwritten.
func ExampleSnapshot_Save() {
	dir, err := os.MkdirTemp("", "cards")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	card := filepath.Join(dir, "breakwater.yaml")
	if err := store.Save(card, []byte("aim: sky\n"), 0); err != nil {
		panic(err)
	}

	read, err := store.Read(card)
	if err != nil {
		panic(err)
	}
	os.WriteFile(card, []byte("aim: leaf\n"), 0o644) // another program
	_, err = read.Save([]byte("aim: water\n"))

	var conflict *store.ChangedError
	if errors.As(err, &conflict) {
		fmt.Printf("%s: on disk is now %s", conflict.What, conflict.Now.Data)
	}
	// Output: edited: on disk is now aim: leaf
}
