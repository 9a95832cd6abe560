// Package motion says how fast the picture moves: whether video needs the blur of a long shutter,
// and whether a still is sharp.
//
// The one hard idea is the image velocity field: every ground point runs across the picture with a
// speed that depends on where in the picture it is, so a frame has no single speed. [Ground] judges
// it on a grid below the horizon by the median and the 90th percentile; [Subject] returns that of one
// point in space, which is what the viewer follows where a leg has a subject.
//
// Vectors here are in camera axes: X right, Y down, Z forward, in metres and metres a second.
// [CameraAxes] turns East-North-Up into them. Picture coordinates are pixels from the centre, u to
// the right and v down. Everything is a pure function and nothing here allocates.
package motion
