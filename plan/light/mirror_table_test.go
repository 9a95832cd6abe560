package light

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/water"
	"example.org/skywedge/sun"
)

// BenchmarkMirrorTable makes the table of what rough water mirrors, all around and down to the nadir.
func BenchmarkMirrorTable(b *testing.B) {
	s := plantest.Flight(9, 0, plantest.Push(0, 5, 40))
	s.Light.WindMS = 4
	for b.Loop() {
		ForgetMirrors()
		t := MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, 24}, 40)
		for down := 0.05; down < 90; down += min(1, down) {
			for az := 0.0; az <= 180; az += 4 {
				t.At(sun.Direction(az, -down))
			}
		}
	}
}

// shows is what a table shows in many directions, to the bit.
func shows(t *water.Table) (light [400]water.Stokes) {
	for i := range light {
		light[i] = t.At(sun.Direction(float64(i*47%360), -89*float64(i+1)/float64(len(light))))
	}
	return light
}

// A table that is kept is the one that would be made anew, to the last bit; another weather, wind, height or ground has its own.
func TestKeptTablesAreMadeAnew(t *testing.T) {
	ForgetMirrors()
	s := plantest.Flight(9, 0, plantest.Push(0, 5, 40))
	k := MirrorKey{OpenWater, shot.Water, 24}
	first := MirrorTableFor(s, k, 40)
	same := *s
	same.Name, same.TakeOff = "another", s.TakeOff.AddDate(0, 1, 0)
	if MirrorTableFor(&same, k, 40) != first {
		t.Error("the same air is worked out twice")
	}
	windy, hazy := *s, *s
	windy.Light.WindMS++
	hazy.Light.VisibilityKm /= 2
	for what, other := range map[string]*water.Table{
		"the wind": MirrorTableFor(&windy, k, 40), "the haze": MirrorTableFor(&hazy, k, 40), "the height": MirrorTableFor(s, k, 80),
		"the sun": MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, 25}, 40), "what mirrors": MirrorTableFor(s, MirrorKey{WetGround, shot.Rock, 24}, 40),
	} {
		if other == first || shows(other) == shows(first) {
			t.Errorf("%s makes no difference", what)
		}
	}
	ForgetMirrors()
	if again := MirrorTableFor(s, k, 40); again == first || shows(again) != shows(first) {
		t.Error("made anew it is another")
	}
	for n := range 2 * mostTables {
		windy.Light.WindMS = float64(n) / 50
		MirrorTableFor(&windy, MirrorKey{WetGround, shot.Rock, 24}, 40)
	}
	if n := tables.Len(); n > mostTables {
		t.Errorf("%d tables are kept", n)
	}
}

// Between two tables lies what each of them has, by its part: to 1e-12 of the light, for any line of sight and sun.
func TestBetweenTablesIsTheirMean(t *testing.T) {
	s := plantest.Flight(9, 0, plantest.Push(0, 5, 40))
	r := rand.New(rand.NewPCG(2, 7))
	var m Mirror
	for range 400 {
		p := sun.Position{AltitudeDeg: -3 + 93*r.Float64(), AzimuthDeg: 360 * r.Float64()}
		look := MirrorFor(&m, s, OpenWater, shot.Water, p, 40)
		alt := max(0, p.AltitudeDeg) / MirrorStepDeg
		below := int(alt)
		part := alt - float64(below)
		low := MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, below * MirrorStepDeg}, 40).Turned(p.AzimuthDeg)
		high := MirrorTableFor(s, MirrorKey{OpenWater, shot.Water, (below + 1) * MirrorStepDeg}, 40).Turned(p.AzimuthDeg)
		for range 20 {
			d := sun.Direction(360*r.Float64(), -90*r.Float64())
			got, want := look(d), low.At(d).Times(1-part).Plus(high.At(d).Times(part))
			if e := max(math.Abs(got.I-want.I), math.Abs(got.Q-want.Q), math.Abs(got.U-want.U)); e > 1e-12*max(1, want.I) {
				t.Fatalf("sun at %.1f, part %.2f: %v, want %v", p.AltitudeDeg, part, got, want)
			}
		}
	}
}
