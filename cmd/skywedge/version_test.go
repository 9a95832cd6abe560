package main

import (
	"runtime/debug"
	"testing"
)

func TestVersionOf(t *testing.T) {
	if j := versionOf(nil); j.Commit != nil || j.CommitTime != nil || j.Changed || j.Go == "" || j.Version != version {
		t.Errorf("of no build: %+v", j)
	}
	j := versionOf(&debug.BuildInfo{Settings: []debug.BuildSetting{
		{Key: "GOOS", Value: "plan9"}, {Key: "vcs.revision", Value: "0a1b"}, {Key: "vcs.time", Value: "2026-09-18T17:40:00Z"}, {Key: "vcs.modified", Value: "true"},
	}})
	if j.Commit == nil || *j.Commit != "0a1b" || j.CommitTime == nil || *j.CommitTime != "2026-09-18T17:40:00Z" || !j.Changed {
		t.Errorf("%+v", j)
	}
}
