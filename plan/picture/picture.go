package picture

// Picture is the frame through the lens, bare and as the filter changes it. Pixels run row by row
// from the top left.
type Picture struct {
	W, H    int
	Bare    []float64    // Luminance, cd/m²
	Loss    []float64    // light lost in the filter, stops, positive
	Sky     []bool       // the ray meets the sky
	Colour  [][3]float32 // linear red, green, blue of the bare frame, with luminance Bare
	SunX    float64      // where the sun is, −1..1 across and up; meaningful when SunIn
	SunY    float64
	SunIn   bool
	Horizon []float64  // per column, the y (−1..1) of the horizon, with its dip
	Shadow  FramePoint // where the aircraft's own shadow falls; none without a sun that shines
	Mirror  FramePoint // where level water shows the sun; none over ground that has no glint
	Places             // what stands in it, for the composition; only of a frame of a flight
}

// FramePoint is a place in a picture, −1..1 across and up; X and Y mean something when In.
type FramePoint struct {
	X, Y float64
	In   bool
}
