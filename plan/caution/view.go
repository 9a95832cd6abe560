package caution

import (
	"fmt"
	"math"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"gonum.org/v1/gonum/spatial/r3"
)

const (
	propellerDeg = 10  // pitch above which propellers may come into a wide picture (common practice, no source)
	downDeg      = -60 // pitch from which a view counts as straight down (ours)
)

func gimbalCaution(s *shot.Shot, path []shot.Moment) caution {
	g := s.Camera.GimbalDeg
	if g[0] >= g[1] {
		return caution{}
	}
	legs := legsWhere(path, func(m shot.Moment) bool { return m.PitchDeg < g[0]-1e-6 || m.PitchDeg > g[1]+1e-6 })
	if legs == "" {
		return caution{}
	}
	return caution{
		text:  fmt.Sprintf("%s %s for a pitch outside the gimbal's %s° to %s°.", words.Sentence(legs), verb(legs, "asks", "ask"), field.Figure(g[0], 3), signed(g[1])),
		short: legs + " beyond the gimbal",
	}
}

func signed(x float64) string {
	if x > 0 {
		return "+" + field.Figure(x, 3)
	}
	return field.Figure(x, 3)
}

// targetCaution names the legs whose camera cannot look at the subject: the gimbal ends before, or
// the aircraft has flown past it.
func targetCaution(s *shot.Shot, path []shot.Moment) caution {
	legs := legsWhere(path, func(m shot.Moment) bool {
		l := &s.Legs[m.Leg]
		if !l.PitchAuto || l.Target == nil {
			return false
		}
		to := r3.Sub(m.Target, m.Pos)
		ahead := r3.Dot(to, shot.Toward(m.HeadingDeg))
		level := math.Hypot(ahead, to.Z)
		pitch := m.PitchDeg * math.Pi / 180
		// The part of the way to the subject that is square to where the camera looks.
		off := math.Abs(to.Z*math.Cos(pitch) - ahead*math.Sin(pitch))
		return level > 0 && (off > 0.02*level || ahead*math.Cos(pitch)+to.Z*math.Sin(pitch) < 0)
	})
	if legs == "" {
		return caution{}
	}
	return caution{
		text:  fmt.Sprintf("%s %s past where the camera can look at the subject.", words.Sentence(legs), verb(legs, "goes", "go")),
		short: legs + " past the subject",
	}
}

func propellerCaution(_ *shot.Shot, path []shot.Moment) caution {
	legs := legsWhere(path, func(m shot.Moment) bool { return m.PitchDeg > propellerDeg })
	if legs == "" {
		return caution{}
	}
	return caution{
		text:  fmt.Sprintf("%s %s up by more than %d°: propellers may come into the picture.", words.Sentence(legs), verb(legs, "looks", "look"), propellerDeg),
		short: legs + ": propellers in the picture",
	}
}

func blindCaution(s *shot.Shot, path []shot.Moment) caution {
	legs := legsWhere(path, func(m shot.Moment) bool { return s.Legs[m.Leg].Move.Blind() })
	if legs == "" {
		return caution{}
	}
	return caution{
		text:  fmt.Sprintf("%s %s where the camera does not look: see that the way is clear.", words.Sentence(legs), verb(legs, "flies", "fly")),
		short: "look where " + legs + verb(legs, " flies", " fly"),
	}
}

// downCaution speaks of a view straight down under a high sun: over water of the glitter, where level water
// mirrors the sun into the picture, and of the aircraft's own shadow, which falls opposite the sun.
func downCaution(s *shot.Shot, path []shot.Moment) caution {
	seen := func(up float64, of func(l *shot.Leg) bool) string {
		return legsWhere(path, func(m shot.Moment) bool {
			l := &s.Legs[m.Leg]
			if m.PitchDeg > downDeg || !of(l) || !light.AirAt(s, 0, l.Ground).Cloud.Shines() {
				return false
			}
			v := shot.NewView(s.Camera, l.Mode, l.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
			for _, p := range m.Sun {
				if p.AltitudeDeg <= 0 || s.SunBehindSkyline(p) {
					continue
				}
				d := p.Direction()
				if _, _, in := v.Frames(r3.Vec{X: up * d.X, Y: up * d.Y, Z: -d.Z}); in {
					return true
				}
			}
			return false
		})
	}
	glitter := seen(1, func(l *shot.Leg) bool { return l.Ground == shot.Water })
	shadow := seen(-1, func(*shot.Leg) bool { return true })
	const mend = ": turn the aircraft, or come back under a lower sun."
	switch {
	case glitter == "" && shadow == "":
		return caution{}
	case glitter == shadow:
		return caution{
			text:  "Straight down on " + glitter + ", the disc of the sun's glitter and the aircraft's own shadow are in the picture" + mend,
			short: glitter + ": glitter and own shadow",
		}
	case shadow == "":
		return caution{text: "Straight down on " + glitter + ", the disc of the sun's glitter is in the picture" + mend, short: glitter + ": glitter"}
	case glitter == "":
		return caution{text: "Straight down on " + shadow + ", the aircraft's own shadow is in the picture" + mend, short: shadow + ": own shadow"}
	}
	return caution{
		text: "Straight down, the disc of the sun's glitter is in the picture on " + glitter +
			", and the aircraft's own shadow on " + shadow + mend,
		short: glitter + ": glitter, " + shadow + ": own shadow",
	}
}

func sunCaution(s *shot.Shot, path []shot.Moment) caution {
	up := false
	legs := legsWhere(path, func(m shot.Moment) bool {
		for _, p := range m.Sun {
			if p.AltitudeDeg < -0.3 { // the disc is half a degree across
				continue
			}
			up = true
			l := &s.Legs[m.Leg]
			v := shot.NewView(s.Camera, l.Mode, l.Purpose != shot.Video, m.HeadingDeg, m.PitchDeg)
			if _, _, in := v.Frames(p.Direction()); in {
				return true
			}
		}
		return false
	})
	switch {
	case legs != "":
		return caution{
			text:  fmt.Sprintf("The sun stands in the picture on %s. Never look at the sun through optics.", legs),
			short: "never look at the sun",
		}
	case up:
		return caution{text: "Never look at the sun through optics."}
	}
	return caution{}
}
