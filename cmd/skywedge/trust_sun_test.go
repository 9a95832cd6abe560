package main

import (
	"fmt"
	"math"
	"testing"
	"time"

	"example.org/skywedge/sun"
)

// sunAnswer asks the sun at a place and an instant.
func sunAnswer(t testing.TB, at time.Time, lat, lon float64) sunJSON {
	t.Helper()
	return asks[sunJSON](t, "sun", "--at", figureText(lat, lon), "--when", at.Format(time.RFC3339))
}

func instantOf(t testing.TB, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// sunClaims: sun/testdata/README.md says what the tables are.
func sunClaims(t testing.TB) []claim {
	const ephemeris, by = "ephemeris", "sun"
	var alt, az, seen tally
	for _, r := range skyData(t, "sun_position.csv") {
		p := sunAnswer(t, instantOf(t, r["time_utc"]), r.num(t, "lat_deg"), r.num(t, "lon_deg_east"))
		h := r.num(t, "alt_geometric_deg")
		alt.add(p.GeometricDeg - h)
		az.add(math.Remainder(p.AzimuthDeg-r.num(t, "azimuth_deg_from_north_clockwise"), 360) * math.Cos(h*rad))
		seen.add(p.AltitudeDeg - r.num(t, "alt_refracted_deg"))
	}
	plain, grazing := eventErrors(t)

	// Reda & Andreas 2004, Solar Energy 76:577, worked example: 1830 m up, 820 mbar, 11 °C, for which the answer has
	// its standard air.
	var example tally
	p := sunAnswer(t, time.Date(2003, 10, 17, 12, 30, 30, 0, time.FixedZone("", -7*3600)), 39.742476, -105.1786)
	example.add(90 - p.AltitudeDeg - 50.11162)
	example.add(p.AzimuthDeg - 194.34024)
	// Meeus, Astronomical Algorithms, example 47.a (from memory): 1992 April 12 at 0h dynamical time the moon's
	// declination is 13.768° and its parallax .991°, so that from the pole it stands .96° lower, and .07° are refracted.
	var moon tally
	moon.add(sunAnswer(t, time.Date(1992, 4, 11, 23, 59, 1, 0, time.UTC), 90, 0).Moon.AltitudeDeg - (13.768 - .96 + .07))
	return []claim{
		alt.largest("sun: altitude without refraction", by, ephemeris, .02, "°", 3),
		az.largest("azimuth × cos altitude", by, ephemeris, .02, "°", 3),
		seen.largest("altitude as seen", by, ephemeris+", refraction by Reda & Andreas 2004, eq. 42", .02, "°", 3),
		example.largest("zenith distance and azimuth, 1830 m up", by, "worked example of Reda & Andreas 2004, in its own air", .02, "°", 3),
		plain.largest("sunrise, sunset, twilights, low sun, solar noon", by, ephemeris+", latitudes to the polar day", 10, "s", 0),
		grazing.largest("the same where the sun grazes the horizon", by, ephemeris, 30, "s", 0),
		moon.largest("moon: altitude at the pole, one night", by, "Meeus, example 47.a (from memory)", 3, "°", 1),
	}
}

// eventErrors returns the seconds by which events are off; grazing: the sun needs more than a minute
// for a tenth of a degree.
func eventErrors(t testing.TB) (plain, grazing tally) {
	for _, r := range skyData(t, "sun_events.csv") {
		date := instantOf(t, r["local_date"]+"T12:00:00Z")
		lat, lon := r.num(t, "lat_deg"), r.num(t, "lon_deg_east")
		zone := time.FixedZone("", int(r.num(t, "utc_offset_h")*3600))
		d := sunAnswer(t, time.Date(date.Year(), date.Month(), date.Day(), 12, 0, 0, 0, zone), lat, lon).Events
		for column, got := range map[string]*string{
			"nautical_dawn_utc": d.NauticalDawn, "civil_dawn_utc": d.CivilDawn, "sunrise_utc": d.Sunrise,
			"low_morning_end_utc": d.LowMorning, "solar_noon_utc": d.Noon, "low_evening_start_utc": d.LowEvening,
			"sunset_utc": d.Sunset, "civil_dusk_utc": d.CivilDusk, "nautical_dusk_utc": d.NauticalDusk,
		} {
			if (r[column] == "none") != (got == nil) {
				t.Errorf("%s lat %g: %s is %v, the table has %s", r["local_date"], lat, column, got, r[column])
			}
			if r[column] == "none" || got == nil {
				continue
			}
			at := instantOf(t, *got)
			off := at.Sub(instantOf(t, r[column])).Seconds()
			slope := sunAnswer(t, at.Add(time.Minute), lat, lon).GeometricDeg - sunAnswer(t, at, lat, lon).GeometricDeg
			if math.Abs(slope) < .1 && column != "solar_noon_utc" {
				grazing.add(off)
			} else {
				plain.add(off)
			}
		}
	}
	return plain, grazing
}

// lightClaims: the polynomials are the program's own, so that these rows show that they are evaluated right. The evenings
// have no moon.
func lightClaims(t testing.TB) []claim {
	const seidelmann = "polynomials of Seidelmann 1992"
	noon, lat := noonOf(time.March, 15, 0), 0.0
	light := func(at time.Time) float64 { return sunAnswer(t, at, lat, 0).IlluminanceLx }
	var poly, fall tally
	for _, r := range skyData(t, "illuminance_check.csv") {
		if h := r.num(t, "sun_alt_deg_geometric"); h <= 85 {
			poly.add(math.Log2(light(sinks(noon, lat, geometric, h)) / r.num(t, "E_poly_lx")))
		}
	}
	noon, lat = noonOf(time.March, 20, 45), 45
	passes := func(h float64) time.Time { return sinks(noon, lat, geometric, h) }
	for _, c := range []struct{ h, stops float64 }{
		{20, .15}, {10, .38}, {6, .58}, {3, .93}, {1, 1.42}, {0, 1.73}, {-.83, 2}, {-4, 2.74},
	} {
		at := passes(c.h)
		fall.add(math.Log2(light(at)/light(at.Add(10*time.Minute))) - c.stops)
	}
	fall.add(math.Log2(light(passes(6))/light(passes(-6))) - 10.7)
	return []claim{
		poly.largest("illuminance of a clear evening, sun 85° to −18°", "sun", seidelmann, .02, "stop", 3),
		fall.largest("its fall in ten minutes, sun +20 to −4°, and from +6 to −6°", "sun", "Meeus' sun and "+seidelmann, .02, "stop", 3),
	}
}

// twilightClaim is what is published of the light at two heights of the sun.
func twilightClaim(t testing.TB) claim {
	noon := noonOf(time.March, 15, 0)
	// American Meteorological Society, Glossary of Meteorology: 585 to 410 lx at sunset, 3.5 to 2 lx at the end of civil
	// twilight.
	var published tally
	for _, c := range []struct{ h, lo, hi float64 }{{sun.HorizonDeg, 410, 585}, {sun.CivilDeg, 2, 3.5}} {
		e := sunAnswer(t, sinks(noon, 0, geometric, c.h), 0, 0).IlluminanceLx
		published.add(max(0, math.Log2(c.lo/e), math.Log2(e/c.hi)))
	}
	return published.largest("illuminance at sunset and at −6°, beyond the published range", "sun", "AMS Glossary of Meteorology", 0, "stop", 0)
}

// legAnswer is what is read of a leg of a card.
type legAnswer struct {
	Effect  *[2]float64 `json:"effect_stops"`
	Glare   *[2]float64 `json:"glare_cut"`
	Land    [2]float64  `json:"land_ev100"`
	Frame   [2]float64  `json:"frame_ev100"`
	Clipped float64     `json:"clipped_pct"`
	State   string      `json:"sun_state"`
	Other   *struct {
		Land [2]float64 `json:"land_ev100"`
	} `json:"other_state"`
	ISO     [2]float64 `json:"iso"`
	Shutter [2]float64 `json:"shutter_s"`
	Blur    [2]float64 `json:"blur_px"`
	Step    [2]float64 `json:"step_arcmin"`
	Judder  *float64   `json:"judder"`
}

// written is a card as it is written: what is said of the light, of the exposure and of the legs.
type written struct {
	lat           float64
	at            time.Time
	camera        string // and what else stands before the legs
	light, ground string
	legs          string
}

func (c written) text() string {
	return fmt.Sprintf(`skywedge: 1
name: held against what is known
place: {lat: %g, lon: 0, zone: UTC}
take_off: %s
camera: %s
light: {%s}
flight: {transit_s: 0, takes: 1, reset_s: 0}
ground: %s
legs:
%s`, c.lat, c.at.Format("2006-01-02T15:04:05"), c.camera, c.light, c.ground, c.legs)
}

// legsOf answers a card, with the generic bag where none is named.
func (c written) legsOf(t testing.TB, bag ...string) []legAnswer {
	t.Helper()
	return asksOf[struct{ Legs []legAnswer }](t, c.text(), append([]string{"card", "-"}, bag...)...).Legs
}

// guideCard is a bare card for one row of the exposure guide.
func guideCard(lat float64, at time.Time, expose, light, ground, heading string, pitch float64) written {
	return written{lat, at, "wide fixed 2.8\nfps: 25\nfilter: none\nexpose: " + expose, light + ", wind_ms: 3", ground,
		fmt.Sprintf("  - {move: hold, seconds: 2, heading_deg: %s, height_m: 20, pitch_deg: %g}\n", heading, pitch)}
}

const guideSource = "exposure guide"

// cardGuideClaims holds cards with expose: land against the daylight rows of the guide. Where each is asked to hold
// is ours; where it does is found and said.
func cardGuideClaims(t testing.TB) []claim {
	const lat = 25.0 // where the sun of June comes up to 88°
	noon := noonOf(time.June, 21, lat)
	var out []claim
	for _, row := range []struct {
		sky, light, heading string
		ev, from, to        float64
	}{
		{"full sun", "cloud_pct: 0, visibility_km: 40", "sun+180", 15, 28, 70},
		{"full sun, from the side", "cloud_pct: 0, visibility_km: 40", "sun+90", 14, 38, 49},
		{"full sun, from behind the subject", "cloud_pct: 0, visibility_km: 40", "sun", 13, 30, 45},
		{"hazy sun, visibility 5 km", "cloud_pct: 0, visibility_km: 5", "sun+180", 14, 25, 35},
		{"cloudy bright, 80 % of cloud", "cloud_pct: 80, visibility_km: 30", "sun+180", 13, 38, 49},
		{"overcast, 100 % of cloud", "cloud_pct: 100, visibility_km: 20", "sun+180", 12, 38, 49},
	} {
		at := func(h float64) written {
			return guideCard(lat, sinks(noon, lat, geometric, h), "land", row.light, "grass", row.heading, 0)
		}
		off := func(h float64) float64 { // the same reading as the card's, sooner
			return asksOf[struct {
				EV float64 `json:"frame_ev100"`
			}](t, at(h).text(), "frame", "-", "--second", "0", "--size", "1x1").EV - row.ev
		}
		if card, frame := at(row.from).legsOf(t)[0].Frame, off(row.from)+row.ev; frame < card[0]-1e-9 || frame > card[1]+1e-9 {
			t.Errorf("%s: the card reads %v, its frame %g", row.sky, card, frame)
		}
		var s tally
		for h := row.from; h <= row.to; h += 3 {
			s.add(off(h))
		}
		from := edge(row.from, 2, func(h float64) bool { return math.Abs(off(h)) <= .5 })
		to := edge(row.to, 87, func(h float64) bool { return math.Abs(off(h)) <= .5 })
		out = append(out, s.largest(fmt.Sprintf("%s, EV %g: sun %g to %g°; holds from %g to %g°", row.sky, row.ev, row.from, row.to, from, to),
			"frame", guideSource, .5, "stop", 2))
	}
	return out
}

// edge is the last whole degree on the way to a limit at which something holds; it holds at the start.
func edge(holding, limit float64, holds func(float64) bool) float64 {
	if holds(limit) {
		return limit
	}
	for math.Abs(limit-holding) > 1 {
		if m := math.Round((holding + limit) / 2); holds(m) {
			holding = m
		} else {
			limit = m
		}
	}
	return holding
}

// sunsetClaims holds whole frames, towards a low sun, against the guide's sunset rows, which describe such frames:
// 12 to 14 just before, 12 at, 9 to 11 just after.
func sunsetClaims(t testing.TB) []claim {
	const lat = 45.0
	noon := noonOf(time.September, 22, lat)
	frame := func(alt, pitch float64, ground string) legAnswer {
		return guideCard(lat, sinks(noon, lat, apparent, alt).Add(-time.Second), "middle", "cloud_pct: 0, visibility_km: 30", ground, "sun", pitch).legsOf(t)[0]
	}
	var ev, clipped tally
	said := ""
	for _, row := range []struct{ alt, ev float64 }{{3, 13}, {0, 12}, {-3, 9.5}} {
		got := frame(row.alt, 0, "grass").Frame[1]
		ev.add(got - row.ev)
		said += fmt.Sprintf(" %.1f", got)
	}
	for _, ground := range []string{"grass", "water"} {
		for _, pitch := range []float64{-12, -20} {
			clipped.add(frame(3, pitch, ground).Clipped)
		}
	}
	return []claim{
		ev.largest("level frame towards the sun at 3, 0 and −3°, EV 13, 12 and 9½: gives"+said, "card", guideSource, 1, "stop", 2),
		clipped.largest("clipped, 12 and 20° down towards a sun at 3°, grass and water", "card", "ours: what one would let go", 10, "% of the frame", 1),
	}
}

// apartClaims: exposure and motion, by the formulas that the program uses, worked by hand.
func apartClaims(t testing.TB) []claim {
	var iso, speed, step, judder tally
	// ISO 2720:1974: N²/t = L·S/K, so that the ISO is 100·2^(log2(N²/t) − EV); it is set in thirds of a stop. After
	// sunset the shutter of 172.8° at 25 frames a second, 1/52.08, is held and the ISO follows.
	const lat = 45.0
	noon := noonOf(time.September, 22, lat)
	for _, h := range []float64{-1, -2, -3, -4} {
		c := guideCard(lat, sinks(noon, lat, geometric, h), "land", "cloud_pct: 0, visibility_km: 40", "grass", "sun+180", 0)
		c.camera += "\nshutter_angle_deg: 180"
		leg := c.legsOf(t)[0]
		asked := 100 * math.Exp2(math.Log2(2.8*2.8/leg.Shutter[0])-leg.Frame[1])
		iso.add(math.Log2(leg.ISO[0] / max(100, asked)))
	}
	bag := trustBag(t)
	moving := written{lat, noon, "narrow\nfps: 24\nfilter: none", "cloud_pct: 0", "grass",
		"  - {move: push, seconds: 7, heading_deg: 0, speed_ms: 10, height_m: 50, pitch_deg: -90}\n" +
			"  - {move: push, seconds: 7, heading_deg: 0, speed_ms: 4, height_m: 30, pitch_deg: -90}\n"}
	const focalPx = 600. / 12 * 3840
	for i, leg := range moving.legsOf(t, "--bag", bag) {
		speed.add(leg.Blur[1]/leg.Shutter[1]/(focalPx*[]float64{10. / 50, 4. / 30}[i]) - 1)
	}
	width := 2 * math.Atan(12./2/600) / rad
	moving.legs = fmt.Sprintf("  - {move: pan, seconds: 7, heading_deg: [0, %.5f], height_m: 20, pitch_deg: 0}\n", width)
	pan := moving.legsOf(t, "--bag", bag)[0]
	step.add(pan.Step[1] - 11.8)
	if pan.Judder == nil {
		t.Fatal("the judder score's own anchor lies outside its range")
	}
	judder.add(*pan.Judder - 5.108)
	return []claim{
		iso.largest("ISO of a dusk for the frame's EV, f/2.8, 1/50; it is set in thirds of a stop", "card", "ISO 2720:1974, by hand", .17, "stop", 3),
		{what: "image speed, looking straight down", by: "card", source: "field of Longuet-Higgins & Prazdny 1980, by hand", n: speed.n, asked: 1, reached: 100 * speed.top, unit: "%", digits: 2},
		step.largest("step of a pan of 7 s a width at 24 frames a second", "card", "11.8′, Burum's manual as cited by Chapiro et al. 2019", .05, "′", 2),
		judder.largest("judder score of that pan at 2.5 cd/m²", "card", "5.108, Chapiro, Atkins & Daly 2019", .005, "", 3),
	}
}
