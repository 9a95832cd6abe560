package ridge

import (
	"context"
	"fmt"
	"math"
	"runtime"

	"example.org/skywedge/plan/internal/parallel"
	"example.org/skywedge/plan/internal/wgs84"
)

// How a skyline is looked for (ours).
const (
	perDegree = 10              // lines of sight to a degree of azimuth
	cellDeg   = 0.05            // how wide cells that are taken together may be seen
	nodeM     = 2000.0          // a line of sight is straight on the grid for so long, which leaves it by 0.1 m,
	nodeShare = 25              // or for such a part of its way, which leaves it by 5 m where cells are 300 wide
	poleDeg   = 88              // the grid of tiles narrows to nothing beyond
	count     = 360 * perDegree // lines of sight
)

// StepDeg is how far apart the directions of a [Line] are.
const StepDeg = 1.0 / perDegree

// What may be hidden where nothing is known (ours): as much higher than the land before a void, and above the sea where a
// tile is missing.
const (
	VoidRiseM    = 300
	MissingRiseM = 2000
)

// From is where a skyline is seen from.
type From struct {
	LatDeg, LonDeg float64
	EyeM           float64  // above the ground there
	GroundM        *float64 // the ground's height where the tiles do not know it; nil: then it is refused
	Workers        int      // 0: one a core
}

// Line is a skyline: how high the land stands all round.
type Line struct {
	Deg     []float64 // altitude as it is seen, every [StepDeg] from north by east
	Km      []float64 // how far off it is
	GroundM float64   // of the place, by the tiles
	OnVoid  bool      // they do not know it: the height was given
	EyeM    float64   // above the ground
	FarKm   float64   // how far was looked, at most: beyond, no land on earth would stand above it
	Tiles   []string  // that were read
	Missing []Unknown // tiles taken for the sea, the nearest first
	Voids   []Unknown // tiles with voids behind which more may stand, the nearest first
	Mixed   bool      // tiles of both sizes were read
}

// Unknown is a part of the land that is not known, and may stand above the line that was found.
type Unknown struct {
	Tile    string
	Km      float64 // from where on
	From    float64 // the directions, degrees: from one clockwise to the other
	To      float64
	UpToDeg float64 // how high it may stand there
}

// Look works out the skyline of a place.
func (f *Folder) Look(ctx context.Context, from From) (*Line, error) {
	if math.Abs(from.LatDeg) > poleDeg {
		return nil, &Trouble{Reason: fmt.Sprintf("found a take-off at latitude %.4g°; allowed: -%d to %d°, the tiles narrow to nothing beyond", from.LatDeg, poleDeg, poleDeg)}
	}
	home := cornerAt(from.LatDeg, from.LonDeg)
	t, err := f.tile(home)
	if err == nil && t == nil {
		err = f.missing(home)
	}
	if err != nil {
		return nil, err
	}
	l := &Line{EyeM: from.EyeM, Deg: make([]float64, count), Km: make([]float64, count)}
	ground, known, err := t.heightAt(from.LatDeg, from.LonDeg)
	switch {
	case err != nil:
		return nil, err
	case known:
		l.GroundM = ground
	case from.GroundM == nil:
		return nil, &Trouble{File: t.name, Reason: "the tile has a void at the take-off", Remedy: "write its height into the card as place.elevation_m"}
	default:
		l.GroundM, l.OnVoid = *from.GroundM, true
	}
	w := &look{folder: f, site: siteAt(from.LatDeg, from.LonDeg), eye: l.GroundM + from.EyeM}
	rays := make([]ray, count)
	workers := from.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	const piece = 2 * perDegree // neighbours read the same bands, and would wait for one another: every other one is opposite
	err = parallel.Do(ctx, workers, count/piece, nil, func() func(int) {
		tiles := map[corner]*tile{}
		return func(n int) {
			first := n/2*piece + n%2*count/2
			for i := first; i < first+piece; i++ {
				w.cast(&rays[i], float64(i)/perDegree, tiles)
			}
		}
	})
	if err != nil {
		return nil, err
	}
	for i := range rays {
		r := &rays[i]
		if r.err != nil {
			return nil, r.err
		}
		l.Deg[i], l.Km[i] = math.Atan(r.best)*180/math.Pi, r.bestAt/1000
		l.FarKm = max(l.FarKm, r.far/1000)
	}
	l.tell(f, rays)
	return l, nil
}

// look is what all lines of sight share.
type look struct {
	folder *Folder
	*site
	eye float64 // above the sea, m
}

// ray is one line of sight. Slopes are tangents of the altitude as it is seen, which is
//
//	(height − eye − s²·(1−k)/2R) / s
//
// at s metres over the ground: the land falls away by s²/2R, and bent light lifts it by k of that. (The manual of terra,
// viewshed, has the same correction, of 1−k times the distance squared over the earth's diameter.) Against the exact
// triangle it is good to 0.015° as far as any land is seen, and above 10° to 0.04° (TestTheFormulaIsTheTriangle).
type ray struct {
	eye, drop float64 // drop: (1−k)/2R
	best      float64
	bestAt    float64
	rim       float64 // the height that was known last
	far       float64
	gaps      []gap
	err       error
}

