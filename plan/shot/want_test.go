package shot

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/sun"
)

func TestSideOf(t *testing.T) {
	for _, c := range []struct {
		heading, azimuth float64
		want             SunSide
	}{
		{0, 0, SideBack}, {0, 59.9, SideBack}, {0, -59.9, SideBack}, {0, 60, SideSide}, {0, 90, SideSide}, {0, 120, SideSide},
		{0, 120.1, SideFront}, {0, 180, SideFront}, {0, 239.9, SideFront}, {0, 240, SideSide}, {350, 20, SideBack}, {20, 350, SideBack},
		{10, 200, SideFront}, {285, 15, SideSide},
	} {
		if got := SideOf(c.heading, c.azimuth); got != c.want {
			t.Errorf("heading %v, sun at %v: %s light, want %s", c.heading, c.azimuth, got, c.want)
		}
	}
}

// At the equator on the day of the equinox the sun goes through the zenith and moves 1° in 4 minutes, so
// its height follows from the clock: 90° less a quarter of the minutes from noon, which on 20 March is at
// 12:07:30 local mean time (equation of time -7.5 minutes; from memory).
func TestWantedIsTheLightOfTheTakeOff(t *testing.T) {
	night, dusk, low, high := [2]float64{-90, -6}, [2]float64{-6, 2}, [2]float64{2, 20}, [2]float64{20, 90}
	for _, c := range []struct {
		clock string
		want  [2]float64
	}{
		{"05:20", night}, // 407 minutes before noon: -12°
		{"06:00", dusk},  // -2°
		{"07:00", low},   // 13°
		{"12:00", high},
		{"16:40", high},  // 22°
		{"16:55", low},   // 18°
		{"17:50", low},   // 4°
		{"18:10", dusk},  // -1°
		{"18:25", dusk},  // -4°
		{"18:40", night}, // -8°
	} {
		text := strings.NewReplacer("lat: 43.4, lon: -8.4, zone: Europe/Madrid", "lat: 0, lon: 0, zone: UTC",
			"2026-09-18T19:40", "2026-03-20T"+c.clock).Replace(withLeg("move: hold, heading_deg: 90, seconds: 10"))
		s := shotOf(t, text)
		if w := s.Wanted(); w.SunHeightDeg != c.want || w.Side != SideAny || s.Want != nil {
			t.Errorf("at %s the light wanted is %+v, want %v", c.clock, w, c.want)
		}
		if w := s.Wanted(); w.DegreesOutside(s.MiddleSun().AltitudeDeg) != 0 {
			t.Errorf("at %s the card's own light is not the light wanted", c.clock)
		}
		side := shotOf(t, text+"want: {sun_side: front}\n")
		if w := side.Wanted(); w.SunHeightDeg != c.want || w.Side != SideFront || side.Want == nil {
			t.Errorf("at %s a wish for front light is %+v, want %v", c.clock, w, c.want)
		}
		// At another hour it is still the light of the card that is wanted, however often it moves.
		for _, z := range []*Shot{s, side} {
			for range 2 {
				moved, err := z.At(z.TakeOff.Add(6 * time.Hour))
				if err != nil {
					t.Fatal(err)
				}
				if w := moved.Wanted(); w.SunHeightDeg != c.want {
					t.Errorf("moved from %s to %s it wants %v, want %v", c.clock, moved.TakeOff, w, c.want)
				}
				z = moved
			}
		}
	}
}

