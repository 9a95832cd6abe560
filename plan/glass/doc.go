// Package glass knows what filters do over the rays of a lens, and remembers it for as long as the program runs.
//
// The one hard idea is that none of it depends on the light: the rays of a grid follow from the field of view, a filter's
// answers over them from the grid, the kind of glass and where its pass axis stands. A shot that is worked out again asks
// for the same ones. So they are kept under their values, never under a filter's name: what is kept is what would be made
// anew, to the last bit (TestKeptIsWhatIsMadeAnew), whoever asked for it first, and a bag that was edited finds all that
// stayed. Of each kind no more than a few megabytes are kept.
package glass
