package plan

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

// A frame that is read for itself, ray by ray, asks for what the leg's own reading of that moment does, which looks up
// tables of whole degrees of the sun: to a tenth of a stop, on every leg of a flight over dark and bright ground.
func TestASingleFrameIsReadLikeTheLeg(t *testing.T) {
	var legs []shot.Leg
	for _, g := range []shot.Ground{shot.Snow, shot.Water, shot.Forest} {
		l := plantest.Push(280, 5, 30)
		l.Ground, l.Pitch = g, [2]float64{-15, -15}
		legs = append(legs, l)
	}
	for _, hour := range []int{12, 18} {
		s := plantest.Flight(hour, 15, legs...)
		y := newAnalysis(s, shot.Path(s, 8), turnKeys(roughTurnDeg, roughMost), newShared(30))
		for i, l := range y.legs {
			r := y.meterOf(l, mounting.Way{})
			at := &y.path[r.darkAt]
			if got := y.readAt(mounting.Way{}, l, at, at.Time[r.darkTake]); math.Abs(got-r.dark) > .1 {
				t.Errorf("at %d h, leg %d: EV %.3f, the leg's own reading is %.3f", hour, i+1, got, r.dark)
			}
		}
	}
}

// A sun that rises has no end of the light before it, unless it goes behind a peak where the filter leaves too little:
// then that is the end, for a call as for the hours. The moment is the almanac's: the sun's azimuth, minute by minute.
func TestThePeakOfAMorningEndsTheLight(t *testing.T) {
	t.Parallel()
	peak := func(deg float64) [][2]float64 { return [][2]float64{{124.9, 0}, {125, deg}, {150, deg}, {150.1, 0}} }
	for _, c := range []struct {
		name    string
		skyline [][2]float64
		spare   float64 // stops to spare in the sun
		ends    bool
	}{
		{"an open horizon", nil, 0.3, false},
		{"a peak", peak(60), 0.3, true},
		{"a peak lower than the sun", peak(10), 0.3, false},
		{"a peak, and light enough behind it", peak(60), 5, false},
	} {
		s := plantest.Flight(7, 30, plantest.Push(300, 4, 30))
		s.Skyline = c.skyline
		y := newAnalysis(s, shot.Path(s, 2), everyMoment, newShared(30))
		bare := y.evaluate(mounting.Way{}, &s.Settings.Weights, 0)
		dense := kit.Filter{Name: "dense", Kind: kit.Density, Stops: bare.legs[0].exposure.headroom - c.spare}
		j := y.evaluate(mounting.Way{Filter: &dense}, &s.Settings.Weights, 0)

		want := math.Inf(1)
		if c.ends {
			want = 0
			for sun.At(s.TakeOff.Add(time.Duration(want)*time.Minute), s.LatDeg, s.LonDeg).AzimuthDeg < 125 {
				want++
			}
		}
		// The edge of the ridge is a tenth of a degree wide, and the minute is a whole one.
		if got := y.lightLeft(j); got != want && !(math.Abs(got-want) < 1.5) {
			t.Errorf("%s: the call's light ends after %.1f min, want %.1f", c.name, got, want)
		}
		switch got := y.hoursLeft(j); {
		case c.ends && !(math.Abs(got-want) < 1.5):
			t.Errorf("%s: the hour's light ends after %.1f min, want %.1f", c.name, got, want)
		case !c.ends && got < 8*60:
			t.Errorf("%s: the hour's light ends after %.1f min, want the evening", c.name, got)
		}
	}
}

// With the sun in and out of cloud the light lasts as long as it does under the cloud, not in the sun between.
func TestLightLeftIsThatUnderTheCloud(t *testing.T) {
	bag := *kit.Generic()
	bag.Filters = []kit.Filter{{Name: "dark", Kind: kit.Density, Stops: 7}} // it runs out while the sun is still up
	left := func(sunny sun.Shine) float64 {
		l := plantest.Push(70, 8, 20) // the sun lights what faces the camera
		l.Aim = shot.AimKeep
		s := plantest.Flight(14, 0, l)
		s.Filter, s.Light.CloudPct, s.Light.Sun = "dark", 40, sunny
		return Solve(s, &bag, Options{SkipSureness: true}).LightLeftMin
	}
	either, shining, hidden := left(sun.ShineAuto), left(sun.Shining), left(sun.Hidden)
	if !(either < shining-10 && either >= hidden) {
		t.Errorf("light for %.0f min; in the sun alone %.0f, hidden %.0f", either, shining, hidden)
	}
}
