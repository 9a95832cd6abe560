package trip

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"time"

	"example.org/skywedge/plan/advice"
)

// tableColumns head the table of a trip.
var tableColumns = []string{"date", "take_off", "landing", "name", "file", "latitude", "longitude", "filter", "settings", "batteries",
	"window_from", "window_to", "drive_km", "drive_min", "change_before", "proposed_take_off", "sure", "conflicts"}

// Table writes the shots of a trip, a row each, by RFC 4180: its lines end with CRLF and the first names the columns. Times
// are RFC 3339; what is not known is empty.
func Table(p *Plan) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	w.Write(tableColumns) // a buffer takes everything
	for _, d := range p.Days {
		proposed := map[int]time.Time{}
		for _, m := range d.Order {
			proposed[m.Card] = m.TakeOff
		}
		for i := range d.Stops {
			s := &d.Stops[i]
			c := &p.Cards[s.Card]
			row := []string{d.Date.Format(time.DateOnly), stamp(c.Shot.Local(s.TakeOff)), stamp(c.Shot.Local(s.Landing)), c.Shot.Name, c.File,
				fmt.Sprintf("%.6f", c.Shot.LatDeg), fmt.Sprintf("%.6f", c.Shot.LonDeg), c.Mounts(), c.settings(), "", "", "", "", "", "", "", "", ""}
			if s.Batteries > 0 {
				row[9] = fmt.Sprint(s.Batteries)
			}
			if c.Worked != nil {
				if c.Window != nil {
					row[10], row[11] = stamp(c.Shot.Local(c.Window.From)), stamp(c.Shot.Local(c.Window.To))
				}
				row[16] = c.Report.Call.SureWords()
			}
			if i > 0 {
				row[12], row[13] = fmt.Sprintf("%.1f", s.Km()), fmt.Sprintf("%.0f", s.Travel().Minutes())
				row[14] = map[bool]string{true: "yes", false: "no"}[s.Changed()]
			}
			if at, ok := proposed[s.Card]; ok {
				row[15] = stamp(at)
			}
			var conflicts []string
			for _, x := range s.Conflicts {
				conflicts = append(conflicts, x.String())
			}
			row[17] = strings.Join(conflicts, "; ")
			w.Write(row)
		}
	}
	w.Flush()
	return b.Bytes()
}

// settings are what is locked, leg after leg; "" before a card is worked out.
func (c *Card) settings() string {
	if c.Worked == nil {
		return ""
	}
	var list []string
	for _, k := range advice.Locks(c.Report) {
		if k.Set != "" {
			list = append(list, k.Name()+": "+k.Set)
		}
	}
	return strings.Join(list, "; ")
}

func stamp(t time.Time) string { return t.Format(time.RFC3339) }
