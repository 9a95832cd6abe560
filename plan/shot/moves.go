package shot

// use says what a move does with a field of its leg.
type use uint8

const (
	free     use = iota // it may stand there or not, and may change over the leg
	needed              // it must stand there
	never               // it means nothing
	derived             // other fields say it: where it is written, it must agree with them
	drifting            // a speed that means something only beside a course
	changing            // it must differ from the leg's start to its end
	steady              // it must be the same all along the leg
)

// moveFields is what each move takes, by the keys of a leg; what is not listed is free. The checks of a
// leg and the edits of a card both go by it.
var moveFields = map[Move]map[string]use{
	Push:   {"speed_ms": needed, "to": never},
	Pull:   {"speed_ms": needed, "to": never},
	Slide:  {"speed_ms": needed, "to": needed},
	Follow: {"speed_ms": derived, "course_deg": derived, "to": never, "target": needed},
	Orbit:  {"speed_ms": derived, "course_deg": never, "to": never, "target": needed, "heading_deg": changing},
	Rise:   {"speed_ms": drifting, "to": never, "height_m": changing},
	Pan:    {"speed_ms": drifting, "to": never, "heading_deg": changing},
	Tilt:   {"speed_ms": drifting, "to": never, "pitch_deg": changing},
	Hold: {"speed_ms": drifting, "to": never, "heading_deg": steady, "turn": never, "turns": never,
		"pitch_deg": steady, "height_m": steady},
}

// uses returns what a move does with a key of its leg.
func (m Move) uses(key string) use { return moveFields[m][key] }

// drifts tells whether a move goes nowhere by itself, so that a course and a speed may be added.
func (m Move) drifts() bool { return m.uses("speed_ms") == drifting }

// Blind tells whether a move goes where the camera does not look.
func (m Move) Blind() bool { return m == Pull || m == Slide || m == Orbit }

// Tiles tells whether a leg's stills are to be stitched: the camera turns between them.
func (l *Leg) Tiles() bool { return l.Purpose == Still && l.Move == Pan }
