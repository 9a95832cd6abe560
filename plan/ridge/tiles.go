package ridge

import (
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// The open layout .hgt (the manual of GRASS GIS, r.in.srtm; of GDAL, SRTMHGT): heights in metres as signed numbers of 16 bits,
// the greater byte first, row after row from the north-west corner, 1201 or 3601 posts a degree with those on both of its
// edges; the name is that of the south-west corner, where a post stands.
const (
	coarsePosts = 1201
	finePosts   = 3601
	void        = math.MinInt16 // nobody knows the height
)

// bytesOf is the size of a tile with so many posts to a side.
func bytesOf(posts int) int64 { return 2 * int64(posts) * int64(posts) }

// corner is the south-west corner of a tile, in whole degrees: −90 to 89, −180 to 179.
type corner struct{ lat, lon int }

// cornerAt returns the tile that a place lies in.
func cornerAt(latDeg, lonDeg float64) corner {
	return cornerOf(int(math.Floor(latDeg)), int(math.Floor(lonDeg)))
}

func cornerOf(lat, lon int) corner {
	return corner{min(max(lat, -90), 89), ((lon+180)%360+360)%360 - 180}
}

// String is the name of the tile's file, less what comes behind the dot: N43W009.
func (c corner) String() string {
	ns, ew := 'N', 'E'
	if c.lat < 0 {
		ns = 'S'
	}
	if c.lon < 0 {
		ew = 'W'
	}
	return fmt.Sprintf("%c%02d%c%03d", ns, max(c.lat, -c.lat), ew, max(c.lon, -c.lon))
}

// cornerLen is how long a corner's name is.
const cornerLen = len("N43W009")

// parseName reads the name of a tile's file: its corner, anything behind a dot, and .hgt; in capitals or not.
func parseName(name string) (c corner, ok bool) {
	name = strings.ToUpper(name)
	if len(name) < cornerLen+len(".HGT") || name[cornerLen] != '.' || !strings.HasSuffix(name, ".HGT") {
		return corner{}, false
	}
	return parseCorner(name[:cornerLen])
}

func parseCorner(text string) (c corner, ok bool) {
	number := func(s string) (n int) {
		for _, d := range s {
			if d < '0' || d > '9' {
				return 999
			}
			n = 10*n + int(d-'0')
		}
		return n
	}
	c = corner{number(text[1:3]), number(text[4:7])}
	if text[0] == 'S' {
		c.lat = -c.lat
	}
	if text[3] == 'W' {
		c.lon = -c.lon
	}
	// Written anew it must be the same: S00 and W000 are other tiles' names, and N90, E180 lie outside of the grid.
	return c, c == cornerOf(c.lat, c.lon) && c.String() == text
}

// Folder is a folder of tiles. It may be used by several at a time.
type Folder struct {
	fsys   fs.FS
	files  map[corner][]string
	packed map[corner]string // a tile that lies there packed

	mu   sync.Mutex
	open map[corner]*tile // nil: there is none
}

// Trouble is what is wrong with a tile or a folder.
type Trouble struct {
	File           string // within the folder; "" for the folder itself
	Reason, Remedy string
	Err            error // of the system, where that is what is wrong
}

func (t *Trouble) Error() string {
	text := t.Reason
	if t.Err != nil {
		text = t.Err.Error()
	}
	for _, more := range []string{t.Remedy, t.File} {
		if more != "" {
			text += "; " + more
		}
	}
	return text
}

func (t *Trouble) Unwrap() error { return t.Err }

// Open lists a folder. What is no tile there is left alone, and no tile is opened yet.
func Open(fsys fs.FS) (*Folder, error) {
	list, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, &Trouble{Err: err}
	}
	f := &Folder{fsys: fsys, files: map[corner][]string{}, packed: map[corner]string{}, open: map[corner]*tile{}}
	for _, e := range list {
		if c, ok := parseName(e.Name()); ok {
			f.files[c] = append(f.files[c], e.Name())
		} else if ext := strings.ToLower(path.Ext(e.Name())); len(e.Name()) > cornerLen && slices.Contains([]string{".zip", ".gz", ".7z", ".xz", ".bz2"}, ext) {
			if c, ok := parseCorner(strings.ToUpper(e.Name()[:cornerLen])); ok {
				f.packed[c] = e.Name()
			}
		}
	}
	return f, nil
}

// Close closes the tiles that were opened.
func (f *Folder) Close() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for _, t := range f.open {
		if t != nil {
			t.file.Close()
		}
	}
	f.open = map[corner]*tile{}
}

// tile returns a tile, nil where there is none.
func (f *Folder) tile(c corner) (*tile, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if t, known := f.open[c]; known {
		return t, nil
	}
	var t *tile
	switch names := f.files[c]; len(names) {
	case 0:
	case 1:
		var err error
		if t, err = openTile(f.fsys, names[0], c); err != nil {
			return nil, err
		}
	default:
		return nil, &Trouble{File: names[0], Reason: "a second file for the same tile: " + strings.Join(names[1:], ", "), Remedy: "keep one of them"}
	}
	f.open[c] = t
	return t, nil
}

// missing says that the tile of the take-off is not there.
func (f *Folder) missing(c corner) error {
	t := &Trouble{File: c.String() + ".hgt", Reason: "the tile of the take-off is missing", Remedy: "fetch it, and those around it"}
	if name, ok := f.packed[c]; ok {
		t.Remedy = "unpack " + name
	} else if len(f.files) == 0 {
		t.Reason = "there is no elevation tile in this folder, and the take-off lies in one of that name"
	}
	return t
}

// tile is one file, read piece by piece.
type tile struct {
	corner
	name   string
	posts  int // to a side
	file   fs.File
	at     io.ReaderAt
	levels [levels][]band // each by its bands, from the north
	read   atomic.Bool    // something of it was
}

func openTile(fsys fs.FS, name string, c corner) (*tile, error) {
	st, err := fs.Stat(fsys, name)
	switch {
	case err != nil:
		return nil, &Trouble{File: name, Err: err}
	case !st.Mode().IsRegular(): // a pipe would be waited for
		return nil, &Trouble{File: name, Reason: "not a file", Remedy: "take it away or put the tile there"}
	}
	t := &tile{corner: c, name: name}
	switch st.Size() {
	case bytesOf(coarsePosts):
		t.posts = coarsePosts
	case bytesOf(finePosts):
		t.posts = finePosts
	default:
		return nil, &Trouble{File: name, Reason: fmt.Sprintf("found %d bytes; allowed: %d (%d by %d posts) or %d (%d by %d)", st.Size(),
			bytesOf(coarsePosts), coarsePosts, coarsePosts, bytesOf(finePosts), finePosts, finePosts), Remedy: "fetch the tile again"}
	}
	if t.file, err = fsys.Open(name); err != nil {
		return nil, &Trouble{File: name, Err: err}
	}
	ok := false
	if t.at, ok = t.file.(io.ReaderAt); !ok {
		t.file.Close()
		return nil, &Trouble{File: name, Reason: "it cannot be read from its middle"}
	}
	for l := range t.levels {
		t.levels[l] = make([]band, (t.posts-1+bandPosts-1)/bandPosts)
	}
	return t, nil
}
