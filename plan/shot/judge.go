package shot

// Tiles tells whether a leg's stills are to be stitched: the camera turns between them.
func (l *Leg) Tiles() bool { return l.Purpose == Still && l.Move == Pan }
