package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"github.com/charmbracelet/x/term"
)

func isTerminal(f *os.File) bool { return term.IsTerminal(f.Fd()) }

// columnsOf returns the width of a terminal, 0 of what is none. One that does not tell has the usual 80.
func columnsOf(f *os.File) int {
	if !isTerminal(f) {
		return 0
	}
	if w, _, err := term.GetSize(f.Fd()); err == nil && w > 0 {
		return w
	}
	return 80
}

// writeJSON prints one JSON document, indented for people who look at it. A write that fails is said at the
// end of every command.
func writeJSON(e *env, v any) int {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		e.asJSON = false
		return failure(e, fmt.Errorf("cannot write the answer as JSON: %w", err))
	}
	e.raw.Write(append(escaped(b), '\n'))
	return exitDone
}

// escaped writes what a terminal would act on or not show as JSON's own escape sequences, which mean the
// same. The package that encodes does so only below U+0020.
func escaped(doc []byte) []byte {
	if bytes.IndexFunc(doc, hidden) < 0 {
		return doc
	}
	out := make([]byte, 0, len(doc)+64)
	for len(doc) > 0 {
		r, size := utf8.DecodeRune(doc)
		switch {
		case !hidden(r):
			out = append(out, doc[:size]...)
		case r > 0xffff:
			a, b := utf16.EncodeRune(r)
			out = fmt.Appendf(out, `\u%04x\u%04x`, a, b)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		doc = doc[size:]
	}
	return out
}

func hidden(r rune) bool { return r > '~' && !unicode.IsGraphic(r) }

// asksForJSON tells whether a command line that could not be read asks for JSON.
func asksForJSON(args []string) bool {
	if i := slices.Index(args, "--"); i >= 0 {
		args = args[:i]
	}
	return slices.ContainsFunc(args, func(a string) bool { return a == "--json" || a == "-json" || a == "--json=true" || a == "-json=true" })
}

// stdinName is what a card from standard input is called.
const stdinName = "standard input"

// readFile reads a card or bag, or standard input as "-". It reads no more than a document may
// hold and one byte, so that a huge file is refused without being loaded.
func readFile(e *env, path string) (name string, data []byte, err error) {
	if path == "-" {
		const name = stdinName
		if data, err = io.ReadAll(io.LimitReader(e.in, field.MaxBytes+1)); err != nil {
			err = &pathTrouble{verb: "read", path: name, err: err}
		}
		return name, data, err
	}
	st, err := os.Stat(path)
	switch {
	case err != nil:
		return path, nil, &pathTrouble{verb: "read", path: path, err: err}
	case st.IsDir():
		return path, nil, &pathTrouble{path: path, reason: "a folder", remedy: "name a card in it"}
	case isPipe(path, st.Mode()): // opening it would wait for a writer, perhaps for ever
		return path, nil, &pathTrouble{path: path, reason: "a pipe, not a file", remedy: `give what comes out of it as standard input, with the name "-"`}
	}
	switch {
	case isPathName(path):
		return path, nil, pathForCard(path)
	case isPictureName(path):
		return path, nil, pictureForCard(path)
	}
	f, err := os.Open(path)
	if err == nil {
		defer f.Close()
		data, err = io.ReadAll(io.LimitReader(f, field.MaxBytes+1))
	}
	if err != nil {
		return path, nil, &pathTrouble{verb: "read", path: path, err: err}
	}
	return path, data, nil
}

// isBag tells a bag from a card by the key that opens it.
func isBag(data []byte) bool { return kit.IsBag(data) }
