package measure

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/plan/words"
)

// What a set may differ by (ours): without the darker picture a third of a stop in brightness, with it one stop darker and
// half a stop brighter, since the curve is known no further; the darker picture by half a stop to two; the whole set by ten minutes of light.
const (
	evenStops     = 1. / 3
	curveBelow    = 1
	curveAbove    = 0.5
	leastDarker   = 0.5
	mostDarker    = 2
	awayFromOne   = 0.25 // a darker picture that is not one stop darker is said
	longApart     = 10 * time.Minute
	roughStops    = 0.12 // from patch to patch
	leastSteep    = 0.4  // curves of cameras lie well within (ours)
	mostSteep     = 2.5
	lightAdded    = -0.15 // stops that a filter would have to add: then pictures are swapped
	nearFullRange = 1e-9
)

// notes gathers what is wrong with a set.
type notes struct {
	set              int
	faults, warnings []Note
}

func (n *notes) fault(p *Picture, format string, v ...any) {
	n.faults = append(n.faults, n.note(p, format, v...))
}

func (n *notes) warn(p *Picture, format string, v ...any) {
	n.warnings = append(n.warnings, n.note(p, format, v...))
}

func (n *notes) note(p *Picture, format string, v ...any) Note {
	name := ""
	if p != nil {
		name = p.Name
	}
	return Note{n.set, name, fmt.Sprintf(format, v...)}
}

// Check tells what is wrong with a set: faults, with which nothing can be measured, and what lessens it. i is the set's
// place among all. Of a set that is not whole yet it tells what the pictures that are there have to be told of.
func Check(i int, s Set) (faults, warnings []Note) {
	n := &notes{set: i}
	n.written(s)
	if s.Bare != nil && s.Through != nil && len(n.faults) == 0 {
		n.seen(read(s))
	}
	return n.faults, n.warnings
}

// written checks what the camera wrote beside the pictures.
func (n *notes) written(s Set) {
	var first *Picture
	names := map[string]bool{}
	auto, spread := false, time.Duration(0)
	for _, p := range []*Picture{s.Bare, s.Darker, s.Through} {
		if p == nil {
			continue
		}
		_, exposed := p.Exposed()
		switch {
		case names[p.Name]:
			n.fault(p, "the same picture twice in one set; each picture has a place of its own")
		case !exposed:
			n.fault(p, "no exposure time or no ISO is written in it; give the JPEG as the camera wrote it")
		}
		names[p.Name] = true
		auto = auto || p.Data.AutoWhiteBalance != nil && *p.Data.AutoWhiteBalance
		if p.Data.OtherColours {
			n.warn(p, "its colours are not sRGB and are read as if they were; set the camera to sRGB")
		}
		if first == nil {
			first = p
			continue
		}
		if p.Wide != first.Wide || p.Tall != first.Tall {
			n.fault(p, "%d x %d pixels, and %s has %d x %d; take the whole set in one mode", p.Wide, p.Tall, first.Name, first.Wide, first.Tall)
		}
		switch a, b := p.Data.Aperture, first.Data.Aperture; {
		case !exposed:
		case (a == nil) != (b == nil):
			n.fault(p, "of this and %s only one tells its aperture; give both as the camera wrote them", first.Name)
		case a != nil && math.Abs(*a/(*b)-1) > 0.01:
			n.warn(p, "at another aperture than %s: the corners are also the lens's; keep the aperture and change the time", first.Name)
		}
		if a, b := p.Data.Focal35MM, first.Data.Focal35MM; a != nil && b != nil && *a != *b {
			n.fault(p, "at another focal length than %s; leave the zoom alone", first.Name)
		}
		if a, b := p.Data.Clock, first.Data.Clock; !a.IsZero() && !b.IsZero() {
			spread = max(spread, a.Sub(b).Abs())
		}
	}
	if s.otherLight() {
		n.warn(s.Through, "its white balance was set to another light than that of %s: what is seen of the colour is the camera's doing; lock it and take the set again", s.Bare.Name)
	}
	if auto {
		n.warn(nil, "white balance was automatic: what is seen of the colour is the camera's doing; lock it and take the set again")
	}
	if spread > longApart {
		n.warn(nil, "%.0f minutes between its pictures: was the light the same? Take them one after the other", spread.Minutes())
	}
	if s.Bare == nil || s.Darker == nil || s.Bare.Name == s.Darker.Name {
		return
	}
	b, okB := s.Bare.Exposed()
	d, okD := s.Darker.Exposed()
	if !okB || !okD {
		return
	}
	switch by := b - d; {
	case by < 0:
		n.fault(s.Darker, "exposed brighter than %s: are the two swapped?", s.Bare.Name)
	case by > mostDarker+nearFullRange && isBare(s.Through, d):
		n.fault(s.Bare, "exposed %s brighter than %s: are this and %s swapped?", words.AboutStops(by), s.Darker.Name, s.Through.Name)
	case by < leastDarker-nearFullRange || by > mostDarker+nearFullRange:
		n.fault(s.Darker, "exposed %s darker than %s; take it one stop darker, at half the time", words.AboutStops(by), s.Bare.Name)
	case math.Abs(by-1) > awayFromOne:
		n.warn(s.Darker, "exposed %s darker than %s; one stop tells most", words.AboutStops(by), s.Bare.Name)
	}
}

