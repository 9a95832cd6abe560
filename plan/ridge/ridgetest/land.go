// Package ridgetest makes folders of invented elevation tiles for tests, and says by the triangle in space where a place
// is seen from another.
package ridgetest

import (
	"encoding/binary"
	"fmt"
	"io"
	"io/fs"
	"math"
	"strings"
	"time"
)

// The posts to a side of both kinds of tiles.
const (
	Coarse = 1201
	Fine   = 3601
)

// Land is a folder of invented tiles, whose posts are worked out as they are read.
type Land struct {
	Tiles  map[string]int                       // posts to a side, by the file's name
	Height func(latDeg, lonDeg float64) float64 // metres; NaN for a void
}

// Open opens the folder, ".", or a tile.
func (l *Land) Open(name string) (fs.File, error) {
	if name == "." {
		return &landFile{land: l, name: "."}, nil
	}
	posts, ok := l.Tiles[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	f := &landFile{land: l, name: name, posts: posts}
	if _, err := fmt.Sscanf(strings.ToUpper(name[1:3]+" "+name[4:7]), "%d %d", &f.lat, &f.lon); err != nil {
		return nil, err
	}
	if name[0] == 'S' || name[0] == 's' {
		f.lat = -f.lat
	}
	if name[3] == 'W' || name[3] == 'w' {
		f.lon = -f.lon
	}
	return f, nil
}

type landFile struct {
	land *Land
	name string

	lat, lon, posts int
}

func (f *landFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *landFile) Read([]byte) (int, error)   { panic("a tile is read from its middle") }
func (f *landFile) Close() error               { return nil }
func (f *landFile) Name() string               { return f.name }
func (f *landFile) Size() int64                { return 2 * int64(f.posts) * int64(f.posts) }
func (f *landFile) Mode() fs.FileMode {
	if f.name == "." {
		return fs.ModeDir | 0o755
	}
	return 0o644
}
func (f *landFile) ModTime() time.Time         { return time.Time{} }
func (f *landFile) IsDir() bool                { return f.name == "." }
func (f *landFile) Sys() any                   { return nil }
func (f *landFile) Type() fs.FileMode          { return f.Mode().Type() }
func (f *landFile) Info() (fs.FileInfo, error) { return f, nil }

func (f *landFile) ReadDir(int) (list []fs.DirEntry, err error) {
	for name, posts := range f.land.Tiles {
		list = append(list, &landFile{land: f.land, name: name, posts: posts})
	}
	return list, nil
}

// ReadAt works posts out.
func (f *landFile) ReadAt(p []byte, off int64) (int, error) {
	if int64(len(p)) == f.Size() {
		panic("a whole tile is read at once")
	}
	n := 0
	for ; n+1 < len(p) && off+int64(n) < f.Size(); n += 2 {
		i := (off + int64(n)) / 2
		row, col := int(i)/f.posts, int(i)%f.posts
		h := f.land.Height(float64(f.lat)+1-float64(row)/float64(f.posts-1), float64(f.lon)+float64(col)/float64(f.posts-1))
		if math.IsNaN(h) {
			h = -32768
		}
		binary.BigEndian.PutUint16(p[n:], uint16(int16(math.Round(h))))
	}
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// Of is a land with the tiles named, all of so many posts.
func Of(posts int, height func(latDeg, lonDeg float64) float64, names string) *Land {
	l := &Land{Tiles: map[string]int{}, Height: height}
	for name := range strings.FieldsSeq(names) {
		l.Tiles[name+".hgt"] = posts
	}
	return l
}

// Seen is where a place at a height is seen from another: the exact triangle between points of the ellipsoid, worked out
// in space, with the ray of light bent by k of half the angle at the earth's centre.
func Seen(lat0, lon0, h0, lat1, lon1, h1 float64) (altDeg, azDeg, metres float64) {
	space := func(latDeg, lonDeg, h float64) [3]float64 {
		sinP, cosP := math.Sincos(latDeg * math.Pi / 180)
		sinL, cosL := math.Sincos(lonDeg * math.Pi / 180)
		n := 6378137 / math.Sqrt(1-0.00669437999014*sinP*sinP)
		return [3]float64{(n + h) * cosP * cosL, (n + h) * cosP * sinL, (n*(1-0.00669437999014) + h) * sinP}
	}
	a, b := space(lat0, lon0, h0), space(lat1, lon1, h1)
	d := [3]float64{b[0] - a[0], b[1] - a[1], b[2] - a[2]}
	sinP, cosP := math.Sincos(lat0 * math.Pi / 180)
	sinL, cosL := math.Sincos(lon0 * math.Pi / 180)
	e := -sinL*d[0] + cosL*d[1]
	n := -sinP*cosL*d[0] - sinP*sinL*d[1] + cosP*d[2]
	u := cosP*cosL*d[0] + cosP*sinL*d[1] + sinP*d[2]
	level := math.Hypot(e, n)
	central := math.Atan2(level, 6371e3+h0+u)
	alt := math.Atan2(u, level) + 0.13*central/2
	return alt * 180 / math.Pi, math.Mod(math.Atan2(e, n)*180/math.Pi+360, 360), central * 6371e3
}
