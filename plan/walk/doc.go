// Package walk carries a report to the take-off place: what to screw on, and leg by leg what to set, what to
// expect and when to look out.
//
// The one hard idea is that a pilot in the air reads a line, not a table: everything is said once, in the order
// in which it is flown, and what has to be watched is kept apart from what will simply happen. Nothing is
// computed here that the report does not know.
package walk
