package tui

import (
	"time"

	"example.org/skywedge/plan"
	tea "github.com/charmbracelet/bubbletea"
)

// How sure the call is takes many more computations than the call itself. They run when it is on the
// screen already, and until they are done the words of the answer before stand there, dimmed.

// sureness is that second computation.
type sureness struct {
	running   bool
	known     bool // word and why belong to the report on the screen, not to one before it
	word, why string
	awaited   *plan.Report // the pause for it runs or is over
	due       *plan.Report // the pause for it is over
}

// sureMsg brings a report with its sureness.
type sureMsg struct {
	of, report *plan.Report
	failed     string
}

// sureAfter is how long the call must have stood still: while keys come, the time is theirs.
const sureAfter = 120 * time.Millisecond

// sureDueMsg says that the pause after a call is over.
type sureDueMsg struct{ of *plan.Report }

// laterSure starts the pause for a new call.
func (m *model) laterSure() tea.Cmd {
	c := &m.calc
	if c.base == nil || c.base == c.sure.awaited || m.sureAfter == 0 {
		return nil
	}
	of := c.base
	c.sure.awaited = of
	if c.sure.word == "" { // the first answer of a card comes whole
		c.sure.due = of
		return nil
	}
	return tea.Tick(m.sureAfter, func(time.Time) tea.Msg { return sureDueMsg{of} })
}

// kickSure starts it, once the pause is over and never while the call itself runs.
func (m *model) kickSure() tea.Cmd {
	c := &m.calc
	if c.base == nil || c.sure.known || c.sure.running || c.running || m.sureAfter > 0 && c.base != c.sure.due {
		return nil
	}
	c.sure.running = true
	of := c.base
	return m.inBackground("how sure the call is could not be computed",
		func() tea.Msg { return sureMsg{of: of, report: of.WithSureness(of.Sureness())} },
		func(said string) tea.Msg { return sureMsg{of: of, report: of, failed: said} })
}

func (c *calc) takeSure(msg sureMsg) {
	c.sure.running = false
	if msg.of != c.base {
		return // a newer call is there; it is kicked for that
	}
	c.report = msg.report
	c.sure.known, c.sure.word, c.sure.why = true, msg.report.Call.Confidence, msg.report.Call.ConfidenceWhy
	if msg.failed != "" {
		c.sure.word, c.sure.why = "unknown", msg.failed
	}
}
