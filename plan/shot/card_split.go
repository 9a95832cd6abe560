package shot

import (
	"math"
	"strconv"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
	"gonum.org/v1/gonum/spatial/r3"
)

// Split returns the card with a leg cut in two, atS seconds after its start, that fly the same path:
// what changes over the leg is at the cut where it was then, a heading along its way round. The subject
// of the second is as far ahead as it was at the cut. What lies beside the heading then a card cannot say:
// a camera that follows such a subject in a turn tilts a little otherwise behind the cut. Each leg has to
// have a second at least.
func (c *Card) Split(leg int, atS float64) (*Card, field.Faults) {
	e := c.edit()
	if e.mustHave(leg); e.faults != nil {
		return nil, e.faults
	}
	b := c.laid()
	v := c.Doc.At(LegPath(leg, ""))
	total := v.Get("seconds").Float(0)
	atS = math.Round(atS*1e3) / 1e3
	switch {
	case b.faulty(v.Path()):
		e.refuse(v.Path(), "a leg with a fault", "a leg that can be flown")
	case !(atS >= 1 && total-atS >= 1):
		e.refuse(LegPath(leg, "seconds"), "a cut at "+field.Figure(atS, 3)+" s", "a cut from 1 s to 1 s before the end at "+field.Figure(total, 3)+" s, so that both legs last a second")
	case b.shot.TakeOff.IsZero() && b.shot.Legs[leg].HeadingSun[0] != b.shot.Legs[leg].HeadingSun[1]:
		e.refuse(LegPath(leg, "heading_deg"), "a turn between the sun and a bearing", "a take-off that can be read beside it")
	}
	if e.faults != nil {
		return nil, e.faults
	}
	e.insert(leg+1, v.YAML())
	e.set(LegPath(leg, "seconds"), short(atS))
	e.set(LegPath(leg+1, "seconds"), short(total-atS))
	share := atS / total
	for _, key := range []string{"height_m", "ground_m", "pitch_deg"} {
		if pair := v.Get(key); pair.IsPair() {
			from, to := pair.Texts()
			a, z := pair.Pair(0)
			cut := field.Figure(a+(z-a)*share, 3)
			e.set(LegPath(leg, key), from+" "+cut)
			e.set(LegPath(leg+1, key), cut+" "+to)
		}
	}
	e.splitTurn(leg, &b.shot.Legs[leg], share)
	e.splitTarget(leg, newTrack(b.shot), share)
	return e.card()
}

// splitTurn shares the turn of a leg out between the two that it became.
func (e *edit) splitTurn(leg int, l *Leg, share float64) {
	v := e.from.Doc.At(LegPath(leg, ""))
	h := v.Get("heading_deg")
	turns := v.Get("turns").Float(0)
	if !h.IsPair() && turns == 0 {
		return
	}
	from, to := h.Texts()
	by := l.Heading.By
	at := func(share float64) string { return field.Figure(angle.Wrap360(l.Heading.From+by*share), 3) }
	if l.followsSun() { // in the frame of the sun, as it is written
		by = l.HeadingOff[1] - l.HeadingOff[0]
		at = func(share float64) string {
			return writtenHeading{Deg: angle.Wrap180(l.HeadingOff[0] + by*share), Sun: true}.String()
		}
	}
	cut := at(share)
	if !h.IsPair() {
		to = at(1)
	}
	for i, part := range [2]struct {
		from, to string
		by       float64
	}{{from, cut, by * share}, {cut, to, by * (1 - share)}} {
		heading, way, round := part.from, v.Get("turn").Text(), ""
		switch {
		case turns == 0:
		case math.Abs(part.by) >= 360*leastTurns:
			round = short(math.Abs(part.by) / 360)
		case i == 1:
			part.to = at(1) // where the turns end, which the second heading only comes near
		}
		if h.IsPair() || round == "" {
			heading += " " + part.to
			if turns > 0 {
				way = wayOf(part.by)
			}
		}
		if round == "" && math.Abs(part.by) < 1e-3 {
			heading, way = part.from, "" // a pair of the same heading beside a way is a whole turn
		}
		e.set(LegPath(leg+i, "turns"), round)
		e.set(LegPath(leg+i, "turn"), way)
		e.set(LegPath(leg+i, "heading_deg"), heading)
	}
}

func wayOf(byDeg float64) string {
	if byDeg < 0 {
		return "ccw"
	}
	return "cw"
}

// splitTarget puts the subject of the second leg where it is at the cut.
func (e *edit) splitTarget(leg int, k *track, share float64) {
	l := &k.s.Legs[leg]
	if l.Target == nil {
		return
	}
	m := k.moment(leg, share)
	ahead := math.Max(0, r3.Dot(r3.Sub(m.Target, m.Pos), Toward(m.HeadingDeg)))
	turning := l.Move == Orbit || l.Move == Follow // neither comes nearer
	if path := LegPath(leg+1, "target.distance_m"); !turning && math.Abs(ahead-l.Target.DistanceM) > 5e-4 {
		e.set(path, field.Figure(ahead, 3))
	}
	if path := LegPath(leg+1, "target.height_m"); l.GroundM[0] != l.GroundM[1] && !e.doc.At(path).Exists() {
		e.set(path, field.Figure(l.Target.HeightM, 3)) // left out it stands on the ground of the leg's start
	}
}

// short prints a number for a card to a millionth.
func short(x float64) string { return strconv.FormatFloat(math.Round(x*1e6)/1e6, 'f', -1, 64) }
