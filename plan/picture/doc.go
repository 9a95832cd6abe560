// Package picture draws a scene through a filter and develops it for a screen.
//
// The one hard idea is that drawing and developing are apart. [Draw] keeps what the lens sees as light: the
// bare luminance and colour of every pixel and the stops that the filter takes there. [Picture.Develop] then
// is the camera: exposure, white balance, cast, halos, tone curve. So the same picture is shown bare beside
// filtered, at any exposure, without looking along a single ray again. It knows cards and scenes, but no
// report: which moment and which filter are asked for is the caller's.
package picture
