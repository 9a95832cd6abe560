// Package sun says where the sun and the moon stand, what happens on a day, and what light they
// make: on the ground, on a subject, in the sky.
//
// The one hard idea is that there are two altitudes. The geometric altitude is that of the straight
// line from the observer to the middle of the disc. The apparent altitude is where the disc is
// seen, because air bends light down to the observer: by half a degree at the horizon, by nothing
// that matters above 20°. Events of the day, and the illuminance formulas, are defined on the
// geometric altitude; pictures, shadows and the direct beam use the apparent one.
//
// The way through it: [At] and [MoonAt] place the bodies, [ClearAir] is the air, [LightAt] the light that falls
// on a place, [NewSky] the sky that gives the sky's part of it, direction by direction; [DayOf] is the day's
// events. A picture, which asks for thousands of directions, takes a [Pattern] and tabulates its two factors.
//
// Everything here is a pure function of its arguments: no clock, no disk, no terminal. Times are
// instants, so their zone does not matter except where a calendar date is meant ([DayOf]).
// Azimuths are degrees clockwise from true north, altitudes degrees above the horizon,
// illuminances lux, luminances cd/m². Latitudes are −90..90, north positive; longitudes are degrees
// east.
//
// How sure it is: the sun within 0.02° and its events within 10 s (30 s where the sun grazes the
// horizon) from 2000 to 2050; the moon within 3°, which is enough for moonlight and no more;
// illuminance within half a stop under a clear sky and within each of
// the two states of a cloudy one.
package sun
