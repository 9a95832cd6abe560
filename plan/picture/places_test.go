package picture

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

func placesOf(s *shot.Shot) (Places, shot.View, shot.Moment) {
	m := s.MomentAt(0)
	v := shot.NewView(s.Camera, s.Legs[0].Mode, s.Legs[0].Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
	return PlacesOf(s, &m, v, light.SceneAt(s, m, 0)), v, m
}

// A range lies where a line of sight to its side meets the ground at that distance: height over the tangent of the
// depression, plane geometry.
func TestRangesLieOnTheGround(t *testing.T) {
	seen := 0
	for _, height := range []float64{12, 40, 110} {
		for _, pitch := range []float64{0, -6, -20, -40} {
			p, v, _ := placesOf(plantest.Flight(16, 40, plantest.StillOf(330, pitch, height)))
			last := 0.0
			for _, r := range p.Ranges {
				d := v.Ray(-RangeX, r.Y)
				away := height * math.Hypot(d.X, d.Y) / -d.Z
				if math.Abs(away-r.M) > 0.02*r.M {
					t.Errorf("%g m up, pitch %g: %g m is drawn at %g m", height, pitch, r.M, away)
				}
				if r.M <= last {
					t.Errorf("%g m after %g m", r.M, last)
				}
				last = r.M
				seen++
			}
			if p.AcrossM != 0 {
				t.Errorf("pitch %g: %g m across as well", pitch, p.AcrossM)
			}
		}
	}
	if seen < 20 {
		t.Errorf("only %d ranges in twelve frames", seen)
	}
}

// Straight down the frame's width is that of the field of view at the height, and no range is told.
func TestStraightDownTellsTheWidth(t *testing.T) {
	p, v, m := placesOf(plantest.Flight(16, 40, plantest.StillOf(330, -90, 40)))
	if len(p.Ranges) != 0 || math.Abs(p.AcrossM-2*40*v.HalfWidth) > 1e-6 {
		t.Errorf("%d ranges, %g m across at %g m", len(p.Ranges), p.AcrossM, m.AboveM)
	}
}

// The subject's bar stands on the ground at its distance, ends at its height, and looks as tall as the angle says.
func TestTheSubjectHasItsSizeAndPlace(t *testing.T) {
	for _, c := range []struct {
		heightM float64
		tallM   float64
		taken   bool
	}{{0, 2, true}, {1, 2, true}, {25, 25, false}} {
		leg := plantest.Push(330, 4, 20)
		leg.Target = &shot.Target{DistanceM: 100, HeightM: c.heightM}
		p, v, m := placesOf(plantest.Flight(16, 40, leg))
		b := p.Subject
		if !b.In || math.Abs(b.TallM-c.tallM) > 1e-9 || b.Taken != c.taken || math.Abs(b.AwayM-100) > 1e-6 {
			t.Errorf("%g m: %+v", c.heightM, b)
			continue
		}
		foot, top := v.Ray(b.Foot.X, b.Foot.Y), v.Ray(b.Top.X, b.Top.Y)
		got := math.Acos(r3.Dot(foot, top))
		want := math.Atan2(m.AboveM, 100) - math.Atan2(m.AboveM-c.tallM, 100)
		if math.Abs(got-want) > 1e-6 || math.Abs(b.Foot.X) > 1e-9 || b.Top.Y <= b.Foot.Y {
			t.Errorf("%g m: looks %g rad tall, want %g; %+v", c.heightM, got, want, b)
		}
	}
	if p, _, _ := placesOf(plantest.Flight(16, 40, plantest.Push(330, 4, 20))); p.Subject != (Bar{}) {
		t.Errorf("a leg without a subject has %+v", p.Subject)
	}
	leg := plantest.StillOf(330, 20, 20)
	leg.Target = &shot.Target{DistanceM: 30}
	if p, _, _ := placesOf(plantest.Flight(16, 40, leg)); p.Subject.In || p.Subject.TallM != 2 {
		t.Errorf("looking over it: %+v", p.Subject)
	}
}

// The skyline hides sky and sun: the picture has no sky below it, and no sun is marked there.
func TestTheRidgeHidesTheSun(t *testing.T) {
	s := plantest.Flight(17, 40, plantest.StillOf(0, 5, 40))
	m := s.MomentAt(0)
	s.Legs[0].Heading.From = m.Sun[0].AzimuthDeg
	draw := func() *Picture {
		m := s.MomentAt(0)
		v := shot.NewView(s.Camera, s.Legs[0].Mode, true, m.HeadingDeg, m.PitchDeg)
		sc := light.SceneAt(s, m, 0)
		p := Draw(sc, v, nil, 60, 40)
		p.Places = PlacesOf(s, &m, v, sc)
		return p
	}
	sky := func(p *Picture) (n int) {
		for _, up := range p.Sky {
			if up {
				n++
			}
		}
		return n
	}
	open := draw()
	if !open.SunIn || open.Behind {
		t.Fatalf("the sun is not in the open frame: %+v", open.Places)
	}
	az, alt := m.Sun[0].AzimuthDeg, m.Sun[0].AltitudeDeg+3
	s.Skyline = [][2]float64{{az - 40, alt}, {az + 40, alt}}
	hidden := draw()
	if hidden.SunIn || !hidden.Behind {
		t.Errorf("behind a ridge the sun is marked: %v, behind %v", hidden.SunIn, hidden.Behind)
	}
	for i := range open.W { // three degrees over the sun, and the view's own projection
		_, ok := open.Crest(i)
		row, ridge := hidden.Crest(i)
		if ok || !ridge || hidden.Sky[row*hidden.W+i] || row > 0 && !hidden.Sky[(row-1)*hidden.W+i] {
			t.Fatalf("column %d: a crest without a ridge %v, with one %v in row %d", i, ok, ridge, row)
		}
	}
	if a, b := sky(open), sky(hidden); b >= a-a/10 {
		t.Errorf("%d pixels of sky with a ridge, %d without", b, a)
	}
}

// The half that says more is the one where the filter's loss changes.
func TestTellingHalf(t *testing.T) {
	p := &Picture{W: 8, H: 2, Loss: make([]float64, 16)}
	if p.TellingHalf() != LeftHalf {
		t.Error("an even filter: not the left half")
	}
	p.Loss[7], p.Loss[15] = 3, 2
	if p.TellingHalf() != RightHalf {
		t.Error("the right half changes more")
	}
	p.Loss[0], p.Loss[8] = 3, 3
	if p.TellingHalf() != LeftHalf {
		t.Error("the left half changes more")
	}
}
