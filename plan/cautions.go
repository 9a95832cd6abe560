package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// What the cautions are worded against: 14 CFR 107.51 (400 ft above the ground) and 107.29 (civil
// twilight and night), Commission Implementing Regulation (EU) 2019/947, UAS.OPEN.010 (120 m from
// the closest point of the surface); both ask for unaided sight of the aircraft. The program plans
// pictures and knows no place's rules: a caution names a fact and sends the pilot to the rules.
const defaultHeightCautionM = 120

// Thresholds of the other cautions (ours).
const (
	farM         = 500 // over the ground from take-off, where a small drone is hard to see
	homeM        = 100 // from take-off, beyond which the wind on the way home matters
	windHomeMS   = 5
	windStrongMS = 10
	windHighM    = 80 // above the ground, where even a fair wind is strong
	propellerDeg = 10 // pitch above which propellers may come into a wide picture (common practice, no source)
)

const checkRules = "Check the rules, airspace and permissions for your place and date; this program does not know them."

// Cautions says what the pilot should mind on this flight, the weightiest first. The path is the
// shot's own; heights and pitches are judged at its moments. Cautions never stop a plan.
func Cautions(s *shot.Shot, path []shot.Moment) []string {
	var out []string
	for _, c := range []func(*shot.Shot, []shot.Moment) string{
		heightCaution, darkCaution, sightCaution, batteryCaution, coldCaution, windCaution, homeCaution,
		gimbalCaution, targetCaution, propellerCaution, blindCaution, sunCaution,
	} {
		if text := c(s, path); text != "" {
			out = append(out, text)
		}
	}
	return append(out, powerOff)
}

// powerOff goes with every flight (common practice, no source).
const powerOff = "Power off before changing filters."

// legsWhere names the legs that have a moment for which a test holds: "leg 2", "legs 1 and 3".
func legsWhere(path []shot.Moment, test func(m shot.Moment) bool) string {
	var numbers []string
	last := -1
	for _, m := range path {
		if m.Leg != last && test(m) {
			numbers = append(numbers, strconv.Itoa(m.Leg+1))
			last = m.Leg
		}
	}
	return words.Legs(numbers)
}

// sentence begins a text with a capital.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// verb picks the form that fits "leg 1" or "legs 1 and 2".
func verb(legs, one, many string) string {
	if strings.HasPrefix(legs, "legs") {
		return many
	}
	return one
}

func heightCaution(s *shot.Shot, path []shot.Moment) string {
	limit := s.Settings.HeightCautionM
	if limit <= 0 {
		limit = defaultHeightCautionM
	}
	highest := math.Inf(-1)
	for _, m := range path {
		highest = math.Max(highest, m.AboveM)
	}
	if highest <= limit+1e-9 {
		return ""
	}
	that := "that many countries allow"
	if limit != defaultHeightCautionM {
		that = "of your settings"
	}
	// Rounded up, so that a height just above never reads as the limit itself.
	return fmt.Sprintf("Planned height %s m is above the %s m %s. %s", field.Figure(math.Ceil(highest*10)/10, 3), field.Figure(limit, 3), that, checkRules)
}

// darkCaution counts the whole flight, from take-off to landing.
func darkCaution(s *shot.Shot, path []shot.Moment) string {
	times := s.Times()
	start, end := sun.At(times.TakeOff, s.LatDeg, s.LonDeg), sun.At(times.Landing, s.LatDeg, s.LonDeg)
	low := math.Min(start.GeometricDeg, end.GeometricDeg)
	for _, m := range path {
		low = math.Min(low, math.Min(m.Sun[0].GeometricDeg, m.Sun[1].GeometricDeg))
	}
	const set, civil = -0.8333, -6
	when := "in twilight"
	switch {
	case low >= set:
		return ""
	case low < civil:
		when = "at night"
	}
	return fmt.Sprintf("Part of this flight is %s: many places ask for lights on the aircraft or a permission. %s", when, checkRules)
}

func sightCaution(_ *shot.Shot, path []shot.Moment) string {
	var farthest float64
	for _, m := range path {
		farthest = math.Max(farthest, math.Hypot(m.Pos.X, m.Pos.Y))
	}
	if farthest <= farM {
		return ""
	}
	legs := legsWhere(path, func(m shot.Moment) bool { return math.Hypot(m.Pos.X, m.Pos.Y) > farM })
	return fmt.Sprintf("The flight goes %s m away (%s): keep the aircraft in unaided sight.", field.Figure(math.Round(farthest/10)*10, 3), legs)
}

