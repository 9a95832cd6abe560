package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/skywedge/sun"
)

// skyAnswer asks the sky in one direction, the sun in the north.
func skyAnswer(t testing.TB, sunAlt, az, alt float64, flags ...string) skyJSON {
	t.Helper()
	az = math.Mod(az+360, 360)
	return asks[skyJSON](t, append([]string{"sky", "--sun", figureText(0, sunAlt), "--toward", figureText(az, alt)}, flags...)...)
}

// skyErrors gathers how the answers differ from a calculated sky.
type skyErrors struct {
	degree, angle tally
	outside       int               // truths outside of the bar
	light         map[string]*tally // ln(answer/truth) by sky: its common factor is free
}

func (s *skyErrors) add(j skyJSON, key string, degree, angleDeg, radiance float64) {
	s.degree.add(j.Degree - degree)
	if degree > .1 {
		s.angle.add(math.Remainder(j.EVectorDeg-angleDeg, 180))
	}
	if degree < j.DegreeLow || degree > j.DegreeHigh {
		s.outside++
	}
	if s.light == nil {
		s.light = map[string]*tally{}
	}
	if s.light[key] == nil {
		s.light[key] = &tally{}
	}
	if j.ScatteringDeg > 15 {
		s.light[key].add(math.Log(j.Luminance / radiance))
	}
}

// lightClaim is the rms of the luminance in stops after the best common factor of each sky.
func (s *skyErrors) lightClaim(what, source string, asked float64) claim {
	var sq float64
	n := 0
	for _, l := range s.light {
		n += l.n
		sq += l.spread() * l.spread() * float64(l.n)
	}
	return claim{what: what, by: "sky", source: source, n: n, skies: len(s.light), asked: asked,
		reached: math.Sqrt(sq/float64(n)) / math.Ln2, unit: "stop", digits: 3}
}

// outsideClaim is the share of truths outside of the bar, in per cent.
func (s *skyErrors) outsideClaim(what, source string, asked float64) claim {
	return claim{what: what, by: "sky", source: source, n: s.degree.n, skies: len(s.light), asked: asked,
		reached: 100 * float64(s.outside) / float64(s.degree.n), unit: "%", digits: 1}
}

func calculatedSkies(t testing.TB, file string) *skyErrors {
	s := new(skyErrors)
	for _, r := range skyData(t, file) {
		depth := "0"
		if r["aod550"] != "" {
			depth = r["aod550"]
		}
		j := skyAnswer(t, r.num(t, "sun_el"), r.num(t, "az_from_sun_cw"), r.num(t, "view_el"), "--aod", depth, "--albedo", "0.15")
		s.add(j, r["sun_el"]+r["aerosol"]+r["aod550"], r.num(t, "DoP"), r.num(t, "AoP_ccw_from_vertical_deg"), r.num(t, "I_over_Izenith"))
	}
	return s
}

const transfer = "transfer" // the page says what that is

// hazyDegree is where skyClaims has the rms of the degree in haze.
const hazyDegree = 9

