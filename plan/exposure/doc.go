// Package exposure turns light into shutter, aperture, ISO and density, and back.
//
// The one hard idea is the exposure value: EV100, the exposure that an amount of light asks for at
// ISO 100, on a scale where one step (a stop) is a factor of two. All functions here are sums and
// differences on that scale:
//
//	EV100 + log2(ISO/100) = log2(N²/t) + loss + compensation
//
// with the f-number N, the exposure time t in seconds, the light that a filter takes in stops and the
// exposure compensation in stops, positive for a brighter picture.
//
// Units: illuminance in lux, luminance in cd/m², times in seconds, angles in degrees, losses and
// compensation in stops. Everything is a pure function; arguments outside the domain of a formula (light
// or time at or below zero) give −Inf, +Inf or NaN as the logarithm does, and never panic.
package exposure
