package setting

import (
	"fmt"
	"math"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/exposure"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// From where a shutter that is not the wanted one shows, in stops of shutter angle (ours).
const (
	strobesFrom = 2.0
	choppyFrom  = 1 + StepSlack // the end of the usual tolerance
)

// ShutterLine says what a shutter other than the wanted one does to motion: "1/800 instead of 1/50, so it strobes".
func (l *Leg) ShutterLine(shutterS float64, on string) string {
	set, wanted := exposure.FormatShutter(shutterS), exposure.FormatShutter(l.Bounds.WantedS)
	if set == wanted {
		return "the shutter stays at " + set + on
	}
	so := ", so motion smears"
	switch d := math.Log2(l.Bounds.WantedS / shutterS); {
	case l.Purpose == shot.Long && d > 0:
		so = ", so the water keeps its edges"
	case l.Purpose == shot.Long:
		so = ""
	case d >= strobesFrom:
		so = ", so it strobes"
	case d >= choppyFrom:
		so = ", so motion looks choppy"
	case d > 0:
		so = ", a little crisp"
	}
	return set + " instead of " + wanted + on + so
}

// ApertureWord says what an aperture outside of the sharpest ones costs.
func (l *Leg) ApertureWord(c *kit.Camera, nNumber float64) string {
	name := exposure.FormatAperture(nNumber)
	if nNumber < c.Sharpest[0] {
		return name + " is wider than the lens is sharpest at"
	}
	px := float64(c.Pixels[0])
	if l.Purpose == shot.Video {
		px = float64(c.VideoPixels[0])
	}
	disc := exposure.DiffractionPx(nNumber, 1000*c.SensorMM[0]/max(1, px))
	return fmt.Sprintf("%s is smaller than the lens is sharpest at: diffraction spreads a point over %.0f pixels", name, max(1, disc))
}

// ISOWords says an ISO at its nearest mark.
func ISOWords(iso float64) string {
	return exposure.FormatISO(exposure.NearestISO(iso, 0, 0).Value)
}

// Shortfall says by how much a leg cannot be exposed, and at what the camera ends then; negative is too much light.
func (l *Leg) Shortfall(c *kit.Camera, short float64) string {
	iso := l.ISORange()
	if short > 0 {
		slowest := l.Bounds.SlowestS
		if t, ok := exposure.AtMost(l.Shutters(c.FastestS, slowest*1.001), slowest*1.001); ok {
			slowest = t.Value
		}
		return fmt.Sprintf("%s short at ISO %s and %s", words.AboutStops(short), exposure.FormatISO(iso.Limit), exposure.FormatShutter(slowest))
	}
	fastest := l.Bounds.FastestS
	if l.Purpose == shot.Long {
		fastest = l.Bounds.WantedS
	}
	return fmt.Sprintf("%s too bright at %s and ISO %s", words.AboutStops(short), exposure.FormatShutter(fastest), exposure.FormatISO(iso.Base))
}

// Brighter says what to set for a stop more light than planned: first the ISO down, then the shutter
// faster.
func (l *Leg) Brighter(c *kit.Camera, shutterS, iso float64) string {
	base := l.ISORange().Base
	if iso >= 2*base*0.97 {
		return "ISO " + exposure.FormatISO(exposure.NearestISO(iso/2, 0, 0).Value)
	}
	series := l.Shutters(c.FastestS, orInf(c.SlowestS))
	t := exposure.Nearest(series, shutterS/2)
	if len(series) == 0 || t.Value >= shutterS {
		return "close down or wait: the shutter is at its fastest"
	}
	return t.Label
}

// Darker says what to set for a stop less light: first the shutter as slow as still looks right, then the ISO; and what
// to do when that is not enough. bare tells that there is no filter to take off.
func (l *Leg) Darker(c *kit.Camera, bare bool, shutterS, iso float64) string {
	b := &l.Bounds
	slow := min(2*shutterS, b.HighS*math.Exp2(StepSlack))
	if l.Purpose == shot.Video {
		slow = min(slow, 1.01/l.FPS)
	}
	limits := l.ISORange()
	series := l.Shutters(c.FastestS, orInf(c.SlowestS))
	text := ""
	if t, ok := exposure.AtMost(series, slow*1.03); ok && t.Value > shutterS*1.1 {
		if text = t.Label; math.Abs(math.Log2(t.Value/b.WantedS)) < StepSlack {
			text = exposure.FormatShutter(b.WantedS)
		}
		if last, ok := exposure.AtMost(series, b.HighS*1.03); ok && last.Value > 1.9*t.Value {
			text += ", down to " + last.Label
		}
	} else {
		if iso >= limits.Limit*0.97 {
			return "no more ISO: land"
		}
		iso = min(exposure.NearestISO(2*iso, 0, 0).Value, limits.Limit)
		text = "ISO " + exposure.FormatISO(iso)
	}
	switch {
	case iso < limits.Clean*0.97 && bare: // with nothing to take off there is nothing to land for
		return text + ", then ISO to " + exposure.FormatISO(limits.Clean)
	case iso < limits.Clean*0.97:
		return text + ", then ISO to " + exposure.FormatISO(limits.Clean) + ", then land"
	case !bare:
		return text + ", then land"
	case iso < limits.Limit*0.97:
		return text + ", then noise: ISO to " + exposure.FormatISO(limits.Limit)
	}
	return text
}

// MeterTheLamps says what to do where lamps light the scene and there is no daylight left to reckon with.
func (l *Leg) MeterTheLamps() string {
	return "lamps are not in the model: bare, " + exposure.FormatShutter(l.Bounds.WantedS) + ", meter the lamps"
}

// StillNote says how slow a still may be.
func StillNote(c *kit.Camera, safeS float64) string {
	s, ok := exposure.AtMost(exposure.ShuttersOf(c.FastestS, c.SlowestS, false), safeS)
	switch {
	case math.IsInf(safeS, 1):
		return "a still is sharp at any shutter"
	case !ok:
		return "no shutter of this camera is fast enough for a sharp still: fly slower"
	}
	return "a still is sharp down to " + s.Label
}

// StillTooNote says what to set for a still on a film leg.
func StillTooNote(c *kit.Camera, e *Setting) string {
	t := exposure.NearestShutter(e.ShutterS, c.FastestS, c.SlowestS, false)
	text := "for a still here set " + t.Label + ", ISO " + exposure.FormatISO(exposure.NearestISO(e.ISO, c.ISO.Base, c.ISO.Limit).Value)
	if e.Blurred > 0.1 {
		text += ": it will blur"
	}
	return text
}
