package plan

import (
	"fmt"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// say says the bands as a pilot reads them.
func (s *Sureness) say(r *Report, parts []plannedFlight) {
	say := func(what, low, high string) { s.Words = append(s.Words, what+" "+words.FromTo(low, high)) }
	limit := parts[0].legs[0].Mode.ISO.Limit
	iso := func(x float64) string {
		if x > limit*1.02 {
			return "beyond the camera's " + exposure.FormatISO(limit)
		}
		return setting.ISOWords(x)
	}
	say("ISO", iso(s.ISO.Min), iso(s.ISO.Max))
	s.Words = append(s.Words, "shutter "+words.Shutters(s.ShutterS.Max, s.ShutterS.Min))
	if s.RunOutMin.OK {
		at := r.Shot.ClockAt
		switch {
		case s.RunOutMin.Max <= 0:
			s.Words = append(s.Words, "no clean-ISO light in any case")
		case s.RunOutMin.Min <= 0:
			s.Words = append(s.Words, "clean-ISO light until "+at(s.RunOutMin.Max)+" at best, none at worst")
		default:
			say("clean-ISO light until", at(s.RunOutMin.Min), at(s.RunOutMin.Max))
		}
	}
	for _, p := range parts {
		if !p.c.best.Polarises() {
			continue
		}
		for _, l := range p.legs {
			b := s.Legs[l.n]
			on := ""
			if len(s.Legs) > 1 {
				on = fmt.Sprintf(" on leg %d", l.n+1)
			}
			if e := b.Effect; e.OK && (max(-e.Min, e.Max) >= worthStops || b.Unevenness.Max >= words.UnevenFrom) {
				s.Words = append(s.Words, "the sky"+on+": "+words.FromTo(words.EffectOnSky(b.Effect.Min), words.EffectOnSky(b.Effect.Max))+
					", "+words.FromTo(words.Evenness(b.Unevenness.Min), words.Evenness(b.Unevenness.Max)))
			}
			if b.GlareCut.OK && (l.Aim == shot.AimWater || l.Aim == shot.AimBalance || l.Aim == shot.AimKeep) {
				if text := glareBand(b.GlareCut); text != "" {
					s.Words = append(s.Words, "the glare"+on+text)
				}
			}
		}
	}
}

// glareBand says between what the cut of glare moves; "" where it never shows.
func glareBand(cut Range) string {
	const stronger = -0.04
	switch {
	case cut.Max < stronger:
		return " gets stronger"
	case cut.Min < stronger && cut.Max < worthShare:
		return " stays or gets stronger"
	case cut.Min < stronger:
		return ": " + words.Fraction(cut.Max) + " gone at best, stronger at worst"
	case cut.Max < worthShare:
		return ""
	}
	return ": " + words.FromTo(words.Fraction(cut.Max), words.Fraction(cut.Min)) + " gone"
}
