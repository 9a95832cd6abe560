package ridge

import (
	"cmp"
	"math"
	"slices"
)

// tell gathers what the lines of sight have met.
func (l *Line) tell(f *Folder, rays []ray) {
	f.mu.Lock()
	sizes := map[int]bool{}
	for _, t := range f.open {
		if t != nil && t.read.Load() {
			l.Tiles = append(l.Tiles, t.name)
			sizes[t.posts] = true
		}
	}
	f.mu.Unlock()
	slices.Sort(l.Tiles)
	l.Mixed = len(sizes) > 1
	l.Missing, l.Voids = gather(rays, true), gather(rays, false)
}

// gather joins what is not known tile by tile, where it may stand above the line found.
func gather(rays []ray, missing bool) []Unknown {
	type part struct {
		Unknown
		bearings []int
	}
	parts := map[corner]*part{}
	for i := range rays {
		for _, g := range rays[i].gaps {
			if g.missing != missing || g.slope <= rays[i].best {
				continue
			}
			p := parts[g.corner]
			if p == nil {
				p = &part{Unknown: Unknown{Tile: g.corner.String(), Km: math.Inf(1), UpToDeg: -90}}
				parts[g.corner] = p
			}
			p.bearings = append(p.bearings, i)
			p.Km = min(p.Km, g.at/1000)
			p.UpToDeg = max(p.UpToDeg, math.Atan(g.slope)*180/math.Pi)
		}
	}
	list := make([]Unknown, 0, len(parts))
	for _, p := range parts {
		p.From, p.To = span(p.bearings)
		list = append(list, p.Unknown)
	}
	slices.SortFunc(list, func(a, b Unknown) int {
		return cmp.Or(cmp.Compare(a.Km, b.Km), cmp.Compare(a.Tile, b.Tile))
	})
	return list
}

// span returns the least arc that holds all of some directions, clockwise.
func span(sorted []int) (from, to float64) {
	n := len(sorted)
	widest, after := -1, 0
	for i := range sorted {
		gap := sorted[(i+1)%n] - sorted[i]
		if i == n-1 {
			gap += count
		}
		if gap > widest {
			widest, after = gap, i
		}
	}
	return float64(sorted[(after+1)%n]) / perDegree, float64(sorted[after]) / perDegree
}
