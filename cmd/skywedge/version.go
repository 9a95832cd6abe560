package main

import (
	"fmt"

	"example.org/skywedge/cmd/skywedge/internal/manual"
)

// version is set at release time with -ldflags "-X main.version=…".
var version = "0.1.0-dev"

func versionCommand(e *env, a *manual.Asked) int {
	fmt.Fprintln(e.out, "skywedge", version)
	return exitDone
}
