package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// middle is where the lines of these tests are drawn, in metres from there.
var middle = NewPlane(43.2, -8.9)

// drawn makes a line through places, a second or more apart where secs says so.
func drawn(f Format, secs float64, at ...r3.Vec) *Drawn {
	d := &Drawn{File: "drawn", Format: f}
	l := Line{Name: "line", Datum: AboveGround}
	for i, x := range at {
		lat, lon := middle.Degrees(x)
		p := Point{LatDeg: lat, LonDeg: lon, HeightM: x.Z, HasHeight: true, line: i + 1}
		if secs > 0 {
			p.Time = time.Date(2026, 9, 18, 17, 0, 0, 0, time.UTC).Add(time.Duration(float64(i) * secs * float64(time.Second)))
		}
		l.Points = append(l.Points, p)
	}
	d.Lines = []Line{l}
	return d
}

func mark(d *Drawn, name string, at r3.Vec) {
	lat, lon := middle.Degrees(at)
	d.Marks = append(d.Marks, Mark{Name: name, Point: Point{LatDeg: lat, LonDeg: lon}})
}

func flown(t *testing.T, d *Drawn, w Wish) (*shot.Shot, *Draft) {
	t.Helper()
	w.Now, w.Camera, w.Zone = time.Date(2026, 9, 18, 17, 0, 0, 0, time.UTC), "wide fixed 2.8", "Europe/Madrid"
	draft, err := d.Draft(w)
	if err != nil {
		t.Fatal(err)
	}
	bag, _ := kit.ReadBag(examples.BagName, examples.Bag())
	card, faults := shot.ReadCard("card", draft.Card)
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, draft.Card)
	}
	s, faults := card.Shot(bag, w.Now)
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, draft.Card)
	}
	return s, draft
}

// farthest returns how far the line lies from the flight of the legs: the worst of its points, each from the nearest
// place of the flight.
func farthest(d *Drawn, s *shot.Shot) float64 {
	g := NewPlane(s.LatDeg, s.LonDeg)
	path := shot.Path(s, 90)
	worst := 0.0
	for _, p := range d.Lines[0].Points {
		at := g.Metres(p.LatDeg, p.LonDeg)
		at.Z = p.HeightM
		near := math.Inf(1)
		for i := range path[1:] {
			near = min(near, toSegment(at, path[i].Pos, path[i+1].Pos))
		}
		worst = max(worst, near)
	}
	return worst
}

func toSegment(at, a, b r3.Vec) float64 {
	way := r3.Sub(b, a)
	u := 0.0
	if n := r3.Norm2(way); n > 0 {
		u = math.Max(0, math.Min(1, r3.Dot(r3.Sub(at, a), way)/n))
	}
	return r3.Norm(r3.Sub(at, r3.Add(a, r3.Scale(u, way))))
}

// noted is all that a draft says of what is missing or was taken for granted.
func noted(d *Draft) string {
	var b strings.Builder
	for _, n := range d.Notes {
		b.WriteString(n.Text + "\n")
	}
	return b.String()
}

func moves(s *shot.Shot) string {
	var list []string
	for i := range s.Legs {
		list = append(list, string(s.Legs[i].Move))
	}
	return strings.Join(list, " ")
}

func circle(radius, from, by float64, n int, height float64) (at []r3.Vec) {
	for i := range n + 1 {
		x := r3.Scale(radius, toward(from+by*float64(i)/float64(n)))
		x.Z = height
		at = append(at, x)
	}
	return at
}

// log is a flight as a receiver logs it, ten points a second: up for 10 s, 8 s there, north at 5 m/s, 6 s there, a bend to
// the east, on.
func log() (at []r3.Vec) {
	r := rand.New(rand.NewPCG(4, 4))
	wander := r3.Vec{}
	part := func(seconds float64, fly func(u float64) r3.Vec) {
		for n, i := int(10*seconds), 0; i < n; i++ {
			wander = r3.Add(r3.Scale(0.995, wander), r3.Vec{X: 0.03 * r.NormFloat64(), Y: 0.03 * r.NormFloat64(), Z: 0.03 * r.NormFloat64()})
			at = append(at, r3.Add(fly(float64(i)/float64(n)), wander))
		}
	}
	part(10, func(u float64) r3.Vec { return r3.Vec{Z: 40 * u} })
	part(8, func(float64) r3.Vec { return r3.Vec{Z: 40} })
	part(40, func(u float64) r3.Vec { return r3.Vec{Y: 200 * u, Z: 40} })
	part(6, func(float64) r3.Vec { return r3.Vec{Y: 200, Z: 40} })
	part(23, func(u float64) r3.Vec {
		return r3.Vec{X: 60 - 60*math.Cos(u*math.Pi/2), Y: 200 + 60*math.Sin(u*math.Pi/2), Z: 40}
	})
	part(25, func(u float64) r3.Vec { return r3.Vec{X: 60 + 150*u, Y: 260, Z: 40 + 10*u} })
	return at
}