// otherLight tells whether the white balance is known to have changed between bare and through.
func (s Set) otherLight() bool {
	if s.Bare == nil || s.Through == nil {
		return false
	}
	a, b := s.Bare.Data.WhiteBalanceK, s.Through.Data.WhiteBalanceK
	return a != nil && b != nil && *a != *b
}

// isBare tells whether a picture could be the bare one of a darker one that was exposed so.
func isBare(p *Picture, darker float64) bool {
	if p == nil {
		return false
	}
	e, ok := p.Exposed()
	return ok && e-darker > leastDarker && e-darker < mostDarker
}

// seen checks what the pictures show.
func (n *notes) seen(r *reading) {
	pics := []*Picture{r.Bare, r.Through}
	if r.Darker != nil {
		pics = append(pics, r.Darker)
	}
	mid := &r.all[centre]
	if !mid.ok() {
		n.middle(mid, pics, "take a plain wall in even light")
		return
	}
	if r.darker >= 0 {
		for c := range 3 {
			if g := r.steepness(centre, c); !(g > leastSteep && g < mostSteep) {
				n.fault(r.Darker, "%s darker by its exposure, and %s by what it shows: the light changed, or the camera brightened it", words.AboutStops(r.darkness), words.AboutStops(max(g*r.darkness, 0)))
				return
			}
		}
	}
	stops := -math.Log2(luma(r.passed()))
	if stops < lightAdded {
		n.fault(r.Through, "less light was needed than for %s: are the two swapped?", r.Bare.Name)
		return
	}
	refused := 0
	for i := range patches {
		if !r.all[i].ok() {
			refused++
		}
	}
	if refused > 0 {
		n.warn(nil, "%d of %d patches are burnt out or too dark and left out; light the wall more evenly", refused, patches)
	}
	if r.relative().roughness() > roughStops {
		n.warn(r.Through, "its brightness jumps from patch to patch against %s: something moved, or a shadow fell on the wall", r.Bare.Name)
	}
	if r.darker >= 0 && r.dimmed().roughness() > roughStops {
		n.warn(r.Darker, "its brightness jumps from patch to patch against %s: something moved, or a shadow fell on the wall", r.Bare.Name)
	}
	by := r.brighter()
	word, mend := "brighter", "shorter"
	if by < 0 {
		word, mend = "darker", "longer"
	}
	switch apart := math.Abs(by); {
	case r.darker < 0 && apart > evenStops:
		n.warn(r.Through, "%s %s than %s, and the camera's curve is not known: expose it so much %s, or add a bare picture one stop darker", words.AboutStops(apart), word, r.Bare.Name, mend)
	case by < -curveBelow, by > curveAbove:
		n.warn(r.Through, "%s %s than %s, more than the darker picture tells of the camera's curve: expose it so much %s", words.AboutStops(apart), word, r.Bare.Name, mend)
	}
}

// middle says of which pictures the middle cannot be used, or what helps where it is a little of each.
func (n *notes) middle(mid *region, pics []*Picture, mend string) {
	for i, p := range pics {
		switch {
		case 2*mid.bright[i] > mid.blocks:
			n.fault(p, "burnt out in the middle; expose it darker")
		case 2*mid.dark[i] > mid.blocks:
			n.fault(p, "too dark in the middle; expose it longer")
		}
	}
	if len(n.faults) == 0 {
		n.fault(nil, "less than half of the middle is neither burnt out nor too dark in all the pictures; %s", mend)
	}
}

// dimmed maps the darker picture against the bare one.
func (r *reading) dimmed() (m Map) {
	for i := range m {
		m[i] = math.NaN()
		if light := r.all[i].light; r.all[i].ok() {
			m[i] = math.Log2(luma(light[r.darker]) / luma(light[0]))
		}
	}
	return m
}
