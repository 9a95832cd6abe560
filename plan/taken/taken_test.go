package taken

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.org/skywedge/kit/photo"
	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func ptr[T any](v T) *T { return &v }

var galicia = phototest.Shot{Clock: "2026:09:18 19:41:30", Offset: "+02:00", Place: &[2]float64{43.3672, -8.4604}, Heading: ptr(330.4)}

func pictureOf(t *testing.T, s phototest.Shot) *Picture {
	t.Helper()
	p, err := photo.ReadBytes(s.JPEG())
	if errors.Is(err, photo.ErrNoData) {
		p = &photo.Picture{}
	} else if err != nil {
		t.Fatal(err)
	}
	return &Picture{File: "trip/IMG_0012.jpg", Tells: p}
}

var (
	now  = time.Date(2026, 9, 20, 10, 0, 0, 0, time.UTC)
	last = Here{Start: shot.Start{LatDeg: 50.5, LonDeg: 3, Zone: "Europe/Brussels", Camera: "wide fixed 2.8"}, Now: now}
)

// What a picture tells stands in the card, what it does not tell is from where a new shot begins, and each is said.
func TestAShotFromAPicture(t *testing.T) {
	near, _ := shot.ReadCard("near.yaml", shot.NewCard(shot.Start{LatDeg: 43.4, LonDeg: -8.4, Zone: "Europe/Madrid", TakeOff: now}))
	near, _ = near.Set("declination_deg", "-1.4")
	far, _ := shot.ReadCard("far.yaml", shot.NewCard(shot.Start{LatDeg: 46, LonDeg: 7, Zone: "Europe/Zurich", TakeOff: now}))
	far, _ = far.Set("declination_deg", "3")
	with := func(edit func(s *phototest.Shot)) phototest.Shot {
		s := galicia
		edit(&s)
		return s
	}
	for name, c := range map[string]struct {
		s     phototest.Shot
		cards []*shot.Card
		want  map[string]string
		said  string
	}{
		"everything": {galicia, nil, map[string]string{"name": "IMG_0012", "place.lat": "43.3672", "place.lon": "-8.4604", "place.zone": "Europe/Madrid",
			"take_off": "2026-09-18T19:41:00", "legs[0].heading_deg": "330", "notes": "from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41, heading 330°"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41, heading 330°"},
		"a clock without an offset": {with(func(s *phototest.Shot) { s.Offset = "" }), nil, map[string]string{"take_off": "2026-09-18T19:41:00", "place.zone": "Europe/Madrid"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41 by the clock of Europe/Madrid, heading 330°"},
		"a camera on another zone's time": {with(func(s *phototest.Shot) { s.Offset = "+09:00" }), nil, map[string]string{"take_off": "2026-09-18T12:41:00", "place.zone": "Europe/Madrid"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 12:41, heading 330°"},
		"no place": {with(func(s *phototest.Shot) { s.Place = nil }), nil, map[string]string{"place.lat": "50.5", "place.zone": "Europe/Brussels", "take_off": "2026-09-18T19:41:00"},
			"no place, this is the last one: Enter, then paste another; from IMG_0012.jpg: take-off 18 Sep 2026 19:41, heading 330°"},
		"no time": {with(func(s *phototest.Shot) { s.Clock, s.Offset = "", "" }), nil, map[string]string{"place.lat": "43.3672", "take_off": "2026-09-20T12:00:00"},
			"from IMG_0012.jpg: place, heading 330°; no time: take-off is now"},
		"no heading": {with(func(s *phototest.Shot) { s.Heading = nil }), nil, map[string]string{"legs[0].heading_deg": "0"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41; no heading: it is north"},
		"just west of north": {with(func(s *phototest.Shot) { s.Heading = ptr(359.7) }), nil, map[string]string{"legs[0].heading_deg": "0"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41, heading 0°"},
		"magnetic, a declination near": {with(func(s *phototest.Shot) { s.Magnetic, s.Heading = true, ptr(0.6) }), []*shot.Card{far, near},
			map[string]string{"legs[0].heading_deg": "359", "declination_deg": "-1.4"},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41, heading 359° (1° from magnetic north)"},
		"magnetic, a declination far away": {with(func(s *phototest.Shot) { s.Magnetic = true }), []*shot.Card{far}, map[string]string{"legs[0].heading_deg": "330", "declination_deg": ""},
			"from IMG_0012.jpg: place, take-off 18 Sep 2026 19:41, heading 330° from magnetic north: add your declination"},
		"a clock that runs ahead": {with(func(s *phototest.Shot) { s.Clock = "2027:01:01 12:00:00" }), nil, map[string]string{"take_off": "2027-01-01T11:00:00"},
			"its time is yet to come: is the camera's clock right?; from IMG_0012.jpg: place, take-off 1 Jan 2027 11:00, heading 330°"},
		"in the zone of another town": {with(func(s *phototest.Shot) { s.Offset = "+01:00" }), nil, map[string]string{"take_off": "2026-09-18T19:41:00", "place.zone": "Europe/Lisbon"},
			"from IMG_0012.jpg: place, zone Europe/Lisbon by its offset +01:00, take-off 18 Sep 2026 19:41, heading 330°"},
		"next to nothing": {with(func(s *phototest.Shot) { s.Place, s.Heading, s.Offset = nil, nil, "" }), nil, map[string]string{"take_off": "2026-09-18T19:41:00"},
			"no place, this is the last one: Enter, then paste another; from IMG_0012.jpg: take-off 18 Sep 2026 19:41 by the clock of Europe/Brussels; no heading: it is north"},
	} {
		here := last
		here.Cards = c.cards
		got, err := Begin(pictureOf(t, c.s), here)
		if err != nil {
			t.Fatal(name, err)
		}
		if got.Said != c.said {
			t.Errorf("%s: said\n%q, want\n%q", name, got.Said, c.said)
		}
		for path, want := range c.want {
			if text := got.Card.Doc.At(path).Text(); text != want {
				t.Errorf("%s: %s is %q, want %q", name, path, text, want)
			}
		}
		if _, faults := shot.ReadCard("x", got.Card.Bytes()); len(faults) > 0 {
			t.Errorf("%s: the card has faults: %v", name, faults)
		}
		if got.Instant != (c.s.Offset != "" || c.s.Clock == "") || got.Placed != (c.s.Place != nil) {
			t.Errorf("%s: instant %v, placed %v", name, got.Instant, got.Placed)
		}
	}
}

// Where no place is known at all, its clock is that of the place to come.
func TestNobodysPlace(t *testing.T) {
	early := time.Date(2026, 9, 18, 8, 0, 0, 0, time.UTC) // in Fiji it is 20:00 then: nothing is wrong with a clock at 19:41
	got, err := Begin(pictureOf(t, phototest.Shot{Clock: galicia.Clock}), Here{Now: early})
	if want := "no place: Enter, then paste it; from IMG_0012.jpg: take-off 18 Sep 2026 19:41 by the clock there; no heading: it is north"; err != nil || got.Said != want {
		t.Errorf("%v, said\n%q, want\n%q", err, got.Said, want)
	}
}

// At night a picture without a time waits for the light, as any new shot does.
func TestNoTimeAtNight(t *testing.T) {
	s := galicia
	s.Clock = ""
	here := last
	here.Now = time.Date(2026, 9, 20, 23, 0, 0, 0, time.UTC)
	got, err := Begin(pictureOf(t, s), here)
	at, _, ok := got.Card.TakeOff()
	if err != nil || !ok || at.Before(here.Now.Add(6*time.Hour)) || !strings.Contains(got.Said, "next low sun, 21 Sep 08:3") {
		t.Errorf("take-off %v, %q, %v", at, got.Said, err)
	}
}

// A name may hold anything.
func TestHostileNames(t *testing.T) {
	for _, name := range []string{"a\x1b[2J\nb\".jpg", "\xff.jpg", ".jpg", strings.Repeat("x", 250) + ".jpg", "true.jpg", "-.jpg"} {
		p := pictureOf(t, galicia)
		p.File = name
		got, err := Begin(p, last)
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if _, faults := shot.ReadCard("x", got.Card.Bytes()); len(faults) > 0 || strings.ContainsAny(got.Said, "\x1b\n") || !utf8.ValidString(got.Said) {
			t.Errorf("%q: %v, %q", name, faults, got.Said)
		}
	}
}

func TestNothingToBeginFrom(t *testing.T) {
	if err := pictureOf(t, phototest.Shot{ISO: 100, Heading: ptr(3.)}).Begins(); !errors.Is(err, ErrNothing) {
		t.Error(err)
	}
	for _, s := range []phototest.Shot{{Clock: galicia.Clock}, {Place: galicia.Place}} {
		if err := pictureOf(t, s).Begins(); err != nil {
			t.Error(err)
		}
	}
}

// The light comes again with the sun as high, falling as then; and at the same place of the sky when its declination is
// the same, which the almanac mirrors about the solstice: that of 18 September is that of 25 March (from memory, ±1 day).
func TestTheLightComesAgain(t *testing.T) {
	p := place.Point{LatDeg: 43.3672, LonDeg: -8.4604}
	was := time.Date(2026, 9, 18, 17, 41, 0, 0, time.UTC)
	from := time.Date(2026, 11, 26, 5, 0, 0, 0, time.UTC)
	then, again := Again(p, was, from)
	if len(again) != 2 {
		t.Fatalf("%v", again)
	}
	for _, l := range again {
		if math.Abs(l.AltitudeDeg-then.AltitudeDeg) > 0.2 || !l.At.After(from) || rises(l.At, p) {
			t.Errorf("%v: %s, then %s", l.At, l.Words(), then.Words())
		}
	}
	if d := again[0].At.Sub(from); d > 24*time.Hour {
		t.Errorf("as high only after %v", d)
	}
	if math.Abs(again[1].AzimuthDeg-then.AzimuthDeg) > 0.6 {
		t.Errorf("the same place of the sky: %s, then %s", again[1].Words(), then.Words())
	}
	if day := again[1].At.Sub(time.Date(2027, 3, 25, 12, 0, 0, 0, time.UTC)); day.Abs() > 48*time.Hour {
		t.Errorf("the same declination on %v", again[1].At)
	}
	if _, next := Again(p, was, was.Add(20*time.Hour)); len(next) != 1 || next[0].At.Sub(was) > 25*time.Hour {
		t.Errorf("the day after it is the same: %v", next)
	}
	// In December the sun is never as high as at noon in June, and at night there is no light to wait for.
	june := time.Date(2026, 6, 20, 12, 30, 0, 0, time.UTC)
	for _, minute := range []int{-10, 0, 5, 10} { // 12:30 is five minutes from noon there: on most days near the solstice the sun stays lower
		was := june.Add(time.Duration(minute) * time.Minute)
		then, out := Again(p, was, time.Date(2026, 12, 20, 0, 0, 0, 0, time.UTC))
		if len(out) != 1 || out[0].At.Month() != time.June && out[0].At.Month() != time.July || math.Abs(out[0].AltitudeDeg-then.AltitudeDeg) > 0.2 {
			t.Errorf("%v comes again at %v", was, out)
		}
	}
	if _, out := Again(p, time.Date(2026, 6, 20, 0, 0, 0, 0, time.UTC), from); len(out) != 0 {
		t.Errorf("midnight comes again at %v", out)
	}
	for _, lat := range []float64{-90, -69, 0, 69, 90} { // wherever: what comes is after now, and as high
		p := place.Point{LatDeg: lat}
		then, out := Again(p, was, from)
		for _, l := range out {
			if !l.At.After(from) || math.Abs(sun.At(l.At, lat, 0).AltitudeDeg-then.AltitudeDeg) > 0.3 {
				t.Errorf("at %g°: %v %s, then %s", lat, l.At, l.Words(), then.Words())
			}
		}
	}
}

func TestWordsOfLight(t *testing.T) {
	for l, want := range map[Light]string{
		{AltitudeDeg: 8.2, AzimuthDeg: 359.7}: "8° high at 0°", {AltitudeDeg: -0.3, AzimuthDeg: 246}: "on the horizon at 246°",
		{AltitudeDeg: 0.4, AzimuthDeg: 246}: "on the horizon at 246°", {AltitudeDeg: -3.4, AzimuthDeg: 246}: "3° under the horizon at 246°",
	} {
		if got := l.Words(); got != want {
			t.Errorf("%+v: %q, want %q", l, got, want)
		}
	}
}

func TestAgo(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "just now", 5 * time.Minute: "5 min ago", 3 * time.Hour: "3 h ago", 72 * time.Hour: "3 days ago", 3 * 365 * 24 * time.Hour: "3 years ago",
	} {
		if got := Ago(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}
