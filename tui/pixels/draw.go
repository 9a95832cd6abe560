package pixels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"math"

	"example.org/skywedge/tui/cells"
)

// Source draws what a pane shows in half blocks, in true pixels. It is a value that never changes and can be
// compared; two that are equal draw the same.
type Source interface {
	// Draw returns some of the pictures, with so many pixels a cell, or another whole number across and down. It is called
	// in the background. When stop tells that nobody waits any more, whatever is returned is thrown away.
	Draw(stop func() bool, parts []int, cellW, cellH int) ([]*image.NRGBA, error)
}

// spot is a place for a picture, and which of its cells are taken by something else.
type spot struct {
	cells.Patch
	taken string // a byte a cell, 1 where it is
}

// spots reads the places from what was drawn. Two pictures that overlap, as under a box, are as their cells say.
func spots(c *cells.Canvas, into []spot) []spot {
	into = into[:0]
	for _, p := range c.Patches() {
		taken := make([]byte, p.W*p.H)
		free := 0
		for i := range taken {
			if c.At(p.X+i%p.W, p.Y+i/p.W).Pic {
				free++
			} else {
				taken[i] = 1
			}
		}
		if free > 0 {
			into = append(into, spot{p, string(taken)})
		}
	}
	return into
}

// mostPixels is how many pixels all pictures of a screen have together at the most: beyond it they are drawn coarser and
// the terminal enlarges them. A terminal holds four bytes for each (ours).
const mostPixels = 2 << 20

// cellFor returns how many pixels a cell gets in pictures.
func cellFor(list []spot, w, h int) (int, int) {
	all := 0
	for i := range list {
		all += list[i].W * list[i].H * w * h
	}
	if all > mostPixels {
		k := math.Sqrt(mostPixels / float64(all))
		w, h = max(1, int(k*float64(w))), max(1, int(k*float64(h)))
	}
	return w, h
}

// draw makes the pictures of all places.
func draw(stop func() bool, list []spot, cellW, cellH int) ([]Picture, error) {
	w, h := cellFor(list, cellW, cellH)
	out := make([]Picture, len(list))
	var done []any
	for i := range list {
		of := list[i].Of
		src, ok := of.(Source)
		if !ok {
			return nil, fmt.Errorf("%T draws no pixels", of)
		}
		if contains(done, of) {
			continue
		}
		done = append(done, of)
		var at, parts []int // all that this source draws, at once
		for j := i; j < len(list); j++ {
			if list[j].Of == of {
				at, parts = append(at, j), append(parts, list[j].Part)
			}
		}
		drawn, err := src.Draw(stop, parts, w, h)
		if err != nil || stop() {
			return nil, err
		}
		for k, j := range at {
			p := &list[j]
			data, err := encode(stop, p, drawn[k])
			if err != nil || stop() {
				return nil, err
			}
			out[j] = Picture{ID: firstID + j, X: p.X, Y: p.Y, Cols: p.W, Rows: p.H, PNG: data}
		}
	}
	return out, nil
}

func contains(list []any, of any) bool {
	for _, x := range list {
		if x == of {
			return true
		}
	}
	return false
}

// clear makes the cells transparent in which something else stands.
func (s *spot) clear(img *image.NRGBA) {
	w, h := img.Rect.Dx()/s.W, img.Rect.Dy()/s.H
	for i := range s.taken {
		if s.taken[i] == 0 {
			continue
		}
		x, y := i%s.W*w, i/s.W*h
		for j := y; j < y+h; j++ {
			clear(img.Pix[j*img.Stride+4*x : j*img.Stride+4*(x+w)])
		}
	}
}

// encode makes the file that is sent.
func encode(stop func() bool, s *spot, img *image.NRGBA) ([]byte, error) {
	s.clear(img)
	b := buffer{stop: stop}
	e := png.Encoder{CompressionLevel: png.BestSpeed} // a fifth larger than the default, four times as fast
	if err := e.Encode(&b, img); err != nil && !stop() {
		return nil, err
	}
	return b.Bytes(), nil
}

// buffer takes a file for as long as somebody waits for it.
type buffer struct {
	bytes.Buffer
	stop func() bool
}

func (b *buffer) Write(p []byte) (int, error) {
	if b.stop() {
		return 0, errGone
	}
	return b.Buffer.Write(p)
}

var errGone = errors.New("nobody waits for the picture")

// NewImage returns a picture of red, green and blue bytes, three a pixel, w pixels a row, of which the columns are taken
// that column tells.
func NewImage(rgb []uint8, w, h, wide int, column func(x int) int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, wide, h))
	for y := range h {
		row := img.Pix[y*img.Stride:]
		for x := range wide {
			k := 3 * (y*w + column(x))
			row[4*x], row[4*x+1], row[4*x+2], row[4*x+3] = rgb[k], rgb[k+1], rgb[k+2], 255
		}
	}
	return img
}
