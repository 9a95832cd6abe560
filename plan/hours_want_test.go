package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// A shot of a low sun is for a low sun: its best hours, of the day and of the year and by every measure, have one,
// though the bag holds noon just as well. A shot made at noon is told noon, but by the call, which may be worth more
// than some degrees.
func TestBestHoursHaveTheLightWanted(t *testing.T) {
	for _, c := range []struct {
		hour, minute int
		low, high    float64
	}{{17, 20, 2, 20}, {12, 0, 20, 90}} {
		s := plantest.Flight(c.hour, c.minute, plantest.Push(200, 5, 40))
		for _, o := range []hours.Span{hours.OverDay, hours.OverYear} {
			h := hoursOf(t, s, o)
			if !h.Cells[h.Own].AsWanted() {
				t.Errorf("%d:%d: the card's own light is not the light wanted: %s", c.hour, c.minute, h.Cells[h.Own].OffWhy)
			}
			list := h.Windows(hours.Score)
			if len(list) == 0 {
				t.Fatal("no window")
			}
			for m := range hours.Measures {
				if m == hours.Sun || m == hours.Score && c.hour == 12 {
					continue
				}
				for _, w := range h.Windows(m) {
					// the sun in the middle of the take, a minute after take-off
					if a := h.Cells[w.Best].Values[hours.Sun]; a < c.low-1 || a > c.high+1 {
						t.Errorf("%d:%d over the %v by %v: best at %s with the sun at %.1f°", c.hour, c.minute, o, m, h.When(w.Best), a)
					}
				}
			}
		}
	}
}

// Hours count a stop for each 5° outside the heights and one for a wrong side; the call's own score is that of the
// same card without a wish.
func TestHoursCountTheLightWanted(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(180, 5, 40)) // at noon into the sun
	plain := hoursOf(t, s, hours.OverDay)
	s.Want = &shot.Want{SunHeightDeg: [2]float64{20, 30}, Side: shot.SideSide}
	h := hoursOf(t, s, hours.OverDay)
	noon := cellAt(t, h, "12:00")
	z, err := s.At(noon.TakeOff)
	if err != nil {
		t.Fatal(err)
	}
	want := (z.MiddleSun().AltitudeDeg-30)/5 + 1 // 45° at noon on the equinox: 3, the most
	if want = min(3, want); math.Abs(noon.OffStops-want) > 1e-9 || noon.AsWanted() {
		t.Errorf("noon is %.2f stops off, want %.2f", noon.OffStops, want)
	}
	if !strings.Contains(noon.OffWhy, "15° above") || !strings.Contains(noon.OffWhy, "not side light") {
		t.Errorf("%q", noon.OffWhy)
	}
	// At 9 the sun is 45° east of south: ahead within 60°, at about 30°.
	if c := cellAt(t, h, "08:30"); !c.AsWanted() || c.OffWhy != "" {
		t.Errorf("08:30: %.2f stops off, %q, sun %.1f° at %.0f°", c.OffStops, c.OffWhy, c.Sun.AltitudeDeg, c.Sun.AzimuthDeg)
	}
	for i := range h.Cells {
		a, b := h.Cells[i].Values[hours.Score], plain.Cells[i].Values[hours.Score]
		// A table of what water mirrors is made for the height that asks first, which is another's by chance.
		if math.Abs(a-b) > 1e-5 || math.IsNaN(a) != math.IsNaN(b) {
			t.Errorf("%s: the call counts %v with a wish, %v without", h.When(i), a, b)
		}
	}
	for _, w := range h.Windows(hours.Score) {
		if !h.Cells[w.Best].AsWanted() {
			t.Errorf("best at %s: %s", h.When(w.Best), h.Cells[w.Best].OffWhy)
		}
	}
}

// Only a written wish can fail; what fails is said with what is asked for.
func TestWantFits(t *testing.T) {
	s := plantest.Flight(12, 0, plantest.Push(180, 5, 40))
	path := shot.Path(s, 8)
	if fits, why := hours.WantFits(s, path); !fits || why == "" {
		t.Errorf("without a wish: %v, %q", fits, why)
	}
	for _, c := range []struct {
		want shot.Want
		fits bool
		why  string
	}{
		{shot.Want{SunHeightDeg: [2]float64{40, 50}, Side: shot.SideAny}, true, "the card asks for the sun at 40° to 50°; it stands at 45° in the middle of the first takes"},
		{shot.Want{SunHeightDeg: [2]float64{40, 50}, Side: shot.SideBack}, true, "the card asks for the sun at 40° to 50° and back light; it stands at 45° in the middle of the first takes"},
		{shot.Want{SunHeightDeg: [2]float64{40, 50}, Side: shot.SideFront}, false, "not front light: the card asks for the sun at 40° to 50° and front light; it stands at 45° in the middle of the first takes"},
		{shot.Want{SunHeightDeg: [2]float64{-6, 2}, Side: shot.SideAny}, false, "sun 43° above the light wanted: the card asks for the sun at −6° to 2°; it stands at 45° in the middle of the first takes"},
		{shot.Want{SunHeightDeg: [2]float64{60, 90}, Side: shot.SideSide}, false, "sun 15° below the light wanted, not side light: the card asks for the sun from 60° and side light; it stands at 45° in the middle of the first takes"},
		{shot.Want{SunHeightDeg: [2]float64{-90, -6}}, false, "sun 51° above the light wanted: the card asks for the sun below −6°; it stands at 45° in the middle of the first takes"},
	} {
		s.Want = &c.want
		fits, why := hours.WantFits(s, path)
		if fits != c.fits || why != c.why {
			t.Errorf("%+v: %v, %q, want %v, %q", c.want, fits, why, c.fits, c.why)
		}
	}
}

