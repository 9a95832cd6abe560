package main

import (
	"fmt"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/words"
)

func filtersCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) != 1 {
		return usageError(e, "name one card, or - for standard input")
	}
	r, bag, err := solveFile(e, a.Rest[0], a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	if e.asJSON {
		j := filtersToJSON(r)
		j.File, j.Bag = nameOf(a.Rest[0]), bag.json()
		return writeJSON(e, j)
	}
	fmt.Fprint(e.out, filtersText(r))
	return exitDone
}

// filtersText lists every filter with its reasons, best first.
func filtersText(r *plan.Report) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s · take-off %s\n", r.Shot.Name, r.Shot.TakeOff.Format("Mon 2 Jan 2006 15:04 -07:00"))
	list := r.Ranking()
	if len(r.Flights) > 1 {
		b.WriteString("each for the whole card; the call is to land between two: see skywedge card\n")
	}
	for i := range list {
		k := &list[i]
		fmt.Fprintf(&b, "\n%d  %s · %s\n", i+1, candidateLine(r, &k.Candidate), kindWord(k.Kind))
		if m := advice.MeasureWords(&k.Candidate); len(m) > 0 {
			fmt.Fprintf(&b, "   %s\n", strings.Join(m, "; "))
		}
		if !k.Feasible {
			fmt.Fprintf(&b, "   - %s\n", advice.Shortfall(&k.Candidate))
		}
		why := k.WhyNot
		if why != "" && why != advice.Shortfall(&k.Candidate) {
			fmt.Fprintf(&b, "   - %s\n", why)
		}
		for _, w := range k.Reasons {
			if w != why && w != advice.Shortfall(&k.Candidate) {
				fmt.Fprintf(&b, "   - %s\n", w)
			}
		}
		for j := range k.Others {
			o := &k.Others[j]
			fmt.Fprintf(&b, "   %s: %s\n", candidateLine(r, o), o.WhyNot)
		}
	}
	return b.String()
}

// candidateLine says what would be mounted and how.
func candidateLine(r *plan.Report, k *plan.Candidate) string {
	s := words.FilterTitle(k.Filter, k.SettingStops) + ringWords(*k)
	if !k.Feasible {
		return s + " · not possible here"
	}
	if shutter, iso := advice.SetWords(r, k); shutter != "" {
		s += " · " + shutter + " · ISO " + iso
	}
	return s
}

func kindWord(k kit.Kind) string {
	if k == "" {
		return "nothing on the lens"
	}
	return string(k)
}

// The contract of "filters --json"; a pair is [min, max] over the flight.
type filtersJSON struct {
	Schema  int          `json:"schema"`
	File    string       `json:"file"`
	Bag     *string      `json:"bag"`
	Filters []filterJSON `json:"filters"`
}

type filterJSON struct {
	Name       string          `json:"name"`
	Kind       string          `json:"kind"`
	Setting    *float64        `json:"setting_stops"`
	RingDeg    *float64        `json:"ring_deg"`
	RingClock  *string         `json:"ring_clock"`
	Score      float64         `json:"score"`
	Feasible   bool            `json:"feasible"`
	Effect     *[2]float64     `json:"effect_stops"`
	Unevenness *[2]float64     `json:"unevenness_stops"`
	Headroom   *[2]float64     `json:"headroom_stops"`
	GlareCut   *[2]float64     `json:"glare_cut"`
	HazeCut    *[2]float64     `json:"haze_cut"`
	Swing      *[2]float64     `json:"effect_swing_stops"`
	ISO        *[2]float64     `json:"iso"`
	Shutter    *[2]float64     `json:"shutter_s"`
	Reasons    []string        `json:"reasons"`
	WhyNot     string          `json:"why_not"`
	Lines      []scoreLineJSON `json:"score_lines"`
	Settings   []filterJSON    `json:"other_settings,omitempty"`
}

type scoreLineJSON struct {
	Name  string  `json:"name"`
	Stops float64 `json:"stops"`
	Words string  `json:"words"`
}

func filtersToJSON(r *plan.Report) filtersJSON {
	out := filtersJSON{Schema: schema, Filters: []filterJSON{}}
	for _, k := range r.Ranking() {
		j := candidateToJSON(&k.Candidate)
		for i := range k.Others {
			j.Settings = append(j.Settings, candidateToJSON(&k.Others[i]))
		}
		out.Filters = append(out.Filters, j)
	}
	return out
}

func candidateToJSON(k *plan.Candidate) filterJSON {
	j := filterJSON{
		Name: k.Filter, Kind: string(k.Kind), Score: k.Score, Feasible: k.Feasible,
		Setting: when(k.SettingStops > 0, k.SettingStops), RingDeg: when(k.HasRing, k.RingDeg), RingClock: clockJSON(k.HasRing, k.RingDeg),
		Effect: minMax(k.Effect), Unevenness: minMax(k.Unevenness), Headroom: minMax(k.Headroom),
		GlareCut: minMax(k.GlareCut), HazeCut: minMax(k.HazeCut), Swing: minMax(k.Swing),
		ISO: minMax(k.ISO), Shutter: minMax(k.Shutter),
		Reasons: list(k.Reasons), WhyNot: k.WhyNot, Lines: []scoreLineJSON{},
	}
	if j.Kind == "" {
		j.Kind = "none"
	}
	for _, l := range k.Lines {
		j.Lines = append(j.Lines, scoreLineJSON{l.Name, l.Stops, l.Words})
	}
	return j
}
