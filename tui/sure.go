package tui

import (
	"fmt"
	"runtime/debug"

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
}

// sureMsg brings a report with its sureness.
type sureMsg struct {
	of, report *plan.Report
	failed     string
}

// kickSure starts it when the call stands still for a moment: never while the call itself runs.
func (m *model) kickSure() tea.Cmd {
	c := &m.calc
	if c.base == nil || c.sure.known || c.sure.running || c.running {
		return nil
	}
	c.sure.running = true
	of := c.base
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				m.log(fmt.Sprintf("%v\n%s", r, debug.Stack()))
				msg = sureMsg{of: of, report: of, failed: fmt.Sprintf("how sure the call is could not be computed: %v", r)}
			}
		}()
		return sureMsg{of: of, report: of.WithSureness(of.Sureness())}
	}
}

func (c *calc) takeSure(msg sureMsg) {
	c.sure.running = false
	if msg.of != c.base {
		return // a newer call is there; it is kicked for that
	}
	c.report = msg.report
	c.sure = sureness{known: true, word: msg.report.Call.Confidence, why: msg.report.Call.ConfidenceWhy}
	if msg.failed != "" {
		c.sure.word, c.sure.why = "unknown", msg.failed
	}
}
