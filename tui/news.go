package tui

import (
	"errors"
	"strings"

	"example.org/skywedge/plan/store"
	"example.org/skywedge/tui/cells"
	"example.org/skywedge/tui/find"
)

// news is one line of news, which stands until the next key. Where it names a file the path comes last, for it
// is what can be shortened.
type news struct {
	note string
	path string // the end of note; "" where it names no file
}

// The key that shows all of a line that was cut, by itself and where letters are text.
const (
	wholeKeys   = "! f1"
	whole       = "  ! says all"
	wholeInEdit = "  F1 says all"
)

// say shows one line of news until the next key.
func (m *model) say(text string) { m.news = news{note: text} }

// sayPath says something of a file.
func (m *model) sayPath(lead, path string) { m.news = news{lead + path, path} }

// sayWrong says what went wrong, after what came of it.
func (m *model) sayWrong(lead string, err error) {
	if lead != "" {
		lead += ": "
	}
	var file *store.FileError
	if errors.As(err, &file) && strings.HasSuffix(err.Error(), file.Path) {
		m.news = news{lead + err.Error(), file.Path}
		return
	}
	m.say(lead + err.Error())
}

// newsIn returns the news in so many columns.
func (m *model) newsIn(cols int) string { return cells.Fit(m.note, m.path, cols, m.wholeKey()) }

// inFull is a line about an error that is not the news.
func inFull(lead string, err error, cols int) string {
	var m model
	m.sayWrong(lead, err)
	return m.newsIn(cols)
}

func (m *model) wholeKey() string {
	if m.edit.on {
		return wholeInEdit
	}
	return whole
}

// faultLines lists what is wrong with the card on the screen, a line a fault.
func (m *model) faultLines() []string { return m.callState().FaultLines() }

// showWhole shows in full what the screen had no room for: the news, or what is wrong.
func (m *model) showWhole() {
	var lines []string
	switch {
	case m.note != "":
		lines = []string{m.note}
	case m.edit.on && m.edit.fault != "":
		lines = []string{m.edit.row.Label + ": " + m.edit.fault}
	case m.kept.on && len(m.kept.wrong) > 0:
		for _, err := range m.kept.wrong {
			lines = append(lines, err.Error())
		}
	case len(m.faultLines()) > 0:
		lines = m.faultLines()
	case m.calc.failed != "":
		lines = []string{m.calc.failed}
	default:
		m.say("nothing is wrong, and there is no news")
		return
	}
	m.list = find.Prose("In full", lines)
}