// A line becomes the legs that one would fly: its corners, bends, stops and climbs.
func TestDrawnLines(t *testing.T) {
	up := func(e, n, z float64) r3.Vec { return r3.Vec{X: e, Y: n, Z: z} }
	stop := []r3.Vec{}
	for i := range 31 { // 5 m/s for 10 s, 10 s of standing, 10 s on
		y := 5 * math.Min(float64(i), 10)
		if i > 20 {
			y += 5 * float64(i-20)
		}
		stop = append(stop, up(0, y, 30))
	}
	slow := []r3.Vec{}
	for i := range 401 {
		slow = append(slow, up(0, 0.015*float64(i), 30))
	}
	spiral := circle(80, 30, 900, 90, 20)
	for i := range spiral {
		spiral[i].Z += float64(i) / 5
	}
	for _, c := range []struct {
		what   string
		d      *Drawn
		toward string
		moves  string
		speed  float64 // of the first leg
	}{
		{"a corner", drawn(GPX, 0, up(0, 0, 30), up(0, 100, 30), up(80, 100, 30)), "", "push push", 4},
		{"the same points twice", drawn(GPX, 0, up(0, 0, 30), up(0, 0, 30), up(0, 100, 30), up(0, 100, 30)), "", "push", 4},
		{"there and back", drawn(GPX, 0, up(0, 0, 30), up(0, 100, 30), up(0, 0, 30)), "", "push push", 4},
		{"many points on one course", drawn(GPX, 2, up(0, 0, 30), up(0, 10, 31), up(0, 20, 32), up(0, 30, 33), up(0, 40, 34)), "", "push", 5},
		{"a bend", drawn(KML, 0, circle(120, 270, 90, 30, 25)...), "", "push", 4},
		{"a climb", drawn(KML, 0, up(0, 0, 20), up(0, 0, 60), up(0, 50, 60)), "", "rise push", 0},
		{"a stop", drawn(KML, 1, stop...), "", "push hold push", 5},
		{"stops in a log of ten points a second", drawn(GPX, 0.1, log()...), "", "rise hold push hold push push", 0},
		{"a slow move is no stop", drawn(GPX, 0.1, slow...), "", "push", 0.15},
		{"once round a mark", drawn(GPX, 0, circle(100, 0, 360, 36, 30)...), "rock", "orbit", 0},
		{"twice and a half round a mark, rising", drawn(GPX, 4, spiral...), "rock", "orbit", 0},
		{"round a mark and back", drawn(GPX, 0, append(circle(60, 0, 200, 60, 30), circle(60, 200, -90, 30, 30)[1:]...)...), "rock", "orbit orbit", 0},
		{"round a mark, then faster", drawn(GPX, 4, append(circle(60, 0, 200, 60, 30), circle(60, 200, 200, 30, 30)[1:]...)...), "rock", "orbit orbit", 0},
		{"round a mark", drawn(GPX, 0, circle(60, 180, -200, 60, 30)...), "rock", "orbit", 0},
		{"past a mark, on its right", drawn(GPX, 0, up(-40, -30, 30), up(-40, 30, 30)), "rock", "slide", 4},
		{"toward a mark", drawn(GPX, 0, up(0, -200, 30), up(0, -60, 30)), "rock", "push", 4},
		{"away from a mark", drawn(GPX, 0, up(0, 60, 30), up(0, 200, 30)), "rock", "pull", 4},
	} {
		if c.toward != "" {
			mark(c.d, c.toward, r3.Vec{})
		}
		s, draft := flown(t, c.d, Wish{})
		if moves(s) != c.moves {
			t.Errorf("%s: %s, not %s\n%s", c.what, moves(s), c.moves, draft.Card)
		}
		if off := farthest(c.d, s); off > draft.WithinM {
			t.Errorf("%s: %.2f m off\n%s", c.what, off, draft.Card)
		}
		if v := s.Legs[0].SpeedMS; c.speed > 0 && math.Abs(v-c.speed) > 0.02 && (c.what != "a stop" || math.Abs(v-c.speed) > 0.5) {
			t.Errorf("%s: %g m/s, not %g", c.what, v, c.speed)
		}
		if c.toward == "" {
			continue
		}
		g := NewPlane(s.LatDeg, s.LonDeg)
		rock := g.Metres(middle.latDeg, middle.lonDeg)
		for _, m := range shot.Path(s, 20) {
			at := m.Pos
			at.Z = 0
			if off := math.Abs(math.Remainder(bearing(at, rock)-m.HeadingDeg, 360)); off > mostOffDeg+1 {
				t.Errorf("%s: at %g s the camera looks %.1f° past the mark\n%s", c.what, m.FlightS, off, draft.Card)
				break
			}
			if off := flatM(m.Target, rock); off > 2 {
				t.Errorf("%s: the subject is %.1f m off its mark", c.what, off)
				break
			}
		}
	}
}

