package shot

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/sun"
)

var update = flag.Bool("update", false, "write the golden files of the cards' faults")

// testBag is what the cards under testdata name.
func testBag() *kit.Bag {
	return &kit.Bag{
		Cameras:  []kit.Camera{testCamera, {Name: "long lens", SensorMM: [2]float64{13, 8.7}, FocalMM: 24, GimbalDeg: [2]float64{-90, 0}}},
		Filters:  []kit.Filter{{Name: "CPL", Kind: kit.Polariser}, {Name: "ND8", Kind: kit.Density}, {Name: "ND16/PL", Kind: kit.Hybrid}},
		Settings: kit.Settings{ReservePct: 25, HeightCautionM: 120, Weights: kit.DefaultWeights()},
	}
}

var testNow = time.Date(2026, 9, 18, 15, 0, 0, 0, time.UTC)

// shotOf reads a card that must be good.
func shotOf(t testing.TB, text string) *Shot {
	t.Helper()
	c, faults := ReadCard("test.yaml", []byte(text))
	if len(faults) > 0 {
		t.Fatalf("the card is refused:\n%v", faults)
	}
	s, faults := c.Shot(testBag(), testNow)
	if len(faults) > 0 {
		t.Fatalf("the shot is refused:\n%v", faults)
	}
	return s
}

// faultsOf reads a card as far as it goes and gives all that is wrong with it.
func faultsOf(file string, data []byte) field.Faults {
	c, faults := ReadCard(file, data)
	if c == nil {
		return faults
	}
	_, faults = c.Shot(testBag(), testNow)
	return faults
}

// head is a card up to its legs.
const head = `skywedge: 1
name: Test
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}
take_off: 2026-09-18T19:40
camera: wide
`

func withLeg(leg string) string { return head + "legs:\n  - {" + leg + "}\n" }

func TestWholeCard(t *testing.T) {
	data, err := os.ReadFile("testdata/cards/headland.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, faults := ReadCard("headland.yaml", data)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if string(c.Bytes()) != string(data) {
		t.Error("the card's bytes changed by reading it")
	}
	s, faults := c.Shot(testBag(), testNow)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	madrid, _ := time.LoadLocation("Europe/Madrid")
	declination := -1.2
	want := &Shot{
		Name: "Headland, evening", LatDeg: 43.3101, LonDeg: -8.6207, ElevationM: 12, Zone: madrid,
		TakeOff: time.Date(2026, 9, 18, 19, 40, 0, 0, madrid),
		Camera:  testCamera, Filter: "ND16/PL", RingDeg: 45,
		Light:    Weather{CloudPct: 20, Sun: 1, Air: sun.AirSea, VisibilityKm: 40, WindMS: 5, WindFromDeg: 225, AirC: 16},
		TransitS: 120, Takes: 2, ResetS: 30,
		Skyline:        [][2]float64{{5, 1}, {250, 4}, {290, 9}},
		DeclinationDeg: &declination,
		Want:           &Want{SunHeightDeg: [2]float64{-2, 12.5}, Side: SideBack},
		Notes:          "high water at 20:10",
		Flown: []Flown{{When: time.Date(2026, 9, 18, 19, 44, 0, 0, madrid), Leg: 0, Filter: "ND16/PL", RingDeg: &fortyFive,
			ShutterS: 1.0 / 50, ISO: 100, Worked: "partly", Saw: "sky banded on the left"}},
		Settings: testBag().Settings,
	}
	got := *s
	got.Legs = nil
	if !got.TakeOff.Equal(want.TakeOff) {
		t.Errorf("take-off %v", got.TakeOff)
	}
	got.TakeOff, got.Flown[0].When = want.TakeOff, want.Flown[0].When
	if !reflect.DeepEqual(&got, want) {
		t.Errorf("got  %+v\nwant %+v", &got, want)
	}
	cool := WhiteBalance{Kind: WBKelvin, Kelvin: 5200}
	target := &Target{DistanceM: 90, SpeedMS: 3, TowardDeg: 200, HeightM: 2}
	legs := []Leg{
		{Move: Push, Purpose: Video, FPS: 25, ShutterS: 1.0 / 50, Aim: AimWater, Expose: ExposeHighlights, WhiteBalance: cool, Ground: Water, BiasStops: 0.5, Seconds: 25,
			Heading: Sweep{From: 285}, Height: level(35), SpeedMS: 4, CourseDeg: 285, PitchAuto: true, Target: &Target{DistanceM: 180}},
		{Move: Orbit, Purpose: Video, FPS: 25, ShutterS: 1.0 / 50, Aim: AimSky, Expose: ExposeLand, WhiteBalance: WhiteBalance{Kind: WBNeutral}, Ground: Water, BiasStops: 0.5, Seconds: 40,
			Heading: Sweep{From: 285, By: 90}, Height: level(40), SpeedMS: 90 * math.Pi / 2 / 40, CourseDeg: 195, PitchAuto: true, Target: target, StillsToo: true},
		{Move: Hold, Purpose: Still, FPS: 25, ShutterS: 1.0 / 500, ShutterSet: true, Aim: AimWater, Expose: ExposeHighlights, WhiteBalance: cool, Ground: Rock, Seconds: 10,
			Heading: Sweep{From: 315}, Height: level(40), Pitch: level(-5)},
		{Move: Hold, Purpose: Long, FPS: 25, ShutterS: 2, ShutterSet: true, Aim: AimWater, Expose: ExposeHighlights, WhiteBalance: cool, Ground: Water, BiasStops: 0.5, Seconds: 10,
			Heading: Sweep{From: 15}, Height: level(40), GroundM: [2]float64{10, 12}},
	}
	for i, w := range legs {
		g := s.Legs[i]
		if math.Abs(g.ShutterS-w.ShutterS) > 1e-12 || math.Abs(g.SpeedMS-w.SpeedMS) > 1e-12 || math.Abs(g.CourseDeg-w.CourseDeg) > 1e-9 {
			t.Errorf("leg %d: shutter %v s, %v m/s towards %v", i+1, g.ShutterS, g.SpeedMS, g.CourseDeg)
		}
		if g.Mode.Name != "normal" {
			t.Errorf("leg %d: mode %q", i+1, g.Mode.Name)
		}
		if w.PitchAuto {
			w.Pitch = [2]float64{-math.Atan2(g.Height[0]-g.Target.HeightM, g.Target.DistanceM) * 180 / math.Pi, g.Pitch[1]}
			if math.Abs(g.Pitch[0]-w.Pitch[0]) > 1e-9 {
				t.Errorf("leg %d: pitch %v, want %v", i+1, g.Pitch, w.Pitch)
			}
		}
		g.ShutterS, g.SpeedMS, g.CourseDeg, g.Mode, g.Pitch = w.ShutterS, w.SpeedMS, w.CourseDeg, w.Mode, w.Pitch
		if !reflect.DeepEqual(g, w) {
			t.Errorf("leg %d:\ngot  %+v\nwant %+v", i+1, g, w)
		}
	}
}