func batteryCaution(s *shot.Shot, _ []shot.Moment) string {
	t := s.Times()
	reserve := fmt.Sprintf("Turn for home while %s %% of the battery is left.", field.Figure(s.Settings.ReservePct, 3))
	if s.Settings.ReservePct <= 0 {
		reserve = "Keep a reserve of battery for the way home."
	}
	switch {
	case t.BatteryMin <= 0 || t.Batteries == 1:
		return reserve
	case t.Batteries == 0:
		return fmt.Sprintf("Out and home alone takes %s minutes, and a battery lasts %s with its reserve. %s",
			minutes(s.TransitS/60), minutes(t.BatteryMin), reserve)
	}
	return fmt.Sprintf("The flight takes %s minutes with all takes, and a battery lasts %s with its reserve: take %d batteries, or fewer takes. %s",
		minutes(t.Minutes), minutes(t.BatteryMin), t.Batteries, reserve)
}

func minutes(m float64) string { return field.Figure(math.Round(m*10)/10, 3) }

func coldCaution(s *shot.Shot, _ []shot.Moment) string {
	if s.Light.AirC >= shot.ColdBelowC {
		return ""
	}
	return fmt.Sprintf("At %s °C a battery lasts about %.0f %% less: warm it before take-off, and watch it in the air.",
		field.Figure(s.Light.AirC, 3), 100*(1-shot.ColdShare(s.Light.AirC)))
}

func windCaution(s *shot.Shot, path []shot.Moment) string {
	var high float64
	for _, m := range path {
		high = max(high, m.AboveM)
	}
	if s.Light.WindMS < windStrongMS && (s.Light.WindMS < windHomeMS || high < windHighM) {
		return ""
	}
	return fmt.Sprintf("Wind of %s m/s on the ground is stronger aloft and in gusts: see what your aircraft can stand.", field.Figure(s.Light.WindMS, 3))
}

// homeCaution looks at the farthest point: whether the way home is against the wind.
func homeCaution(s *shot.Shot, path []shot.Moment) string {
	var far r3.Vec
	for _, m := range path {
		if p := (r3.Vec{X: m.Pos.X, Y: m.Pos.Y}); r3.Norm(p) > r3.Norm(far) {
			far = p
		}
	}
	downwind := -r3.Dot(far, shot.Toward(s.Light.WindFromDeg))
	if s.Light.WindMS < windHomeMS || r3.Norm(far) < homeM || downwind < r3.Norm(far)/2 {
		return ""
	}
	return fmt.Sprintf("The flight goes out downwind, and the way home is against %s m/s from the %s: out upwind and home downwind is safer. Turn back early.",
		field.Figure(s.Light.WindMS, 3), shot.Compass(s.Light.WindFromDeg))
}

func gimbalCaution(s *shot.Shot, path []shot.Moment) string {
	g := s.Camera.GimbalDeg
	if g[0] >= g[1] {
		return ""
	}
	legs := legsWhere(path, func(m shot.Moment) bool { return m.PitchDeg < g[0]-1e-6 || m.PitchDeg > g[1]+1e-6 })
	if legs == "" {
		return ""
	}
	return fmt.Sprintf("%s %s for a pitch outside the gimbal's %s° to %s°.", sentence(legs), verb(legs, "asks", "ask"), field.Figure(g[0], 3), signed(g[1]))
}

func signed(x float64) string {
	if x > 0 {
		return "+" + field.Figure(x, 3)
	}
	return field.Figure(x, 3)
}

// targetCaution names the legs whose camera cannot look at the subject: the gimbal ends before, or
// the aircraft has flown past it.
func targetCaution(s *shot.Shot, path []shot.Moment) string {
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
		return ""
	}
	return fmt.Sprintf("%s %s past where the camera can look at the subject.", sentence(legs), verb(legs, "goes", "go"))
}

func propellerCaution(_ *shot.Shot, path []shot.Moment) string {
	legs := legsWhere(path, func(m shot.Moment) bool { return m.PitchDeg > propellerDeg })
	if legs == "" {
		return ""
	}
	return fmt.Sprintf("%s %s up by more than %d°: propellers may come into the picture.", sentence(legs), verb(legs, "looks", "look"), propellerDeg)
}

func blindCaution(s *shot.Shot, path []shot.Moment) string {
	legs := legsWhere(path, func(m shot.Moment) bool { return s.Legs[m.Leg].Move.Blind() })
	if legs == "" {
		return ""
	}
	return fmt.Sprintf("%s %s where the camera does not look: see that the way is clear.", sentence(legs), verb(legs, "flies", "fly"))
}

func sunCaution(s *shot.Shot, path []shot.Moment) string {
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
		return fmt.Sprintf("The sun stands in the picture on %s. Never look at the sun through optics.", legs)
	case up:
		return "Never look at the sun through optics."
	}
	return ""
}