func skyClaims(t testing.TB) []claim {
	const hazy = transfer + ", three aerosols"
	clear, haze := calculatedSkies(t, "sky_truth_rayleigh.csv"), calculatedSkies(t, "sky_truth_aerosol.csv")
	nClear, nHaze := len(clear.light), len(haze.light)

	var pmax tally
	for _, r := range skyData(t, "sky_truth_dopmax.csv") {
		// without aerosol the greatest degree stands 90° above the sun, on its vertical
		j := skyAnswer(t, r.num(t, "sun_el"), 180, 90-r.num(t, "sun_el"), "--aod", "0", "--albedo", r["albedo"], "--nm", r["lambda_nm"])
		pmax.add(j.Degree - r.num(t, "DoPmax"))
	}
	// Coulson, Dave & Sekera's tables as corrected by Natraj, Li & Yung 2009: no molecular depolarisation, Q level less
	// upright, U positive towards up-right. The wavelength is that at which the air at the sea is so deep.
	var tables skyErrors
	for _, r := range skyData(t, "sky_tables_published.csv") {
		nm := 700.0
		for nm > 400 && sun.RayleighDepth(nm, 1013.25) < r.num(t, "tau") {
			nm -= .1
		}
		if nm <= 400 {
			continue // deeper than any answer is for
		}
		i, q, u := r.num(t, "I"), r.num(t, "Q"), r.num(t, "U")
		j := skyAnswer(t, math.Asin(r.num(t, "mu0"))/rad, r.num(t, "phi_deg"), math.Asin(r.num(t, "mu"))/rad, "--aod", "0", "--albedo", r["albedo"], "--nm", figureText(nm))
		tables.add(j, r["tau"]+r["albedo"]+r["mu0"], math.Hypot(q, u)/i, .5*math.Atan2(-u, -q)/rad, i)
	}
	const published = "tables"
	return []claim{
		clear.degree.typical("clear sky: degree of polarisation", "sky", transfer, .01, "", 4).of(nClear),
		clear.degree.largest("the same, largest", "sky", transfer, .04, "", 3).of(nClear),
		clear.angle.largest("direction of E where the degree is above .1", "sky", transfer, 1, "°", 2).of(nClear),
		clear.outsideClaim("degrees outside the bar", transfer, 0),
		clear.lightClaim("luminance against the sky's own mean, rms", transfer, .03),
		pmax.typical("greatest degree in the sky, 450, 550 and 650 nm", "sky", transfer, .015, "", 4).of(pmax.n),
		pmax.largest("the same, largest", "sky", transfer, .07, "", 3).of(pmax.n),
		tables.degree.typical("clear sky: degree of polarisation", "sky", published, .03, "", 3).of(len(tables.light)),
		tables.angle.largest("direction of E where the degree is above .1", "sky", published, 2.5, "°", 1).of(len(tables.light)),
		haze.degree.typical("hazy sky, kind of haze not told: degree", "sky", hazy, .1, "", 3).of(nHaze),
		haze.degree.largest("the same, largest", "sky", hazy, .25, "", 2).of(nHaze),
		haze.outsideClaim("degrees outside the bar", hazy, 10),
		haze.angle.typical("direction of E where the degree is above .1", "sky", hazy, 3, "°", 1).of(nHaze),
		haze.lightClaim("luminance against the sky's own mean, rms", hazy, .36),
	}
}

// measuredSource is what one source measured, against the answers.
type measuredSource struct {
	name             string
	skies            map[string]bool // whether every degree lies inside its bar
	inside           int
	least, most, bar float64 // of the measured degrees; sum of the bars' widths
	off              tally
}

