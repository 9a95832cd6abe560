package plan

import (
	"example.org/skywedge/plan/mounting"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// boundsOf returns the shutters of a leg.
func (y *analysis) boundsOf(l *legAnalysis) setting.Bounds {
	return l.BoundsFor(&y.s.Camera, y.s.Settings.ShutterToleranceDeg, y.steadyHz(l))
}

// legExposure is a leg's exposure behind one filter.
type legExposure struct {
	next         *legExposure // of the same meter
	at           exposureKey  // without the filter, which the meter is of
	meter        *legMeter
	set          setting.Setting // what the pilot locks
	dark, bright setting.Setting // what its darkest and its brightest moment ask for, in the state of the sun set for
	still        setting.Setting // of a still taken on a video leg, at the darkest
	other        *legMeter       // the other state of the sun, nil where there is one state only
	otherSet     setting.Setting // what is set when the sun changes its state
	otherDark    setting.Setting
	otherBright  setting.Setting
	short        float64 // stops that the camera is short of light at the worst moment; negative: it has too much
	headroom     float64 // the least, in both states
}

// feasible tells whether a leg can be exposed at all.
func (x *legExposure) feasible() bool { return x.short == 0 }

type exposureKey struct {
	nNumber, loss float64
	optics        mounting.MeterKey
}

// exposuresOf returns the exposures of all legs behind a mounted filter, at an aperture and a loss.
func (y *analysis) exposuresOf(m mounting.Way, nNumber, loss float64) []*legExposure {
	k := exposureKey{nNumber, loss, m.MeterKey()}
	list := y.exposures[k]
	if list == nil {
		list = y.ownMemory().exposures.Cut(len(y.legs), pieceOf*len(y.legs))
		for i, l := range y.legs {
			list[i] = y.exposureOf(i, l, m, nNumber, loss)
		}
		y.exposures[k] = list
	}
	return list
}

// exposureOf exposes a leg for what its meter reads, and looks at its darkest and its brightest moment; everything
// between lies between.
func (y *analysis) exposureOf(i int, l *legAnalysis, m mounting.Way, nNumber, loss float64) *legExposure {
	b := &l.Bounds
	r := y.meterOf(l, m)
	at := exposureKey{nNumber: nNumber, loss: loss}
	for x := r.exposed; x != nil; x = x.next {
		if x.at == at {
			return x
		}
	}
	x := l.reading.exposed.One(pieceOf)
	*x = legExposure{
		next: r.exposed, at: at, meter: r, set: l.SetFor(b, r.set, nNumber, loss),
		dark: l.SetFor(b, r.dark, nNumber, loss), bright: l.SetFor(b, r.bright, nNumber, loss),
	}
	x.headroom = min(x.dark.Headroom, x.bright.Headroom)
	beyond, bright := x.dark.Beyond, x.bright.Bright
	if z := y.otherState(); z != nil {
		k := z.legs[i]
		k.BlurWish, k.Still, k.Bounds = l.BlurWish, l.Still, l.Bounds
		x.other = z.meterOf(k, m)
		x.otherSet = l.SetFor(b, x.other.set, nNumber, loss)
		x.otherDark, x.otherBright = l.SetFor(b, x.other.dark, nNumber, loss), l.SetFor(b, x.other.bright, nNumber, loss)
		x.headroom = min(x.headroom, x.otherDark.Headroom)
		beyond, bright = max(beyond, x.otherDark.Beyond), max(bright, x.otherBright.Bright)
	}
	switch {
	case beyond > setting.ExposureSlack:
		x.short = beyond
	case bright > setting.ExposureSlack:
		x.short = -bright
	}
	if l.StillsToo && l.Purpose == shot.Video {
		photo := l.Leg
		leg := *photo.Leg
		leg.Purpose, leg.ShutterSet = shot.Still, false
		photo.Leg = &leg
		photo.BlurWish = 0
		sb := photo.BoundsFor(&y.s.Camera, y.s.Settings.ShutterToleranceDeg, 0)
		x.still = photo.SetFor(&sb, r.dark, nNumber, loss)
	}
	r.exposed = x
	return x
}
