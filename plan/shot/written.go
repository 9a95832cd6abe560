package shot

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/sun"
)

var (
	shines = map[string]sun.Shine{"auto": sun.ShineAuto, "shining": sun.Shining, "hidden": sun.Hidden}
	airs   = map[string]sun.AirKind{"auto": sun.AirAuto, "sea": sun.AirSea, "town": sun.AirTown, "dust": sun.AirDust}
)

// firstHeightM is the height of a flight whose card names none.
const firstHeightM = 40

// legs reads the legs, sees when each is flown, and derives the rest: a heading relative to the
// sun can be resolved only then.
func (b *builder) legs() {
	b.used = map[string]bool{}
	list := b.root.Get("legs")
	drafts := make([]draft, list.Len())
	height := float64(firstHeightM)
	for i := range drafts {
		drafts[i] = b.draft(list.Index(i), height)
		height = drafts[i].leg.Height[1]
		b.shot.Legs = append(b.shot.Legs, drafts[i].leg)
	}
	b.unusedShutter()
	b.tooLong()
	k := &track{s: b.shot, times: b.shot.Times()}
	for i, d := range drafts {
		v := list.Index(i)
		if b.unsound(v) {
			continue
		}
		var az [2]float64
		if d.heading[0].Sun || d.heading[1].Sun {
			az = [2]float64{k.sunAzimuth(i, 0), k.sunAzimuth(i, 1)}
		}
		l, problems := d.derive(az)
		if l.HeadingSun[0] || l.HeadingSun[1] {
			l.wrote = &drafts[i]
		}
		b.shot.Legs[i] = l
		misspelt := b.misspelt(v)
		for _, p := range problems {
			if at := below(v, p.key); at.Exists() || !misspelt {
				b.fault(at, p.found, p.allowed)
			}
		}
	}
}

// below returns the place under a value that keys lead to: "target.speed_ms".
func below(v field.Value, keys string) field.Value {
	for key := range strings.SplitSeq(keys, ".") {
		v = v.Get(key)
	}
	return v
}

// unsound tells whether what a leg derives from was itself refused.
func (b *builder) unsound(leg field.Value) bool {
	for _, key := range []string{"move", "heading_deg", "turn", "turns", "seconds"} {
		if b.faulty(leg.Get(key).Path()) {
			return true
		}
	}
	return b.faultyAt(leg.Path())
}

// faultyAt tells whether the table refused exactly what stands at a path.
func (b *builder) faultyAt(path string) bool {
	return slices.ContainsFunc(b.table, func(f field.Fault) bool { return f.Field == path })
}

// misspelt tells whether a leg has keys that the table does not know. What is missing then is most
// likely there under another name, and is not reported a second time.
func (b *builder) misspelt(leg field.Value) bool {
	return slices.ContainsFunc(b.table, func(f field.Fault) bool {
		rest, in := strings.CutPrefix(f.Field, leg.Path()+".")
		return in && !slices.ContainsFunc(legKeys, func(s field.Spec) bool {
			return rest == s.Key || strings.HasPrefix(rest, s.Key+".") || strings.HasPrefix(rest, s.Key+"[")
		})
	})
}

var legKeys = legFields()

// tooLong refuses a flight of more than a day: the sun's position, the day's events and the
// battery sums are about one flight.
func (b *builder) tooLong() {
	const mostMin = 24 * 60
	if m := b.shot.Times().Minutes; m > mostMin {
		b.fault(b.root.Get("legs"), fmt.Sprintf("a flight of %s hours with all takes and resets", field.Figure(math.Round(m/60), 3)), "at most 24 hours")
	}
}

