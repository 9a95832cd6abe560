package measure

import (
	"math"

	"example.org/skywedge/kit/photo"
)

// The map of a picture: so many patches across and down.
const (
	Across, Down = 9, 6
	patches      = Across * Down
	centre       = patches // the middle fifth of width and height, beside the patches
)

// A block counts when all its channels lie between these in all pictures of the set: beyond them a picture may be burnt or
// buried, whatever its curve (ours).
const leastCode, mostCode = 20, 235

// luminance are the weights of red, green and blue, IEC 61966-2-1.
var luminance = [3]float64{0.2126, 0.7152, 0.0722}

func luma(v [3]float64) float64 {
	return luminance[0]*v[0] + luminance[1]*v[1] + luminance[2]*v[2]
}

// region is one patch, or the centre, of all pictures of a set.
type region struct {
	blocks, good int
	light        [][3]float64 // mean of the good blocks, by picture
	dark, bright []int        // blocks below and above what counts, by picture
}

// ok tells whether half of it counts.
func (r *region) ok() bool { return r.good > 0 && 2*r.good >= r.blocks }

// sums adds up pictures of one size, patch by patch.
func sums(pics []*Picture) (all [patches + 1]region) {
	for i := range all {
		all[i].light = make([][3]float64, len(pics))
		all[i].dark, all[i].bright = make([]int, len(pics)), make([]int, len(pics))
	}
	first := pics[0]
	light := make([][3]float64, len(pics))
	for row := range first.Rows {
		y := (float64(row) + 0.5) * photo.Block / float64(first.Tall)
		for col := range first.Cols {
			x := (float64(col) + 0.5) * photo.Block / float64(first.Wide)
			good := true
			patch := &all[int(y*Down)*Across+int(x*Across)]
			inCentre := math.Abs(x-0.5) <= 0.1 && math.Abs(y-0.5) <= 0.1
			for i, p := range pics {
				codes := p.Codes(col, row)
				dark, bright := min(codes[0], codes[1], codes[2]) < leastCode, max(codes[0], codes[1], codes[2]) > mostCode
				for c, v := range codes {
					light[i][c] = photo.Linear(v)
				}
				if dark || bright {
					good = false
				}
				if inCentre {
					all[centre].count(i, dark, bright)
				}
				patch.count(i, dark, bright)
			}
			patch.add(light, good)
			if inCentre {
				all[centre].add(light, good)
			}
		}
	}
	for i := range all {
		for k := range all[i].light {
			for c := range all[i].light[k] {
				all[i].light[k][c] /= float64(all[i].good)
			}
		}
	}
	return all
}

func (r *region) count(i int, dark, bright bool) {
	if dark {
		r.dark[i]++
	}
	if bright {
		r.bright[i]++
	}
}

func (r *region) add(light [][3]float64, good bool) {
	r.blocks++
	if !good {
		return
	}
	r.good++
	for i := range light {
		for c := range light[i] {
			r.light[i][c] += light[i][c]
		}
	}
}

// reading is a set with its pictures added up.
type reading struct {
	Set
	all               [patches + 1]region
	darker            int     // the place of the darker picture among those added up; -1 without it
	exposed, darkness float64 // stops from bare to through, and from darker to bare
}

func read(s Set) *reading {
	r := &reading{Set: s, darker: -1}
	pics := []*Picture{s.Bare, s.Through}
	b, _ := s.Bare.Exposed()
	t, _ := s.Through.Exposed()
	r.exposed = t - b
	if s.Darker != nil {
		d, _ := s.Darker.Exposed()
		r.darker, r.darkness = len(pics), b-d
		pics = append(pics, s.Darker)
	}
	r.all = sums(pics)
	return r
}

// steepness is how steep the camera's curve is in a region and channel, against that of sRGB; 1 without a darker picture.
func (r *reading) steepness(at, c int) float64 {
	if r.darker < 0 {
		return 1
	}
	light := r.all[at].light
	return math.Log2(light[0][c]/light[r.darker][c]) / r.darkness
}

// ratio is the light behind the filter against the bare light, as they fell on the sensor, of each channel.
func (r *reading) ratio(at int) (v [3]float64) {
	for c := range v {
		light := r.all[at].light
		v[c] = math.Pow(light[1][c]/light[0][c], 1/r.steepness(at, c))
	}
	return v
}

// passed is what the filter lets through in the centre, of each channel: the ratio less the longer exposure.
func (r *reading) passed() (v [3]float64) {
	v = r.ratio(centre)
	for c := range v {
		v[c] *= math.Exp2(-r.exposed)
	}
	return v
}

// brighter is how much brighter the picture through the filter is than the bare one, stops.
func (r *reading) brighter() float64 { return math.Log2(luma(r.ratio(centre))) }

// Map is a picture's patches, row by row from the top left: stops against the centre, negative darker, NaN where a patch is
// burnt out or buried.
type Map [patches]float64

// relative maps what the filter does against the centre.
func (r *reading) relative() (m Map) {
	mid := luma(r.ratio(centre))
	for i := range m {
		m[i] = math.NaN()
		if r.all[i].ok() {
			m[i] = math.Log2(luma(r.ratio(i)) / mid)
		}
	}
	return m
}

// Corners returns the mean of each corner patch and its two neighbours: top left, top right, bottom left, bottom right.
func (m Map) Corners() (c [4]float64) {
	const right, below = Across - 1, (Down - 1) * Across
	for i, at := range [4][3]int{
		{0, 1, Across}, {right, right - 1, right + Across},
		{below, below + 1, below - Across}, {below + right, below + right - 1, below + right - Across},
	} {
		n := 0
		for _, k := range at {
			if !math.IsNaN(m[k]) {
				c[i] += m[k]
				n++
			}
		}
		c[i] /= float64(n) // NaN where none of them counts
	}
	return c
}

// roughness is how much a map jumps from patch to patch, stops: what a lens or a filter does is smooth.
func (m Map) roughness() float64 {
	sum, n := 0.0, 0
	bend := func(a, b, c float64) {
		if d := b - (a+c)/2; !math.IsNaN(d) {
			sum, n = sum+d*d, n+1
		}
	}
	for i := range m {
		if x := i % Across; x > 0 && x < Across-1 {
			bend(m[i-1], m[i], m[i+1])
		}
		if y := i / Across; y > 0 && y < Down-1 {
			bend(m[i-Across], m[i], m[i+Across])
		}
	}
	return math.Sqrt(sum / float64(max(n, 1)))
}
