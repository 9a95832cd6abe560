//go:build unix

package screentest

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Picture is a picture that stands over the screen.
type Picture struct {
	ID               int
	X, Y, Cols, Rows int // cells, from 0
	PNG              []byte
}

// Image decodes the picture.
func (p *Picture) Image(tb testing.TB) *image.NRGBA {
	tb.Helper()
	img, err := png.Decode(bytes.NewReader(p.PNG))
	if err != nil {
		tb.Fatal(err)
	}
	out := image.NewNRGBA(img.Bounds())
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	return out
}

// Pictures is what a terminal knows of pictures after it was sent something: kitty's graphics protocol, read strictly, as
// far as the workbench uses it.
type Pictures struct {
	Up     []Picture      // those that stand, by their numbers
	Held   map[int][]byte // the files that the terminal keeps
	Sent   int            // pictures of which a part came
	Whole  int            // and all of it
	Asked  int            // questions whether pictures are shown
	Hidden int            // times that one was taken off the screen
	marked bool           // the last code stood in a synchronised update
}

var (
	graphics = regexp.MustCompile("(?s)\x1b_G([^;\x1b]*)(?:;([^\x1b]*))?\x1b\\\\|\x1b\\[(\\d+);(\\d+)H|\x1b\\[\\?1049l|\x1b\\[\\?2026([hl])")
	longest  = 4096 // letters of a picture in one code, by the protocol
)

// ReadPictures plays the terminal. It fails where something is sent that the protocol does not allow.
func ReadPictures(raw string) (*Pictures, error) {
	p := &Pictures{Held: map[int][]byte{}}
	var file []byte
	way, x, y := 0, 0, 0 // the number of the picture of which more is to come
	up := map[int]Picture{}
	for _, m := range graphics.FindAllStringSubmatch(raw, -1) {
		switch {
		case m[5] != "":
			p.marked = m[5] == "h"
			continue
		case strings.HasSuffix(m[0], "1049l"):
			if len(p.Held)+len(up) > 0 || way != 0 {
				return nil, fmt.Errorf("the screen is given back with %d pictures kept and %d on it", len(p.Held), len(up))
			}
			continue
		case m[3] != "":
			y, _ = strconv.Atoi(m[3])
			x, _ = strconv.Atoi(m[4])
			continue
		}
		k := map[string]string{}
		for _, t := range strings.Split(m[1], ",") {
			name, value, _ := strings.Cut(t, "=")
			k[name] = value
		}
		id, _ := strconv.Atoi(k["i"])
		if len(m[2]) > longest {
			return nil, fmt.Errorf("%d letters in one code", len(m[2]))
		}
		if k["a"] == "q" {
			p.Asked++
			continue
		}
		if k["q"] != "2" {
			return nil, fmt.Errorf("%q asks for an answer", m[1])
		}
		if way != 0 && k["a"] != "" {
			return nil, fmt.Errorf("%q while picture %d is on its way", m[1], way)
		}
		switch k["a"] {
		case "t", "":
			if k["a"] == "t" {
				if _, there := p.Held[id]; there || k["f"] != "100" || id == 0 {
					return nil, fmt.Errorf("%q sends what is there, or no PNG", m[1])
				}
				file, way = nil, id
				p.Sent++
			} else if way == 0 && m[2] == "" && k["m"] == "0" {
				continue // the end of what may never have begun: an error that nobody hears of
			} else if way == 0 {
				return nil, fmt.Errorf("%q goes on with no picture", m[1])
			}
			part, err := base64.StdEncoding.DecodeString(m[2])
			if err != nil {
				return nil, err
			}
			file = append(file, part...)
			if k["m"] == "1" {
				continue
			}
			if _, err := png.DecodeConfig(bytes.NewReader(file)); err == nil && bytes.HasSuffix(file, []byte("IEND\xaeB`\x82")) {
				p.Held[way] = file
				p.Whole++
			}
			way = 0
		case "p":
			data, there := p.Held[id]
			if !there {
				return nil, fmt.Errorf("%q shows what is not there", m[1])
			}
			c, _ := strconv.Atoi(k["c"])
			r, _ := strconv.Atoi(k["r"])
			up[id] = Picture{ID: id, X: x - 1, Y: y - 1, Cols: c, Rows: r, PNG: data}
			if k["C"] != "1" || !p.marked {
				return nil, fmt.Errorf("%q moves the cursor, or stands in no update", m[1])
			}
		case "d":
			if _, there := up[id]; there {
				delete(up, id)
				p.Hidden++
			}
			if k["d"] == "I" {
				delete(p.Held, id)
			}
		default:
			return nil, fmt.Errorf("%q", m[1])
		}
	}
	for _, v := range up {
		p.Up = append(p.Up, v)
	}
	slices.SortFunc(p.Up, func(a, b Picture) int { return a.ID - b.ID })
	return p, nil
}

// Pictures returns what the terminal has of pictures now.
func (s *Screen) Pictures() *Pictures {
	s.tb.Helper()
	p, err := ReadPictures(s.Raw())
	if err != nil {
		s.tb.Fatal(err)
	}
	return p
}

// UntilPictures waits for what is so of the pictures.
func (s *Screen) UntilPictures(what string, so func(p *Pictures) bool) *Pictures {
	s.tb.Helper()
	var p *Pictures
	s.wait(what, func(string) bool { p = s.Pictures(); return so(p) })
	return p
}