// measuredTable asks the degrees that were measured, and writes a line a source, and in how many skies the bars hold.
func measuredTable(t testing.TB) (table, bars string) {
	var sources []*measuredSource
	for _, r := range skyData(t, "sky_measured.csv") {
		flags, sunAlt, ok := measuredCase(t, r)
		if !ok {
			continue
		}
		j, ok := measuredAnswer(t, r, sunAlt, flags)
		if !ok {
			continue
		}
		name, _, _ := strings.Cut(r["source"], " (")
		if len(sources) == 0 || sources[len(sources)-1].name != name {
			sources = append(sources, &measuredSource{name: name, skies: map[string]bool{}, least: 1})
		}
		s, value := sources[len(sources)-1], r.num(t, "value")
		inside, sky := value >= j.DegreeLow && value <= j.DegreeHigh, strings.Join(flags, " ")
		if all, seen := s.skies[sky]; all || !seen {
			s.skies[sky] = inside
		}
		s.off.add(j.Degree - value)
		s.bar += j.DegreeHigh - j.DegreeLow
		s.least, s.most = min(s.least, value), max(s.most, value)
		if inside {
			s.inside++
		}
	}
	var b strings.Builder
	b.WriteString("One line a source; `sky` was asked for the degree of polarisation with the haze that the source tells, or in the words that it\n" +
		"has for it; where it tells no height of the sun, one is assumed. `sky` stands at the sea, some of these did not.\n\n" +
		"| measured by | degrees | skies | measured | answer, mean error | rms | inside the bar | bar, end to end |\n" +
		"| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	skies, whole, most := 0, 0, 0
	for _, s := range sources {
		span := fmt.Sprintf("%.2f", s.most)
		if s.least < s.most {
			span = fmt.Sprintf("%.2f to %.2f", s.least, s.most)
		}
		mean := strings.Replace(fmt.Sprintf("%+.2f", math.Round(100*s.off.mean())/100+0), "-", "−", 1)
		fmt.Fprintf(&b, "| %s | %d | %d | %s | %s | %.2f | %d | %.2f |\n", s.name, s.off.n, len(s.skies), span, mean, s.off.rms(), s.inside, s.bar/float64(s.off.n))
		skies, most = skies+len(s.skies), max(most, s.off.n)
		for _, all := range s.skies {
			if all {
				whole++
			}
		}
	}
	fmt.Fprintf(&b, "\n%d skies of %d sources are few, and the %d degrees of one of them are one case.\n", skies, len(sources), most)
	if skies < 12 || whole < skies-1 {
		t.Errorf("of %d measured skies %d lie inside their bars", skies, whole)
	}
	return b.String(), fmt.Sprintf("of %d measured skies %d lie wholly inside the bar that is said", skies, whole)
}

// measuredAnswer asks one direction, or the whole sky for its greatest degree. False: outside of what is claimed.
func measuredAnswer(t testing.TB, r dataRow, sunAlt float64, flags []string) (best skyJSON, ok bool) {
	if r["quantity"] == "dop" && r["view_el_deg"] != "" && r["view_az_from_sun_deg"] != "" {
		el := r.num(t, "view_el_deg")
		j := skyAnswer(t, sunAlt, r.num(t, "view_az_from_sun_deg"), el, flags...)
		return j, el >= 3 && j.ScatteringDeg >= 15
	}
	for el := 5.0; el < 90; el += 5 {
		for az := 0.0; az <= 180; az += 15 {
			if j := skyAnswer(t, sunAlt, az, el, flags...); j.Degree > best.Degree {
				best = j
			}
		}
	}
	return best, true
}

// measuredCase reads what a row of published extremes leaves to words: the sun's altitude, the
// wavelength, and a depth given at 450 nm. False: outside what the model claims.
func measuredCase(t testing.TB, r dataRow) (flags []string, sunAlt float64, ok bool) {
	nm := "550"
	for _, c := range [][2]string{
		{"450+-25", "450"}, {"450-700", "550"}, {"450/550", "550"}, {"450", "450"}, {"460", "460"}, {"545", "545"}, {"yellow", "570"}, {">", "650"},
	} {
		if strings.HasPrefix(r["wavelength_nm"], c[0]) {
			nm = c[1]
			break
		}
	}
	depth := r["aod550"]
	if at450, found := strings.CutPrefix(depth, "450:"); found {
		v, err := strconv.ParseFloat(at450, 64)
		if err != nil {
			t.Fatal(err)
		}
		depth = figureText(v / sun.AerosolDepthAt(1, 450))
	}
	flags = []string{"--nm", nm, "--aod", depth, "--albedo", r["albedo"]}
	if told := strings.HasPrefix(r["aod550"], "450:") || len(depth) > len("0.08"); !told { // a class of haze, by its words
		flags[2], flags[3] = "--visibility", figureText(math.Round(2.996/(r.num(t, "aod550")/1.2+.0116)))
	}
	switch alt := r["sun_alt_deg"]; {
	case strings.Contains(r["note"], "outside the model"), strings.Contains(alt, "twilight"):
		return nil, 0, false
	case alt == "30-35":
		return flags, 32.5, true
	case strings.Contains(r["note"], "sun 25"), alt == "spring":
		return flags, 25, true
	case strings.Contains(r["note"], "sun 20"):
		return flags, 20, true
	case alt == "various":
		return append(flags, "--cloud", "100"), 30, true
	case strings.HasPrefix(alt, "not given"):
		return flags, 30, true
	}
	return flags, r.num(t, "sun_alt_deg"), true
}
