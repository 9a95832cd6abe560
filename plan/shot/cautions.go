package shot

// Blind tells whether a move goes where the camera does not look.
func (m Move) Blind() bool { return m == Pull || m == Slide || m == Orbit }
