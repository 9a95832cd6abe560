package main

import (
	"errors"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/store"
)

// sink remembers the first write that failed: a command may print many lines and look at none of them.
type sink struct {
	w      io.Writer
	failed error
}

func (s *sink) Write(p []byte) (int, error) {
	if s.failed != nil {
		return 0, s.failed
	}
	n, err := s.w.Write(p)
	s.failed = err
	return n, err
}

// cleaned writes text for people: whole lines of ours, with names of files and cards in them that may
// hold anything.
type cleaned struct{ w io.Writer }

func (c cleaned) Write(p []byte) (int, error) {
	if _, err := io.WriteString(c.w, cleanLines(string(p))); err != nil {
		return 0, err
	}
	return len(p), nil
}

// cleanLines spells out what a terminal would act on or not show, and leaves the ends of lines alone.
func cleanLines(text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = field.Clean(l, utf8.RuneCountInString(l)*len("<U+10FFFF>"))
	}
	return strings.Join(lines, "\n")
}

// nameOf is a file's name as it is said: on one line, and no longer than a path can be.
func nameOf(path string) string { return field.Clean(path, 4096) }

// writeOutput writes a picture or a sheet. What is no plain file (a pipe, a device) is written to as it is.
func writeOutput(path string, data []byte) error {
	st, err := os.Stat(path)
	switch {
	case err == nil && st.IsDir():
		return &pathTrouble{verb: "write", path: path, reason: "it is a folder", remedy: "give the name of a file"}
	case err == nil && !st.Mode().IsRegular():
		err = os.WriteFile(path, data, 0o666)
	default:
		if err = store.Replace(path, data); err != nil {
			err = errors.Unwrap(err) // less the path, which comes last
		}
	}
	if err != nil {
		return &pathTrouble{verb: "write", path: path, err: err}
	}
	return nil
}
