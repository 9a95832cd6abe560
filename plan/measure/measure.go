package measure

import (
	"fmt"
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/words"
)

// What one set leaves open (ours, from trials on pictures drawn with known filters and curves steeper and softer than
// sRGB's): the real times and sensitivities of a camera against the marked ones, noise and rounding; and of the difference in
// brightness between the two pictures a share, and of the cast. It is large where the camera's curve is not known, small
// between bare and darker, where it was measured, and grows above the bare picture, where a curve bends on unseen.
const (
	floorStops  = 0.05
	floorMired  = 4
	shareKnown  = 0.05
	shareAbove  = 0.3
	shareNot    = 0.5
	castKnown   = 0.1
	castAbove   = 0.7  // for each stop above
	wallStops   = 0.15 // a wall may be polarised by a tenth: what one position of a polariser then leaves open
	ringsWanted = 2
	otherFilter = 1 // stops: so far off its label no filter is
)

// Options are what the pictures do not tell.
type Options struct {
	WhiteBalanceK float64    // that was locked; 0: as the pictures tell, or 5500
	Field         [2]float64 // tangents of half the field's width and height, for the model's corners: see [FieldOf]; zero: not known
	RingDeg       float64    // where the mark of a variable's rear sheet stood, clockwise from 12 o'clock facing the lens
}

// Result is what the pictures tell of a filter.
type Result struct {
	Filter        kit.Filter
	WhiteBalanceK float64
	Groups        []Group // one; of a variable one for each setting, lightest first
	Sets          []Found // of each set, as they were given
	ColourKnown   bool    // the white balance is not known to have been automatic, or to have changed
	Warnings      []Note
}

// Group is what several sets of the same setting come to: means, and how sure they are.
type Group struct {
	SettingStops          float64
	Stops, StopsError     float64
	CastMired, CastError  float64 // positive warmer
	Tint                  float64 // positive magenta
	Map, ModelMap         Map     // what the filter does against the centre; the model's is all NaN where the field is not known
	Corners, ModelCorners [4]float64
	Sets                  int
	Label                 float64 // the loss that the bag has for it
}

// Found is what one set tells by itself.
type Found struct {
	Stops, CastMired, Tint float64
	Brighter               float64 // the picture through the filter against the bare one, stops
	Steepness              float64 // of the camera's curve, against that of sRGB; 1 where it was not measured
}

