package ridge

import "math"

// posts follows a line through the cells between single posts, from one place of a tile to another in posts from its
// north-west corner, and sees the height wherever it crosses a line between two posts.
func (r *ray) posts(t *tile, x0, y0, s0, x1, y1, s1 float64) {
	// Columns of posts first, then rows: in which order they come matters to nothing.
	r.lines(t, x0, y0, s0, x1, y1, s1, false)
	r.lines(t, y0, x0, s0, y1, x1, s1, true)
}

// lines sees the heights where a line crosses columns of posts (u counts them, v is the place along them), or rows.
func (r *ray) lines(t *tile, u0, v0, s0, u1, v1, s1 float64, rows bool) {
	first, last := int(math.Ceil(min(u0, u1))), int(math.Floor(max(u0, u1)))
	if first > last || u0 == u1 {
		return
	}
	perV, perS := (v1-v0)/(u1-u0), (s1-s0)/(u1-u0)
	v, s := v0+(float64(first)-u0)*perV, s0+(float64(first)-u0)*perS
	top := t.posts - 2
	var b *band
	held := -1
	for u := first; u <= last; u, v, s = u+1, v+perV, s+perS {
		k := min(max(int(v), 0), top)
		f := v - float64(k)
		row, col, next := k, u, t.posts
		if rows {
			row, col, next = min(u, top+1), k, 1
		}
		n := row / bandPosts // of the southern edge too: neither 1200 nor 3600 posts are whole bands
		if n != held {
			if b, held = t.band(0, n), n; b.err != nil {
				r.err = b.err
				return
			}
		}
		i := (row-n*bandPosts)*t.posts + col
		a, c := postAt(b.raw, i), postAt(b.raw, i+next)
		if a == void || c == void {
			r.unknown(t.corner, false, r.rim+VoidRiseM, s)
			if a, c = max(a, c), max(a, c); a == void {
				continue
			}
		}
		h := float64(a) + f*(float64(c)-float64(a))
		r.rim = h
		if rise := h - r.eye - r.drop*s*s; rise > r.best*s && s > 0 {
			r.best, r.bestAt = rise/s, s
		}
	}
}

// cells follows a line through cells of many posts, and sees the highest post of each from where the line enters it.
func (r *ray) cells(t *tile, level int, x0, y0, s0, x1, y1, s1 float64) {
	k := 1 / float64(int(1)<<level)
	x0, y0, x1, y1 = x0*k, y0*k, x1*k, y1*k
	side := t.side(level)
	var b *band
	held := -1
	perBand := bandPosts >> level
	enter := func(x, y int, s float64) {
		x, y = min(max(x, 0), side-1), min(max(y, 0), side-1)
		n := y / perBand
		if n != held {
			if b, held = t.band(level, n), n; b.err != nil {
				r.err = b.err
				return
			}
		}
		i := (y-n*perBand)*side + x
		h := b.height[i]
		if b.voids != nil && b.voids[i] {
			r.unknown(t.corner, false, max(r.rim, float64(h))+VoidRiseM, s)
		}
		if h == void {
			return
		}
		r.rim = float64(h)
		if rise := r.rim - r.eye - r.drop*s*s; rise > r.best*s {
			r.best, r.bestAt = rise/s, s
		}
	}
	enter(int(x0), int(y0), s0)
	if x0 != x1 {
		perY, perS := (y1-y0)/(x1-x0), (s1-s0)/(x1-x0)
		behind := 0
		if x1 < x0 {
			behind = -1
		}
		for x := int(math.Ceil(min(x0, x1))); x <= int(math.Floor(max(x0, x1))) && r.err == nil; x++ {
			d := float64(x) - x0
			enter(x+behind, int(y0+d*perY), s0+d*perS)
		}
	}
	if y0 != y1 {
		perX, perS := (x1-x0)/(y1-y0), (s1-s0)/(y1-y0)
		behind := 0
		if y1 < y0 {
			behind = -1
		}
		for y := int(math.Ceil(min(y0, y1))); y <= int(math.Floor(max(y0, y1))) && r.err == nil; y++ {
			d := float64(y) - y0
			enter(int(x0+d*perX), y+behind, s0+d*perS)
		}
	}
}

// heightAt returns the height of a place of the tile, between its posts; known is false where all of them are voids.
func (t *tile) heightAt(latDeg, lonDeg float64) (metres float64, known bool, err error) {
	n := float64(t.posts - 1)
	x, y := math.Mod(lonDeg-float64(t.lon)+360, 360)*n, (float64(t.lat+1)-latDeg)*n
	col, row := min(max(int(x), 0), t.posts-2), min(max(int(y), 0), t.posts-2)
	b := t.band(0, row/bandPosts)
	if b.err != nil {
		return 0, false, b.err
	}
	var sum, weight float64
	for _, c := range [4][2]int{{0, 0}, {0, 1}, {1, 0}, {1, 1}} {
		h := postAt(b.raw, (row%bandPosts+c[1])*t.posts+col+c[0])
		w := (1 - math.Abs(x-float64(col+c[0]))) * (1 - math.Abs(y-float64(row+c[1])))
		if h != void {
			sum, weight = sum+w*float64(h), weight+w
			known = true
		}
	}
	if weight < 1e-9 { // right on a post that is void
		return 0, false, nil
	}
	return sum / weight, known, nil
}
