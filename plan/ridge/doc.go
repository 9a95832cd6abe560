// Package ridge works out from elevation tiles how high the land stands all round a place: its skyline.
//
// The one hard idea is that a ridge must not slip through between two looks, however thin it is and however far away.
// So a line of sight is followed through every cell of the grid of heights that it crosses, and where it crosses a line
// between two posts, the height there counts. Further out, where a cell is seen under a twentieth of a degree, cells are
// taken together and the highest post of all of them stands for them: a ridge may then come out wider by that angle, and
// never lower.
//
// Heights are those of the tiles, in metres above the sea: no trees and houses but what is in them. The package reads
// what it is handed, and no more of a tile than the lines of sight cross.
package ridge
