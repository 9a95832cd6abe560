// Package frame measures what a camera sees: how much a polariser does to the sky in the frame, how evenly,
// and what it takes from the glare and the haze below the horizon.
//
// The one hard idea is to split what depends on what. The rays of a [Grid] depend on the lens; a filter's
// [Answers] over them on lens, filter and ring; the light in a [Frame] on sun and heading. Each is worked out
// once, in a basis square to each ray, and a ring angle then costs two products a sample. A thinned grid keeps
// as many samples as the measure needs.
package frame