// Measure works out what sets of pictures tell of a filter. Of a polariser and a hybrid two sets that follow each other
// belong together: between them the ring is turned by 90°, and the light that passed is averaged, so that a wall whose
// light is polarised does no harm. With faults there is no result.
func Measure(f kit.Filter, sets []Set, o Options) (*Result, Faults) {
	res := &Result{Filter: f, ColourKnown: true}
	var faults Faults
	if len(sets) == 0 {
		return nil, Faults{{-1, "", "no pictures: take one bare and one through the filter"}}
	}
	var all []*reading
	names := map[string]bool{}
	for i, s := range sets {
		if s.Bare == nil || s.Through == nil {
			faults = append(faults, Note{i, "", "a set needs a bare picture and one through the filter"})
			continue
		}
		n := &notes{set: i}
		if names[s.Through.Name] {
			n.fault(s.Through, "the same picture through the filter twice; each setting and each position of the ring has one of its own")
		}
		names[s.Through.Name] = true
		n.written(s)
		var r *reading
		if len(n.faults) == 0 {
			r = read(s)
			n.seen(r)
		}
		if f.Kind == kit.Variable && s.SettingStops <= 0 {
			n.fault(nil, "say what %s was set to", f.Name)
		}
		faults, res.Warnings = append(faults, n.faults...), append(res.Warnings, n.warnings...)
		all = append(all, r)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	res.WhiteBalanceK = o.WhiteBalanceK
	for _, r := range all {
		if r.otherLight() {
			res.ColourKnown = false
		}
		for _, p := range []*Picture{r.Bare, r.Through} {
			if k := p.Data.WhiteBalanceK; res.WhiteBalanceK == 0 && k != nil {
				res.WhiteBalanceK = *k
			}
			if a := p.Data.AutoWhiteBalance; a != nil && *a {
				res.ColourKnown = false
			}
		}
	}
	if res.WhiteBalanceK == 0 {
		res.WhiteBalanceK = DefaultWhiteBalanceK
	}
	bySetting := map[float64][]*reading{}
	var settings []float64
	for _, r := range all {
		passed := r.passed()
		found := Found{Stops: -math.Log2(luma(passed)), Brighter: r.brighter(), Steepness: r.steepness(centre, 1)}
		found.CastMired, found.Tint = cast(passed, res.WhiteBalanceK)
		res.Sets = append(res.Sets, found)
		at := 0.0
		if f.Kind == kit.Variable {
			at = r.SettingStops
		}
		if bySetting[at] == nil {
			settings = append(settings, at)
		}
		bySetting[at] = append(bySetting[at], r)
	}
	slices.Sort(settings)
	for _, at := range settings {
		g := group(f, bySetting[at], res.WhiteBalanceK)
		g.SettingStops, g.Label = at, f.TotalStops(at)
		g.ModelMap = model(f, at, o)
		g.ModelCorners = g.ModelMap.Corners()
		res.Groups = append(res.Groups, g)
	}
	for _, g := range res.Groups {
		if off := math.Abs(g.Stops - g.Label); off > otherFilter {
			res.Warnings = append(res.Warnings, Note{-1, "", fmt.Sprintf("%s off what the bag has for %s: is it this filter, and are all pictures of it?", words.AboutStops(off), words.FilterTitle(f.Name, g.SettingStops))})
		}
	}
	if TwoRings(f) && len(all)%ringsWanted != 0 {
		res.Warnings = append(res.Warnings, Note{-1, "", "measured at one position of the ring: turn it by 90° and take the set once more, for the light of a wall may be polarised"})
	}
	return res, nil
}

// TwoRings tells whether a filter is measured at two positions of its ring: it polarises, and the ring can be turned.
func TwoRings(f kit.Filter) bool {
	return (f.Kind == kit.Polariser || f.Kind == kit.Hybrid) && f.Ring != kit.RingFixed
}

// group brings together what several sets of one setting tell.
func group(f kit.Filter, all []*reading, whiteBalanceK float64) (g Group) {
	each := 1
	if TwoRings(f) {
		each = ringsWanted
	}
	var stops, casts, tints []float64
	var openStops, openMired float64 // what the sets leave open, added up
	for part := range slices.Chunk(all, each) {
		var passed [3]float64
		wide, share := 0.0, 0.0 // stops, and a share of the cast: of the worst picture
		for _, r := range part {
			for c, v := range r.passed() {
				passed[c] += v / float64(len(part))
			}
			stops, colour := r.open()
			wide, share = max(wide, stops), max(share, colour)
		}
		mired, tint := cast(passed, whiteBalanceK)
		stops, casts, tints = append(stops, -math.Log2(luma(passed))), append(casts, mired), append(tints, tint)
		one := math.Hypot(floorStops, wide)
		if len(part) < each {
			one = math.Hypot(one, wallStops)
		}
		openStops, openMired = openStops+one, openMired+math.Hypot(floorMired, share*mired)
	}
	n := float64(len(stops))
	var spread float64
	g.Stops, spread = mean(stops)
	g.StopsError = math.Hypot(spread, openStops/n)
	g.CastMired, spread = mean(casts)
	g.CastError = math.Hypot(spread, openMired/n)
	g.Tint, _ = mean(tints)
	g.Sets = len(all)
	var seen [patches]float64
	for _, r := range all {
		for i, v := range r.relative() {
			if !math.IsNaN(v) {
				g.Map[i], seen[i] = g.Map[i]+v, seen[i]+1
			}
		}
	}
	for i := range g.Map {
		g.Map[i] /= seen[i] // NaN where no set tells
	}
	g.Corners = g.Map.Corners()
	return g
}

// open is what the camera's curve leaves open of one set: stops of its loss, and the share of its cast.
func (r *reading) open() (stops, share float64) {
	by := r.brighter()
	switch {
	case r.darker < 0:
		return shareNot * math.Abs(by), shareNot
	case by > 0:
		return shareAbove * by, castKnown + castAbove*by
	}
	return -shareKnown * by, castKnown
}

// mean returns the mean of some numbers and its standard error, 0 of one.
func mean(v []float64) (m, sure float64) {
	for _, x := range v {
		m += x
	}
	n := float64(len(v))
	m /= n
	for _, x := range v {
		sure += (x - m) * (x - m)
	}
	return m, math.Sqrt(sure / max(n-1, 1) / n)
}
