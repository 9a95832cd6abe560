package tui

import (
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/tui/call"
)

// addLeg puts a hold after the chosen leg, looking where that one ends.
func (m *model) addLeg() {
	if m.mayEdit() {
		s := m.card()
		at := min(m.leg+1, s.legs())
		c, faults := s.current.InsertLeg(at)
		m.putLeg(c, faults, at)
	}
}

func (m *model) doubleLeg() {
	if s := m.card(); m.mayEdit() && s.legs() > 0 {
		c, faults := s.current.DuplicateLeg(m.leg)
		m.putLeg(c, faults, m.leg+1)
	}
}

// putLeg puts a card with a leg more, and goes to that.
func (m *model) putLeg(c *shot.Card, faults field.Faults, at int) {
	if c == nil {
		m.say("no more legs fit: " + faults.Error())
		return
	}
	m.card().put(c, "", m.opt.Now())
	m.leg, m.cursor[paneLegs] = at, at
	m.changed()
}

func (m *model) deleteLeg() {
	s := m.card()
	c, _ := s.current.RemoveLeg(m.leg)
	if c == nil {
		m.say("a flight needs a leg")
		return
	}
	s.put(c, "", m.opt.Now())
	m.cursor[paneLegs] = max(0, min(m.leg, s.legs()-1))
	m.changed()
	m.say("leg deleted; u brings it back")
}

func (m *model) shiftLeg(by int) {
	s := m.card()
	to := m.leg + by
	if !m.mayEdit() || to < 0 || to >= s.legs() {
		return
	}
	c, _ := s.current.MoveLeg(m.leg, to)
	if c == nil {
		return
	}
	s.put(c, "", m.opt.Now())
	m.leg, m.cursor[paneLegs] = to, to
	m.changed()
}

// fixCall writes the recommended filter and ring into the card, or takes them out again.
func (m *model) fixCall() {
	s, r := m.card(), m.calc.report
	if !m.mayEdit() {
		return
	}
	if f := s.text("filter"); f != "" && f != "auto" {
		if c, _ := s.current.Set("filter", "auto"); c != nil {
			if c2, _ := c.Set("ring_deg", "auto"); c2 != nil {
				c = c2
			}
			s.put(c, "", m.opt.Now())
			m.changed()
			m.say("filter and ring are the program's choice again")
		}
		return
	}
	if r == nil || m.stale() {
		m.say("there is no answer to write down yet")
		return
	}
	c, _ := s.current.Set("filter", r.Call.Filter)
	if c == nil {
		return
	}
	if r.Call.HasRing {
		if c2, _ := c.Set("ring_deg", num(r.Call.RingDeg)); c2 != nil {
			c = c2
		}
	}
	s.put(c, "", m.opt.Now())
	m.changed()
	m.say("written into the card: " + call.FilterName(&r.Call))
}
