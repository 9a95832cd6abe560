package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/cmd/skywedge/internal/notices"
	"example.org/skywedge/plan/zone"
)

// version is set at release time with -ldflags "-X main.version=…".
var version = "0.1.0-dev"

// versionJSON is the contract of "version --json". What the build does not tell is null.
type versionJSON struct {
	Schema     int     `json:"schema"`
	Version    string  `json:"version"`
	Commit     *string `json:"commit"`
	CommitTime *string `json:"commit_time"`
	Changed    bool    `json:"changed"` // there were changes that no commit has
	Zones      string  `json:"zones"`   // the release of the table of time zones
	ZonesDate  string  `json:"zones_date"`
	Go         string  `json:"go"`
	System     string  `json:"system"`
}

func versionCommand(e *env, a *manual.Asked) int {
	info, _ := debug.ReadBuildInfo()
	j := versionOf(info)
	switch {
	case a.On("licences") && e.asJSON:
		return usageError(e, "--licences is a text: leave --json out")
	case a.On("licences"):
		fmt.Fprint(e.out, notices.Text)
		return exitDone
	case e.asJSON:
		return writeJSON(e, j)
	}
	fmt.Fprintln(e.out, "skywedge", j.Version)
	commit := "not known: it was not built from a checkout"
	if j.Commit != nil {
		commit = *j.Commit
		if j.CommitTime != nil {
			commit += " of " + *j.CommitTime
		}
		if j.Changed {
			commit += ", with changes"
		}
	}
	fmt.Fprintln(e.out, "commit", commit)
	fmt.Fprintln(e.out, "time zones", j.Zones, "of", j.ZonesDate)
	fmt.Fprintln(e.out, j.Go, "for", j.System)
	return exitDone
}

// versionOf reads what Go's linker noted about the build; nil where it noted nothing.
func versionOf(info *debug.BuildInfo) versionJSON {
	j := versionJSON{Schema: schema, Version: version, Zones: zone.Release, ZonesDate: zone.Date, Go: runtime.Version(), System: runtime.GOOS + "/" + runtime.GOARCH}
	if info == nil {
		return j
	}
	for i := range info.Settings {
		switch s := &info.Settings[i]; s.Key {
		case "vcs.revision":
			j.Commit = &s.Value
		case "vcs.time":
			j.CommitTime = &s.Value
		case "vcs.modified":
			j.Changed = s.Value == "true"
		}
	}
	return j
}
