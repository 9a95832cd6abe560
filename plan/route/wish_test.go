package route

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// refused is a wish that a path cannot meet: which one, and what is said.
func refused(t *testing.T, what string, d *Drawn, w Wish, of, says string) {
	t.Helper()
	w.Camera = "c"
	_, err := d.Draft(w)
	var wish *WishError
	if !errors.As(err, &wish) || wish.Of != of || !strings.Contains(err.Error(), "--"+of+": "+says) {
		t.Errorf("%s: %v, want --%s: %s", what, err, of, says)
	}
}

// What the camera looks at is a mark by its name, a place, or nothing; what is none of them is refused with what there is.
func TestTowardWhat(t *testing.T) {
	line := []r3.Vec{{Z: 30}, {Y: 100, Z: 30}}
	d := drawn(GPX, 0, line...)
	refused(t, "no mark at all", d, Wish{Toward: "church"}, "toward", `"church" is no mark of the file and no place: give a mark by its name (this file has none), track, or LAT,LON`)
	mark(d, "church", r3.Vec{X: 200, Y: 50})
	mark(d, "", r3.Vec{X: -200, Y: 50})
	refused(t, "another mark", d, Wish{Toward: "tower"}, "toward", `"tower" is no mark of the file and no place: give "church", track, or LAT,LON`)
	refused(t, "a place on another continent", d, Wish{Toward: "40.7, -74"}, "toward", "it is ")
	if _, err := d.Draft(Wish{Toward: "40.7, -74"}); !strings.HasSuffix(err.Error(), " km away: a subject is within 20 km") {
		t.Error(err)
	}
	if _, draft := flown(t, d, Wish{}); !strings.Contains(noted(draft), `the camera looks along the line; --toward looks at "church"`) {
		t.Errorf("two marks, and no wish: %s", noted(draft))
	}
	// From the middle of the line the church bears 90°, and so does a place on the same spot.
	lat, lon := middle.Degrees(r3.Vec{X: 200, Y: 50})
	for what, toward := range map[string]string{"the name": "CHURCH", "the place": field.Figure(lat, 6) + ", " + field.Figure(lon, 6)} {
		s, draft := flown(t, d, Wish{Toward: toward})
		path := shot.Path(s, 9)
		if at := path[len(path)/2]; math.Abs(at.HeadingDeg-90) > 3 {
			t.Errorf("%s: half way it looks to %.1f°\n%s", what, at.HeadingDeg, draft.Card)
		}
		if !strings.Contains(noted(draft), "the camera looks at "+toward) || !strings.Contains(noted(draft), "the subject's height: not in the file") {
			t.Errorf("%s: %s", what, noted(draft))
		}
	}
	only := drawn(GPX, 0, line...)
	mark(only, "", r3.Vec{X: 200, Y: 50})
	if _, draft := flown(t, only, Wish{}); !strings.Contains(noted(draft), "the camera looks at the mark without a name, the only point that is marked") {
		t.Errorf("a mark without a name: %s", noted(draft))
	}
}

