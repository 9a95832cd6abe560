package plan

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// The published exposure guide (ANSI PH2.7): side light a stop under front light, back light two. The
// model of a subject agrees to half a stop at the sun heights where the guide is meant.
func TestFrontSideAndBackLight(t *testing.T) {
	at := time.Date(2026, 3, 20, 10, 0, 0, 0, time.UTC)
	az := sun.At(at, 45, 0).AzimuthDeg
	ev := map[string]float64{}
	for name, off := range map[string]float64{"front": 180, "side": 90, "back": 0} {
		l := plantest.Push(az+off, 5, 20)
		l.Aim, l.Seconds = shot.AimKeep, 1
		r := solve(plantest.Flight(9, 59, l))
		if r.Legs[0].Facing != name {
			t.Errorf("sun %g° off: %s", off, r.Legs[0].Facing)
		}
		ev[name] = r.Legs[0].LandEV.Max
		said := strings.Contains(strings.Join(r.Legs[0].Notes, "; "), name+" light")
		if said != (name != "front") {
			t.Errorf("%s light: %q", name, r.Legs[0].Notes)
		}
	}
	if d := ev["front"] - ev["side"]; math.Abs(d-1) > 0.5 {
		t.Errorf("side light is %.2f stops under front light", d)
	}
	if d := ev["front"] - ev["back"]; math.Abs(d-2) > 0.7 {
		t.Errorf("back light is %.2f stops under front light", d)
	}
}

// A ridge before the sun takes the beam from the exposure and leaves the sky: it is stops darker, and the
// light is no longer called front or back.
func TestRidgeTakesTheBeam(t *testing.T) {
	az := sun.At(time.Date(2026, 3, 20, 8, 0, 0, 0, time.UTC), 45, 0).AzimuthDeg
	l := plantest.Push(az+180, 5, 20)
	l.Aim = shot.AimKeep
	open := plantest.Flight(8, 0, l)
	ridge := plantest.Flight(8, 0, l)
	ridge.Skyline = [][2]float64{{az - 30, 40}, {az + 30, 40}}
	a, b := solve(open).Legs[0], solve(ridge).Legs[0]
	if d := a.LandEV.Max - b.LandEV.Max; d < 1.5 || d > 5 {
		t.Errorf("the ridge takes %.2f stops", d)
	}
	if b.Facing != "" || !strings.Contains(strings.Join(b.Notes, "; "), "the ridge hides the sun") {
		t.Errorf("%q: %q", b.Facing, b.Notes)
	}
	// The light runs out when the sun goes behind the ridge, if the filter needs the beam and the land is what counts.
	land := l
	land.Expose = shot.ExposeLand
	evening := plantest.Flight(15, 0, land)
	evening.Filter = "ND64"
	out := only(evening, "ND64").LightLeftMin
	set := sun.At(evening.TakeOff.Add(60*time.Minute), 45, 0)
	evening.Skyline = [][2]float64{{set.AzimuthDeg, set.AltitudeDeg}, {set.AzimuthDeg + 40, 40}}
	if early := only(evening, "ND64").LightLeftMin; early > 62 || early < 58 || out < 70 {
		t.Errorf("runs out after %.1f min behind a ridge at 60 min, %.1f without", early, out)
	}
}

// A sky far above the land is said, and what the filter makes of it.
func TestSkyAboveTheLand(t *testing.T) {
	l := plantest.Push(270, 5, 30)
	l.Pitch, l.Aim = [2]float64{0, 0}, shot.AimKeep
	notes := func(hour, minute int) string {
		return strings.Join(only(plantest.Flight(hour, minute, l)).Legs[0].Notes, "; ")
	}
	if s := notes(18, 20); !strings.Contains(s, "above the land") {
		t.Errorf("at dusk towards the glow: %q", s)
	}
	if s := notes(10, 0); strings.Contains(s, "above the land") {
		t.Errorf("in the morning with the sun behind: %q", s)
	}
}

// What goes white or black is said of an exposure that can be set. Of a leg that is too dark for any, nothing is to be held.
func TestNothingGoesWhiteThatCannotBeExposed(t *testing.T) {
	l := plantest.Push(270, 5, 30)
	l.Pitch, l.Aim = [2]float64{0, 0}, shot.AimKeep
	dark, lit := 0, 0
	for minute := 20; minute < 160; minute += 10 {
		leg := &only(plantest.Flight(18, minute, l)).Legs[0]
		notes := strings.Join(leg.Notes, "; ")
		says := strings.Contains(notes, "goes white") || strings.Contains(notes, "goes black") || strings.Contains(notes, "above the land")
		switch {
		case leg.Feasible && says:
			lit++
		case !leg.Feasible:
			if dark++; says {
				t.Errorf("%d minutes after six it cannot be exposed, and %q", minute, notes)
			}
		}
	}
	if dark == 0 || lit == 0 {
		t.Errorf("%d legs too dark, %d with something to hold", dark, lit)
	}
}

