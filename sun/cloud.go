package sun

import "math"

// Shine is what is known of the sun under broken cloud.
type Shine int

// The three answers. Auto means that it may do either.
const (
	ShineAuto Shine = iota
	Shining
	Hidden
)

// Cloud is the cloud of one state of the sky: how much there is, and whether the sun stands behind it. The
// zero Cloud is a clear sky.
type Cloud struct {
	Cover     float64 // share of the sky, 0..1
	SunHidden float64 // 0 the sun shines, 1 it is hidden, by cloud or by a ridge; between, through thin edges
}

// Between these covers a sky has two states, and each goes over into its neighbour along a line (ours).
const (
	brightUntil, brightGone = 0.65, 0.95
	darkFrom, darkAlone     = 0.15, 0.45
	darkLikelier            = 0.5
)

// States returns the two states of a sky with that share of cloud: the one while the sun shines through a gap,
// and the one while it is hidden. Up to 15 % and from 95 % of cloud, and where the sun is said to shine or to
// be hidden, the two are one. Along a growing cover neither of them jumps (ours).
func States(cover float64, s Shine) (bright, dark Cloud) {
	c := clip01(cover)
	bright, dark = Cloud{Cover: c}, Cloud{Cover: c}
	switch s {
	case Shining:
	case Hidden:
		bright.SunHidden, dark.SunHidden = 1, 1
	default:
		bright.SunHidden = 1 - sunThroughGaps(c)
		dark.SunHidden = max(bright.SunHidden, 1-clip01((darkAlone-c)/(darkAlone-darkFrom)))
	}
	return bright, dark
}

// sunThroughGaps is the share of the sun in the bright state.
func sunThroughGaps(cover float64) float64 {
	return clip01((brightGone - cover) / (brightGone - brightUntil))
}

// SettingState returns the state that a camera is set for: the bright one below half a sky of cloud, the dark one
// from there, which is the likelier of the two. There it switches, by up to 2.4 stops.
func SettingState(cover float64, s Shine) Cloud {
	bright, dark := States(cover, s)
	if cover < darkLikelier {
		return bright
	}
	return dark
}

// Shines tells whether the sun's disc shines rather than not.
func (c Cloud) Shines() bool { return c.SunHidden < 0.5 }

func (c Cloud) sound() Cloud { return Cloud{clip01(c.Cover), clip01(c.SunHidden)} }

// The light of a covered sky in lux: the overcast sky of the IES Lighting Handbook (from memory), and no more than
// a quarter of the clear total, Kasten & Czeplak 1980 (Solar Energy 24:177, from memory).
const (
	overcastBaseLx, overcastSunLx = 300, 21000
	overcastMost                  = 0.25
)

// The rest of the cloud is ours. With the sun hidden the total falls as the covered sky's share to the power
// c^4.5, which lies within −0.18 to +0.02 stop of Kasten & Czeplak's 1 − 0.75 c^3.4 and has no step.
const (
	coverPower    = 4.5
	cloudEdgeGain = 1.2 // white cloud beside a free sun lifts the total no further than this
)

// lux is the light on a place in three numbers: total is sky and beam together on the horizontal.
type lux struct{ total, sky, normal float64 }

// under lays cloud over the light of a clear sky from a body at an altitude: geometricDeg of its centre, sinSeen
// the sine of the altitude where it is seen.
func (clear lux) under(c Cloud, geometricDeg, sinSeen float64) lux {
	if c == (Cloud{}) || !(clear.total > 0) {
		return clear
	}
	covered := overcastMost
	if geometricDeg > 0 {
		covered = min(covered, (overcastBaseLx+overcastSunLx*math.Sin(min(geometricDeg, 90)*rad))/clear.total)
	}
	hidden := clear.total * math.Pow(covered, math.Pow(c.Cover, coverPower))
	skyShare := clear.sky / clear.total
	dark := hidden * (skyShare + (1-skyShare)*c.Cover*c.Cover) // the sky while the sun is hidden
	if clear.normal == 0 || c.SunHidden == 1 {
		return lux{dark, dark, 0}
	}
	direct := clear.normal * sinSeen
	bright := min(dark, cloudEdgeGain*clear.total-direct) // the sky while the sun shines
	share := 1 - c.SunHidden
	normal := clear.normal
	if share < 1 { // beam over sky goes from nothing to all of it along a curve that is even in stops
		normal = dark * math.Expm1(share*math.Log1p(clear.normal/dark))
	}
	sky := dark + share*(bright-dark)
	return lux{sky + normal*sinSeen, sky, normal}
}