// gap is where a line of sight met what is not known, the worst of each kind and tile.
type gap struct {
	corner
	missing bool
	at      float64
	slope   float64
}

// cast follows a line of sight to where no land on earth would stand above what it has found.
func (w *look) cast(r *ray, azDeg float64, tiles map[corner]*tile) {
	radius := w.radius(azDeg)
	*r = ray{eye: w.eye, drop: (1 - Refraction) / (2 * radius), best: math.Inf(-1), rim: w.eye}
	lat0, lon0, s0 := w.lat*180/math.Pi, w.lon*180/math.Pi, 0.0
	for {
		// Near a pole meridians run together, and a straight line on the grid has to be shorter.
		step := min(max(nodeM, s0/nodeShare), max(10, (90-math.Abs(lat0))*111e3/50))
		s1 := s0 + step
		lat1, lon1 := w.along(azDeg, s1)
		lon1 = lon0 + math.Remainder(lon1-lon0, 360)
		w.straight(r, lat0, lon0, s0, lat1, lon1, s1, tiles)
		lat0, lon0, s0 = lat1, lon1, s1
		r.far = s0
		if r.err != nil || SummitM-r.eye-r.drop*s0*s0 <= r.best*s0 || math.Abs(lat0) > 89.9 {
			return
		}
	}
}

// straight follows a line of sight over a stretch that is straight on the grid, tile by tile.
func (w *look) straight(r *ray, lat0, lon0, s0, lat1, lon1, s1 float64, tiles map[corner]*tile) {
	for from := 0.0; from < 1; {
		// Where the next edge of a tile is crossed. A point on an edge belongs to the tile that the line runs into.
		to := 1.0
		lat, lon := lat0+from*(lat1-lat0), lon0+from*(lon1-lon0)
		edge := func(at, by float64) (cell int) {
			const near = 1e-9
			switch cell = int(math.Floor(at)); {
			case by > 0:
				cell = int(math.Floor(at + near))
				to = min(to, from+(float64(cell+1)-at)/by)
			case by < 0:
				cell = int(math.Ceil(at-near)) - 1
				to = min(to, from+(float64(cell)-at)/by)
			}
			return cell
		}
		la, lo := edge(lat, lat1-lat0), edge(lon, lon1-lon0)
		to = max(to, from+1e-6) // it always gets on
		to = min(to, 1)
		c := cornerOf(la, lo)
		t, known := tiles[c]
		if !known {
			if t, r.err = w.folder.tile(c); r.err != nil {
				return
			}
			tiles[c] = t
		}
		a, b := s0+from*(s1-s0), s0+to*(s1-s0)
		if t == nil {
			r.sea(c, a, b)
		} else {
			n := float64(t.posts - 1)
			x := func(f float64) float64 { return min(max((lon0+f*(lon1-lon0)-float64(lo))*n, 0), n) }
			y := func(f float64) float64 { return min(max((float64(la+1)-lat0-f*(lat1-lat0))*n, 0), n) }
			level := t.level(a)
			if level == 0 {
				r.posts(t, x(from), y(from), a, x(to), y(to), b)
			} else {
				r.cells(t, level, x(from), y(from), a, x(to), y(to), b)
			}
			if r.err != nil {
				return
			}
		}
		from = to
	}
}

// level returns how often posts are taken together at a distance.
func (t *tile) level(metres float64) (level int) {
	const post = math.Pi / 180 * wgs84.MajorM
	size := post / float64(t.posts-1)
	for level < levels-1 && 2*size <= metres*(cellDeg*math.Pi/180) {
		level, size = level+1, 2*size
	}
	return level
}

// sea takes a stretch for the sea.
func (r *ray) sea(c corner, from, to float64) {
	r.see(0, from)
	r.see(0, to)
	if top := math.Sqrt(max(0, r.eye/r.drop)); from < top && top < to { // the horizon
		r.see(0, top)
	}
	r.unknown(c, true, MissingRiseM, from)
	r.rim = 0
}

// see takes a height at a distance into account.
func (r *ray) see(height, at float64) {
	if at <= 0 {
		return
	}
	if rise := height - r.eye - r.drop*at*at; rise > r.best*at {
		r.best, r.bestAt = rise/at, at
	}
}

// unknown keeps how high something might stand where nothing is known.
func (r *ray) unknown(c corner, missing bool, height, at float64) {
	slope := (height - r.eye - r.drop*at*at) / max(at, 1)
	for i := range r.gaps {
		if g := &r.gaps[i]; g.corner == c && g.missing == missing {
			if slope > g.slope {
				g.slope = slope
			}
			g.at = min(g.at, at)
			return
		}
	}
	r.gaps = append(r.gaps, gap{c, missing, at, slope})
}
