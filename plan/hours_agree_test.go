package plan

import (
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/skywedge/kit"
)

// exampleShots reads the cards of the demo trip with its bag.
func exampleShots(t testing.TB) (shots []*Shot, bag *kit.Bag) {
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
		card, faults := ReadCard(f, data)
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

func TestHoursAgreeWithSolve(t *testing.T) {
	shots, bag := exampleShots(t)
	shots = append(shots, eightLegs())
	var worst, sum [HourMeasures]float64
	n, same, cells := 0, 0, 0
	for _, s := range shots {
		k := &hourJudge{s, bag, newLenses()}
		for h := 5; h < 22; h++ {
			at := time.Date(2026, s.TakeOff.Month(), s.TakeOff.Day(), h, 20, 0, 0, s.Zone)
			hour := k.hour(at)
			z, err := s.At(at)
			if err != nil || hour.State != HourGood {
				continue
			}
			r := Solve(z, bag, Options{SkipSureness: true, Fine: false})
			cells++
			if len(r.Flights) > 1 {
				continue
			}
			n++
			if r.Call.Filter != hour.Filter {
				t.Logf("%s %d h: %s, %s", s.Name, h, hour.Filter, r.Call.Filter)
				continue
			}
			same++
			want := reportValues(r)
			for m := range HourMeasures {
				if math.IsNaN(want[m]) != math.IsNaN(hour.Values[m]) {
					t.Errorf("%s %d h %v: %v, want %v", s.Name, h, m, hour.Values[m], want[m])
					continue
				}
				if math.IsInf(want[m], 1) && math.IsInf(hour.Values[m], 1) || math.IsNaN(want[m]) {
					continue
				}
				d := math.Abs(hour.Values[m] - want[m])
				worst[m] = max(worst[m], d)
				sum[m] += d
			}
		}
	}
	t.Logf("%d cells %d single %d same", cells, n, same)
	for m := range HourMeasures {
		t.Logf("%v worst %.4f mean %.4f", m, worst[m], sum[m]/float64(same))
	}
}

// reportValues takes the measures of an hour from a report.
func reportValues(r *Report) (v [HourMeasures]float64) {
	c := r.Candidates[0]
	var sky, glare, haze mean
	light := math.Inf(1)
	for i, l := range r.Legs {
		light = min(light, l.LandEV.Min)
		var e mean
		for k, m := range r.Measures {
			if r.Path[k].Leg == i && m.SkyOK {
				e.add(-m.Effect)
			}
		}
		if e.n > 0 {
			sky.add(e.value())
		}
		if l.GlareCut.OK {
			glare.add((l.GlareCut.Min + l.GlareCut.Max) / 2)
		}
		if l.HazeCut.OK {
			haze.add((l.HazeCut.Min + l.HazeCut.Max) / 2)
		}
	}
	v[HourScore], v[HourSky], v[HourGlare], v[HourHaze] = c.Score, sky.value(), glare.value(), haze.value()
	v[HourUnevenness] = math.NaN()
	if c.Unevenness.OK {
		v[HourUnevenness] = c.Unevenness.Max
	}
	v[HourLight], v[HourHeadroom], v[HourLeft] = light, c.Headroom.Min, r.LightLeftMin
	v[HourSun] = r.Path[0].Sun[0].AltitudeDeg
	return v
}
