package tui

import (
	"fmt"
	"math"

	"example.org/skywedge/plan/shot"
)

// addLeg puts a hold after the chosen leg, looking where that one ends.
func (m *model) addLeg() {
	if !m.mayEdit() {
		return
	}
	heading := "0"
	if r := m.calc.report; r != nil && !m.stale() && m.leg < len(r.Shot.Legs) {
		h := r.Shot.Legs[m.leg].Heading
		heading = num(math.Mod(math.Round(h.From+h.By)+720, 360))
	} else if _, to := m.card().current.Doc.At(fmt.Sprintf("legs[%d].heading_deg", m.leg)).Texts(); to != "" {
		heading = to
	}
	m.insertLeg("{move: hold, heading_deg: " + heading + ", seconds: 10}")
}

func (m *model) doubleLeg() {
	if m.mayEdit() && m.card().legs() > 0 {
		m.insertLeg(m.card().current.Doc.At(fmt.Sprintf("legs[%d]", m.leg)).YAML())
	}
}

func (m *model) insertLeg(yaml string) {
	s := m.card()
	at := min(m.leg+1, s.legs())
	d, faults := s.current.Doc.Insert("legs", at, yaml)
	if d == nil || len(faults) > 0 {
		m.say("no more legs fit: " + faults.Error())
		return
	}
	s.put(&shot.Card{Doc: d}, "", m.opt.Now())
	m.leg, m.cursor[paneLegs] = at, at
	m.changed()
}

func (m *model) deleteLeg() {
	s := m.card()
	d, faults := s.current.Doc.Remove(fmt.Sprintf("legs[%d]", m.leg))
	if d == nil || len(faults) > 0 {
		m.say("a flight needs a leg")
		return
	}
	s.put(&shot.Card{Doc: d}, "", m.opt.Now())
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
	d, faults := s.current.Doc.Swap("legs", m.leg, to)
	if d == nil || len(faults) > 0 {
		return
	}
	s.put(&shot.Card{Doc: d}, "", m.opt.Now())
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
		if c, _ := s.set(s.current, "filter", "auto"); c != nil {
			if c2, _ := s.set(c, "ring_deg", "auto"); c2 != nil {
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
	c, _ := s.set(s.current, "filter", r.Call.Filter)
	if c == nil {
		return
	}
	if r.Call.HasRing {
		if c2, _ := s.set(c, "ring_deg", num(r.Call.RingDeg)); c2 != nil {
			c = c2
		}
	}
	s.put(c, "", m.opt.Now())
	m.changed()
	m.say("written into the card: " + filterName(&r.Call))
}
