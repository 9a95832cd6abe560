package light

import (
	"math"
	"testing"

	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
)

func TestAirThinsWithHeight(t *testing.T) {
	s := plantest.Shot(shot.Leg{Move: shot.Hold, Seconds: 10, Height: plantest.Level(40)})
	low, high := AirAt(s, 0, shot.Water), AirAt(s, 1200, shot.Snow)
	if r := high.AOD / low.AOD; math.Abs(r-math.Exp(-1)) > 1e-9 {
		t.Errorf("1200 m up the haze is %.4f of that below", r)
	}
	if low.Albedo != 0.06 || high.Albedo != 0.8 || low.Cloud.Cover != 0.1 {
		t.Errorf("air %+v", low)
	}
	if low.PressureHPa != sun.PressureAt(4) || high.PressureHPa >= low.PressureHPa {
		t.Errorf("pressure %v and %v", low.PressureHPa, high.PressureHPa)
	}
	if GroundAlbedo("lava") != 0.15 {
		t.Error("an unknown ground has no albedo")
	}
}
