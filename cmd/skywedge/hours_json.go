package main

import (
	"math"

	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
)

// The types of this file are what "hours --json" prints. A measure that an hour does not have is null,
// and so are minutes of light without end.

type hoursJSON struct {
	Schema  int          `json:"schema"`
	File    string       `json:"file"`
	Bag     *string      `json:"bag"`
	Name    string       `json:"name"`
	Over    string       `json:"over"`
	By      string       `json:"by"`
	Better  string       `json:"better"` // more or less
	Note    string       `json:"note"`
	Windows []windowJSON `json:"windows"`
	Card    hourJSON     `json:"card"` // the card's own take-off
	Want    wantJSON     `json:"want"` // of the card's own take-off
	Hours   []hourJSON   `json:"hours"`
}

// wantJSON tells whether the card's own light is what the card asks for.
type wantJSON struct {
	Fits bool   `json:"fits"`
	Why  string `json:"why"`
}

type windowJSON struct {
	From  string   `json:"from"` // of a year: the first week and hour
	To    string   `json:"to"`
	Best  string   `json:"best"`
	Value *float64 `json:"value"`
	Hours int      `json:"count"` // of entries in hours
	Words string   `json:"words"`
}

type hourJSON struct {
	TakeOff    string   `json:"take_off"`
	State      string   `json:"state"`
	Why        string   `json:"why"`
	SunAlt     float64  `json:"sun_altitude_deg"`
	SunAz      float64  `json:"sun_azimuth_deg"`
	Behind     bool     `json:"behind_skyline"`
	AsWanted   bool     `json:"as_wanted"` // the light is what the card is for
	Off        float64  `json:"off_stops"` // what it costs that it is not, 0 to 3; in no score
	OffWhy     string   `json:"off_why"`
	Filter     *string  `json:"filter"`
	Setting    *float64 `json:"setting_stops"`
	Ring       *float64 `json:"ring_deg"`
	Level      *float64 `json:"level"` // of the measure asked for: 0 the worst to 1 the best hour
	Score      *float64 `json:"score"`
	Sky        *float64 `json:"sky_darker_stops"`
	Strength   *float64 `json:"polarisation_strength_stops"`
	Unevenness *float64 `json:"unevenness_stops"`
	Glare      *float64 `json:"glare_cut"`
	Haze       *float64 `json:"haze_cut"`
	Light      *float64 `json:"land_ev100"`
	Headroom   *float64 `json:"headroom_stops"`
	Left       *float64 `json:"light_left_min"`
}

// stateWords name the states of an hour.
var stateWords = map[hours.State]string{
	hours.Unfit: "contradicts", hours.Night: "night", hours.Dark: "too dark", hours.Bright: "too bright", hours.Good: "good",
}

// hoursToJSON leaves out hours that do not exist.
func hoursToJSON(h *hours.Hours, m hours.Measure) hoursJSON {
	j := hoursJSON{
		Schema: schema, Name: h.Shot.Name, Over: h.Over.String(), By: m.String(), Better: "more", Note: h.Note(m),
		Windows: []windowJSON{}, Hours: []hourJSON{}, Card: hourToJSON(h, m, h.Own),
	}
	j.Want.Fits, j.Want.Why = hours.WantFits(h.Shot, shot.Path(h.Shot, wantPerLeg))
	if m.LessIsBetter() {
		j.Better = "less"
	}
	at := func(i int) string { return stamp(h.Cells[i].TakeOff) }
	for _, w := range h.Windows(m) {
		from, to := w.Cells[0], w.Cells[len(w.Cells)-1]
		v, _ := h.Cells[w.Best].Value(m)
		j.Windows = append(j.Windows, windowJSON{at(from), at(to), at(w.Best), finite(v), len(w.Cells), h.WindowWords(&w)})
	}
	for i := range h.Cells {
		if h.Cells[i].State != hours.Skipped {
			j.Hours = append(j.Hours, hourToJSON(h, m, i))
		}
	}
	return j
}

func hourToJSON(h *hours.Hours, m hours.Measure, i int) hourJSON {
	c := &h.Cells[i]
	v := func(m hours.Measure) *float64 { return finite(c.Values[m]) }
	j := hourJSON{
		TakeOff: stamp(c.TakeOff), State: stateWords[c.State], Why: c.Why,
		SunAlt: c.Sun.AltitudeDeg, SunAz: c.Sun.AzimuthDeg, Behind: c.Behind,
		AsWanted: c.AsWanted(), Off: c.OffStops, OffWhy: c.OffWhy,
		Setting: when(c.SettingStops > 0, c.SettingStops), Ring: when(c.HasRing, c.RingDeg),
		Score: v(hours.Score), Sky: v(hours.Sky), Strength: v(hours.Strength), Unevenness: v(hours.Unevenness), Glare: v(hours.Glare), Haze: v(hours.Haze),
		Light: v(hours.Light), Headroom: v(hours.Headroom), Left: v(hours.Left),
	}
	if c.Filter != "" {
		j.Filter = &c.Filter
	}
	if x := c.Values[m]; !math.IsNaN(x) {
		l := h.Level(m, x)
		j.Level = &l
	}
	return j
}
