package main

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/kit/photo/phototest"
	"example.org/skywedge/plan/exposure"
	"github.com/rogpeppe/go-internal/testscript"
)

// cmdJQ checks one value of the JSON on standard output: jq PATH OP VALUE [TOLERANCE], where PATH is
// keys and indices with dots, and OP is is, near, has, null or count.
func cmdJQ(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: jq PATH OP [VALUE [TOLERANCE]]")
	}
	var doc any
	if err := json.Unmarshal([]byte(ts.ReadFile("stdout")), &doc); err != nil {
		ts.Fatalf("stdout is not JSON: %v", err)
	}
	v, ok := dig(doc, args[0])
	if !ok {
		ts.Fatalf("there is no %s", args[0])
	}
	if err := compare(v, args[1], args[2:]); (err != nil) != neg {
		ts.Fatalf("%s: %v (it is %v)", args[0], err, v)
	}
}

func dig(v any, path string) (any, bool) {
	for _, k := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			var ok bool
			if v, ok = x[k]; !ok {
				return nil, false
			}
		case []any:
			i, err := strconv.Atoi(k)
			if err != nil || i >= len(x) {
				return nil, false
			}
			v = x[i]
		default:
			return nil, false
		}
	}
	return v, true
}

func compare(v any, op string, args []string) error {
	switch op {
	case "null":
		if v != nil {
			return fmt.Errorf("is not null")
		}
		return nil
	case "has":
		if v == nil || !strings.Contains(fmt.Sprint(v), args[0]) {
			return fmt.Errorf("does not hold %q", args[0])
		}
		return nil
	case "is":
		if fmt.Sprint(v) != args[0] {
			return fmt.Errorf("is not %q", args[0])
		}
		return nil
	case "count":
		l, ok := v.([]any)
		if !ok || fmt.Sprint(len(l)) != args[0] {
			return fmt.Errorf("is not a list of %s", args[0])
		}
		return nil
	case "near":
		x, ok := v.(float64)
		want, err1 := strconv.ParseFloat(args[0], 64)
		within, err2 := strconv.ParseFloat(args[1], 64)
		if !ok || err1 != nil || err2 != nil || math.Abs(x-want) > within {
			return fmt.Errorf("is not within %s of %s", args[1], args[0])
		}
		return nil
	}
	return fmt.Errorf("unknown comparison %q", op)
}

// cmdExits runs a command and checks its exit code: exits CODE skywedge args… [< FILE].
func cmdExits(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	if ee, ok := err.(*exec.ExitError); ok {
		got = ee.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if (got == want) == neg {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// cmdBig makes a file of N MiB that begins like a card: big FILE N. Only its beginning takes room.
func cmdBig(ts *testscript.TestScript, neg bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	line := "# " + strings.Repeat("x", 61) + "\n"
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("skywedge: 1\n"+strings.Repeat(line, 1<<14)), 0o644))
	ts.Check(os.Truncate(ts.MkAbs(args[0]), int64(n)<<20))
}

// cmdOver writes a file that is one byte larger than a document may be: over FILE.
func cmdOver(ts *testscript.TestScript, neg bool, args []string) {
	text := "skywedge: 1\n"
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text+strings.Repeat("#", field.MaxBytes+1-len(text))), 0o644))
}

// cmdPhoto writes a picture: photo FILE CLOCK OFFSET 1/SHUTTER ISO HEADING MODE [LAT LON]; - leaves a value out.
func cmdPhoto(ts *testscript.TestScript, neg bool, args []string) {
	number := func(i int) float64 {
		if i >= len(args) || args[i] == "-" {
			return 0
		}
		v, err := strconv.ParseFloat(args[i], 64)
		ts.Check(err)
		return v
	}
	text := func(i int) string { return strings.Trim(args[i], "-") }
	s := phototest.Shot{Clock: text(1), Offset: args[2], Shutter: [2]uint32{1, uint32(number(3))}, ISO: uint16(number(4)), Aperture: 2.8}
	if args[2] == "-" {
		s.Offset = ""
	}
	if h := number(5); args[5] != "-" {
		s.Heading = &h
	}
	if mode := uint16(number(6)); args[6] != "-" {
		s.Mode = &mode
	}
	if len(args) > 8 {
		s.Place = &[2]float64{number(7), number(8)}
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), s.JPEG(), 0o644))
}

