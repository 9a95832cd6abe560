package field

import (
	"fmt"
	"strings"
)

// Fault is one thing wrong with a document, put so that its author can mend it.
// Line and Column count from 1; 0 means that the place is not known.
type Fault struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Field   string `json:"field"`   // legs[2].height_m
	Found   string `json:"found"`   // "130", "nothing"
	Allowed string `json:"allowed"` // "a number from 0 to 120 m"

	more int // of the last of a hopeless document: how many it stands for
}

// Count returns how many things are wrong with a document, those that are not listed included.
func (fs Faults) Count() int {
	n := len(fs)
	for _, f := range fs {
		n += max(0, f.more-1)
	}
	return n
}

// Error returns "file:line:col: field: found …; allowed: …".
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
		if f.Column > 0 {
			fmt.Fprintf(&b, ":%d", f.Column)
		}
	}
	b.WriteString(": ")
	if f.Field != "" {
		b.WriteString(f.Field + ": ")
	}
	fmt.Fprintf(&b, "found %s; allowed: %s", f.Found, f.Allowed)
	return b.String()
}

// Faults are all the things wrong with a document, in the order of its lines.
type Faults []Fault

// Error returns one line a fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}