// draft reads one leg as it is written.
func (b *builder) draft(v field.Value, height float64) draft {
	l := Leg{
		Move:    Move(v.Get("move").Word("")),
		Purpose: Purpose(b.shared(v, "purpose").Word("video")),
		Aim:     Aim(b.shared(v, "aim").Word("water")),
		Expose:  Expose(b.shared(v, "expose").Word(string(ExposeMiddle))),
		Ground:  Ground(b.shared(v, "ground").Word("water")),
		Seconds: math.Max(1, v.Get("seconds").Float(1)),
	}
	l.WhiteBalance = whiteBalance(b.shared(v, "white_balance"))
	l.BiasStops = b.shared(v, "bias_stops").Float(0)
	l.StillsToo = v.Get("stills_too").Text() == "true"
	l.Height[0], l.Height[1] = v.Get("height_m").Pair(height)
	l.GroundM[0], l.GroundM[1] = v.Get("ground_m").Pair(0)
	l.Pitch[0], l.Pitch[1] = v.Get("pitch_deg").Pair(0)
	if t := v.Get("target"); t.Exists() {
		l.Target = &Target{
			DistanceM: t.Get("distance_m").Float(0),
			SpeedMS:   t.Get("speed_ms").Float(0),
			TowardDeg: bearingOf(t.Get("toward_deg"), 0),
			HeightM:   t.Get("height_m").Float(l.GroundM[0]),
		}
	}
	b.recording(v, &l)
	b.shutter(v, &l)
	d := draft{leg: l, to: v.Get("to").Word(""), pitchSet: v.Get("pitch_deg").Exists(), speedMS: number(v.Get("speed_ms"))}
	if c := v.Get("course_deg"); c.Exists() {
		deg := bearingOf(c, 0)
		d.course = &deg
	}
	h := v.Get("heading_deg")
	from, to := h.Texts()
	d.heading[0], _ = parseHeading(from) // the table has refused what does not parse
	d.heading[1], _ = parseHeading(to)
	d.rule = turnRule{way: v.Get("turn").Word(""), turns: v.Get("turns").Float(0), pair: h.IsPair()}
	return d
}

// whiteBalance reads a word or a number of kelvin.
func whiteBalance(v field.Value) WhiteBalance {
	if kelvin := v.Float(0); kelvin > 0 {
		return WhiteBalance{Kind: WBKelvin, Kelvin: kelvin}
	}
	return WhiteBalance{Kind: WBKind(v.Word(string(WBDaylight)))}
}

// shared returns a key that may stand on a leg or on the card; the leg wins.
func (b *builder) shared(leg field.Value, key string) field.Value {
	if v := leg.Get(key); v.Exists() {
		return v
	}
	return b.root.Get(key)
}

// recording finds the mode and checks that it has the frame rate, where that matters.
func (b *builder) recording(v field.Value, l *Leg) {
	c := b.shot.Camera
	modes := c.Modes
	if len(modes) == 0 {
		modes = []kit.Mode{{Name: "normal", ISO: c.ISO, Crop: 1}}
	}
	at := b.shared(v, "mode")
	l.Mode = modes[0]
	var names []string
	known := false
	for _, m := range modes {
		names = append(names, m.Name)
		if m.Name == at.Word("normal") {
			l.Mode, known = m, true
		}
	}
	if at.Exists() && !known && c.Name != "" {
		b.fault(at, field.Quoted(at.Text()), "a mode of the camera "+c.Name+": "+field.Choice(at.Text(), names))
	}
	rates := l.Mode.FPS
	at = b.shared(v, "fps")
	l.FPS = at.Float(24)
	i := slices.IndexFunc(rates, func(r float64) bool { return math.Abs(r-l.FPS) < 0.1 })
	switch {
	case len(rates) == 0 || i >= 0:
		return
	case !at.Exists() && !b.faulty(at.Path()):
		l.FPS = rates[0] // the mode has no 24: its first
		return
	case l.Purpose != Video:
		return
	}
	var list []string
	for _, r := range rates {
		list = append(list, field.Figure(r, 3))
	}
	if own := v.Get("fps"); v.Get("mode").Exists() && !own.Exists() {
		b.fault(own, "nothing, so the card's "+at.Text(), "a frame rate of the mode "+l.Mode.Name+": "+field.Either(list))
		return
	}
	b.fault(at, field.Quoted(at.Text()), "a frame rate of the mode "+l.Mode.Name+": "+field.Either(list))
}

// shutterKeys are the three ways to name a shutter, and the purposes that each fits.
var shutterKeys = []struct {
	key  string
	fits []Purpose
}{
	{"shutter_angle_deg", []Purpose{Video}},
	{"shutter_s", []Purpose{Video, Still}},
	{"exposure_s", []Purpose{Long}},
}

// angleSlack is how far a shutter and a shutter angle may disagree: 1/50 at 24 fps, which is
// called 180°, is 173° (ours).
const angleSlack = 0.05