// cmdWall takes a picture of a plain wall, grey at 1/60, f/2.8 and ISO 100: wall FILE SHUTTER LOSS_R,LOSS_G,LOSS_B [WORD…],
// where a word is auto (white balance), late (an hour later), small, bright (a wall three stops brighter), curve (an S-curve)
// or none (no data).
func cmdWall(ts *testscript.TestScript, neg bool, args []string) {
	var loss [3]float64
	if _, err := fmt.Sscanf(args[2], "%g,%g,%g", &loss[0], &loss[1], &loss[2]); err != nil {
		ts.Fatalf("wall: %v", err)
	}
	words := args[3:]
	is := func(w string) bool { return slices.Contains(words, w) }
	w := phototest.Wall{Wide: 240, Tall: 160, Vignette: 0.7, Noise: 2, Seed: uint64(len(args[0]))}
	locked := uint16(1)
	s := phototest.Shot{Clock: "2026:09:18 12:00:00", ISO: 100, Aperture: 2.8, ColorSpace: 1, WhiteBalance: &locked, Focal35MM: 24}
	if is("auto") {
		locked = 0
	}
	if is("late") {
		s.Clock = "2026:09:18 13:00:00"
	}
	if is("small") {
		w.Wide = 192
	}
	if is("curve") {
		w.Curve = phototest.SCurve
	}
	light := 0.2 * 64 * 8
	if is("bright") {
		light *= 8
	}
	w.Light = [3]float64{light, light, light}
	w.Filter = func(u, v float64) (passed [3]float64) {
		for i := range passed {
			passed[i] = math.Exp2(-loss[i])
		}
		return passed
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), drawWall(ts, w, s, args[1], is("none")), 0o644))
}

// cmdGlare takes a picture of glare with the mark at a position, in degrees, that is brightest at another: glare FILE RING BRIGHTEST DEPTH.
func cmdGlare(ts *testscript.TestScript, neg bool, args []string) {
	var v [3]float64
	for i := range v {
		var err error
		v[i], err = strconv.ParseFloat(args[1+i], 64)
		ts.Check(err)
	}
	light := 0.2 * 64 * 8 * (1 + v[2]*math.Cos(2*(v[0]-v[1])*math.Pi/180))
	w := phototest.Wall{Wide: 144, Tall: 96, Noise: 2, Light: [3]float64{light, light, light}}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), drawWall(ts, w, phototest.Shot{ISO: 100, Aperture: 2.8}, "1/60", false), 0o644))
}

// drawWall draws a wall at a marked exposure time.
func drawWall(ts *testscript.TestScript, w phototest.Wall, s phototest.Shot, shutter string, noData bool) []byte {
	over, under, _ := strings.Cut(shutter, "/")
	a, err := strconv.ParseUint(over, 10, 32)
	ts.Check(err)
	b, err := strconv.ParseUint(under, 10, 32)
	ts.Check(err)
	s.Shutter = [2]uint32{uint32(a), uint32(b)}
	w.Thirds = exposure.NearestShutter(float64(a)/float64(b), 0, 0, false).Index
	data := w.JPEG(s)
	if noData {
		data = append([]byte{0xff, 0xd8}, data[4+int(data[4])<<8+int(data[5]):]...)
	}
	return data
}

// cmdTile writes an elevation tile: tile FILE GROUND [WALL-LON WALL-HEIGHT [VOID-LON]]. It is a plain at a height with a
// wall along a meridian, a post or two wide, and voids along another.
func cmdTile(ts *testscript.TestScript, neg bool, args []string) {
	var v []float64
	for _, a := range args[min(len(args), 1):] {
		x, err := strconv.ParseFloat(a, 64)
		ts.Check(err)
		v = append(v, x)
	}
	if len(v) == 0 || neg {
		ts.Fatalf("usage: tile FILE GROUND [WALL-LON WALL-HEIGHT [VOID-LON]]")
	}
	path := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(filepath.Dir(path), 0o777))
	ts.Check(os.WriteFile(path, wallTile(path, v), 0o666))
}

// wallTile is such a tile, of 1201 posts a side.
func wallTile(path string, v []float64) []byte {
	const posts = 1201
	name := filepath.Base(path)
	west, _ := strconv.ParseFloat(name[4:7], 64)
	if name[3] == 'W' {
		west = -west
	}
	data := make([]byte, 2*posts*posts)
	for i := range posts * posts {
		lon, h := west+float64(i%posts)/(posts-1), v[0]
		if len(v) > 2 && math.Abs(lon-v[1]) < 0.0005 {
			h = v[2]
		}
		if len(v) > 3 && math.Abs(lon-v[3]) < 0.0005 {
			h = -32768
		}
		binary.BigEndian.PutUint16(data[2*i:], uint16(int16(h)))
	}
	return data
}
