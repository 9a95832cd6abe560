package measure

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit"
)

// WallSteps tells what to photograph for the loss, the colour and the corners of a filter.
func WallSteps(f kit.Filter) []string {
	const on = "Power off, put the filter on, and see that nothing came unlocked."
	steps := []string{
		"Fill the frame with a plain wall in steady light. Lock white balance and focus, leave zoom and aperture alone, and use a stand: nothing may move.",
		"Take one picture bare, and one bare a stop darker, at half the time.",
	}
	switch {
	case f.Kind == kit.Variable:
		return append(steps, on+" At each of its marks take one picture as bright as the first or a little darker, by time or ISO.")
	case TwoRings(f):
		return append(steps, on+" Take one picture as bright as the first or a little darker, by time or ISO.",
			"Power off, turn the ring by 90°, and take that picture again: a wall may be polarised.")
	}
	return append(steps, on+" Take one picture as bright as the first or a little darker, by time or ISO.")
}

// MarkSteps tells what to photograph to find where the mark of a filter stands; none where it has none to be found.
func MarkSteps(f kit.Filter) []string {
	if !TwoRings(f) {
		return nil
	}
	return []string{
		"Stand before glare off a level glossy floor or still water, and look about 37° down. Fill the middle of the frame with it; use a stand.",
		"Set an exposure by hand that burns nothing out where the glare is brightest, and keep it for all.",
		fmt.Sprintf("With the mark at %s, facing the lens, take one picture each. Power off before the ring is turned.", strings.Join(OfferedTurns, ", ")),
	}
}
