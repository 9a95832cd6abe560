package ridge

import (
	"context"
	"encoding/binary"
	"errors"
	"io/fs"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"example.org/skywedge/plan/ridge/ridgetest"
)

func TestNames(t *testing.T) {
	for name, want := range map[string]corner{
		"N43W009.hgt": {43, -9}, "n43w009.HGT": {43, -9}, "N00E000.hgt": {0, 0}, "S01W001.hgt": {-1, -1}, "S90W180.hgt": {-90, -180}, "N89E179.hgt": {89, 179},
		"N43W009.SRTMGL1.hgt": {43, -9},
	} {
		if c, ok := parseName(name); !ok || c != want || c.String() != strings.ToUpper(name[:cornerLen]) {
			t.Errorf("%s: %v, %v", name, c, ok)
		}
	}
	for _, name := range []string{"", "N43W009", ".hgt", "N43W009.hgt.zip", "N43W09.hgt", "S00E000.hgt", "N00W000.hgt", "N90E000.hgt", "N43E180.hgt", "N43W181.hgt",
		"X43W009.hgt", "N4 W009.hgt", "N+3W009.hgt", "N43W009hgt", "N٤٣W009.hgt"} {
		if c, ok := parseName(name); ok {
			t.Errorf("%q is taken for %v", name, c)
		}
	}
	for _, c := range []struct {
		lat, lon float64
		want     string
	}{{43.9, -8.1, "N43W009"}, {-0.1, -0.1, "S01W001"}, {0, 0, "N00E000"}, {43, -9, "N43W009"}, {-45.5, 180, "S46W180"}, {90, 0, "N89E000"}, {12, 190, "N12W170"}} {
		if got := cornerAt(c.lat, c.lon).String(); got != c.want {
			t.Errorf("%v, %v lies in %s, want %s", c.lat, c.lon, got, c.want)
		}
	}
}

// cut is a land whose files end too early.
type cut struct{ *ridgetest.Land }

type cutFile struct{ fs.File }

func (c cut) Open(name string) (fs.File, error) {
	f, err := c.Land.Open(name)
	if err == nil && name != "." {
		f = cutFile{f}
	}
	return f, err
}

func (cutFile) ReadAt(p []byte, _ int64) (int, error) { return len(p) / 2, fs.ErrInvalid }

