package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"github.com/charmbracelet/x/term"
)

func isTerminal(f *os.File) bool { return term.IsTerminal(f.Fd()) }

// writeJSON prints one JSON document, indented for people who look at it.
func writeJSON(e *env, v any) int {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return failure(e, fmt.Errorf("cannot write the answer as JSON: %w", err))
	}
	if _, err := e.out.Write(append(b, '\n')); err != nil {
		return failure(e, err)
	}
	return exitDone
}

// flagsGiven tells which flags stood on the command line.
func flagsGiven(f *flag.FlagSet) map[string]bool {
	m := map[string]bool{}
	f.Visit(func(x *flag.Flag) { m[x.Name] = true })
	return m
}

// readFile reads a card or bag, or standard input as "-". It reads no more than a document may
// hold and one byte, so that a huge file is refused without being loaded.
func readFile(e *env, path string) (name string, data []byte, err error) {
	if path == "-" {
		data, err = io.ReadAll(io.LimitReader(e.in, field.MaxBytes+1))
		return "standard input", data, err
	}
	f, err := os.Open(path)
	if err != nil {
		return path, nil, err
	}
	defer f.Close()
	if st, err := f.Stat(); err == nil && st.IsDir() {
		return path, nil, fmt.Errorf("%s is a folder: name a card in it", path)
	}
	data, err = io.ReadAll(io.LimitReader(f, field.MaxBytes+1))
	return path, data, err
}

// isBag tells a bag from a card by the key that opens it.
func isBag(data []byte) bool { return kit.IsBag(data) }