// A wandering line stays within the tolerance that is stated, however wide that is, and a wider one takes fewer legs.
func TestToleranceHolds(t *testing.T) {
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 2))
		at, course, speed := []r3.Vec{{Z: 50}}, 360*r.Float64(), 3+6*r.Float64()
		turn := 0.0
		for range 250 {
			if r.IntN(25) == 0 {
				turn = 16 * (r.Float64() - 0.5)
			}
			course += turn
			at = append(at, r3.Add(at[len(at)-1], r3.Vec{X: speed * math.Sin(course*rad), Y: speed * math.Cos(course*rad), Z: 0.4 * (r.Float64() - 0.5)}))
		}
		d := drawn(GPX, []float64{0, 1}[seed%2], at...)
		before := 1000
		for _, within := range []float64{1, 3, 10} {
			s, draft := flown(t, d, Wish{WithinM: within})
			if off := farthest(d, s); off > within {
				t.Errorf("seed %d, within %g: %.2f m off", seed, within, off)
			}
			if draft.OffM > within || draft.Legs != len(s.Legs) || draft.Legs > before+2 {
				t.Errorf("seed %d, within %g: says %g m off, %d legs after %d", seed, within, draft.OffM, draft.Legs, before)
			}
			before = draft.Legs
		}
	}
}

// A receiver's noise does not make more legs than a card holds: the tolerance grows, and that is said.
func TestNoiseOfAReceiver(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	at := []r3.Vec{}
	for i := range 3000 {
		x := r3.Scale(150, toward(float64(i)/5))
		at = append(at, r3.Vec{X: x.X + 4*r.NormFloat64(), Y: x.Y + 4*r.NormFloat64(), Z: 40 + r.NormFloat64()})
	}
	d := drawn(GPX, 1, at...)
	_, draft := flown(t, d, Wish{})
	if draft.WithinM <= flownM || draft.Legs > mostLegs || !strings.Contains(noted(draft), "is the nearest that a card can hold") {
		t.Errorf("%d legs within %g m", draft.Legs, draft.WithinM)
	}
	if _, err := d.Draft(Wish{WithinM: 1, Camera: "c"}); err == nil || !strings.Contains(err.Error(), "at most 64 legs on a card: draw less, or give a wider --within") {
		t.Errorf("within 1 m: %v", err)
	}
}

// A tolerance that has grown is to be looked at; where 24 m do not do, the line is refused.
func TestToleranceThatGrows(t *testing.T) {
	for _, c := range []struct {
		wide, secs float64
		says       string
	}{
		{9, 0, "within 8 m of the line would take more than 64 legs: 16 m is the nearest"},
		{60, 0, "legs within 24 m of it; allowed: at most 64 legs on a card"},
		{60, 10, "legs within 24 m of it; allowed: at most 64 legs on a card"},
	} {
		at := []r3.Vec{}
		for i := range 120 { // to and fro across a field
			at = append(at, r3.Vec{X: c.wide * float64(i%2), Y: 6 * float64(i), Z: 30})
		}
		d := drawn(GPX, c.secs, at...)
		d.Lines[0].Datum = NoHeights
		draft, err := d.Draft(Wish{Camera: "wide fixed 2.8", Now: time.Unix(1e9, 0)})
		if err != nil {
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("%g m wide: %v", c.wide, err)
			}
			continue
		}
		if !slices.ContainsFunc(draft.Notes, func(n Note) bool { return n.Missing && strings.Contains(n.Text, c.says) }) {
			t.Errorf("%g m wide: not to be looked at:\n%s", c.wide, noted(draft))
		}
	}
}

