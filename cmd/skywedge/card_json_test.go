package main

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

// The sureness is part of the answer: every change tried, and how often the same filter wins.
func TestSurenessInJSON(t *testing.T) {
	var out, errs strings.Builder
	e := &env{in: strings.NewReader(""), out: &out, err: &errs, now: time.Now}
	if code := run(e, []string{"card", "--json", "../../examples/1-breakwater.yaml"}); code != exitDone {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	var got struct {
		Call     struct{ Confidence string }
		Sureness struct {
			Same, Tried int
			Runs        []struct{ What string }
			Legs        []struct{ ISO *[2]float64 }
		}
	}
	if err := json.Unmarshal([]byte(out.String()), &got); err != nil {
		t.Fatal(err)
	}
	s := got.Sureness
	if s.Tried != len(s.Runs) || s.Tried < 13 || s.Same > s.Tried || len(s.Legs) != 3 || s.Legs[0].ISO == nil {
		t.Errorf("%+v", s)
	}
	if !strings.Contains("holds close depends", got.Call.Confidence) {
		t.Errorf("%q", got.Call.Confidence)
	}
}