func TestTroubles(t *testing.T) {
	good := ridgetest.Of(coarsePosts, func(_, _ float64) float64 { return 10 }, "N43W009")
	hole := ridgetest.Of(coarsePosts, func(_, _ float64) float64 { return math.NaN() }, "N43W009")
	odd := ridgetest.Of(coarsePosts, func(_, _ float64) float64 { return 32767 }, "N43W009") // a void, as some write it
	twice := ridgetest.Of(coarsePosts, good.Height, "N43W009 n43w009")
	for name, c := range map[string]struct {
		fsys fs.FS
		lat  float64
		want string
	}{
		"empty":      {fstest.MapFS{}, 43.4, "no elevation tile in this folder"},
		"other ones": {good, 44.4, "the tile of the take-off is missing; fetch it, and those around it; N44W009.hgt"},
		"packed":     {fstest.MapFS{"N43W009.SRTMGL1.hgt.zip": {}}, 43.4, "unpack N43W009.SRTMGL1.hgt.zip; N43W009.hgt"},
		"no bytes":   {fstest.MapFS{"N43W009.hgt": {}}, 43.4, "found 0 bytes; allowed: 2884802 (1201 by 1201 posts) or 25934402 (3601 by 3601)"},
		"too long":   {fstest.MapFS{"N43W009.hgt": {Data: make([]byte, bytesOf(coarsePosts)+1)}}, 43.4, "found 2884803 bytes"},
		"a folder":   {fstest.MapFS{"N43W009.hgt/x": {}}, 43.4, "not a file"},
		"twice":      {twice, 43.4, "a second file for the same tile"},
		"cut":        {cut{good}, 43.4, "invalid argument; N43W009.hgt"},
		"a void":     {hole, 43.4, "a void at the take-off; write its height into the card as place.elevation_m; N43W009.hgt"},
		"odd void":   {odd, 43.4, "a void at the take-off"},
		"the pole":   {good, 88.5, "found a take-off at latitude 88.5°; allowed: -88 to 88°"},
	} {
		f, err := Open(c.fsys)
		if err == nil {
			_, err = f.Look(context.Background(), From{LatDeg: c.lat, LonDeg: -8.4, EyeM: 1.7})
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	up := 300.0
	line := lookAt(t, hole, From{LatDeg: 43.4, LonDeg: -8.4, EyeM: 1.7, GroundM: &up})
	if !line.OnVoid || line.GroundM != 300 || len(line.Voids) == 0 {
		t.Errorf("on a void: %v, %v m, %v", line.OnVoid, line.GroundM, line.Voids)
	}
}

// What is not known is said where something may stand above the line, and only there.
func TestUnknownLand(t *testing.T) {
	// A high wall in the west hides the missing tiles there, and a void before its foot; another lies in the east.
	l := ridgetest.Of(coarsePosts, func(la, lo float64) float64 {
		switch {
		case math.Abs(lo+8.6) < 0.002:
			return 3000
		case math.Abs(lo+8.55) < 0.002 && math.Abs(la-43.5) < 0.01, math.Abs(lo+8.3) < 0.002 && math.Abs(la-43.5) < 0.01:
			return math.NaN()
		}
		return 100
	}, "N43W009")
	line := lookAt(t, l, From{LatDeg: 43.5, LonDeg: -8.5, EyeM: 1.7})
	if len(line.Voids) != 1 {
		t.Fatalf("voids: %v", line.Voids)
	}
	if v := line.Voids[0]; v.Tile != "N43W009" || v.From < 80 || v.To > 100 || math.Abs(v.Km-16) > 0.5 || v.UpToDeg < 0.9 || v.UpToDeg > 1.2 {
		t.Errorf("the void: %+v", v)
	}
	var names []string
	for _, u := range line.Missing {
		names = append(names, u.Tile)
		if u.Tile == "N43W010" {
			t.Errorf("behind the wall: %+v", u)
		}
		if u.Tile == "N43W008" && (math.Abs(u.Km-40.5) > 2.1 || u.From > 70 || u.To < 110) {
			t.Errorf("in the east: %+v", u)
		}
	}
	if all := strings.Join(names, " "); !strings.Contains(all, "N43W008") || !strings.Contains(all, "N44W009") || !strings.Contains(all, "N42W009") {
		t.Errorf("missing: %v", all)
	}
	cardM := 4.0
	text := strings.Join(line.Cautions(&cardM), "\n")
	for _, want := range []string{"taken for the sea: ", "voids in N43W009 (from 16 km, towards 8", "the card has the place at 4 m, the tiles at 100"} {
		if !strings.Contains(text, want) {
			t.Errorf("it is not said that %q:\n%s", want, text)
		}
	}
}

// Any heights at all, and any place: no panic, and angles that are angles.
func FuzzLook(f *testing.F) {
	f.Add(43.4, -8.4, 1.7, []byte{0, 100, 0x80, 0, 0x7f, 0xff})
	f.Add(math.Copysign(0, -1), 180.0, 0.0, []byte{0x22, 0x92})
	f.Add(87.9, -180.0, 9000.0, []byte{0x80, 0, 0x80, 0, 1})
	f.Add(43.0, -9.0, 1.7, []byte{})
	f.Fuzz(func(t *testing.T, lat, lon, eye float64, heights []byte) {
		if !(math.Abs(lat) <= 90 && math.Abs(lon) <= 180 && eye >= 0 && eye <= 10000) {
			return
		}
		l := ridgetest.Of(coarsePosts, func(la, lo float64) float64 {
			if len(heights) < 2 {
				return math.NaN()
			}
			i := int(math.Abs(la*9001+lo*7919)) % (len(heights) / 2)
			return float64(int16(binary.BigEndian.Uint16(heights[2*i:])))
		}, cornerAt(lat, lon).String())
		folder, err := Open(l)
		if err != nil {
			t.Fatal(err)
		}
		up := 100.0
		line, err := folder.Look(context.Background(), From{LatDeg: lat, LonDeg: lon, EyeM: eye, GroundM: &up})
		if err != nil {
			if math.Abs(lat) <= poleDeg {
				t.Fatal(err)
			}
			return
		}
		for i, deg := range line.Deg {
			if !(deg >= -90 && deg <= 90) || !(line.Km[i] >= 0) {
				t.Fatalf("towards %v°: %v°, %v km", float64(i)/perDegree, deg, line.Km[i])
			}
		}
		points, _ := line.Thin()
		if len(points) > MostThin {
			t.Fatalf("%d points", len(points))
		}
	})
}

// Any name: a tile's is read back as it is written.
func FuzzName(f *testing.F) {
	f.Add("N43W009.hgt")
	f.Add("s01e180.HGT")
	f.Fuzz(func(t *testing.T, name string) {
		if c, ok := parseName(name); ok && (c != cornerOf(c.lat, c.lon) || !strings.HasPrefix(strings.ToUpper(name), c.String())) {
			t.Errorf("%q is taken for %v", name, c)
		}
	})
}

// Far off, where posts are taken together, a void is seen as well as close by, however the tile writes it and on whichever
// side it lies; and what stands beside it counts.
func TestVoidsFarOff(t *testing.T) {
	for _, c := range []struct {
		name, tile string
		nobody     float64
		toward     float64 // 1 east, −1 west
	}{{"a void", "N43W008", math.NaN(), 1}, {"an impossible height", "N43W010", 32767, -1}} {
		wall := -8.5 + 1.2*c.toward
		l := ridgetest.Of(finePosts, func(la, lo float64) float64 {
			switch {
			case math.Abs(lo-wall) > 0.01:
				return 0
			case math.Abs(la-43.5) < 0.1:
				return c.nobody
			}
			return 3000 // a wall, 97 km away, with a stretch of it that nobody measured
		}, c.tile)
		l.Tiles["N43W009.hgt"] = coarsePosts
		line := lookAt(t, l, From{LatDeg: 43.5, LonDeg: -8.5, EyeM: 1.7})
		if got := line.at(90 * c.toward); got > 0.01 {
			t.Errorf("%s: %.2f° where nothing was measured", c.name, got)
		}
		want, az, _ := ridgetest.Seen(43.5, -8.5, 1.7, 43.65, wall-0.01*c.toward, 3000)
		if got := line.at(az); math.Abs(got-want) > 0.1 {
			t.Errorf("%s: the wall is at %.2f°, want %.2f°", c.name, got, want)
		}
		if len(line.Voids) != 1 {
			t.Fatalf("%s: voids: %v", c.name, line.Voids)
		}
		// 0.1° of latitude are 11.1 km, which is 6.5° at 97 km.
		middle := math.Mod(360+90*c.toward, 360)
		if v := line.Voids[0]; v.Tile != c.tile || math.Abs(v.Km-96) > 1.5 || v.From < middle-8 || v.From > middle+8 || v.To < middle-8 || v.To > middle+8 {
			t.Errorf("%s: %+v", c.name, v)
		}
	}
}

// broken is a land one of whose files cannot be used, in one of the ways that there are.
type broken struct {
	*ridgetest.Land
	name, how string
}

type dumb struct{ fs.File } // cannot be read from its middle

func (b broken) Open(name string) (fs.File, error) {
	f, err := b.Land.Open(name)
	if err != nil || name != b.name {
		return f, err
	}
	switch b.how {
	case "unlisted", "shut":
		return nil, fs.ErrPermission
	case "dumb":
		return dumb{f}, nil
	}
	return cutFile{f}, nil
}

// Stat is asked for first, so that no pipe is opened.
func (b broken) Stat(name string) (fs.FileInfo, error) {
	if name == b.name && b.how == "unknown" {
		return nil, fs.ErrNotExist
	}
	f, err := b.Land.Open(name)
	if err != nil {
		return nil, err
	}
	return f.Stat()
}

// Whatever is wrong with a tile on the way of a line of sight, far or near, the answer is no skyline but that tile's name.
func TestTroublesOnTheWay(t *testing.T) {
	for _, c := range []struct {
		how, name string
		lon       float64 // of the take-off
		want      string
	}{
		{"unlisted", ".", -8.01, "permission denied"},
		{"shut", "N43W008.hgt", -8.01, "permission denied; N43W008.hgt"},
		{"shut", "N43W009.hgt", -8.01, "permission denied; N43W009.hgt"},
		{"unknown", "N43W008.hgt", -8.01, "file does not exist; N43W008.hgt"},
		{"dumb", "N43W008.hgt", -8.01, "it cannot be read from its middle; N43W008.hgt"},
		{"cut", "N43W008.hgt", -8.01, "invalid argument; N43W008.hgt"},
		{"cut", "N43W008.hgt", -8.95, "invalid argument; N43W008.hgt"}, // from 77 km on
	} {
		l := ridgetest.Of(coarsePosts, func(_, _ float64) float64 { return 10 }, "N43W009")
		l.Tiles["N43W008.hgt"] = finePosts
		f, err := Open(broken{l, c.name, c.how})
		if err == nil {
			_, err = f.Look(context.Background(), From{LatDeg: 43.5, LonDeg: c.lon, EyeM: 1.7})
		}
		var trouble *Trouble
		if !errors.As(err, &trouble) || err.Error() != c.want {
			t.Errorf("%s %s from %g: %v, want %s", c.name, c.how, c.lon, err, c.want)
		}
		if c.how == "shut" && !errors.Is(err, fs.ErrPermission) {
			t.Errorf("what the system said is lost: %v", err)
		}
	}
}

// A cell is as high as the highest post in it, those on its border that it shares with its neighbours included: else a
// line of sight would pass between two cells over a summit.
func TestACellHoldsItsBorder(t *testing.T) {
	const posts, size, side = 13, 4, 3
	r := rand.New(rand.NewPCG(5, 7))
	raw := make([]byte, 2*posts*posts)
	for i := range posts * posts {
		h := r.IntN(3000)
		raw[2*i], raw[2*i+1] = byte(h>>8), byte(h)
	}
	var b band
	b.reduce(raw, posts, side, size)
	for y := range side {
		for x := range side {
			want := int16(void)
			for row := y * size; row <= y*size+size; row++ {
				for col := x * size; col <= x*size+size; col++ {
					want = max(want, postAt(raw, row*posts+col))
				}
			}
			if got := b.height[y*side+x]; got != want {
				t.Errorf("cell %d, %d: %d m, want %d m", x, y, got, want)
			}
		}
	}
}