// Under 50 Hz lamps prefer n/100 s, under 60 Hz n/120 s: common practice, no source.
func TestDuskFilmUnderLamps(t *testing.T) {
	for _, c := range []struct {
		zone string
		fps  float64
		want string
	}{
		{"Europe/Madrid", 25, "1/50"}, {"Europe/Madrid", 24, "1/50"}, {"America/New_York", 30, "1/60"},
		{"America/New_York", 24, "1/60"}, {"Europe/Madrid", 50, "1/100"},
	} {
		zone, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Skip(err)
		}
		l := plantest.Push(270, 5, 20)
		l.FPS, l.Aim, l.Ground = c.fps, shot.AimKeep, shot.Town
		s := plantest.Flight(18, 30, l)
		s.Zone = zone
		r := only(s)
		if got := exposure.FormatShutter(r.Call.ShutterS); got != c.want {
			t.Errorf("%s at %g: %s, want %s", c.zone, c.fps, got, c.want)
		}
		if all := strings.Join(r.Legs[0].Notes, "; "); !strings.Contains(all, "steady") {
			t.Errorf("%q", all)
		}
	}
	l := plantest.Push(270, 5, 20)
	l.Aim, l.Ground = shot.AimKeep, shot.Town
	s := plantest.Flight(18, 30, l) // in UTC, which tells nothing
	if all := strings.Join(only(s).Legs[0].Notes, "; "); !strings.Contains(all, "50 Hz mains, ") || !strings.Contains(all, "60 Hz") {
		t.Errorf("%q", all)
	}
	s = plantest.Flight(12, 0, l)
	if all := strings.Join(only(s).Legs[0].Notes, "; "); strings.Contains(all, "lamps") {
		t.Errorf("by day: %q", all)
	}
}

// The latest take-off that still works: with it the last take ends when the light does, and a minute
// later the darkest moment asks for more than the clean ISO.
func TestLatestTakeOff(t *testing.T) {
	l := plantest.Push(200, 8, 20)
	l.Aim, l.ShutterS, l.ShutterSet = shot.AimKeep, 1.0/50, true
	s := plantest.Flight(17, 0, l)
	s.Takes, s.Filter = 3, "ND16"
	r := only(s, "ND16")
	if math.IsInf(r.LatestStartMin, 0) || r.LatestStartMin < 5 {
		t.Fatalf("latest %.1f min", r.LatestStartMin)
	}
	headroom := func(by float64) float64 {
		late := plantest.Flight(17, 0, l)
		late.Takes, late.Filter = 3, "ND16"
		late.TakeOff = late.TakeOff.Add(time.Duration((r.LatestStartMin + by) * float64(time.Minute)))
		return only(late, "ND16").Legs[0].Headroom
	}
	if a, b := headroom(-0.5), headroom(1); a < -0.01 || b > 0 {
		t.Errorf("headroom %.2f stops just in time, %.2f a minute late", a, b)
	}
	if all := strings.Join(r.Call.Ladder, "; "); !strings.Contains(all, "take off by ") {
		t.Errorf("%q", all)
	}
	s = plantest.Flight(18, 10, l)
	s.Takes, s.Filter = 6, "ND8"
	if r := only(s, "ND8"); r.LatestStartMin >= 0 || r.LightLeftMin > 0 && !strings.Contains(strings.Join(r.Call.Ladder, "; "), "the last take outlasts that") {
		t.Errorf("%.1f min: %q", r.LatestStartMin, r.Call.Ladder)
	}
	if r := only(plantest.Flight(9, 0, l), "ND8"); !math.IsInf(r.LatestStartMin, 1) {
		t.Errorf("in the morning %.1f", r.LatestStartMin)
	}
}

