// Package water is the light that a surface of water sends to a camera: the polarised sky mirrored in
// it, flat or roughened by the wind, the sun's glint, and what leaves the water itself.
//
// The one hard idea is that the mirrored light is not plain light. It is the polarised sky at the
// mirrored direction, changed by the two Fresnel coefficients, so what a polariser does to water
// depends on the sun as much as on the angle of view: at Brewster's angle it takes all of it away, and
// elsewhere it may take little, or spare the reflection more than the rest. Light is carried as Stokes
// components in the plane square to the ray, with respect to a horizontal and an upright axis ([Axes]),
// so that the light of many facets can be added up.
//
// [Surface.Reflect] is the plain path. [Table] is the fast one for measures and [Smooth] that for pictures: the same
// light against direction, once per sun and wind.
//
// Directions are unit vectors in East-North-Up, luminances in cd/m², illuminances in lux, wind in
// metres a second.
package water