// 180 s out and home and 3 takes with 45 s of reset: the first takes are half over 95, 270 and 780 s after
// take-off; weighed by 10, 30 and 600 s that is 745.39 s.
func TestMiddleOfTheFirstTakes(t *testing.T) {
	s := shotOf(t, withLeg("move: hold, heading_deg: 90, seconds: 10")+
		"  - {move: hold, heading_deg: 90, seconds: 30}\n  - {move: hold, heading_deg: 90, seconds: 600}\n")
	want := sun.At(s.TakeOff.Add(Seconds((10*95+30*270+600*780)/640.0)), s.LatDeg, s.LonDeg)
	if got := s.MiddleSun(); math.Abs(got.AltitudeDeg-want.AltitudeDeg) > 1e-6 || math.Abs(got.AzimuthDeg-want.AzimuthDeg) > 1e-6 {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got, want := (&Shot{TakeOff: testNow}).MiddleSun(), sun.At(testNow, 0, 0); got != want {
		t.Errorf("without legs %+v, want %+v", got, want)
	}
}

// A pan of half a turn, from the sun behind the camera to the sun ahead, has a third of front, of side and of
// back light; a hold as long towards the sun is back light.
func TestSideOfAFlight(t *testing.T) {
	pan := "move: pan, heading_deg: [sun-180, sun], turn: cw, seconds: 60"
	for _, c := range []struct {
		legs  []string
		share map[SunSide]float64
	}{
		{[]string{pan}, map[SunSide]float64{SideFront: 1. / 3, SideSide: 1. / 3, SideBack: 1. / 3}},
		{[]string{pan, "move: hold, heading_deg: sun, seconds: 60"}, map[SunSide]float64{SideFront: 1. / 6, SideSide: 1. / 6, SideBack: 2. / 3}},
		{[]string{pan, "move: hold, heading_deg: sun-90, seconds: 20"}, map[SunSide]float64{SideFront: 1. / 4, SideSide: 1. / 2, SideBack: 1. / 4}},
		{[]string{"move: hold, heading_deg: sun+121, seconds: 30", "move: hold, heading_deg: sun+119, seconds: 10"},
			map[SunSide]float64{SideFront: 3. / 4, SideSide: 1. / 4, SideBack: 0}},
	} {
		text := withLeg(c.legs[0])
		for _, l := range c.legs[1:] {
			text += "  - {" + l + "}\n"
		}
		s := shotOf(t, text)
		path := Path(s, 721)
		for side, want := range c.share {
			w := Want{Side: side}
			if got := w.SideShare(s.Legs, path); math.Abs(got-want) > 0.005 {
				t.Errorf("%v: %s light for %.3f of the seconds, want %.3f", c.legs, side, got, want)
			}
		}
		if w := (Want{Side: SideAny}); !w.SideMet(s.Legs, path) {
			t.Errorf("%v: not any side", c.legs)
		}
	}
}

// Half of the seconds is enough, also where it is exactly half; less is not.
func TestSideIsMetByHalfOfTheSeconds(t *testing.T) {
	for seconds, met := range map[string]bool{"19": false, "20": true, "21": true} {
		s := shotOf(t, withLeg("move: hold, heading_deg: sun, seconds: "+seconds)+"  - {move: hold, heading_deg: sun+180, seconds: 20}\n")
		for _, n := range []int{2, 7} {
			if w := (Want{Side: SideBack}); w.SideMet(s.Legs, Path(s, n)) != met {
				t.Errorf("back light for %s s of %s + 20: met %v", seconds, seconds, !met)
			}
		}
	}
	if (Want{Side: SideBack}).SideMet(nil, nil) {
		t.Error("a flight of no length has back light")
	}
}

func TestWhatMissingTheLightCosts(t *testing.T) {
	w := Want{SunHeightDeg: [2]float64{2, 20}, Side: SideBack}
	for _, c := range []struct {
		altitude float64
		side     bool
		outside  float64
		stops    float64
	}{
		{2, true, 0, 0}, {11, true, 0, 0}, {20, true, 0, 0}, {25, true, 5, 1}, {-3, true, 5, 1}, {22.5, true, 2.5, 0.5},
		{11, false, 0, 1}, {27, false, 7, 2.4}, {35, true, 15, 3}, {-18, false, 20, 3}, {90, false, 70, 3},
	} {
		outside := w.DegreesOutside(c.altitude)
		if stops := w.Stops(outside, c.side); math.Abs(outside-c.outside) > 1e-12 || math.Abs(stops-c.stops) > 1e-12 {
			t.Errorf("sun at %v°, side met %v: %v° outside, %v stops, want %v and %v", c.altitude, c.side, outside, stops, c.outside, c.stops)
		}
	}
}

// What an edit adds stands where the table has it, whatever the order of the edits, and what is cleared
// leaves nothing behind.
func TestNewKeysAreWrittenInTheirPlace(t *testing.T) {
	const text = head + `light: {cloud_pct: 20, wind_ms: 5}   # as forecast
aim: sky
ground: rock
legs:
  - {move: hold, heading_deg: 90, seconds: 10, aim: leaf, ground: town}
notes: none
`
	edits := [][2]string{{"want.sun_side", "back"}, {"white_balance", "5600"}, {"light.air", "sea"}, {"legs[0].white_balance", "neutral"},
		{"expose", "land"}, {"want.sun_height_deg", "−2 12"}, {"legs[0].expose", "highlights"}}
	c, faults := ReadCard("x.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	d := c.Doc
	for _, e := range edits {
		if d, faults = d.Set(e[0], e[1]); len(faults) > 0 {
			t.Fatal(faults)
		}
	}
	want := strings.NewReplacer("cloud_pct: 20,", "cloud_pct: 20, air: sea,", "aim: sky\n", "aim: sky\nexpose: land\nwhite_balance: 5600\n",
		"aim: leaf,", "aim: leaf, expose: highlights, white_balance: neutral,",
		"notes:", "want: {sun_height_deg: [-2, 12], sun_side: back}\nnotes:").Replace(text)
	if got := string(d.Bytes()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	s, faults := (&Card{Doc: d}).Shot(testBag(), testNow)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if l := s.Legs[0]; *s.Want != (Want{SunHeightDeg: [2]float64{-2, 12}, Side: SideBack}) || s.Light.Air != sun.AirSea ||
		l.Expose != ExposeHighlights || l.WhiteBalance != (WhiteBalance{Kind: WBNeutral}) {
		t.Errorf("%+v", s)
	}
	for _, e := range edits {
		if d, faults = d.Set(e[0], ""); len(faults) > 0 {
			t.Fatal(faults)
		}
	}
	if got := string(d.Bytes()); got != text {
		t.Errorf("cleared\n%s\nwant\n%s", got, text)
	}
}

// Each word for the air is a kind of its own.
func TestKindsOfAir(t *testing.T) {
	for word, want := range map[string]sun.AirKind{"auto": sun.AirAuto, "sea": sun.AirSea, "town": sun.AirTown, "dust": sun.AirDust} {
		s := shotOf(t, strings.Replace(withLeg("move: hold, heading_deg: 90, seconds: 10"), "legs:", "light: {air: "+word+"}\nlegs:", 1))
		if s.Light.Air != want {
			t.Errorf("%s is %v, want %v", word, s.Light.Air, want)
		}
	}
	if len(airs) != len(airWords) {
		t.Error("the table and the reader know different kinds of air")
	}
}