func TestDefaults(t *testing.T) {
	s := shotOf(t, withLeg("move: hold, heading_deg: 90, seconds: 10"))
	if s.Filter != "auto" || !s.RingAuto || s.TransitS != 180 || s.Takes != 3 || s.ResetS != 45 || s.DeclinationDeg != nil || s.Skyline != nil || s.Want != nil {
		t.Errorf("%+v", s)
	}
	if want := (Weather{CloudPct: 10, VisibilityKm: 30, WindMS: 4, WindFromDeg: 250, AirC: 14}); s.Light != want {
		t.Errorf("light %+v", s.Light)
	}
	l := s.Legs[0]
	if l.Purpose != Video || l.FPS != 24 || l.Mode.Name != "normal" || l.ShutterS != 0 || l.ShutterSet || l.Aim != AimWater || l.Ground != Water ||
		l.Height != level(40) || l.Pitch != level(0) || l.PitchAuto || l.BiasStops != 0 || l.Expose != ExposeMiddle || l.WhiteBalance != (WhiteBalance{Kind: WBDaylight}) {
		t.Errorf("leg %+v", l)
	}
}

// Every default that the table prints is the one that holds: the whole shot is the same where the key is
// left out and where the default is written, each by itself and all together. On a leg, that is also so of
// the keys whose default stands on the card.
func TestTableDefaultsHold(t *testing.T) {
	doc := func(text string) *field.Doc {
		t.Helper()
		c, faults := ReadCard("test.yaml", []byte(text))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return c.Doc
	}
	bare := doc(withLeg("move: push, heading_deg: 90, seconds: 10, speed_ms: 3, target: {distance_m: 50}") +
		"want: {sun_height_deg: [2, 20]}\n")
	all := bare
	plain := shotOf(t, string(bare.Bytes()))
	tried := map[string]bool{}
	try := func(path, text string) {
		t.Helper()
		one, faults := bare.Set(path, text)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		if bytes.Equal(one.Bytes(), bare.Bytes()) {
			t.Fatalf("%s: %s is not written", path, text)
		}
		if full := shotOf(t, string(one.Bytes())); !reflect.DeepEqual(plain, full) {
			t.Errorf("%s\nleft out  %+v\n%-9s %+v", path, plain, text, full)
		}
		if all, faults = all.Set(path, text); len(faults) > 0 {
			t.Fatal(faults)
		}
		tried[path] = true
	}
	field.Walk(CardSpec(), func(path string, row *field.Spec) {
		if row.Default != "" && !row.Required {
			try(strings.Replace(path, "[]", "[0]", 1), row.Default)
		}
	})
	for _, row := range sharedFields(true) {
		if row.Default != "" {
			try("legs[0]."+row.Key, row.Default)
		}
	}
	if full := shotOf(t, string(all.Bytes())); !reflect.DeepEqual(plain, full) {
		t.Errorf("left out  %+v\nwritten   %+v", plain, full)
	}
	for _, key := range []string{"filter", "light.air", "light.air_c", "flight.takes", "expose", "white_balance", "want.sun_side",
		"legs[0].expose", "legs[0].white_balance", "legs[0].bias_stops", "legs[0].stills_too", "legs[0].target.toward_deg"} {
		if !tried[key] {
			t.Errorf("the table has no default of %s", key)
		}
	}
}

