package main

import (
	"fmt"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/advice"
	"example.org/skywedge/plan/compass"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// The contract of "rose --json". A figure that there is none of is null: without a ring there is no effect of one, and
// without sky in the frame nothing to say.
type roseJSON struct {
	Schema      int       `json:"schema"`
	File        string    `json:"file"`
	Bag         *string   `json:"bag"`
	Second      float64   `json:"second"`
	Leg         int       `json:"leg"` // counted from 0
	HeadingDeg  float64   `json:"heading_deg"`
	PitchDeg    float64   `json:"pitch_deg"`
	SunAltitude float64   `json:"sun_altitude_deg"`
	SunAzimuth  float64   `json:"sun_azimuth_deg"`
	Filter      string    `json:"filter"`
	RingDeg     *float64  `json:"ring_deg"`
	RingClock   *string   `json:"ring_clock"`
	SkyInFrame  bool      `json:"sky_in_frame"`
	StepDeg     float64   `json:"step_deg"`
	Rays        []rayJSON `json:"headings"`
	Words       []string  `json:"words"`
}

type rayJSON struct {
	HeadingDeg float64  `json:"heading_deg"`
	InUse      *float64 `json:"effect_stops"`
	Strongest  *float64 `json:"best_effect_stops"`
	RingDeg    *float64 `json:"best_ring_deg"`
	RingClock  *string  `json:"best_ring_clock"`
	Strength   *float64 `json:"polarisation_strength_stops"`
}

func roseCommand(e *env, a *manual.Asked) int {
	second, step := a.Number("second"), a.Number("step")
	switch {
	case len(a.Rest) != 1:
		return usageError(e, "name one card, or - for standard input")
	case !a.Given("second"):
		return usageError(e, "--second is needed: seconds of flight time, one take a leg and no transit")
	case !(step >= 1 && step <= 90):
		return usageError(e, "--step %g: give degrees from 1 to 90", step)
	}
	r, bag, err := plainFile(e, a.Rest[0], a.Text("bag"), a.Text("take-off"))
	if err != nil {
		return failure(e, err)
	}
	if err := inFlight(r, second); err != nil {
		return usageError(e, "%v", err)
	}
	o := compass.RoseAt(r, second, step)
	if e.asJSON {
		j := roseToJSON(r, o, second)
		j.File, j.Bag = nameOf(a.Rest[0]), bag.json()
		return writeJSON(e, j)
	}
	fmt.Fprint(e.out, roseText(r, o, second))
	fmt.Fprintf(e.out, "bag %s\n", bag)
	return exitDone
}

// inFlight refuses a second that the flight does not have, and a card without a leg.
func inFlight(r *plan.Report, second float64) error {
	end := r.Shot.FlightSeconds()
	switch {
	case len(r.Shot.Legs) == 0:
		return fmt.Errorf("the card has no leg yet: add one")
	case !(second >= 0 && second <= end):
		return fmt.Errorf("--second %g is outside the flight: it goes from 0 to %g", second, end)
	}
	return nil
}

func roseToJSON(r *plan.Report, o *compass.Rose, second float64) roseJSON {
	mo, set := r.MomentAt(second), r.FlightOf(o.Leg)
	j := roseJSON{
		Schema: schema, Second: second, Leg: o.Leg, HeadingDeg: mo.HeadingDeg, PitchDeg: o.PitchDeg,
		SunAltitude: o.Sun.AltitudeDeg, SunAzimuth: o.Sun.AzimuthDeg, Filter: o.Filter, SkyInFrame: o.SkyOK, StepDeg: o.StepDeg,
		Words: o.Words(mo.HeadingDeg),
	}
	if set != nil && o.HasRing {
		j.RingDeg, j.RingClock = &set.Set.RingDeg, clockJSON(true, set.Set.RingDeg)
	}
	for i := range o.Rays {
		ray := &o.Rays[i]
		ring := o.HasRing && o.SkyOK
		j.Rays = append(j.Rays, rayJSON{
			HeadingDeg: ray.HeadingDeg, InUse: when(ring, ray.InUse), Strongest: when(ring, ray.Strongest),
			RingDeg: when(ring, ray.RingDeg), RingClock: clockJSON(ring, ray.RingDeg), Strength: when(o.SkyOK, ray.Strength),
		})
	}
	return j
}

// roseText is a row for every heading. The row nearest to where the camera looks is marked.
func roseText(r *plan.Report, o *compass.Rose, second float64) string {
	var b strings.Builder
	mo := r.MomentAt(second)
	fmt.Fprintf(&b, "%s · second %g of %g, leg %d · heading %.0f°, pitch %.0f° · sun %s° at %.0f° (%s)\n", r.Shot.Name, second, r.Shot.FlightSeconds(),
		o.Leg+1, mo.HeadingDeg, o.PitchDeg, whole(o.Sun.AltitudeDeg), o.Sun.AzimuthDeg, shot.Compass(o.Sun.AzimuthDeg))
	if f := r.FlightOf(o.Leg); f != nil {
		fmt.Fprintln(&b, advice.Mount(&f.Set))
	} else {
		fmt.Fprintln(&b, words.FilterTitle(o.Filter, 0))
	}
	if o.SkyOK {
		b.WriteString("\n" + roseTable(o, mo.HeadingDeg))
	}
	b.WriteByte('\n')
	for _, line := range o.Words(mo.HeadingDeg) {
		fmt.Fprintln(&b, line)
	}
	return b.String()
}

func roseTable(o *compass.Rose, headingDeg float64) string {
	var b strings.Builder
	fmt.Fprint(&b, "stops, minus darkens the sky\n\n  heading   ")
	if o.HasRing {
		fmt.Fprint(&b, "this ring   best ring             ")
	}
	fmt.Fprintln(&b, "between rings of any polariser")
	here := o.At(headingDeg)
	for i := range o.Rays {
		ray := &o.Rays[i]
		lead := " "
		if ray == here {
			lead = ">"
		}
		fmt.Fprintf(&b, "%s %4s %-4s ", lead, fmt.Sprintf("%.0f°", ray.HeadingDeg), shot.Compass(ray.HeadingDeg))
		if o.HasRing {
			fmt.Fprintf(&b, "%10s   %-21s ", stops(ray.InUse), stops(ray.Strongest)+" at "+kit.Clock(ray.RingDeg))
		}
		fmt.Fprintf(&b, "%4.1f\n", ray.Strength)
	}
	return b.String()
}

// stops writes a change in stops with its sign, and nothing as 0.0.
func stops(v float64) string {
	if v > -.05 && v < .05 {
		return "0.0"
	}
	return fmt.Sprintf("%+.1f", v)
}
