package caution

import (
	"fmt"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// Thresholds of the wind (ours).
const (
	homeM        = 100 // from take-off, beyond which the wind on the way home matters
	windHomeMS   = 5
	windStrongMS = 10
	windHighM    = 80 // above the ground, where even a fair wind is strong
)

func windCaution(s *shot.Shot, path []shot.Moment) caution {
	var high float64
	for _, m := range path {
		high = max(high, m.AboveM)
	}
	if s.Light.WindMS < windStrongMS && (s.Light.WindMS < windHomeMS || high < windHighM) {
		return caution{}
	}
	wind := field.Figure(s.Light.WindMS, 3)
	return caution{
		text:  fmt.Sprintf("Wind of %s m/s on the ground is stronger aloft and in gusts: see what your aircraft can stand.", wind),
		short: "wind " + wind + " m/s, more aloft",
	}
}

// homeCaution looks at the farthest point: whether the way home is against the wind.
func homeCaution(s *shot.Shot, path []shot.Moment) caution {
	var far r3.Vec
	for _, m := range path {
		if p := (r3.Vec{X: m.Pos.X, Y: m.Pos.Y}); r3.Norm(p) > r3.Norm(far) {
			far = p
		}
	}
	downwind := -r3.Dot(far, shot.Toward(s.Light.WindFromDeg))
	if s.Light.WindMS < windHomeMS || r3.Norm(far) < homeM || downwind < r3.Norm(far)/2 {
		return caution{}
	}
	return caution{
		text: fmt.Sprintf("The flight goes out downwind, and the way home is against %s m/s from the %s: out upwind and home downwind is safer. Turn back early.",
			field.Figure(s.Light.WindMS, 3), shot.Compass(s.Light.WindFromDeg)),
		short: "home against the wind: turn back early",
	}
}
