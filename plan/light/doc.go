// Package light says what light reaches a drone from any direction: sky, sun, air, land and water.
//
// The one hard idea is that a [Scene] is all the light around the aircraft at one moment, before any camera
// looks: it is worked out once, tabled where that saves time, and then answers along any ray with a
// luminance, a colour and the part that is polarised along a sheet's pass direction ([Scene.Look]). A ring or
// a heading step therefore costs a look, not a scene; [Scenes] keeps the last few.
//
// Directions are unit vectors in East-North-Up; luminances are cd/m², illuminances lx, exposure values at
// ISO 100. Haze is the meteorological optical range V at which 5 % of contrast is left, 2.996/V per km.
package light
