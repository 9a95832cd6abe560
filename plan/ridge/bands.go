package ridge

import (
	"encoding/binary"
	"sync"
)

// levels are how often posts are taken together two by two, at most: 1, 2, 4 … 64 to a cell's side.
const levels = 7

// bandPosts is how many rows of posts are read at a time. Every level's cells fit into it.
const bandPosts = 1 << (levels - 1)

// band is a strip of a tile as it was read.
type band struct {
	once sync.Once
	err  error
	// Of level 0, the posts as they are in the file: 65 rows with that on the southern edge.
	raw []byte
	// Of the others the highest post of each cell, those on all of its edges counted.
	height []int16
	voids  []bool // cells with a void among their posts; nil where there is none
}

// side is the count of cells along a tile's edge at a level.
func (t *tile) side(level int) int { return (t.posts - 1 + 1<<level - 1) >> level }

// band returns a strip of a level by the number of its first row of posts over [bandPosts]. A tile that cannot be read any
// more gives one with an error.
func (t *tile) band(level, n int) *band {
	b := &t.levels[level][n]
	b.once.Do(func() { b.err = t.load(b, level, n) })
	return b
}

// rows are what bands are read into that are not kept as they are.
var rows = sync.Pool{New: func() any {
	b := make([]byte, 2*finePosts*(bandPosts+1))
	return &b
}}

func (t *tile) load(b *band, level, n int) error {
	t.read.Store(true)
	first := n * bandPosts
	tall := min(bandPosts+1, t.posts-first)
	size := 2 * t.posts * tall
	if level == 0 {
		b.raw = make([]byte, size)
		return t.readAt(b.raw, first)
	}
	pooled := rows.Get().(*[]byte)
	defer rows.Put(pooled)
	raw := (*pooled)[:size]
	if err := t.readAt(raw, first); err != nil {
		return err
	}
	b.reduce(raw, t.posts, t.side(level), 1<<level)
	return nil
}

// readAt reads whole rows. A file that was cut meanwhile ends too early: the rest of it would be a plain at the height of
// the sea.
func (t *tile) readAt(into []byte, row int) error {
	if n, err := t.at.ReadAt(into, 2*int64(t.posts)*int64(row)); n < len(into) {
		return &Trouble{File: t.name, Err: err}
	}
	return nil
}

// postAt reads one height, the greater byte first.
func postAt(raw []byte, i int) int16 {
	h := int16(raw[2*i])<<8 | int16(raw[2*i+1])
	if h > SummitM || h < abyssM {
		return void
	}
	return h
}

// reduce keeps the highest post of each cell of size posts to a side. A row or column between two cells belongs to both.
func (b *band) reduce(raw []byte, posts, side, size int) {
	row := 2 * posts
	last := len(raw)/row - 1
	tall := (last + size - 1) / size
	b.height = make([]int16, side*tall)
	most := make([]int16, posts)
	for y := range tall {
		for i := range most {
			most[i] = void
		}
		for r := y * size; r <= min(y*size+size, last); r++ {
			if line := raw[r*row:][:row]; highest(most, line) {
				b.markVoids(line, side, size, y)
			}
		}
		for x := range side {
			m := int16(void)
			for _, h := range most[x*size : min(x*size+size, posts-1)+1] {
				m = max(m, h)
			}
			b.height[y*side+x] = m
		}
	}
}

// highest raises a row of heights to those of another as it is in the file. It tells whether there is a void in it, which
// is the lowest height.
func highest(most []int16, raw []byte) (holes bool) {
	for len(most) >= 4 && len(raw) >= 8 {
		v := binary.BigEndian.Uint64(raw)
		a, b, c, d := int16(v>>48), int16(v>>32), int16(v>>16), int16(v)
		if uint16(a-abyssM) > SummitM-abyssM || uint16(b-abyssM) > SummitM-abyssM || uint16(c-abyssM) > SummitM-abyssM || uint16(d-abyssM) > SummitM-abyssM {
			holes = true
			a, b, c, d = postAt(raw, 0), postAt(raw, 1), postAt(raw, 2), postAt(raw, 3)
		}
		most[0], most[1], most[2], most[3] = max(most[0], a), max(most[1], b), max(most[2], c), max(most[3], d)
		most, raw = most[4:], raw[8:]
	}
	for i := range most {
		h := postAt(raw, i)
		most[i], holes = max(most[i], h), holes || h == void
	}
	return holes
}

// markVoids notes in which cells of a row of cells a row of posts has voids.
func (b *band) markVoids(raw []byte, side, size, y int) {
	if b.voids == nil {
		b.voids = make([]bool, len(b.height))
	}
	for i := range len(raw) / 2 {
		if postAt(raw, i) != void {
			continue
		}
		for _, x := range [...]int{(i - 1) / size, i / size} {
			if x < side {
				b.voids[y*side+x] = true
			}
		}
	}
}
