// Package notices holds the licences of everything that is linked into the program, as those licences ask for.
package notices

import _ "embed"

// Text is one section a module, in the order of their paths, Go's own library first. It is written by this package's test
// (go test ./cmd/skywedge/internal/notices -update) from the modules themselves.
//
//go:embed notices.txt
var Text string
