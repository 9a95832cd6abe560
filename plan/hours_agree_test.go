package plan

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// exampleShots reads the cards of the demo trip with its bag.
func exampleShots(t testing.TB) (shots []*shot.Shot, bag *kit.Bag) {
	data, err := os.ReadFile("../examples/bag.yaml")
	if err != nil {
		t.Fatal(err)
	}
	bag, faults := kit.ReadBag("bag.yaml", data)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	files, _ := filepath.Glob("../examples/[0-9]*.yaml")
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		card, faults := shot.ReadCard(f, data)
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		s, faults := card.Shot(bag, time.Time{})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		shots = append(shots, s)
	}
	return shots, bag
}

// agreement is how far the quick judgement of an hour may be from the full one, in the unit of each
// measure: at worst, and in the mean. The sky's worst is where the camera turns through the sun's side in
// a leg, which the quick one sees at fewer moments.
var agreement = [hours.Measures]struct{ worst, mean float64 }{
	hours.Score: {0.2, 0.015}, hours.Sky: {0.15, 0.015}, hours.Strength: {0.15, 0.03}, hours.Unevenness: {0.4, 0.03}, hours.Glare: {0.11, 0.015}, hours.Haze: {0.01, 0.001},
	hours.Light: {0.05, 0.001}, hours.Headroom: {0.05, 0.001}, hours.Left: {2, 0.1}, hours.Sun: {1e-9, 1e-9},
}

// agree holds an hour against a report and gives the differences.
func agree(t *testing.T, name string, hour *hours.Hour, r *Report) (d [hours.Measures]float64) {
	t.Helper()
	want := reportValues(r)
	for m := range hours.Measures {
		v := hour.Values[m]
		switch {
		case m == hours.Left && math.IsInf(want[m], 1):
			// A report says no number while the light grows; an hour says when it ends all the same.
			if !math.IsInf(v, 1) && v < 60 {
				t.Errorf("%s: %v minutes left while the light grows", name, v)
			}
		case math.IsNaN(want[m]) != math.IsNaN(v), math.IsInf(want[m], 1) != math.IsInf(v, 1):
			t.Errorf("%s: %v: %v, want %v", name, m, v, want[m])
		case !math.IsNaN(v) && !math.IsInf(v, 0):
			d[m] = math.Abs(v - want[m])
		}
		if d[m] > agreement[m].worst {
			t.Errorf("%s: %v: %v, want %v", name, m, v, want[m])
		}
	}
	return d
}

// The quick judgement of an hour is near the full one of the same take-off: every hour of the demo's cards
// and of a flight of eight legs. Where one filter does as well as another, either may win; hours that the
// full one splits into several flights are not compared.
func TestHoursAgreeWithSolve(t *testing.T) {
	shots, bag := exampleShots(t)
	shots = append(shots, eightLegs())
	var worst, sum [hours.Measures]float64
	n, same := 0, 0
	for _, s := range shots {
		k := newHourEvaluator(s, bag)
		for h := 5; h < 22; h++ {
			at := time.Date(2026, s.TakeOff.Month(), s.TakeOff.Day(), h, 20, 0, 0, s.Zone)
			hour := k.hour(at)
			z, err := s.At(at)
			if err != nil || hour.State != hours.Good {
				continue
			}
			r := Solve(z, bag, Options{SkipSureness: true})
			if len(r.Flights) > 1 {
				continue
			}
			n++
			if r.Call.Filter != hour.Filter {
				if d := hour.Values[hours.Score] - r.Candidates[0].Score; math.Abs(d) > words.CloseStops {
					t.Errorf("%s, %d h: %s, %s of the full one, %.2f apart", s.Name, h, hour.Filter, r.Call.Filter, d)
				}
				continue
			}
			same++
			for m, d := range agree(t, fmt.Sprintf("%s, %d h", s.Name, h), &hour, r) {
				worst[m], sum[m] = max(worst[m], d), sum[m]+d
			}
		}
	}
	if n < 90 || same*100 < n*95 {
		t.Errorf("the same filter in %d of %d hours", same, n)
	}
	t.Logf("the same filter in %d of %d hours", same, n)
	for m := range hours.Measures {
		mean := sum[m] / float64(same)
		t.Logf("%-8v worst %.4f, mean %.4f", m, worst[m], mean)
		if mean > agreement[m].mean {
			t.Errorf("%v: %.4f off in the mean", m, mean)
		}
	}
}

// The cell of a card's own take-off is what its report says.
func TestOwnHourIsTheReport(t *testing.T) {
	shots, bag := exampleShots(t)
	for _, s := range shots {
		h, err := HoursOf(context.Background(), s, bag, hours.OverDay, HoursOptions{})
		if err != nil {
			t.Fatal(err)
		}
		own := &h.Cells[h.Own]
		if !own.TakeOff.Equal(s.TakeOff) {
			t.Errorf("%s: own cell %v, take-off %v", s.Name, own.TakeOff, s.TakeOff)
		}
		r := Solve(s, bag, Options{SkipSureness: true})
		if len(r.Flights) > 1 {
			continue
		}
		if own.Filter != r.Call.Filter {
			t.Errorf("%s: %s, the report says %s", s.Name, own.Filter, r.Call.Filter)
			continue
		}
		agree(t, s.Name, own, r)
	}
}

// reportValues takes the measures of an hour from a report.
func reportValues(r *Report) (v [hours.Measures]float64) {
	c := r.Candidates[0]
	var sky, strength, glare, haze mean
	light := math.Inf(1)
	for i, l := range r.Legs {
		light = min(light, l.LandEV.Min)
		var e, g mean
		for k, m := range r.Measures {
			if r.Path[k].Leg == i && m.SkyOK {
				e.add(-m.Effect)
				g.add(m.Strength)
			}
		}
		if e.n > 0 {
			sky.add(e.value())
			strength.add(g.value())
		}
		if l.GlareCut.OK {
			glare.add((l.GlareCut.Min + l.GlareCut.Max) / 2)
		}
		if l.HazeCut.OK {
			haze.add((l.HazeCut.Min + l.HazeCut.Max) / 2)
		}
	}
	v[hours.Score], v[hours.Sky], v[hours.Glare], v[hours.Haze] = c.Score, sky.value(), glare.value(), haze.value()
	v[hours.Strength] = strength.value()
	v[hours.Unevenness] = math.NaN()
	if c.Unevenness.OK {
		v[hours.Unevenness] = c.Unevenness.Max
	}
	v[hours.Light], v[hours.Headroom], v[hours.Left] = light, c.Headroom.Min, r.LightLeftMin
	v[hours.Sun] = r.Path[0].Sun[0].AltitudeDeg
	return v
}
