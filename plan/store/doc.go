// Package store keeps cards on disk without losing work.
//
// The one hard idea is that a file is replaced, never rewritten: [Save] writes a new file beside the
// old one, forces it to the disk and renames it over the old name, so that a crash, a full disk or a
// kill at any moment leaves either the old card or the new one, whole. The version before stays as
// NAME~.
//
// Around it: [Snapshot] remembers what was read, so that a file that changed meanwhile is noticed
// before it is overwritten; recovery files hold unsaved edits under the state folder, each
// window's its own ([Window]), until somebody decides on them ([Recoveries]); [Acquire] tells a second window on the same card that it is the second.
//
// The package knows nothing of what a card holds. Messages are lower case and say what to do; every
// error wraps the system's.
package store
