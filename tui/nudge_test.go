package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/kit/field"
)

func TestThreeThirdsAreAStop(t *testing.T) {
	spec := &field.Spec{Key: "stops", Kind: field.Number, Step: 1.0 / 3, Min: 0.1, Max: 24}
	text, seen := "4", []string{}
	for range 6 {
		text, _ = nudged(text, spec, nil, 1)
		seen = append(seen, text)
	}
	if got := strings.Join(seen, " "); got != "4.33 4.67 5 5.33 5.67 6" {
		t.Errorf("up: %s", got)
	}
	for range 6 {
		text, _ = nudged(text, spec, nil, -1)
	}
	if text != "4" {
		t.Errorf("and down again: %s", text)
	}
	if text, _ = nudged("23.9", spec, nil, 5); text != "24" {
		t.Errorf("no further than allowed: %s", text)
	}
}
