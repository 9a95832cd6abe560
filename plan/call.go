package plan

import (
	"fmt"
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// deciding returns the leg whose exposure is hardest to hold: of those that want blur the one with the
// least headroom, or of all.
func (y *analysis) deciding(j *evaluation) int {
	best, least, wants := 0, math.Inf(1), false
	for i, l := range y.legs {
		w, h := l.WantsBlur(), j.legs[i].exposure.headroom
		if w && !wants || w == wants && h < least {
			best, least, wants = i, h, w
		}
	}
	return best
}

// call writes the recommendation of a choice that was judged in this analysis.
func (y *analysis) call(c *ranking, j *evaluation, rough *analysis) Call {
	l := y.legs[0]
	shutter, iso := y.set(j, 0)
	call := Call{
		Filter: j.Name(), SettingStops: j.Setting, HasRing: y.ringToSet(j), AsDensity: j.asDensity(),
		ShutterS: shutter, Aperture: j.nNumber,
		ISO: iso,
		WBK: y.whiteBalance(j, l),
	}
	if j.Polarises() {
		call.RingDeg, call.PassAxisDeg = j.Ring, j.PassAxis()
	}
	if l.Purpose == shot.Video {
		call.ShutterAngleDeg = exposure.AngleDeg(l.FPS, shutter)
	}
	for _, l := range y.legs {
		call.BlurNeeded = call.BlurNeeded || l.WantsBlur()
	}
	if call.HasRing {
		call.RingHelp = mounting.RingHelp(j.Filter, j.Ring)
	}
	call.because(y.reasons(c, j, rough))
	return call
}

// because gives a call its reasons.
func (c *Call) because(list []Reason) {
	c.ReasonsSigned, c.Reasons = list, texts(list)
}

// SureWords says how sure a call is as a pilot says it: "holds: no likely error changes that", "toss-up with ND16".
func (c *Call) SureWords() string {
	switch {
	case c.Confidence == "close":
		return c.ConfidenceWhy
	case c.ConfidenceWhy == "":
		return c.Confidence
	}
	return c.Confidence + ": " + c.ConfidenceWhy
}

// daylightK is the white balance of a card that names none: it keeps an evening warm and a blue hour blue (ours).
const daylightK = 5500

// whiteBalance returns the colour temperature to lock on a leg: daylight against the filter's cast, or the light of the
// middle of the leg made grey, or what the card says.
func (y *analysis) whiteBalance(j *evaluation, l *legAnalysis) float64 {
	cast := 0.0
	if j.Filter != nil {
		cast = j.Filter.CastMired
	}
	switch wb := l.WhiteBalance; {
	case wb.Kind == shot.WBKelvin:
		return wb.Kelvin
	case wb.Kind != shot.WBNeutral:
		return exposure.WhiteBalanceK(daylightK, cast)
	}
	p := y.path[(l.from+l.to)/2].Sun[0]
	air := light.AirAt(y.s, 0, l.Ground)
	k := exposure.SceneK(p.AltitudeDeg, air.Cloud.Cover, air.Cloud.Shines() && !y.s.SunBehindSkyline(p))
	return exposure.WhiteBalanceK(k, cast)
}

// reasons returns what decided.
func (y *analysis) reasons(c *ranking, j *evaluation, rough *analysis) []Reason {
	list := []Reason{y.blurReason(j)}
	if d := y.deciding(j); !j.feasible() && j.beyond > 0 && y.lamps(y.legs[d]) {
		list[0] = Reason{Sign: 1, Text: y.legs[d].MeterTheLamps()}
	}
	say := func(sign int, text string) {
		if text != "" {
			list = append(list, Reason{Sign: sign, Text: text})
		}
	}
	if !j.feasible() {
		say(-1, y.cannot(j))
	}
	list = append(list, y.signedLines(j)...)
	switch mark := "mark at " + kit.Clock(j.Ring) + ", facing the lens"; {
	case !j.Polarises():
	case !y.s.RingAuto:
		say(1, mark+", as the card asks")
	case j.asDensity() && !y.ringToSet(j):
		say(1, "used as a plain density, ring anywhere: its polariser does nothing here that shows")
	case j.asDensity():
		say(1, "used as a plain density: "+mark+", disturbs least")
	default:
		say(1, mark+": the best for the whole flight")
		say(-1, rough.conflict(j))
		say(1, rough.softer(j))
	}
	if c.free.Way != j.Way && (c.free.score < j.score-words.ReasonStops || !j.feasible() && c.free.feasible()) {
		list = append(list, Reason{
			Sign: -1, Stops: max(0, j.score-c.free.score),
			Text: "the card asks for it: left to itself the program would take " + c.free.Title() + rough.ringWords(c.free) + ", " + better(j, c.free),
		})
	}
	return list
}

func better(j, free *evaluation) string {
	if !j.feasible() && free.feasible() {
		return "which can be exposed"
	}
	return words.AboutStops(j.score-free.score) + " better in all"
}

// ringWords returns where the mark of a filter stands, with a comma before it; "" without a ring to set.
func (y *analysis) ringWords(j *evaluation) string {
	if !y.ringToSet(j) {
		return ""
	}
	return ", mark at " + kit.Clock(j.Ring)
}

// blurReason says whether blur is wanted and whether the exposure holds: the shutter that it names is the one to set.
func (y *analysis) blurReason(j *evaluation) Reason {
	var video, stills int
	var wanting []int
	for i, l := range y.legs {
		switch {
		case l.Purpose == shot.Video:
			video++
			if l.WantsBlur() {
				wanting = append(wanting, i)
			}
		case l.Purpose == shot.Still:
			stills++
		}
	}
	l := y.legs[y.deciding(j)]
	fits := j.feasible() && j.penalty[penaltyShutter] < words.ReasonStops && j.penalty[penaltyISO] < words.ReasonStops
	good := func(text string) Reason { return Reason{Sign: 1, Text: text} }
	switch {
	case stills == len(y.legs) && j.penalty[penaltyBlur] < words.ReasonStops && j.feasible():
		return good("a still wants no blur: " + y.setShutters(j, nil) + " is sharp")
	case stills == len(y.legs) && j.bright > 0:
		return Reason{Sign: -1, Text: "a still wants no blur, and there is too much light for it"}
	case stills == len(y.legs):
		return Reason{Sign: -1, Text: "a still wants no blur, and there is not the light for it"}
	case l.Purpose == shot.Long && fits:
		return good("holds the long exposure of " + exposure.FormatShutter(l.Bounds.WantedS))
	case l.Purpose == shot.Long:
		return Reason{Sign: -1, Text: "a long exposure of " + exposure.FormatShutter(l.Bounds.WantedS) + " is wanted and not reached"}
	case video > 0 && len(wanting) == 0:
		return good("no leg needs motion blur: the picture moves slowly, so any shutter will do")
	}
	which := " on every leg"
	if len(y.legs) == 1 {
		which = ""
	} else if len(wanting) < len(y.legs) {
		which = y.legNames(wanting)
	}
	if !fits {
		return Reason{Sign: -1, Text: "motion blur is wanted" + which + " and not reached"}
	}
	return good(fmt.Sprintf("motion blur is wanted%s: %s holds at a clean ISO from the first take to the last", which, y.setShutters(j, wanting)))
}

// setShutters returns the shutters that are set on some legs, on all of them for none.
func (y *analysis) setShutters(j *evaluation, legs []int) string {
	slow, fast := 0.0, math.Inf(1)
	for i := range y.legs {
		if s, _ := y.set(j, i); legs == nil || slices.Contains(legs, i) {
			slow, fast = max(slow, s), min(fast, s)
		}
	}
	return words.Shutters(slow, fast)
}
