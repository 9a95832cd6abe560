// Package trip makes one plan of many shots: when each can be flown, in which order, with which filters and batteries.
//
// The one hard idea is that three things compete for one evening: every shot has a window in which the filter that was
// called for it still holds, every change of filter and every drive takes minutes, and minutes are what the windows lack.
// So the shots of a day are put in the order that misses the fewest windows, then changes filters least, then drives
// least; and a take-off is moved only within its own window, and no further from where the card has it than it must.
//
// [Work] makes the call of one shot and finds its window, which is the slow part, once for each card; [Of] makes the plan,
// at once, from what is worked out so far. Nothing here reads a file or a clock.
package trip
