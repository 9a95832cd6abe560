// Package plan makes the call: which filter or none, where its ring stands, what shutter and ISO, with what
// room, and why.
//
// The one hard idea is that nothing can be changed in the air. One filter, at one ring, has to serve every
// moment of every leg on the first take and on the last, so each way of mounting each filter is judged over the
// whole flight before any is preferred: [Solve] works out the light and the sky in the frame once, without a
// filter, then asks every candidate what it does to them, weighs what is wrong with each in stops, and reports
// the best with its reasons, its rivals and why each lost. [Report.Sureness] asks what little errors would
// change; [HoursOf] asks the same question at other times.
//
// Everything here is a pure function of a [shot.Shot] and a [kit.Bag]: no clock, no disk, no terminal.
// Angles are degrees, luminances cd/m², exposure values are at ISO 100, and what counts is counted in stops.
package plan
