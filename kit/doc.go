// Package kit is the pilot's bag: cameras, filters and settings as they are written in a file, and how
// each filter answers a ray of light.
//
// The one hard idea is that a filter on a wide lens is not one number: every ray crosses it at its own
// slant, and light that is polarised passes or not by the direction in which it swings. So a filter,
// set to a ring and a setting, is a [Mount], and a Mount has an [Answer] for every direction: how much
// plain light passes, how strongly it tells polarised light apart, and along which direction in space.
// With the answer as a vector nobody downstream has to keep books on angles.
//
// The ring is read facing the lens, the picture is seen from behind the camera; [PassAxisDeg] is the one
// place that turns one into the other.
//
// A [Bag] does not change: an edit ([Bag.SetFilter]) returns a new one, whose document keeps the
// author's comments. [BagSpec] is the table that reading, checking, editing and the documentation share.
//
// Losses are in stops, angles in degrees where the name says so, directions unit vectors in camera
// coordinates: right, up, forward as the picture appears.
package kit