func TestHeightCarriesOn(t *testing.T) {
	s := shotOf(t, withLeg("move: rise, heading_deg: 90, seconds: 10, height_m: [20, 80]")+"  - {move: hold, heading_deg: 90, seconds: 10}\n")
	if s.Legs[1].Height != level(80) {
		t.Errorf("the second leg flies at %v", s.Legs[1].Height)
	}
}

// What stands on a leg wins over the card; a shutter on the leg puts all of the card's aside.
func TestLegWinsOverCard(t *testing.T) {
	card := func(top, leg string) string {
		return strings.Replace(withLeg("move: hold, heading_deg: 90, seconds: 10, "+leg), "legs:", top+"\nlegs:", 1)
	}
	for _, c := range []struct {
		top, leg string
		check    func(l Leg) bool
	}{
		{"purpose: still", "purpose: video", func(l Leg) bool { return l.Purpose == Video }},
		{"mode: fast\nfps: 100", "mode: normal, fps: 25", func(l Leg) bool { return l.Mode.Name == "normal" && l.FPS == 25 }},
		{"aim: sky\nground: snow\nbias_stops: 1", "aim: keep, ground: town, bias_stops: -0.5", func(l Leg) bool { return l.Aim == AimKeep && l.Ground == Town && l.BiasStops == -0.5 }},
		{"aim: sky\nground: snow\nbias_stops: 1", "pitch_deg: 0", func(l Leg) bool { return l.Aim == AimSky && l.Ground == Snow && l.BiasStops == 1 }},
		{"expose: land\nwhite_balance: neutral", "expose: middle, white_balance: daylight", func(l Leg) bool { return l.Expose == ExposeMiddle && l.WhiteBalance == WhiteBalance{Kind: WBDaylight} }},
		{"expose: land\nwhite_balance: 12000", "pitch_deg: 0", func(l Leg) bool { return l.Expose == ExposeLand && l.WhiteBalance == WhiteBalance{WBKelvin, 12000} }},
		{"white_balance: neutral", "white_balance: 2000", func(l Leg) bool { return l.WhiteBalance == WhiteBalance{WBKelvin, 2000} }},
		{"shutter_angle_deg: 180", "shutter_s: 1/100", func(l Leg) bool { return l.ShutterS == 0.01 && l.ShutterSet }},
		{"shutter_s: 1/100", "shutter_angle_deg: 90", func(l Leg) bool { return math.Abs(l.ShutterS-1.0/96) < 1e-15 && !l.ShutterSet }},
		{"shutter_angle_deg: 180\nexposure_s: 2", "purpose: long}\n  - {move: hold, heading_deg: 9, seconds: 5", func(l Leg) bool { return l.ShutterS == 2 && l.ShutterSet }},
		{"mode: fast", "pitch_deg: 0", func(l Leg) bool { return l.FPS == 100 }},
	} {
		if l := shotOf(t, card(c.top, c.leg)).Legs[0]; !c.check(l) {
			t.Errorf("%q over %q gives %+v", c.leg, c.top, l)
		}
	}
}

