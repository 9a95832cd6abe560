// Package setting chooses shutter, ISO and aperture for the light of a leg, and says what is wrong with them.
package setting

import (
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// Leg is what the exposure of a leg goes by.
type Leg struct {
	*shot.Leg
	StillISO kit.ISO // a still is not taken in the film's mode
	Bounds   Bounds
	Still    StillMotion
	BlurWish float64 // how much motion blur is wanted: 0 not at all, 1 in full
}

// ISORange returns the ISOs of a leg: those of its mode, or of a still.
func (l *Leg) ISORange() kit.ISO {
	if l.Purpose != shot.Video {
		return l.StillISO
	}
	return l.Mode.ISO
}

// Motion blur is not wished for under the first step a frame, in minutes of arc, and in full from the second on: the
// ends of the calm band, where the eye begins to see single frames (ours).
const (
	noWishArcmin   = 2.0
	fullWishArcmin = 4.0
	// halfWish is the wish under which no filter is put on for the blur alone.
	halfWish = 0.5
)

// WishFor returns how much motion blur is wanted of a picture that steps so far from frame to frame, minutes of arc.
func WishFor(stepArcmin float64) float64 {
	return min(1, max(0, (stepArcmin-noWishArcmin)/(fullWishArcmin-noWishArcmin)))
}

// WantsBlur tells whether blur is worth a filter.
func (l *Leg) WantsBlur() bool { return l.BlurWish >= halfWish }

// Compensation returns the over-exposure that is wanted of a leg, in stops: the card's, and the mode's for a film.
func Compensation(l *shot.Leg) float64 {
	if l.Purpose == shot.Video {
		return l.BiasStops + l.Mode.BiasStops
	}
	return l.BiasStops
}

// Default highlights of a camera that states none: stops over middle grey before white, of a finished picture
// and of a raw still (ours; ISO 12232 puts saturation 2.96 stops over middle grey, from memory).
const (
	highlightStops      = 2.5
	stillHighlightStops = 3.0
)

// HighlightStops returns how far over middle grey white lies for a leg, in stops.
func HighlightStops(camera kit.Camera, l *shot.Leg) float64 {
	h, c := camera.HighlightStops, camera.StillHighlightStops
	if h <= 0 {
		h = highlightStops
	}
	if c <= 0 {
		c = stillHighlightStops
	}
	switch {
	case l.Purpose != shot.Video:
		return c
	case l.Mode.HighlightStops > 0:
		return l.Mode.HighlightStops
	}
	return h
}

// LockedAt returns what a leg is exposed for whose readings lie between two. A pilot locks the exposure: it is that
// of the brightest moment, which nothing brings back; of a drift of more than a stop half of the rest is given to
// the dark end.
func LockedAt(dark, bright float64) float64 { return bright - max(0, bright-dark-1)/2 }
