// Package compass looks at a finished report from above: the sky over the aircraft as a map, the effect for
// every heading, what of the ground and of the sky the frame covers, and the flight over the ground.
//
// The one hard idea is that north is up and east to the right everywhere, also on the map of the sky, which
// therefore is not the sky as it looks to one who lies under it: it is laid over the map of the ground, so that
// a bearing is the same direction on both. Only what the sun does during the flight is drawn from above.
//
// Nothing here changes a call. Bearings are degrees from true north, clockwise; places on the map of the sky
// have the zenith at 0, 0 and the horizon at radius 1.
package compass
