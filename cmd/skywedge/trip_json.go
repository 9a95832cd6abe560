package main

import (
	"example.org/skywedge/plan/trip"
)

// The types of this file are what "trip --json" prints.

type tripJSON struct {
	Schema           int           `json:"schema"`
	Bag              *string       `json:"bag"`
	Cards            []any         `json:"cards"` // a tripCardJSON each, or what was left out
	Days             []tripDayJSON `json:"days"`
	Order            []string      `json:"order"`
	TakeOffs         []string      `json:"order_take_offs"`
	Travel           []float64     `json:"travel_s"`
	Missed           []string      `json:"missed"`
	Changes          int           `json:"changes"`
	ChangesAsWritten int           `json:"changes_as_written"`
	Batteries        int           `json:"batteries"`
	Pack             []string      `json:"pack"`
	Spare            []string      `json:"spare"`
	Leave            []string      `json:"leave"`
	Missing          []missingJSON `json:"missing"`
}

type tripCardJSON struct {
	Schema         int         `json:"schema"`
	File           string      `json:"file"`
	Name           string      `json:"name"`
	TakeOff        string      `json:"take_off"`
	Landing        string      `json:"landing"`
	LatestTakeOff  *string     `json:"latest_take_off"`
	Window         *[2]string  `json:"window"`
	Wanted         [][2]string `json:"wanted_light"`
	Filter         string      `json:"filter"`
	Setting        *float64    `json:"setting_stops"`
	RingDeg        *float64    `json:"ring_deg"`
	Confidence     string      `json:"confidence"`
	ConfidenceWhy  string      `json:"confidence_why"`
	FlightsNeeded  int         `json:"flights_needed"`
	Batteries      int         `json:"batteries"`
	ReadyAt        *string     `json:"ready_at"`
	Conflicts      []string    `json:"conflicts"`
	Faults         []string    `json:"faults"`
	DensitiesStops *[2]float64 `json:"density_stops"`
}

type tripDayJSON struct {
	Date     string `json:"date"`
	Shots    int    `json:"shots"`
	Better   bool   `json:"order_is_better"`
	Exact    bool   `json:"order_is_exact"`
	Changes  int    `json:"changes"`
	Written  int    `json:"changes_as_written"`
	Missed   int    `json:"missed"`
	MissedAs int    `json:"missed_as_written"`
}

type missingJSON struct {
	Kind       string   `json:"kind"`
	Stops      float64  `json:"stops"`
	WouldServe []string `json:"would_serve"`
}

func tripToJSON(p *trip.Plan, bag bagUse, left []any) tripJSON {
	k := &p.Packing
	j := tripJSON{
		Schema: schema, Bag: bag.json(), Cards: []any{}, Days: []tripDayJSON{}, Order: []string{}, TakeOffs: []string{}, Travel: []float64{}, Missed: []string{},
		Batteries: k.Batteries, Pack: list(k.Used), Spare: list(k.Spare), Leave: list(k.Leave), Missing: []missingJSON{},
	}
	for i := range p.Days {
		d := &p.Days[i]
		for s := range d.Stops {
			j.Cards = append(j.Cards, tripCardToJSON(&p.Cards[d.Stops[s].Card], &d.Stops[s]))
		}
		flown := map[int]bool{}
		for _, m := range d.Order {
			j.Order, j.TakeOffs = append(j.Order, p.Cards[m.Card].File), append(j.TakeOffs, stamp(m.TakeOff))
			j.Travel = append(j.Travel, m.Travel().Seconds())
			flown[m.Card] = true
		}
		for s := range d.Stops {
			if c := d.Stops[s].Card; !flown[c] {
				j.Missed = append(j.Missed, p.Cards[c].File)
			}
		}
		x := tripDayJSON{Date: d.Date.Format("2006-01-02"), Shots: len(d.Stops), Better: d.Better(p.Cards), Exact: d.Exact,
			Changes: d.ProposedChanges(p.Cards), Written: d.Changes(p.Cards)}
		x.Missed, x.MissedAs = d.Missed()
		j.Changes, j.ChangesAsWritten = j.Changes+x.Changes, j.ChangesAsWritten+x.Written
		j.Days = append(j.Days, x)
	}
	j.Cards = append(j.Cards, left...)
	for _, m := range k.Missing {
		j.Missing = append(j.Missing, missingJSON{string(m.Kind), m.Stops, m.WouldServe})
	}
	return j
}

func tripCardToJSON(c *trip.Card, s *trip.Stop) tripCardJSON {
	r := c.Report
	j := tripCardJSON{
		Schema: schema, File: c.File, Name: c.Shot.Name, TakeOff: stamp(c.Shot.Local(s.TakeOff)), Landing: stamp(c.Shot.Local(s.Landing)),
		Wanted: [][2]string{}, Filter: r.Call.Filter, Setting: when(r.Call.SettingStops > 0, r.Call.SettingStops), RingDeg: when(r.Call.HasRing, r.Call.RingDeg),
		Confidence: r.Call.Confidence, ConfidenceWhy: r.Call.ConfidenceWhy, FlightsNeeded: len(r.Flights), Batteries: s.Batteries,
		Conflicts: []string{}, Faults: []string{},
	}
	ends := func(w trip.Span) [2]string { return [2]string{stamp(c.Shot.Local(w.From)), stamp(c.Shot.Local(w.To))} }
	if c.Window != nil {
		w := ends(*c.Window)
		j.Window, j.LatestTakeOff = &w, &w[1]
	}
	for _, w := range c.Wanted {
		j.Wanted = append(j.Wanted, ends(w))
	}
	if !s.Ready.IsZero() {
		at := stamp(c.Shot.Local(s.Ready))
		j.ReadyAt = &at
	}
	if a, b := finite(c.Least), finite(c.Most); !c.Lamps && c.Most >= c.Least && a != nil && b != nil {
		j.DensitiesStops = &[2]float64{*a, *b}
	}
	for _, x := range s.Conflicts {
		j.Conflicts = append(j.Conflicts, x.String())
	}
	return j
}
