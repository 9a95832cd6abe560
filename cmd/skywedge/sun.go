package main

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// sunJSON is the contract of "sun --json".
type sunJSON struct {
	Schema         int        `json:"schema"`
	When           string     `json:"when"`
	AltitudeDeg    float64    `json:"altitude_deg"`
	GeometricDeg   float64    `json:"geometric_altitude_deg"`
	AzimuthDeg     float64    `json:"azimuth_deg"`
	IlluminanceLx  float64    `json:"illuminance_lx"`
	EV100          float64    `json:"ev100"`
	ShadowBearing  *float64   `json:"shadow_bearing_deg"`
	ShadowPerMetre *float64   `json:"shadow_per_height"`
	Events         eventsJSON `json:"events"`
	EventsNote     string     `json:"events_note"`
	Moon           moonJSON   `json:"moon"`
}

type eventsJSON struct {
	Sunrise      *string `json:"sunrise"`
	Sunset       *string `json:"sunset"`
	Noon         *string `json:"solar_noon"`
	CivilDawn    *string `json:"civil_dawn"`
	CivilDusk    *string `json:"civil_dusk"`
	NauticalDawn *string `json:"nautical_dawn"`
	NauticalDusk *string `json:"nautical_dusk"`
	LowMorning   *string `json:"low_sun_morning_end"`
	LowEvening   *string `json:"low_sun_evening_start"`
}

type moonJSON struct {
	AltitudeDeg float64 `json:"altitude_deg"`
	AzimuthDeg  float64 `json:"azimuth_deg"`
	LitFraction float64 `json:"lit_fraction"`
}

func sunCommand(e *env, a *manual.Asked) int {
	if a.Text("at") == "" || a.Text("when") == "" {
		return usageError(e, "--at LAT,LON and --when TIME are both needed")
	}
	lat, lon, err := placed(a.Text("at"))
	if err != nil {
		return usageError(e, "--at %v", err)
	}
	t, err := instant(a.Text("when"), a.Text("zone"), e.now())
	if err != nil {
		return usageError(e, "%v", err)
	}
	p := sun.At(t, lat, lon)
	moon := sun.MoonAt(t, lat, lon)
	light := sun.LightAt(p, moon, sun.ClearAir(40, 0)) // a clear day over grass at sea level
	day := sun.DayOf(t.Year(), t.Month(), t.Day(), t.Location(), lat, lon)
	if !e.asJSON {
		fmt.Fprint(e.out, sunText(t, p, moon, light, day))
		return exitDone
	}
	j := sunJSON{
		Schema: schema, When: t.Format(time.RFC3339), AltitudeDeg: p.AltitudeDeg, GeometricDeg: p.GeometricDeg, AzimuthDeg: p.AzimuthDeg,
		IlluminanceLx: light.TotalLx, EV100: exposure.EV100OfIlluminance(light.TotalLx, exposure.Flat), Events: events(day), EventsNote: day.Note,
		Moon: moonJSON{moon.AltitudeDeg, moon.AzimuthDeg, moon.LitFraction},
	}
	if bearing, per, ok := sun.Shadow(p); ok {
		j.ShadowBearing, j.ShadowPerMetre = &bearing, &per
	}
	return writeJSON(e, j)
}

func events(d sun.Day) eventsJSON {
	s := func(t time.Time) *string {
		if t.IsZero() {
			return nil
		}
		text := t.Round(time.Second).Format(time.RFC3339)
		return &text
	}
	return eventsJSON{s(d.Sunrise), s(d.Sunset), s(d.Noon), s(d.CivilDawn), s(d.CivilDusk),
		s(d.NauticalDawn), s(d.NauticalDusk), s(d.LowMorningEnd), s(d.LowEveningStart)}
}

func sunText(t time.Time, p sun.Position, m sun.Moon, l sun.Light, d sun.Day) string {
	var b strings.Builder
	row := func(name, format string, a ...any) {
		fmt.Fprintf(&b, "%-12s "+format+"\n", append([]any{name}, a...)...)
	}
	row("when", "%s", t.Format("2006-01-02 15:04:05 -07:00"))
	way := "above"
	if p.AltitudeDeg < 0 {
		way = "below"
	}
	row("sun", "%.1f° %s the horizon at %.1f° (%s)", math.Abs(p.AltitudeDeg), way, p.AzimuthDeg, shot.Compass(p.AzimuthDeg))
	if bearing, per, ok := sun.Shadow(p); ok && per < 100 {
		row("shadow", "towards %.0f° (%s), %.1f times the height", bearing, shot.Compass(bearing), per)
	}
	row("light", "%s lx on the ground under a clear sky, EV %.1f at ISO 100", thousands(l.TotalLx), exposure.EV100OfIlluminance(l.TotalLx, exposure.Flat))
	row("moon", "%s° at %.0f°, %.0f %% lit", whole(m.AltitudeDeg), m.AzimuthDeg, 100*m.LitFraction)
	fmt.Fprintf(&b, "\nthe day, %s\n", d.Noon.Format("2006-01-02, offset -07:00"))
	for _, ev := range []struct {
		name string
		t    time.Time
	}{
		{"nautical dawn (-12°)", d.NauticalDawn}, {"civil dawn (-6°)", d.CivilDawn}, {"sunrise", d.Sunrise},
		{"low sun ends (+6°)", d.LowMorningEnd}, {"solar noon", d.Noon}, {"low sun begins (+6°)", d.LowEveningStart},
		{"sunset", d.Sunset}, {"civil dusk (-6°)", d.CivilDusk}, {"nautical dusk (-12°)", d.NauticalDusk},
	} {
		text := "none"
		if !ev.t.IsZero() {
			text = ev.t.Round(time.Second).Format("15:04:05")
			if ev.t.YearDay() != d.Noon.YearDay() {
				text += ev.t.Format(" (2 Jan)")
			}
		}
		fmt.Fprintf(&b, "  %-21s %s\n", ev.name, text)
	}
	if d.Note != "" {
		fmt.Fprintf(&b, "  %s\n", d.Note)
	}
	b.WriteString("\nnever look at the sun through optics\n")
	return b.String()
}

// thousands prints a light level with three significant figures and grouped thousands.
func thousands(v float64) string {
	if v < 100 {
		return fmt.Sprintf("%.3g", v)
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-2)
	s := fmt.Sprintf("%.0f", math.Round(v/step)*step)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// whole rounds to degrees or metres, without a minus before nothing.
func whole(v float64) string { return fmt.Sprintf("%.0f", math.Round(v)+0) }