// shutter reads the wanted shutter. A key on the leg puts the card's three keys aside, and must
// fit the leg's purpose; one on the card serves the legs that it fits.
func (b *builder) shutter(leg field.Value, l *Leg) {
	from := b.root
	for _, k := range shutterKeys {
		if leg.Get(k.key).Exists() {
			from = leg
		}
	}
	var angle, exposure field.Value
	for _, k := range shutterKeys {
		v := from.Get(k.key)
		if !v.Exists() {
			continue
		}
		if !slices.Contains(k.fits, l.Purpose) {
			if from == leg {
				b.fault(v, fmt.Sprintf("%s with purpose: %s", v.Text(), l.Purpose), "this key only with purpose: "+purposes(k.fits))
			}
			continue
		}
		b.used[k.key] = true
		if k.key == "shutter_angle_deg" {
			angle = v
			l.ShutterS = v.Float(180) / (360 * l.FPS)
			b.inRange(v, l.ShutterS, l)
		} else {
			exposure = v
			l.ShutterSet = true
			l.ShutterS = v.Float(0)
			b.inRange(v, l.ShutterS, l)
		}
	}
	if !angle.Exists() || !exposure.Exists() {
		return
	}
	if deg, says := 360*l.FPS*l.ShutterS, angle.Float(180); math.Abs(deg-says) > angleSlack*says {
		b.fault(exposure, fmt.Sprintf("%s s, which is %s° at %s fps, %s° off", exposure.Text(), field.Figure(math.Round(deg*10)/10, 3), field.Figure(l.FPS, 3), field.Figure(math.Round(math.Abs(deg-says)*10)/10, 3)),
			fmt.Sprintf("what the shutter_angle_deg of %s says, or one of the two keys alone", angle.Text()))
	}
}

// unusedShutter refuses a shutter on the card that fits the purpose of no leg.
func (b *builder) unusedShutter() {
	for _, k := range shutterKeys {
		v := b.root.Get(k.key)
		if !v.Exists() || b.used[k.key] || len(b.shot.Legs) == 0 {
			continue
		}
		fits := slices.ContainsFunc(b.shot.Legs, func(l Leg) bool { return slices.Contains(k.fits, l.Purpose) })
		if !fits && !b.faulty("purpose") {
			b.fault(v, v.Text()+", which no leg can use", "this key only with purpose: "+purposes(k.fits))
		}
	}
}

// inRange holds an exposure against the camera and the frame rate.
func (b *builder) inRange(v field.Value, s float64, l *Leg) {
	c := b.shot.Camera
	const slack = 1.01 // nominal values are rounded
	switch {
	case l.Purpose == Video && s > slack/l.FPS:
		b.fault(v, field.Quoted(v.Text()), fmt.Sprintf("at most 1/%s s, which is one frame", field.Figure(l.FPS, 3)))
	case c.SlowestS > 0 && s > slack*c.SlowestS:
		b.fault(v, field.Quoted(v.Text()), fmt.Sprintf("at most %s s, the longest exposure of the camera %s", fraction(c.SlowestS), c.Name))
	case c.FastestS > 0 && s*slack < c.FastestS:
		b.fault(v, field.Quoted(v.Text()), fmt.Sprintf("at least %s s, the shortest exposure of the camera %s", fraction(c.FastestS), c.Name))
	}
}

// finish works out what needs the whole flight: the pitch of legs that look at their target, and the sun's
// height wanted where the card says only its side.
func (b *builder) finish() {
	s := b.shot
	if s.Want != nil && !b.root.Get("want").Get("sun_height_deg").Exists() {
		s.Want.SunHeightDeg = s.heightClass()
	}
	for i, m := range Path(s, 2) {
		if l := &s.Legs[m.Leg]; l.PitchAuto {
			l.Pitch[i%2] = m.PitchDeg
		}
	}
}

func number(v field.Value) *float64 {
	if !v.Exists() {
		return nil
	}
	x := v.Float(0)
	return &x
}

func bearingOf(v field.Value, otherwise float64) float64 {
	if d, err := parseBearing(v.Text()); v.Exists() && err == nil {
		return d
	}
	return otherwise
}

func purposes(ps []Purpose) string {
	var words []string
	for _, p := range ps {
		words = append(words, string(p))
	}
	return field.Either(words)
}

// fraction writes an exposure as photographers do: 1/8000, 0.5, 8.
func fraction(s float64) string {
	if s < 0.3 {
		return "1/" + field.Figure(math.Round(1/s), 3)
	}
	return field.Figure(s, 3)
}
