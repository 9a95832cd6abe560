// Package lens draws the frame through the lens: bare beside filtered, with what stands in it.
//
// The one hard idea: the same scenery is always compared. Where there is room both frames are shown whole. Where
// there is not, one half is shown, as it is and as its mirror image, so that at the seam bare and filtered meet on
// the same piece of sky; which half is asked of the picture. Everything is worked out in the background into a
// [Shown], which never changes: drawing only places it.
package lens

import (
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/tui/cells"
)

// Display is how the frame is shown: how much of it through the filter, at which exposure, and with what clips
// and what is noisy marked in it.
type Display struct {
	Part     plan.Part
	Exposure plan.Exposure
	Zebra    bool
}

// Ask is what the frame is drawn for, beside the flight. Two equal ones have the same answer.
type Ask struct {
	Second     float64
	Cols, Rows int // the room for pictures and words
	Display
}

// Shown is the frame as it is shown in a room.
type Shown struct {
	Ask      Ask
	Frame    *picture.Picture // nil before there is one
	Tall     float64          // height of the frame over its width
	Filtered bool             // there is something on the lens
	views    []view
	end      int   // the line below the last label
	finer    finer // draws the same in true pixels
}

// view is one of the pictures: the frame or a half of it.
type view struct {
	x, y     int // cells of the room
	through  bool
	mirrored bool
	from, to int // columns of the frame
	pic      cells.Picture
	bad      []picture.PixelMark // of pic, where they were asked for
}

// Two tells whether bare and filtered stand beside each other.
func (s *Shown) Two() bool { return len(s.views) > 1 }

// Draw draws the frame of a report for a room. scenes keeps the light for the next one.
func Draw(r *plan.Report, a Ask, scenes *light.Scenes) (*Shown, error) {
	leg := r.MomentAt(a.Second).Leg
	s := &Shown{Ask: a, Tall: r.FrameShape(a.Second), Filtered: r.MountedOn(leg).Name() != words.Bare}
	if a.Cols < 4 || a.Rows < 3 {
		return s, nil
	}
	two := s.Filtered && a.Part == plan.HalfFiltered
	l := arrange(a.Cols, a.Rows, s.Tall, two)
	o := plan.FrameOptions{Second: a.Second, Ring: math.NaN(), Scenes: scenes, W: l.w, H: l.h}
	frame, err := r.Frame(o)
	if err != nil {
		return nil, err
	}
	d, err := r.Development(o, frame, a.Exposure, a.Part)
	if err != nil {
		return nil, err
	}
	s.Frame, s.end = frame, l.end
	half := picture.LeftHalf
	if l.halves {
		half = frame.TellingHalf()
	}
	var rgb []uint8
	var marks []picture.PixelMark
	for i, at := range l.at {
		v := view{x: at[0], y: at[1], to: frame.W, through: s.Filtered && a.Part != plan.AllBare}
		if two {
			v.through = i == 1
		}
		if l.halves { // bare stands on the left: its left half as it is, its right half mirrored
			v.mirrored = v.through == (half == picture.LeftHalf)
			if half == picture.LeftHalf {
				v.to = frame.W / 2
			} else {
				v.from = frame.W / 2
			}
		}
		if d.FromX = frame.W; v.through {
			d.FromX = 0
		}
		rgb = frame.Develop(d, rgb)
		if a.Zebra {
			marks = frame.Marks(d, marks)
		}
		v.fill(frame, rgb, marks)
		s.views = append(s.views, v)
		s.finer.views[i] = side{v.through, v.mirrored, v.from, v.to}
	}
	frame.Spend()
	s.finer.of, s.finer.ask, s.finer.scenes, s.finer.w, s.finer.h = r, a, scenes, l.w, l.h
	return s, nil
}

// fill takes the view's part of a developed frame.
func (v *view) fill(p *picture.Picture, rgb []uint8, marks []picture.PixelMark) {
	v.pic.Reset(v.to-v.from, p.H)
	if marks != nil {
		v.bad = make([]picture.PixelMark, len(v.pic.Pix))
	}
	for k := range v.pic.Pix {
		of := k/v.pic.W*p.W + v.column(k%v.pic.W)
		v.pic.Pix[k] = cells.PictureColour(rgb[3*of], rgb[3*of+1], rgb[3*of+2])
		if marks != nil {
			v.bad[k] = marks[of]
		}
	}
}

// column returns the frame's column of one of the view's, and the other way round.
func (v *view) column(x int) int {
	if v.mirrored {
		return v.to - 1 - x
	}
	return v.from + x
}
