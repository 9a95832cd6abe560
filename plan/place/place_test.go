package place

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

const tiny = 5e-7 // half a unit of the last digit that is written

func near(p, q Point) bool {
	return math.Abs(p.LatDeg-q.LatDeg) < tiny && math.Abs(p.LonDeg-q.LonDeg) < tiny
}

// 64°02'54" is 64.048333°, 16°10'46" is 16.179444° (by hand: minutes over 60, seconds over 3600).
var glacier, sexa = Point{64.0484, -16.1794}, Point{64.048333333, -16.179444444}

func TestEveryUsualNotation(t *testing.T) {
	minutes := Point{64.048333333, -16.179433333} // 64°02.9' and 16°10.766'
	for _, c := range []struct {
		text string
		want Point
	}{
		{"64.0484, -16.1794", glacier},
		{"64.0484,-16.1794", glacier},
		{"64.0484 -16.1794", glacier},
		{"64.0484\t−16.1794\n", glacier},
		{"  (64.0484; -16.1794) ", glacier},
		{"[64.0484, -16.1794]", glacier},
		{"\u200e64.0484, -16.1794\u200e.", glacier}, // a mark of direction, a full stop
		{"48.2 16.4", Point{48.2, 16.4}},
		{"64, -16", Point{64, -16}},
		{"64,16", Point{64, 16}},
		{"+64.0484, -16.1794", glacier},
		{".5, -.25", Point{.5, -.25}},
		{"-0.5, -0.25", Point{-.5, -.25}},
		// decimal commas
		{"64,0484 -16,1794", glacier},
		{"64,0484; -16,1794", glacier},
		{"64,0484;-16,1794", glacier},
		{"64,0484, -16,1794", glacier},
		{"64,0484 , -16,1794", glacier},
		{"64,0484° N, 16,1794° W", glacier},
		{"64,0484°N,16,1794°W", glacier},
		{"64, -16,1794", Point{64, -16.1794}},
		// degrees, minutes and seconds
		{`64°02'54"N 16°10'46"W`, sexa},
		{`64° 02' 54" N, 16° 10' 46" W`, sexa},
		{`N 64° 02' 54" W 16° 10' 46"`, sexa},
		{`N64°02'54", W16°10'46"`, sexa},
		{"64°02′54″N 16°10′46″W", sexa},
		{"64º02’54”N 16º10’46”W", sexa},
		{"64°02′54′′N 16°10''46W", Point{}}, // refused below: seconds in place of minutes
		{`64d02m54sN 16d10m46sW`, sexa},
		{`64d 02m 54s N, 16d 10m 46s W`, sexa},
		{`64 deg 02 min 54 sec N 16 deg 10 min 46 sec W`, sexa},
		{`64 02 54 N 16 10 46 W`, sexa},
		{`64 02 54, -16 10 46`, sexa},
		{`64°02'54", -16°10'46"`, sexa},
		{`64°02'54" -16°10'46"`, sexa},
		{`16°10'46"W 64°02'54"N`, sexa},
		{`64°02'54.0"N 16°10'46.0"W`, sexa},
		{`64°02'54,0"N 16°10'46,0"W`, sexa},
		{`64° 02.9' N 16° 10.766' W`, minutes},
		{`N 64 02.9 W 016 10.766`, minutes},
		{`64 02,9 N 16 10,766 W`, minutes},
		{"64.0484 N 16.1794 W", glacier},
		{"64.0484° north, 16.1794° west", glacier},
		{"64.0484n16.1794w", glacier},
		{"W 16.1794, N 64.0484", glacier},
		{"33.9s 18.4e", Point{-33.9, 18.4}},
		{"33d55m S 18d25m E", Point{-33 - 55./60, 18 + 25./60}},
		{"64.0484° -16.1794°", glacier},
		{"64.0484° 16.1794°", Point{64.0484, 16.1794}},
		{"lat 64.0484 lon -16.1794", glacier},
		{"Latitude: 64.0484, Longitude: -16.1794", glacier},
		{"lon=-16.1794 lat=64.0484", glacier},
		{"Lat 64.0484 N Long 16.1794 W", glacier},
		{"64.0484 / -16.1794", glacier},
		{"640254N 0161046W", sexa},
		{"640254N0161046W", sexa},
	} {
		got, err := Parse(c.text)
		if c.want == (Point{}) {
			if err == nil {
				t.Errorf("%q gives %v", c.text, got)
			}
			continue
		}
		if err != nil || !near(got, c.want) {
			t.Errorf("%q gives %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

// The examples of RFC 5870: sections 1, 6.1 to 6.4 and its appendix, but for those of section 6.4 whose point is that
// other parameters differ.
func TestGeoLinks(t *testing.T) {
	for text, want := range map[string]Point{
		"geo:13.4125,103.8667":                        {13.4125, 103.8667},
		"geo:48.2010,16.3695,183":                     {48.2010, 16.3695},
		"geo:48.198634,16.371648;crs=wgs84;u=40":      {48.198634, 16.371648},
		"geo:90,-22.43;crs=WGS84":                     {90, -22.43},
		"geo:90,46":                                   {90, 46},
		"geo:22.300,-118.44":                          {22.3, -118.44},
		"geo:22.3,-118.4400":                          {22.3, -118.44},
		"geo:66,30;u=6.500;FOo=this%2dthat":           {66, 30},
		"geo:66.0,30;u=6.5;foo=this-that":             {66, 30},
		"geo:70,20;foo=1.00;bar=white":                {70, 20},
		"geo:47,11;bar=white;foo=blue":                {47, 11},
		"geo:22,0;BAR=blue":                           {22, 0},
		"GEO:48.2010,16.3695":                         {48.2010, 16.3695},
		"meet at geo:48.2010,16.3695 then":            {48.2010, 16.3695},
		"geo:0,0?q=48.2010,16.3695":                   {48.2010, 16.3695}, // no RFC's, but found in messages
		"geo:0,0?q=48.2010,16.3695(the+square)&z=14":  {48.2010, 16.3695},
		"geo:48.2010,16.3695?z=14":                    {48.2010, 16.3695},
		"<geo:-48.2010,-16.3695,-18.5;crs=wgs84;u=9>": {-48.2010, -16.3695},
	} {
		if got, err := Parse(text); err != nil || !near(got, want) {
			t.Errorf("%q gives %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]error{
		"geo:323482,4306480;crs=EPSG:32618;u=20": errReference, // its section 8.1, of another system
		"geo:91,46":                              errLat,
		"geo:47,181":                             errLon,
	} {
		if _, err := Parse(text); err != want {
			t.Errorf("%q: %v, want %v", text, err, want)
		}
	}
	for _, text := range []string{"geo:48,2;16,3", "geo:48.2010", "geo:48.2010;16.3695", "geo:1e1,2", "geo:+48,16", "geo:48.,16"} {
		if p, err := Parse(text); err == nil {
			t.Errorf("%q gives %v", text, p)
		}
	}
}

// The forms of ISO 6709 as its readers quote them: the strings of annex H and the display of annex D (from memory;
// the numbers of a mountain, a pole and two cities, in each of the three resolutions).
func TestISO6709(t *testing.T) {
	for text, want := range map[string]Point{
		"+27.5916+086.5640+8850CRSWGS_84/": {27.5916, 86.564},
		"+275916+0865640+8850/":            {27 + 59./60 + 16./3600, 86 + 56./60 + 40./3600},
		"-90+000+2800CRSWGS_84/":           {-90, 0},
		"+90+000/":                         {90, 0},
		"+4852+00220/":                     {48 + 52./60, 2 + 20./60},
		"+40.6894-074.0447/":               {40.6894, -74.0447},
		"+46+002/":                         {46, 2},
		"+1234.7-09854.1/":                 {12 + 34.7/60, -98 - 54.1/60},
		"+640254-0161046":                  sexa,
		"50°03′46.461″S 125°48′26.533″E":   {-50 - 3./60 - 46.461/3600, 125 + 48./60 + 26.533/3600},
	} {
		if got, err := Parse(text); err != nil || !near(got, want) {
			t.Errorf("%q gives %v, %v; want %v", text, got, err, want)
		}
	}
	if _, err := Parse("+27.5916+086.5640+8850CRSOSGB_36/"); err != errReference {
		t.Errorf("another reference system: %v", err)
	}
	if _, err := Parse("+4862+00220/"); err != errMinutes {
		t.Errorf("62 minutes: %v", err)
	}
}

func TestLinks(t *testing.T) {
	for text, want := range map[string]Point{
		"https://example.org/@64.0484,-16.1794,12z":                                glacier,
		"https://example.org/maps/@64.0484,-16.1794":                               glacier,
		"https://example.org/?q=64.0484,-16.1794":                                  glacier,
		"https://example.org/?q=64.0484%2C-16.1794&hl=en":                          glacier,
		"https://example.org/?q=loc:64.0484,-16.1794":                              glacier,
		"https://example.org/?q=64.0484,+-16.1794":                                 glacier,
		"https://example.org/?q=64.0484+-16.1794":                                  glacier,
		"https://example.org/?q=+64.0484,-16.1794":                                 glacier,
		"https://example.org/?q=64.0484,-16.1794(a%20lagoon)":                      glacier,
		"https://example.org/?lat=64.0484&lon=-16.1794&zoom=12":                    glacier,
		"https://example.org/?lng=-16.1794&lat=64.0484":                            glacier,
		"https://example.org/?latitude=64.0484&longitude=-16.1794":                 glacier,
		"https://example.org/?mlat=64.0484&mlon=-16.1794#map=12/64.1/-16.3":        glacier,
		"https://example.org/#map=12/64.0484/-16.1794":                             glacier,
		"https://example.org/#map=12.5/64.0484/-16.1794/30/60":                     glacier,
		"https://example.org/#12/64.0484/-16.1794":                                 glacier,
		"https://example.org/#64.0484,-16.1794":                                    glacier,
		"https://example.org/#/?lat=64.0484&lon=-16.1794":                          glacier,
		"https://example.org/64.0484/-16.1794":                                     glacier,
		"https://example.org/12/64.0484/-16.1794":                                  glacier,
		"https://example.org/64.0484/-16.1794/12":                                  glacier,
		"https://example.org/go/64.0484,-16.1794/":                                 glacier,
		"https://example.org/?q=64.0484,-16.1794&c=64.1,-16.3":                     glacier, // what was asked for, not the middle
		"https://example.org/place/A+lagoon/@64.1,-16.3,9z?q=64.0484,-16.1794":     glacier,
		"https://example.org/go/64%C2%B002'54.0%22N+16%C2%B010'46.0%22W/@64.1,-16": sexa,
		"A lagoon\nhttps://example.org/?q=64.0484,-16.1794":                        glacier,
		"see <https://example.org/?q=64.0484,-16.1794> for it":                     glacier,
		"example.org/?q=64.0484,-16.1794":                                          glacier,
		"www.example.org/@64.0484,-16.1794,12z":                                    glacier,
		"https://example.org/2026/09/18/?q=64.0484,-16.1794":                       glacier,
	} {
		if got, err := Parse(text); err != nil || !near(got, want) {
			t.Errorf("%q gives %v, %v; want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]error{
		"https://example.org/abc123":                             errNoPlace,
		"https://example.org/2026/09/18":                         errNoPlace,
		"https://example.org/?from=64.1,-16.1&to=65.0,-17":       errTwoPlaces,
		"https://example.org/?q=95.5,-16.1794":                   errLat,
		"https://example.org/?q=":                                errNoPlace,
		"https://example.org/%zz%C2?q=%":                         errNoPlace,
		"https://example.org/@64.0484,-16.1794/@65.0,-17.0,12z/": errTwoPlaces,
	} {
		if p, err := Parse(text); err != want {
			t.Errorf("%q: %v, %v, want %v", text, p, err, want)
		}
	}
}

// What can mean two places, or none, is refused and says what to write.
func TestRefusals(t *testing.T) {
	for text, want := range map[string]error{
		"64,0484,-16,1794":            errComma,
		"64,0484,16,1794":             errComma,
		"95, 10":                      errLat,
		"-16.1794, 164.0484":          nil, // a place, if not the one that was meant
		"120.5, 45":                   errLat,
		"45, 181":                     errLon,
		"95,5 16,3":                   errLat,
		"64°60'N 16°W":                errMinutes,
		"64°02'60\"N 16°10'W":         errMinutes,
		"64.5°30'N 16°W":              errMinutes,
		"64'02 N 16 W":                errMinutes,
		"64 N 16 N":                   errLetters,
		"64 N, -16.2":                 errLetters,
		"64.0484, 16.1794 W":          errLetters,
		"64 N 16 W E":                 errLetters,
		"-64.0 N 16 W":                errSign,
		"64.0 N -16 W":                errSign,
		"64.0484 N 16.1794 O":         errO,
		"64.05, -16.18, 20":           errMany,
		"64 02 54 16 10 46":           ErrShape,
		"64":                          ErrShape,
		"":                            ErrShape,
		"lagoon":                      ErrShape,
		"64.05-16.18":                 ErrShape,
		"64/16":                       ErrShape,
		"1:30, 2":                     ErrShape,
		"64.05, x":                    ErrShape,
		"\xff\xfe":                    ErrShape,
		strings.Repeat("1 ", longest): ErrShape,
	} {
		if p, err := Parse(text); err != want {
			t.Errorf("%.40q: %v, %v, want %v", text, p, err, want)
		}
	}
}

func TestOneValue(t *testing.T) {
	for _, c := range []struct {
		read func(string) (float64, error)
		text string
		want float64
		ok   bool
	}{
		{Latitude, "64.0484", 64.0484, true},
		{Latitude, "64,0484", 64.0484, true},
		{Latitude, "−33.9", -33.9, true},
		{Latitude, `64°02'54"N`, sexa.LatDeg, true},
		{Latitude, `64°02'54"`, sexa.LatDeg, true},
		{Latitude, `-64°02'54"`, -sexa.LatDeg, true},
		{Latitude, "S 64 02 54", -sexa.LatDeg, true},
		{Latitude, "640254N", sexa.LatDeg, true},
		{Latitude, "lat 64.0484", 64.0484, true},
		{Longitude, `16°10'46"W`, sexa.LonDeg, true},
		{Longitude, "180", 180, true},
		{Latitude, `16°10'46"W`, 0, false},
		{Longitude, `64°02'54"N`, 0, false},
		{Latitude, "90.1", 0, false},
		{Longitude, "-181", 0, false},
		{Latitude, "64.0484, -16.1794", 0, false},
		{Latitude, "64°61'", 0, false},
		{Latitude, "", 0, false},
		{Latitude, "-5 N", 0, false},
	} {
		got, err := c.read(c.text)
		if (err == nil) != c.ok || math.Abs(got-c.want) > tiny {
			t.Errorf("%q gives %v, %v", c.text, got, err)
		}
	}
}

// What is said back is read as the same place, also with decimal commas and with letters.
func TestWhatIsSaidBackIsTheSamePlace(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	whole := func(most float64) float64 { return math.Round((2*rng.Float64()-1)*most*1e6) / 1e6 }
	points := []Point{{}, {90, 180}, {-90, -180}, {0, -1e-6}, {1, 1}}
	for range 2000 {
		points = append(points, Point{whole(90), whole(180)})
	}
	for _, p := range points {
		text := p.String()
		semi := strings.Replace(text, ", ", "; ", 1)
		for _, form := range []string{text, semi, strings.Replace(text, ", ", " ", 1), strings.ReplaceAll(semi, ".", ","), "geo:" + strings.Replace(text, ", ", ",", 1), "https://example.org/?q=" + strings.Replace(text, ", ", ",", 1)} {
			if got, err := Parse(form); err != nil || got.String() != text || !near(got, p) {
				t.Fatalf("%q of %v gives %v, %v", form, p, got, err)
			}
		}
	}
}

// A degree of a meridian is 111.2 km on a sphere of the mean radius, and half way round is 20,015 km.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		p, q Point
		want float64
	}{
		{Point{0, 0}, Point{1, 0}, 111.195}, {Point{60, 10}, Point{60, 11}, 55.597}, {Point{0, 0}, Point{0, 180}, 20015.1},
		{Point{0, 179.5}, Point{0, -179.5}, 111.195}, {glacier, glacier, 0},
	} {
		if got := c.p.KmTo(c.q); math.Abs(got-c.want) > 0.01+c.want*1e-4 || got != c.q.KmTo(c.p) {
			t.Errorf("from %v to %v: %v km, want %v", c.p, c.q, got, c.want)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"64.0484, -16.1794", "64,0484 -16,1794", `N 64°02'54" W 16°10'46"`, "geo:48.2010,16.3695,183;crs=wgs84;u=40",
		"+27.5916+086.5640+8850CRSWGS_84/", "https://example.org/?q=64.05%2C-16.18#map=1/2.5/3.5", "lat: 1, lon: 2", "1d2m3sS 4d5m6sE"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lat, _ := Latitude(text)
		lon, _ := Longitude(text)
		if !(math.Abs(lat) <= 90 && math.Abs(lon) <= 180) {
			t.Errorf("%q gives %v, %v alone", text, lat, lon)
		}
		p, err := Parse(text)
		if err != nil {
			if p != (Point{}) {
				t.Errorf("%q: %v beside %v", text, p, err)
			}
			return
		}
		if !(math.Abs(p.LatDeg) <= 90 && math.Abs(p.LonDeg) <= 180) {
			t.Errorf("%q gives %v", text, p)
		}
		again, err := Parse(p.String())
		if err != nil || !near(again, p) {
			t.Errorf("%q gives %v, and that is read as %v, %v", text, p, again, err)
		}
	})
}

func TestGreatCircle(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name                   string
		latA, lonA, latB, lonB float64
		km, within             float64
	}{
		// E. Williams, Aviation Formulary: 0.623585 radians (from memory), on this Earth.
		{"LAX to JFK", 33.95, -118.4, 40 + 38.0/60, -(73 + 47.0/60), 0.623585 * earthKm, 0.01},
		// Hebrew University of Jerusalem, astronomy 2001, "distance": 12,185 km, 6579 nautical miles (read).
		{"Jerusalem to Los Angeles", 31.75, 35.25, 34, -118, 12185, 12185 * 0.002},
		{"a quarter of the equator", 0, 0, 0, 90, math.Pi / 2 * earthKm, 1e-6},
		{"over the pole", 80, 0, 80, 180, 20 * math.Pi / 180 * earthKm, 1e-6},
		{"over the date line", 10, 179.5, 10, -179.5, Point{10, 0}.KmTo(Point{10, 1}), 1e-9},
		{"nowhere", 43.4, -8.4, 43.4, -8.4, 0, 0},
		{"the antipodes", 30, 20, -30, -160, math.Pi * earthKm, 1e-4},
		// A minute of latitude was the nautical mile, 1.852 km (BIPM): on a sphere to a thousandth.
		{"a minute of latitude", 45, 0, 45 + 1.0/60, 0, 1.852, 0.002},
	} {
		p, q := Point{c.latA, c.lonA}, Point{c.latB, c.lonB}
		if got := p.KmTo(q); math.Abs(got-c.km) > c.within {
			t.Errorf("%s: %.4f km, want %.4f", c.name, got, c.km)
		}
		if a, b := p.KmTo(q), q.KmTo(p); math.Abs(a-b) > 1e-9 {
			t.Errorf("%s: %g there, %g back", c.name, a, b)
		}
	}
}