// Where the file says where the camera looks, that is kept; the wish for the track or for a subject takes its place.
func TestTowardAgainstTheFile(t *testing.T) {
	looking := func() *Drawn {
		d := drawn(GPX, 0, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
		d.Lines[0].Looks = &Looks{HeadingDeg: 270, HasHeading: true, GroundM: [2]float64{5, 5}}
		mark(d, "church", r3.Vec{X: 200, Y: 50})
		return d
	}
	for toward, want := range map[string]float64{"": 270, "track": 0, "church": 90} {
		d := looking()
		s, draft := flown(t, d, Wish{Toward: toward})
		path := shot.Path(s, 9)
		if at := path[len(path)/2]; math.Abs(math.Remainder(at.HeadingDeg-want, 360)) > 3 {
			t.Errorf("%q: half way it looks to %.1f°, want %g°\n%s", toward, at.HeadingDeg, want, draft.Card)
		}
		if toward == "track" && s.Legs[0].GroundM != [2]float64{5, 5} {
			t.Errorf("the ground under the leg is lost: %s", draft.Card)
		}
	}
}

// A path is named by its number or its name; a file of several that do not meet has to be asked for one, and says which.
func TestWhichLine(t *testing.T) {
	d := drawn(GPX, 0, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	for i := range 7 {
		x := float64(500 * (i + 1))
		more := drawn(GPX, 0, r3.Vec{X: x, Z: 30}, r3.Vec{X: x, Y: 12345, Z: 30}).Lines[0]
		more.Name = ""
		d.Lines = append(d.Lines, more)
	}
	const all = `1 "line" (100 m), 2 (12.3 km), 3 (12.3 km), 4 (12.3 km), 5 (12.3 km), 6 (12.3 km), …`
	refused(t, "a name that there is not", d, Wish{Line: "coast"}, "line", `"coast" is no line of the path, which has `+all)
	refused(t, "a number that there is not", d, Wish{Line: "9"}, "line", `"9" is no line of the path`)
	var faults field.Faults
	if _, err := d.Draft(Wish{}); !errors.As(err, &faults) || faults[0].Found != "8 lines that do not meet: "+all || faults[0].Allowed != "one path: name it with --line" {
		t.Errorf("no wish: %v", err)
	}
	if _, _, err := d.Start("coast"); err == nil {
		t.Error("the start of a line that there is not")
	}
	for line, x := range map[string]float64{"LINE": 0, "1": 0, "3": 1000} {
		lat, lon := middle.Degrees(r3.Vec{X: x})
		if at, when, err := d.Start(line); err != nil || math.Abs(at.LatDeg-lat) > 1e-9 || math.Abs(at.LonDeg-lon) > 1e-9 || !when.IsZero() {
			t.Errorf("line %s starts at %v, %v: %v", line, at, when, err)
		}
	}
	timed := drawn(GPX, 5, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	if _, when, err := timed.Start(""); err != nil || !when.Equal(timed.Lines[0].Points[0].Time) {
		t.Errorf("%v, %v", when, err)
	}
}

// A file of points alone is flown from one to the next, without the one at take-off; heights that count from different
// levels are no heights.
func TestThroughTheMarks(t *testing.T) {
	d := &Drawn{File: "points.gpx", Left: []string{"a polygon, line 9"}}
	var faults field.Faults
	if _, err := d.Draft(Wish{}); !errors.As(err, &faults) || faults[0].Found != "no line, but a polygon, line 9" {
		t.Errorf("no point: %v", err)
	}
	mark(d, homeName, r3.Vec{Y: -500})
	if _, err := d.Draft(Wish{}); !errors.As(err, &faults) || faults[0].Found != "one point and no line" {
		t.Errorf("one point: %v", err)
	}
	for i, at := range []r3.Vec{{}, {Y: 100}, {X: 100, Y: 100}} {
		mark(d, string(rune('a'+i)), at)
		d.Marks[i+1].HeightM, d.Marks[i+1].HasHeight, d.Marks[i+1].Datum = 50, true, AboveSea
	}
	s, draft := flown(t, d, Wish{})
	if got := moves(s); got != "push push" || math.Abs(s.Legs[0].Heading.From) > 0.1 {
		t.Errorf("%s\n%s", got, draft.Card)
	}
	for _, want := range []string{"no line in the file: its 3 points are flown to in their order", "left out of the file: a polygon, line 9"} {
		if !strings.Contains(noted(draft), want) {
			t.Errorf("%q is not said: %s", want, noted(draft))
		}
	}
	if strings.Contains(noted(draft), "height: not counted from one level") {
		t.Errorf("one level: %s", noted(draft))
	}
	d.Marks[2].Datum = AboveGround
	if _, draft := flown(t, d, Wish{}); !strings.Contains(noted(draft), "height: not counted from one level in the file, so") {
		t.Errorf("two levels: %s", noted(draft))
	}
}

// What the pilot says beside the path goes before what is usual, and what was found for the pilot is marked to be looked at.
func TestWhatThePilotSays(t *testing.T) {
	d := drawn(GPX, 0, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	at := time.Date(2026, 9, 19, 6, 30, 0, 0, time.UTC)
	s, draft := flown(t, d, Wish{SpeedMS: 8, TakeOff: at, ZoneOf: "of the place nearest to it", CameraOf: "the only one of the bag"})
	if s.Legs[0].SpeedMS != 8 || !s.TakeOff.Equal(at) {
		t.Errorf("%g m/s at %v", s.Legs[0].SpeedMS, s.TakeOff)
	}
	text := noted(draft)
	for _, want := range []string{"no times in the file: 8 m/s all along", "zone: not in the file; of the place nearest to it", "camera: the only one of the bag"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said: %s", want, text)
		}
	}
	if strings.Contains(text, "take_off:") {
		t.Errorf("a take-off that was said: %s", text)
	}
	timed := drawn(GPX, 20, r3.Vec{Z: 30}, r3.Vec{Y: 100, Z: 30})
	if s, draft := flown(t, timed, Wish{SpeedMS: 8}); math.Abs(s.Legs[0].SpeedMS-5) > 0.1 || !strings.Contains(noted(draft), "--speed is for a path without") {
		t.Errorf("%g m/s: %s", s.Legs[0].SpeedMS, noted(draft))
	}
	fast := drawn(GPX, 1, r3.Vec{Z: 30}, r3.Vec{Y: 5000, Z: 30})
	var faults field.Faults
	if _, err := fast.Draft(Wish{Camera: "c"}); !errors.As(err, &faults) || faults[0].Field != "speed_ms" || faults[0].File != "drawn" || faults[0].Line != 2 {
		t.Errorf("5 km in a second: %v", err)
	}
}

// A subject passed close by is kept in sight by as many legs as that takes, all of them within a few degrees of it.
func TestPastASubject(t *testing.T) {
	d := drawn(GPX, 0, r3.Vec{Y: -200, Z: 30}, r3.Vec{Y: 200, Z: 30})
	mark(d, "tower", r3.Vec{X: 40})
	s, draft := flown(t, d, Wish{Toward: "tower"})
	if len(s.Legs) < 4 {
		t.Errorf("%d legs\n%s", len(s.Legs), draft.Card)
	}
	g := NewPlane(s.LatDeg, s.LonDeg)
	lat, lon := middle.Degrees(r3.Vec{X: 40})
	tower := g.Metres(lat, lon)
	for _, m := range shot.Path(s, 9) {
		if off := math.Remainder(bearing(m.Pos, tower)-m.HeadingDeg, 360); math.Abs(off) > 2*mostOffDeg {
			t.Errorf("leg %d at %.2f looks %.1f° past it", m.Leg+1, m.Frac, off)
		}
	}
}

// What a written path cannot say as the card does is said beside it, in each format.
func TestSaid(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(0, 5, 40), plantest.Push(90, 5, 40))
	s.ElevationM = 412.3
	for f, want := range map[Format][2]string{
		GPX:     {"no ele: the card has no elevation_m", "heights are above the sea, with take-off at 412.3 m"},
		KML:     {"heights are above the ground below", "heights are above the sea, with take-off at 412.3 m"},
		GeoJSON: {"heights are above take-off, in height_m", "heights are above take-off, in height_m"},
	} {
		for k, known := range []bool{false, true} {
			if got := Said(s, f, known); len(got) != 2 || !strings.HasPrefix(got[0], want[k]) || got[1] != "times are those of the first takes" {
				t.Errorf("%s, elevation known %v: %q", f, known, got)
			}
		}
	}
	s.Legs[1].HeadingSun[1] = true
	if got := Said(s, GPX, true); len(got) != 3 || got[1] != "headings by the sun are those of this take-off" {
		t.Errorf("%q", got)
	}
}

// Legs that look at one subject have one mark, and two subjects two.
func TestOneMarkForOneSubject(t *testing.T) {
	target := func(x float64) shot.Leg {
		l := plantest.Push(0, 5, 40)
		l.Target = &shot.Target{DistanceM: x}
		return l
	}
	d, err := Of(plantest.Flight(12, 0, target(100), target(100), target(300)), false)
	if err != nil {
		t.Fatal(err)
	}
	// Each leg looks ahead, so the subjects of the first two lie apart by the way between them: 125 m.
	if len(d.Marks) != 4 {
		t.Errorf("%+v", d.Marks)
	}
	still := plantest.StillOf(0, 0, 40)
	still.Target = &shot.Target{DistanceM: 100}
	if d, err = Of(plantest.Flight(12, 0, still, still), false); err != nil || len(d.Marks) != 2 || d.Lines[0].Looks.Subject != d.Lines[1].Looks.Subject {
		t.Errorf("%v: %+v", err, d.Marks)
	}
}
