package tui

import (
	"strings"
	"testing"

	"example.org/skywedge/tui/tour"
)

// What a step names works where the step takes place, and nothing is edited on the way.
func TestTheTourNamesKeysThatWork(t *testing.T) {
	m := testModel(t, 120, 36, nil)
	before, card := m.stand(), m.card().current
	press(m, "T")
	for i, step := range tour.Steps {
		if m.guide.At != i {
			t.Fatalf("step %d is shown as %d", i+1, m.guide.At+1)
		}
		for _, k := range step.Keys {
			b := m.table.at(m.here(), k)
			if b == nil {
				t.Errorf("step %d: %q does nothing there", i+1, k)
			} else if !strings.Contains(strings.ToLower(step.Text), strings.ToLower(strings.Fields(b.shown)[0])) {
				t.Errorf("step %d does not name %q, as the list of keys does", i+1, b.shown)
			}
		}
		if strings.HasPrefix(step.Text, "The ring") && (m.calc.report == nil || !m.calc.report.Call.HasRing) {
			t.Error("the ring's step shows a shot without one")
		}
		press(m, " ")
	}
	if m.guide.On || m.stand() != before || m.card().current != card {
		t.Errorf("after the tour: %+v, before %+v", m.stand(), before)
	}
}
