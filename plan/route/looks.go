package route

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/shot"
)

// keys are what a card's words say beside a line: each a text, with where it stands.
type keys map[string]key

type key struct {
	text string
	off  int
}

// ownKeys are the words that are read and written, as a card has them where it has them too.
var ownKeys = []string{"heading_deg", "turn_deg", "pitch_deg", "height_m", "ground_m", "subject", "subject_speed_ms", "subject_toward_deg",
	"elevation_m", "zone"} // the last two only of the mark at take-off

func (k *keys) set(name, text string, off int) {
	for _, own := range ownKeys {
		if name == own {
			if *k == nil {
				*k = keys{}
			}
			(*k)[name] = key{text, off}
		}
	}
}

// looks makes sense of the words beside a line; nil when there are none.
func (r *reader) looks(off int, k keys) (*Looks, error) {
	if len(k) == 0 {
		return nil, nil
	}
	l := &Looks{Subject: field.Clean(strings.TrimSpace(k["subject"].text), 200)}
	var err error
	ends := func(name string, most float64, single bool) (v [2]float64, is bool) {
		x, is := k[name]
		if !is || err != nil {
			return v, false
		}
		words := strings.Fields(x.text)
		a, ok := 0.0, len(words) > 0 && len(words) < 3
		if ok {
			a, ok = number(words[0])
		}
		b := a
		if ok && len(words) == 2 {
			b, ok = number(words[1])
		}
		if !ok || single && len(words) > 1 || math.Abs(a) > most || math.Abs(b) > most {
			what := "one number, or two: at the start and at the end"
			if single {
				what = "one number"
			}
			err = r.fault(x.off, name, found(x.text), fmt.Sprintf("%s, from %g to %g", what, -most, most))
		}
		return [2]float64{a, b}, true
	}
	heading, has := ends("heading_deg", 360, true)
	turn, _ := ends("turn_deg", 7200, true)
	l.HeadingDeg, l.TurnDeg, l.HasHeading = heading[0], turn[0], has
	l.PitchDeg, l.HasPitch = ends("pitch_deg", 90, false)
	l.HeightM, l.HasHeight = ends("height_m", 6000, false)
	l.GroundM, _ = ends("ground_m", 6000, false)
	speed, _ := ends("subject_speed_ms", 100, true)
	toward, _ := ends("subject_toward_deg", 360, true)
	l.SubjectSpeedMS, l.SubjectTowardDeg = speed[0], toward[0]
	if err == nil && speed[0] < 0 {
		err = r.fault(k["subject_speed_ms"].off, "subject_speed_ms", found(k["subject_speed_ms"].text), "a speed from 0 to 100 m/s")
	}
	return l, err
}

// home takes what the mark at take-off says of the place.
func (r *reader) home(k keys) error {
	if e, is := k["elevation_m"]; is {
		v, ok := number(e.text)
		if !ok || v < -430 || v > 6000 {
			return r.fault(e.off, "elevation_m", found(e.text), "a number from -430 to 6000 m")
		}
		r.out.ElevationM = &v
	}
	if z, is := k["zone"]; is {
		name := strings.TrimSpace(z.text)
		if _, err := shot.LoadZone(name); err != nil {
			return r.fault(z.off, "zone", found(z.text), err.Error())
		}
		r.out.Zone = name
	}
	return nil
}

// pair is one word of a line, ready to be written.
type pair struct {
	name   string
	values []float64
	text   string // instead of the values
}

// pairs returns what stands beside a line, in the order of ownKeys.
func (l *Looks) pairs() []pair {
	if l == nil {
		return nil
	}
	var out []pair
	put := func(name string, has bool, v ...float64) {
		if !has {
			return
		}
		if len(v) == 2 && v[0] == v[1] {
			v = v[:1]
		}
		out = append(out, pair{name: name, values: v})
	}
	put("heading_deg", l.HasHeading, l.HeadingDeg)
	put("turn_deg", l.HasHeading && l.TurnDeg != 0, l.TurnDeg)
	put("pitch_deg", l.HasPitch, l.PitchDeg[:]...)
	put("height_m", l.HasHeight, l.HeightM[:]...)
	put("ground_m", l.GroundM != [2]float64{}, l.GroundM[:]...)
	if l.Subject != "" {
		out = append(out, pair{name: "subject", text: l.Subject})
		put("subject_speed_ms", l.SubjectSpeedMS > 0, l.SubjectSpeedMS)
		put("subject_toward_deg", l.SubjectSpeedMS > 0, l.SubjectTowardDeg)
	}
	return out
}