// Each card under testdata/cards/bad has its faults beside it, word for word.
func TestBadCards(t *testing.T) {
	files, err := filepath.Glob("testdata/cards/bad/*.yaml")
	if err != nil || len(files) < 30 {
		t.Fatalf("%d bad cards: %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		faults := faultsOf(filepath.Base(f), data)
		got := faults.Error() + "\n"
		golden := strings.TrimSuffix(f, ".yaml") + ".faults"
		if *update {
			if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s\ngot:\n%swant:\n%s", f, got, want)
		}
		if len(faults) == 0 {
			t.Errorf("%s is taken for good", f)
		}
		for i, x := range faults {
			if x.Line < 1 || x.Column < 1 || x.Found == "" || x.Allowed == "" {
				t.Errorf("%s: no position or no words: %+v", f, x)
			}
			if i > 0 && x.Line < faults[i-1].Line {
				t.Errorf("%s: the faults are not in the order of the lines", f)
			}
		}
	}
}

// The faults that the table finds and those of contradictions come together.
func TestAllFaultsAtOnce(t *testing.T) {
	data, err := os.ReadFile("testdata/cards/bad/many.yaml")
	if err != nil {
		t.Fatal(err)
	}
	fields := map[string]bool{}
	for _, f := range faultsOf("many.yaml", data) {
		fields[f.Field] = true
	}
	for _, want := range []string{"camera", "light.cloud_pct", "purpose", "legs[0].speed_ms", "legs[1].sped_ms", "legs[2].heading_deg", "legs[2].height_m"} {
		if !fields[want] {
			t.Errorf("nothing is said of %s; said of %v", want, fields)
		}
	}
	if fields["legs[1].speed_ms"] {
		t.Error("a misspelt speed is also reported missing")
	}
}

func TestNewerFormatIsRefusedAlone(t *testing.T) {
	c, faults := ReadCard("x.yaml", []byte("skywedge: 2\nname: x\nbeam: 3\n"))
	if c != nil || len(faults) != 1 || faults[0].Field != "skywedge" || faults[0].Found != `"2"` || faults[0].Line != 1 {
		t.Errorf("%v %v", c, faults)
	}
	huge := strings.Repeat("9", 400)
	for _, v := range []string{"9223372036854775808", "-9223372036854775809", "99999999999999999999", huge, "-" + huge, "0", "2.0", "1e3", "+2"} {
		text := strings.Replace(withLeg("move: hold, heading_deg: 10, seconds: 10"), "skywedge: 1\n", "skywedge: "+v+"\n", 1)
		c, faults := ReadCard("x.yaml", []byte(text))
		if c != nil || len(faults) != 1 || faults[0].Field != "skywedge" {
			t.Errorf("format %.30s: %v %v", v, c, faults)
		}
	}
}

// The workbench edits the document; the shot follows, and so do the faults and their lines.
func TestEditedCard(t *testing.T) {
	c, faults := ReadCard("x.yaml", []byte(withLeg("move: pan, heading_deg: [10, 50], seconds: 10")))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	set := func(c *Card, path, text string) *Card {
		t.Helper()
		doc, faults := c.Doc.Set(path, text)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		return &Card{Doc: doc}
	}
	edited := set(set(c, "legs[0].heading_deg", "sun-20 sun+40"), "light.cloud_pct", "60")
	s, faults := edited.Shot(testBag(), testNow)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if s.Light.CloudPct != 60 || s.Legs[0].HeadingOff != [2]float64{-20, 40} {
		t.Errorf("%+v", s)
	}
	wrong := set(edited, "legs[0].move", "hold")
	if s, faults := wrong.Shot(testBag(), testNow); s != nil || len(faults) != 1 || faults[0].Field != "legs[0].heading_deg" || faults[0].Line < 7 {
		t.Errorf("%v", faults)
	}
	if s, faults := c.Shot(testBag(), testNow); s == nil || s.Legs[0].HeadingSun[0] {
		t.Errorf("the card before the edit has changed: %v", faults)
	}
}

func BenchmarkShot(b *testing.B) {
	data, err := os.ReadFile("testdata/cards/headland.yaml")
	if err != nil {
		b.Fatal(err)
	}
	bag := testBag()
	for b.Loop() {
		c, _ := ReadCard("headland.yaml", data)
		if _, faults := c.Shot(bag, testNow); len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}

func FuzzCard(f *testing.F) {
	files, _ := filepath.Glob("testdata/cards/*.yaml")
	bad, _ := filepath.Glob("testdata/cards/bad/*.yaml")
	for _, name := range append(files, bad...) {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	bag := testBag()
	f.Fuzz(func(t *testing.T, data []byte) {
		c, faults := ReadCard("fuzz.yaml", data)
		if c == nil {
			if len(faults) == 0 {
				t.Fatal("refused without a reason")
			}
			return
		}
		s, faults := c.Shot(bag, testNow)
		if (s == nil) != (len(faults) > 0) {
			t.Fatalf("shot %v with faults %v", s, faults)
		}
		if s == nil {
			return
		}
		path := Path(s, 3)
		w := s.Wanted()
		if stops := w.Stops(w.DegreesOutside(s.MiddleSun().AltitudeDeg), w.SideMet(s.Legs, path)); !(stops >= 0 && stops <= 3) || w.SunHeightDeg[0] > w.SunHeightDeg[1] {
			t.Fatalf("the light wanted, %+v, costs %v stops", w, stops)
		}
		for _, m := range path {
			for _, x := range []float64{m.Pos.X, m.Pos.Y, m.Pos.Z, m.HeadingDeg, m.PitchDeg, m.Velocity.X, m.YawDegS, m.PitchDegS, m.AboveM} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("a moment without a number: %+v", m)
				}
			}
		}
	})
}