// A new shot begun at night is for the next low sun. On the equinox at the equator the sun's centre rises near
// 6:07 local mean time (equation of time −7.5 minutes, from memory) and climbs 1° in 4 minutes; refraction lifts it by
// 0.3° at 2° (Bennett 1982): 2° about 7 minutes after.
func TestNextLight(t *testing.T) {
	at := time.Date(2026, 3, 20, 2, 30, 20, 0, time.UTC)
	got, ok := hours.NextLight(0, 0, at)
	if want := time.Date(2026, 3, 20, 6, 14, 0, 0, time.UTC); !ok || got.Sub(want).Abs() > 2*time.Minute || got.Second() != 0 {
		t.Errorf("%v, %v, want about %v", got, ok, want)
	}
	for _, place := range [][2]float64{{0, 0}, {43.4, -8.4}, {-33, 151}, {60, 25}} {
		for h := range 24 {
			now := at.Add(time.Duration(h) * time.Hour)
			alt := sun.At(now, place[0], place[1]).AltitudeDeg
			got, ok := hours.NextLight(place[0], place[1], now)
			if ok != (alt < -6) {
				t.Errorf("%v at %v: %v with the sun at %.1f°", place, now, ok, alt)
			}
			if !ok {
				continue
			}
			s := plantest.Flight(0, 0, plantest.Push(0, 5, 40))
			s.LatDeg, s.LonDeg, s.TakeOff, s.TransitS = place[0], place[1], got, 0
			if w := s.Wanted(); w.SunHeightDeg != [2]float64{2, 20} {
				t.Errorf("%v at %v: a shot at %v is for %v", place, now, got, w)
			}
			if a := sun.At(got.Add(-time.Minute), place[0], place[1]).AltitudeDeg; a >= 2 || got.Sub(now) > 24*time.Hour || got.Before(now) {
				t.Errorf("%v at %v: %v is not the first, the sun stood at %.2f° a minute before", place, now, got, a)
			}
		}
	}
	if got, ok := hours.NextLight(80, 0, time.Date(2026, 12, 21, 12, 0, 0, 0, time.UTC)); ok {
		t.Errorf("in the polar night there is light at %v", got)
	}
}

// In dusk an hour is dark only where the call of the same take-off cannot be exposed, and then it says by how much.
func TestDarkHoursAreThoseWithoutAnExposure(t *testing.T) {
	long := plantest.Push(270, 0, 40)
	long.Move, long.Purpose, long.ShutterS, long.ShutterSet = shot.Hold, shot.Long, 2, true
	for name, leg := range map[string]shot.Leg{"video": plantest.Push(270, 5, 40), "still": plantest.StillOf(270, -10, 40), "long": long} {
		s := plantest.Flight(17, 30, leg)
		h := hoursOf(t, s, hours.OverDay)
		dark := 0
		var lastGood time.Time
		for i := range h.Cells {
			c := &h.Cells[i]
			if c.TakeOff.Hour() < 18 || c.State == hours.Night {
				continue
			}
			z, err := s.At(c.TakeOff)
			if err != nil {
				t.Fatal(err)
			}
			r := Solve(z, kit.Generic(), Options{SkipSureness: true})
			feasible := r.Candidates[0].Feasible
			if (c.State == hours.Good) != feasible || r.Legs[0].Feasible != feasible {
				t.Errorf("%s at %s: state %v, the call is feasible: %v", name, h.When(i), c.State, feasible)
			}
			if c.State == hours.Dark {
				dark++
				if !strings.Contains(c.Why, "short") || r.Legs[0].ShortStops <= setting.ExposureSlack {
					t.Errorf("%s at %s: %q, %.2f stops short", name, h.When(i), c.Why, r.Legs[0].ShortStops)
				}
			} else {
				lastGood = c.TakeOff
			}
		}
		t.Logf("%s: good until %s, %d dark hours", name, lastGood.Format("15:04"), dark)
		if name == "video" && dark == 0 {
			t.Error("a film at night is exposed")
		}
	}
}