// A lens with apertures is used where it is sharpest; it closes further when there is too much light and
// no filter, and never where a density does it better (common practice, no source).
func TestSharpestApertures(t *testing.T) {
	cam := kit.Generic().Cameras[1] // f/4 to 16, sharpest 5.6 to 8
	s0 := func() *shot.Shot {
		l := plantest.Push(180, 8, 20)
		l.Aim, l.Mode = shot.AimKeep, cam.Modes[0]
		s := plantest.Flight(12, 0, l)
		s.Camera = cam
		return s
	}
	r := solve(s0())
	if n := r.Call.Aperture; n < 5.6 || n > 8 {
		t.Errorf("%s at f/%g", r.Call.Filter, n)
	}
	bare := only(s0())
	if bare.Call.Aperture <= 8 {
		t.Errorf("bare at noon f/%g", bare.Call.Aperture)
	}
	said := strings.Join(bare.Call.Reasons, "; ")
	if !strings.Contains(said, "diffraction") {
		t.Errorf("%q", said)
	}
	s := s0()
	s.TakeOff = time.Date(2026, 3, 20, 18, 15, 0, 0, time.UTC)
	if dusk := only(s); dusk.Call.Aperture > 5.6 {
		t.Errorf("at dusk f/%g", dusk.Call.Aperture)
	}
	y := newAnalysis(s0(), shot.Path(s0(), 2), everyMoment, newShared(40))
	for n, want := range map[float64]float64{4: 0.97, 5.6: 0, 6.3: 0, 8: 0, 11: 0.92, 16: 2} {
		if got := setting.SoftStops(&y.s.Camera, n); math.Abs(got-want) > 0.01 {
			t.Errorf("f/%g: %.2f stops off, want %.2f", n, got, want)
		}
	}
}

// A still on a film leg is taken in the camera's own way, not in the film's flat mode, and what to set is
// said.
func TestStillsToo(t *testing.T) {
	l := plantest.Push(180, 3, 70)
	l.Aim, l.StillsToo = shot.AimKeep, true
	s := plantest.Flight(12, 0, l)
	for _, m := range s.Camera.Modes {
		if m.Name == "flat" {
			s.Legs[0].Mode = m
		}
	}
	y := newAnalysis(s, shot.Path(s, 8), everyMoment, newShared(s.Legs[0].Height[0]))
	x := y.exposureOf(0, y.legs[0], mounting.Way{}, 2.8, 0)
	if x.still.ISO != s.Camera.ISO.Base {
		t.Errorf("a still at noon at ISO %g, base is %g", x.still.ISO, s.Camera.ISO.Base)
	}
	r := solve(s)
	all := strings.Join(r.Legs[0].Notes, "; ")
	if !strings.Contains(all, "for a still here set 1/") || !strings.Contains(all, "a still is sharp down to") {
		t.Errorf("%q", all)
	}
}

// Clouds about and the sun out: the ladder says what to set when a cloud comes before it, which is what a card with a
// hidden sun is set to.
func TestCloudBeforeTheSun(t *testing.T) {
	l := plantest.Push(180, 8, 20)
	l.Aim = shot.AimKeep
	s := plantest.Flight(12, 0, l)
	s.Light.CloudPct = 40
	r := solve(s)
	hidden := *s
	hidden.Light.Sun, hidden.Filter = sun.Hidden, r.Call.Filter
	then := solve(&hidden).Call
	want := fmt.Sprintf("when a cloud covers the sun: %s, ISO %s", exposure.FormatShutter(then.ShutterS), exposure.FormatISO(then.ISO))
	if all := strings.Join(r.Call.Ladder, "\n"); !strings.Contains(all, want) {
		t.Errorf("no %q in\n%s", want, all)
	}
	s.Light.CloudPct = 0
	if all := strings.Join(solve(s).Call.Ladder, "\n"); strings.Contains(all, "a cloud") {
		t.Errorf("without clouds: %s", all)
	}
}

// The latest take-off lies before the end of the light by as much as the last take ends after take-off: half
// of the way out and home, the takes and the flights back between them.
func TestLatestTakeOffLeavesTimeForTheLastTake(t *testing.T) {
	l := plantest.Push(200, 8, 20)
	l.Aim = shot.AimKeep
	s := plantest.Flight(17, 0, l)
	s.Takes, s.ResetS, s.TransitS, s.Filter = 3, 30, 60, "ND16"
	r := only(s, "ND16")
	const lastTakeEndsMin = (60./2 + 3*25 + 2*30) / 60
	if got := r.LightLeftMin - r.LatestStartMin; r.LatestStartMin < 5 || math.Abs(got-lastTakeEndsMin) > 1e-6 {
		t.Errorf("light is left for %.3f min and the latest take-off is in %.3f: %.3f min apart, want %.3f", r.LightLeftMin, r.LatestStartMin, got, lastTakeEndsMin)
	}
}