// Heights are counted from take-off, and how is said.
func TestHeightsFromTakeOff(t *testing.T) {
	twenty := 20.0
	for _, c := range []struct {
		what   string
		datum  Datum
		z      [3]float64
		timed  bool
		wish   *float64
		home   *float64 // height of the mark at take-off, in the same datum
		want   [2]float64
		says   string
		refuse bool
	}{
		{"above the ground", AboveGround, [3]float64{30, 40, 35}, false, nil, nil, [2]float64{30, 35}, "above the ground below: taken as above take-off", false},
		{"above the sea, with take-off", AboveSea, [3]float64{130, 140, 135}, false, nil, new(float64), [2]float64{130, 135}, `counted from the mark "take-off" at 0 m`, false},
		{"above the sea, drawn", AboveSea, [3]float64{130, 140, 135}, false, nil, nil, [2]float64{40, 45}, "the first point is taken as 40 m above take-off", false},
		{"above the sea, drawn and falling", AboveSea, [3]float64{230, 140, 135}, false, nil, nil, [2]float64{95, 0}, "the first point is taken as 95 m above take-off", false},
		{"above the sea, flown from the ground", AboveSea, [3]float64{130, 140, 135}, true, nil, nil, [2]float64{0, 5}, "its lowest point is taken for take-off", false},
		{"above the sea, said", AboveSea, [3]float64{130, 140, 135}, false, &twenty, nil, [2]float64{20, 25}, "with the first point 20 m above take-off", false},
		{"above the ellipsoid", AboveEllipsoid, [3]float64{130, 140, 135}, false, nil, nil, [2]float64{40, 45}, "the ellipsoid of WGS 84", false},
		{"none", NoHeights, [3]float64{}, false, nil, nil, [2]float64{40, 40}, "height: the file lays the line on the ground, so the card's 40 m", false},
		{"none, said", NoHeights, [3]float64{}, false, &twenty, nil, [2]float64{20, 20}, "20 m above take-off all along", false},
		{"below take-off", AboveSea, [3]float64{130, 90, 95}, false, &twenty, nil, [2]float64{}, "height_m: found -20 m above take-off", true},
	} {
		secs := 0.0
		if c.timed {
			secs = 10
		}
		d := drawn(GPX, secs, r3.Vec{Z: c.z[0]}, r3.Vec{Y: 50, Z: c.z[1]}, r3.Vec{X: 50, Y: 50, Z: c.z[2]})
		d.Lines[0].Datum = c.datum
		if c.home != nil {
			mark(d, homeName, r3.Vec{})
			d.Marks[0].HeightM, d.Marks[0].HasHeight, d.Marks[0].Datum = *c.home, true, c.datum
		}
		if c.refuse {
			if _, err := d.Draft(Wish{HeightM: c.wish, Camera: "c"}); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v", c.what, err)
			}
			continue
		}
		s, draft := flown(t, d, Wish{HeightM: c.wish})
		if got := [2]float64{s.Legs[0].Height[0], s.Legs[len(s.Legs)-1].Height[1]}; got != c.want {
			t.Errorf("%s: %v, not %v\n%s", c.what, got, c.want, draft.Card)
		}
		if !strings.Contains(noted(draft), c.says) {
			t.Errorf("%s does not say %q:\n%s", c.what, c.says, draft.Card)
		}
	}
}

// What only some points say is not used, and the draft says that they do.
func TestWhatOnlySomePointsSay(t *testing.T) {
	for _, c := range []struct{ what, text, says string }{
		{"no times", `<trkpt lat="1" lon="2"/><trkpt lat="1.001" lon="2"/>`, "speed: no times in the file, so 4 m/s all along"},
		{"one time", `<trkpt lat="1" lon="2"><time>2026-09-18T17:40:00Z</time></trkpt><trkpt lat="1.001" lon="2"/>`, "speed: times not for every point in the file, so 4 m/s all along"},
		{"one height", `<trkpt lat="1" lon="2"><ele>7</ele></trkpt><trkpt lat="1.001" lon="2"/>`, "height: not for every point in the file, so"},
		{"one time for all", `<trkpt lat="1" lon="2"><time>2026-09-18T17:40:00Z</time></trkpt><trkpt lat="1.001" lon="2"><time>2026-09-18T17:40:00Z</time></trkpt>`, "speed: one time for all points of a line in the file, so 4 m/s all along"},
		{"times on half the way", `<trkpt lat="1" lon="2"><time>2026-09-18T17:40:00Z</time></trkpt><trkpt lat="1.001" lon="2"><time>2026-09-18T17:40:30Z</time></trkpt>` +
			`</trkseg><trkseg><trkpt lat="1.001" lon="2"/><trkpt lat="1.001" lon="2.001"/>`, "speed: times not for every point in the file, so 4 m/s"},
	} {
		d, err := Read("x", []byte(gpxHead+"<trk><trkseg>"+c.text+"</trkseg></trk></gpx>"))
		if err != nil {
			t.Fatal(err)
		}
		if _, draft := flown(t, d, Wish{}); !strings.Contains(noted(draft), c.says) {
			t.Errorf("%s: does not say %q:\n%s", c.what, c.says, noted(draft))
		}
	}
	d, err := Read("x", []byte(`<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><LineString><coordinates>2,1,30 2,1.001,30</coordinates></LineString></Placemark></kml>`))
	if err != nil {
		t.Fatal(err)
	}
	if _, draft := flown(t, d, Wish{}); !strings.Contains(noted(draft), "height: the file lays the line on the ground, so the card's 40 m") {
		t.Errorf("clamped: %s", noted(draft))
	}
}

