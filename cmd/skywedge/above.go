package main

import (
	"fmt"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/plan/shot"
)

// The contract of "above --json". Places are metres east and north of the take-off point.
type aboveJSON struct {
	Schema int            `json:"schema"`
	File   string         `json:"file"`
	Bag    *string        `json:"bag"`
	Name   string         `json:"name"`
	EastM  [2]float64     `json:"east_m"`  // all that is drawn: take-off, ways, subjects
	NorthM [2]float64     `json:"north_m"` //
	Legs   []legAboveJSON `json:"legs"`
}

type legAboveJSON struct {
	Leg       int            `json:"leg"` // counted from 0
	Move      shot.Move      `json:"move"`
	HalfWidth float64        `json:"half_width_deg"`
	From      *[2]float64    `json:"subject_from_m"` // at the leg's start
	To        *[2]float64    `json:"subject_to_m"`
	Points    []overheadJSON `json:"points"`
}

type overheadJSON struct {
	Second     float64 `json:"second"`
	EastM      float64 `json:"east_m"`
	NorthM     float64 `json:"north_m"`
	UpM        float64 `json:"up_m"`
	HeadingDeg float64 `json:"heading_deg"`
}

func aboveCommand(e *env, a *manual.Asked) int {
	if len(a.Rest) != 1 {
		return usageError(e, "name one card, or - for standard input")
	}
	r, bag, err := plainFile(e, a.Rest[0], a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	o := compass.FromAbove(r)
	if e.asJSON {
		j := aboveToJSON(r, o)
		j.File, j.Bag = nameOf(a.Rest[0]), bag.json()
		return writeJSON(e, j)
	}
	fmt.Fprint(e.out, aboveText(r, o))
	return exitDone
}

func aboveToJSON(r *plan.Report, o *compass.Above) aboveJSON {
	j := aboveJSON{
		Schema: schema, Name: r.Shot.Name, Legs: []legAboveJSON{},
		EastM: [2]float64{o.Min.East, o.Max.East}, NorthM: [2]float64{o.Min.North, o.Max.North},
	}
	for i := range o.Legs {
		l := &o.Legs[i]
		leg := legAboveJSON{Leg: l.Leg, Move: r.Shot.Legs[l.Leg].Move, HalfWidth: compass.HalfWidthDeg(r, l.Leg), Points: []overheadJSON{}}
		if l.HasTarget {
			leg.From, leg.To = &[2]float64{l.Target[0].East, l.Target[0].North}, &[2]float64{l.Target[1].East, l.Target[1].North}
		}
		for _, p := range l.Points {
			leg.Points = append(leg.Points, overheadJSON{p.FlightS, p.East, p.North, p.UpM, p.HeadingDeg})
		}
		j.Legs = append(j.Legs, leg)
	}
	return j
}

// aboveText has three rows a leg: its start, its middle, its end.
func aboveText(r *plan.Report, o *compass.Above) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s · metres east, north and up of the take-off point\n", r.Shot.Name)
	if len(o.Legs) == 0 {
		fmt.Fprintln(&b, "the card has no leg yet")
		return b.String()
	}
	fmt.Fprintf(&b, "%.0f m from west to east and %.0f m from south to north hold it all\n", o.WidthM(), o.HeightM())
	fmt.Fprintf(&b, "\nleg move    second     east   north    up  heading     subject at\n")
	for i := range o.Legs {
		l := &o.Legs[i]
		for k, at := range []int{0, len(l.Points) / 2, len(l.Points) - 1} {
			p := &l.Points[at]
			if q := &l.Points[0]; k == 1 && p.Spot == q.Spot && p.UpM == q.UpM && p.HeadingDeg == q.HeadingDeg {
				continue // it stands still
			}
			lead, subject := "", ""
			if k == 0 {
				lead = fmt.Sprintf("%-3d %-7s", l.Leg+1, r.Shot.Legs[l.Leg].Move)
			}
			if t := l.Target[k/2]; l.HasTarget && (k == 0 || k == 2 && t != l.Target[0]) {
				subject = fmt.Sprintf("%s east, %s north", whole(t.East), whole(t.North))
			}
			line := fmt.Sprintf("%-11s %6.1f  %7s %7s %5s   %4.0f° %-3s  %s", lead, p.FlightS, whole(p.East), whole(p.North), whole(p.UpM), p.HeadingDeg, shot.Compass(p.HeadingDeg), subject)
			fmt.Fprintln(&b, strings.TrimRight(line, " "))
		}
	}
	return b.String()
}
