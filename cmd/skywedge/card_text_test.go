package main

import (
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The brief call has six lines for every card, at any hour, and says what to lock on each leg or that it cannot be
// exposed. No ISO is named that the camera does not have.
func TestBriefText(t *testing.T) {
	cards, err := filepath.Glob("../../examples/[0-9]*.yaml")
	if err != nil || len(cards) == 0 {
		t.Fatal(cards, err)
	}
	iso := regexp.MustCompile(`ISO (\d+)`)
	for _, card := range cards {
		for _, at := range []string{"", "2026-09-19T02:00", "2026-06-19T13:00"} {
			args := []string{"card", "--brief", card}
			if at != "" {
				args = append(args, "--take-off", at)
			}
			text := string(answered(t, args...))
			if n := strings.Count(text, "\n"); n != 6 {
				t.Errorf("%s %s: %d lines:\n%s", card, at, n, text)
			}
			if !strings.Contains(text, " K, meter at ") && !strings.Contains(text, "cannot be exposed: ") {
				t.Errorf("%s %s does not say what to lock:\n%s", card, at, text)
			}
			args[1] = card
			args = append(args[:2], args[3:]...)
			for _, m := range iso.FindAllStringSubmatch(string(answered(t, args...)), -1) {
				if v, err := strconv.ParseFloat(m[1], 64); err != nil || v < 100 || v > 6400 {
					t.Errorf("%s %s names ISO %s", card, at, m[1])
				}
			}
		}
	}
}

// What speaks for the call stands before what it costs, and each has its sign.
func TestWhyIsSigned(t *testing.T) {
	text := string(answered(t, "card", "../../examples/7-surf.yaml"))
	_, why, _ := strings.Cut(text, "\nwhy\n")
	why, _, _ = strings.Cut(why, "\n\n")
	signs := ""
	for _, l := range strings.Split(why, "\n") {
		signs += l[2:3]
	}
	if !regexp.MustCompile(`^\++-+$`).MatchString(signs) {
		t.Errorf("signs %q:\n%s", signs, why)
	}
}
