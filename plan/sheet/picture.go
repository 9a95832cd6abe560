package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/words"
)

// Picture is a frame through the lens.
type Picture struct {
	PNG     []byte
	W, H    int
	Caption string
	Alt     string // what it shows, for whoever cannot see it
}

// How much of a sheet pictures may take (ours). A shot stays well under 300 kB with them: base64 makes four bytes of
// three, and all the rest is some 20 kB.
const (
	mostPairs   = 3 // of flights that have pictures
	pictureRoom = 190_000
	pictureWide = 480
	least       = 80 // pixels wide
)

// picturesOf draws the frame of a flight bare and through its filter, at the moment at which the filter does most; of a
// bare flight there is one picture. pairs is of how many flights the shot shows pictures.
func picturesOf(r *plan.Report, f *plan.Flight, pairs int) (bare, seen *Picture, err error) {
	at := momentOf(r, f)
	if at < 0 {
		return nil, nil, nil
	}
	m := &r.Path[at]
	room := pictureRoom / pairs
	for wide := pictureWide * 4 / (3 + pairs); ; wide = wide * 3 / 4 {
		o := plan.FrameOptions{Second: m.FlightS, Ring: math.NaN(), W: wide, H: max(1, int(math.Round(float64(wide)*r.FrameShape(m.FlightS))))}
		p, err := r.Frame(o)
		if err != nil {
			return nil, nil, err
		}
		if bare, err = develop(r, o, p, plan.AllBare); err != nil {
			return nil, nil, err
		}
		size := len(bare.PNG)
		if f.Filter != words.Bare {
			if seen, err = develop(r, o, p, plan.AllFiltered); err != nil {
				return nil, nil, err
			}
			size += len(seen.PNG)
		}
		if size <= room || wide <= least {
			break
		}
	}
	leg := &r.Legs[m.Leg]
	bare.Caption = fmt.Sprintf("Leg %d at %.0f s, bare", m.Leg+1, m.FlightS-leg.FromS)
	bare.Alt = words.Minus(fmt.Sprintf("The frame through the bare lens on leg %d, %.0f s after its start: heading %.0f°, pitch %.0f°.", m.Leg+1, m.FlightS-leg.FromS,
		m.HeadingDeg, math.Round(m.PitchDeg)+0))
	if seen != nil {
		through := words.FilterTitle(f.Filter, f.SettingStops)
		seen.Caption = "Through " + through
		seen.Alt = "The same frame through " + through + ", brought to the same brightness."
		if x := &r.Measures[at]; x.SkyOK {
			seen.Alt += " The sky is " + words.EffectOnSky(x.Effect) + "."
		}
	}
	return bare, seen, nil
}

// momentOf is the moment of a flight at which the sky changes most; where it hardly does, the middle of its first leg.
func momentOf(r *plan.Report, f *plan.Flight) int {
	best, most := -1, 0.15 // stops, from which on a change is said (ours)
	var legOne []int
	for i := range r.Path {
		on := false
		for _, l := range f.Legs {
			on = on || r.Path[i].Leg == l
		}
		if !on || i >= len(r.Measures) {
			continue
		}
		if len(f.Legs) > 0 && r.Path[i].Leg == f.Legs[0] {
			legOne = append(legOne, i)
		}
		if x := &r.Measures[i]; x.SkyOK && math.Abs(x.Effect) > most {
			best, most = i, math.Abs(x.Effect)
		}
	}
	if best < 0 && len(legOne) > 0 {
		best = legOne[len(legOne)/2]
	}
	return best
}

func develop(r *plan.Report, o plan.FrameOptions, p *picture.Picture, part plan.Part) (*Picture, error) {
	d, err := r.Development(o, p, plan.OneExposure, part)
	if err != nil {
		return nil, err
	}
	rgb := p.Develop(d, nil)
	img := image.NewNRGBA(image.Rect(0, 0, p.W, p.H))
	for i, k := 0, 0; k < len(rgb); i, k = i+4, k+3 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = rgb[k], rgb[k+1], rgb[k+2], 255
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("cannot encode the picture: %w", err)
	}
	return &Picture{PNG: b.Bytes(), W: p.W, H: p.H}, nil
}
