package plan

import (
	"fmt"
	"math"
	"slices"

	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/plan/zone"
)

// Where the light of a scene is worth a word (ours).
const (
	clipStops  = 2.5 // the sky above the land: more than a picture holds without care
	frontStops = 0.5 // a subject's lit side above the side that the camera sees
)

// sunOn tells whether the sun itself lights the scene at a moment: above the horizon and the skyline, and
// not behind cloud.
func (y *analysis) sunOn(l *legAnalysis, m *shot.Moment) bool {
	p := m.Sun[0]
	return p.AltitudeDeg > 0 && !y.s.SunBehindSkyline(p) && light.AirAt(y.s, 0, l.Ground).Cloud.Shines()
}

// facing names the light on the subject by where the sun stands: behind the camera, beside it, or
// before it. Without a sun on the scene there is none of these.
func (y *analysis) facing(l *legAnalysis, m *shot.Moment) string {
	a := math.Abs(sunRelative(m))
	switch {
	case !y.sunOn(l, m):
		return ""
	case a > 120:
		return "front"
	case a < 60:
		return "back"
	}
	return "side"
}

// shines tells whether a leg is set for a shining sun.
func (y *analysis) shines(l *legAnalysis) bool { return light.AirAt(y.s, 0, l.Ground).Cloud.Shines() }

// lightNote is a note on the light of a leg.
type lightNote struct {
	text    string
	lookOut bool
}

// lightNotes says what the light of a leg makes of the picture: the side that the camera sees, the ridge's
// shadow, a sky far above the land, and what goes white or black.
func (y *analysis) lightNotes(j *evaluation, l *legAnalysis, r *LegReport) []lightNote {
	m := &y.path[(l.from+l.to)/2]
	var list []lightNote
	switch p := m.Sun[0]; {
	case p.AltitudeDeg > 0 && y.s.SunBehindSkyline(p):
		list = append(list, lightNote{"the ridge hides the sun: only the sky lights the land", false})
	case y.sunOn(l, m) && m.PitchDeg > -60:
		at := &l.lightEV[(l.to-l.from)/2][0]
		air := light.AirAt(y.s, 0, l.Ground)
		front := light.LandEV100(light.OnGround(y.s, p, light.NoMoon(), air), p.AzimuthDeg+180, m.PitchDeg, air.Albedo)
		if d := front - at.land; d > frontStops {
			list = append(list, lightNote{fmt.Sprintf("%s light: %s darker than the sunlit side", y.facing(l, m), words.AboutStops(d)), false})
		}
	}
	if !r.Feasible { // white and black are those of an exposure that cannot be set
		return list
	}
	bare := math.Inf(-1)
	if r.Strength.OK { // there is sky in the frame
		for _, at := range l.lightEV {
			for _, x := range at {
				bare = max(bare, x.sky-x.land)
			}
		}
	}
	far := ""
	if bare >= clipStops {
		far = "the sky stands " + words.AboutStops(bare) + " above the land"
	}
	switch {
	case r.Clipped > ClippedFrom && l.Expose != shot.ExposeHighlights:
		text := words.Share(r.Clipped) + " of the frame goes white: expose for the highlights to hold it"
		if far != "" {
			text = far + ", and " + text
		}
		list = append(list, lightNote{text, true})
	case r.Clipped > ClippedFrom:
		list = append(list, lightNote{words.Share(r.Clipped) + " of the frame goes white", true})
	case far != "" && l.Expose != shot.ExposeLand:
		list = append(list, lightNote{far + ": the sky is held, so the land comes out dark", false})
	case far != "":
		list = append(list, lightNote{far, false})
	}
	if r.Buried > BuriedFrom {
		text := words.Share(r.Buried) + " of the frame goes black"
		if l.Expose != shot.ExposeLand {
			text += ": expose for the land to open it"
		}
		list = append(list, lightNote{text, true})
	}
	return list
}

// lampsFromDeg is the sun's altitude under which lamps light a town (ours).
const lampsFromDeg = 0.0

// lamps tells whether lamps are in the picture of a leg: any leg over a town brings the town into all.
func (y *analysis) lamps(l *legAnalysis) bool {
	town := slices.ContainsFunc(y.s.Legs, func(l shot.Leg) bool { return l.Ground == shot.Town })
	return town && l.from < l.to && y.path[l.to-1].Sun[1].GeometricDeg < lampsFromDeg
}

// steadyHz returns the frequency of the mains that a film leg under lamps has to mind, 0 where there are no lamps or the
// mains are not known.
func (y *analysis) steadyHz(l *legAnalysis) float64 {
	if l.Purpose != shot.Video || l.ShutterSet || !y.lamps(l) {
		return 0
	}
	return zone.MainsHz(y.s.Zone)
}

// lampNote says what keeps lamps from flickering.
func (y *analysis) lampNote(l *legAnalysis, r *LegReport) string {
	if l.Purpose != shot.Video || !y.lamps(l) {
		return ""
	}
	name := func(hz float64) string {
		s, ok := exposure.SteadyShutter(l.FPS, l.Bounds.WantedS, hz, y.s.Camera.FastestS, y.s.Camera.SlowestS)
		if !ok {
			return "nothing at this frame rate"
		}
		return s.Label
	}
	hz := zone.MainsHz(y.s.Zone)
	text := ""
	switch {
	case hz == 0:
		text = fmt.Sprintf("lamps flicker: %s is steady on 50 Hz mains, %s on 60 Hz", name(50), name(60))
	case r.Shutter.OK && exposure.Steady(r.Shutter.Min, hz) && exposure.Steady(r.Shutter.Max, hz):
		text = fmt.Sprintf("%s keeps lamps on %.0f Hz mains steady", exposure.FormatShutter(r.Shutter.Max), hz)
	default:
		text = fmt.Sprintf("lamps flicker: on %.0f Hz mains %s is steady", hz, name(hz))
	}
	return text + "; lamps are not in the model: meter them"
}