// The mark at take-off is that however it is written, and a name that two lines have names none of them.
func TestNamesOfMarksAndLines(t *testing.T) {
	d := drawn(GPX, 0, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	mark(d, "Take-Off", r3.Vec{Y: -50})
	mark(d, "church", r3.Vec{X: 150, Y: 50})
	if _, draft := flown(t, d, Wish{}); !strings.Contains(noted(draft), "looks at church, the only point that is marked") {
		t.Errorf("beside take-off: %s", noted(draft))
	}
	two := drawn(GPX, 0, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	two.Lines = append(two.Lines, drawn(GPX, 0, r3.Vec{X: 500, Z: 30}, r3.Vec{X: 600, Z: 30}).Lines[0])
	if _, err := two.Draft(Wish{Line: "LINE", Camera: "c"}); err == nil || !strings.Contains(err.Error(), `"LINE" is the name of 2 lines; give the number of one: 1 "line" (100 m), 2 "line" (100 m)`) {
		t.Errorf("two lines of a name: %v", err)
	}
	if s, draft := flown(t, two, Wish{Line: "2"}); math.Abs(s.Legs[0].Heading.From-90) > 0.1 {
		t.Errorf("the second line: %s", draft.Card)
	}
}

// What is written is right by the standards: the order and the names of the schemas, RFC 7946's rules.
func TestWhatIsWrittenIsRight(t *testing.T) {
	bag, _ := kit.ReadBag(examples.BagName, examples.Bag())
	texts := map[string][]byte{"antimeridian": []byte("skywedge: 1\nname: <&\"\x27]]>\nplace: {lat: -17, lon: 179.9996, zone: UTC}\ntake_off: 2026-06-01T10:00:00\ncamera: wide fixed 2.8\n" +
		"legs:\n  - {move: push, heading_deg: [60, 200], seconds: 60, speed_ms: 5, height_m: 20, ground_m: [0, 5], target: {distance_m: 20}}\n  - {move: push, heading_deg: 270, seconds: 60, speed_ms: 5, height_m: 20}\n")}
	for _, name := range examples.Cards() {
		texts[name] = examples.Card(name)
	}
	for name, text := range texts {
		card, _ := shot.ReadCard(name, text)
		s, faults := card.Shot(bag, time.Unix(1e9, 0))
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, elevation := range []bool{true, false} {
			d, err := Of(s, elevation)
			if err != nil {
				t.Fatal(err)
			}
			inOrder(t, d.Encode(GPX))
			inOrder(t, d.Encode(KML))
			rightGeoJSON(t, d.Encode(GeoJSON))
			if gpx := string(d.Encode(GPX)); strings.Contains(gpx, "<ele>") != elevation || strings.Contains(gpx, `lon="180"`) {
				t.Errorf("%s: elevations %v", name, elevation)
			}
			for f := range Format(3) {
				back, err := Read(name, d.Encode(f))
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				if back.Name != s.Name || len(back.Lines) != len(s.Legs) {
					t.Errorf("%s as %s: %q with %d lines", name, f, back.Name, len(back.Lines))
				}
			}
		}
	}
	s := &shot.Shot{LatDeg: 89.5}
	if _, err := Of(s, false); err == nil {
		t.Error("a path at the pole")
	}
}

// A hundred thousand points are read and cut in a few seconds; the most that is read is the most that is written of a
// day's flying.
func BenchmarkHundredThousandPoints(b *testing.B) {
	var text strings.Builder
	text.WriteString(gpxHead + "<trk><trkseg>")
	for i := range MaxPoints {
		fmt.Fprintf(&text, `<trkpt lat="%.7f" lon="%.7f"><ele>%d</ele></trkpt>`, 1+math.Sin(float64(i)/5000)/100, 2+math.Cos(float64(i)/3000)/100, 50)
	}
	text.WriteString("</trkseg></trk></gpx>")
	data := []byte(text.String())
	for b.Loop() {
		d, err := Read("x", data)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := d.Draft(Wish{Now: time.Unix(1e9, 0), Camera: "c"}); err != nil {
			b.Fatal(err)
		}
	}
}
