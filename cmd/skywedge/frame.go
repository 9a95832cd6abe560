package main

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Sizes of a picture in pixels. A picture of any size samples the same field.
const (
	frameWide   = 1920    // of a PNG, unless the command line says otherwise; its height follows the frame's shape
	frameMost   = 8192    // of either side
	framePixels = 1 << 24 // of both together: what fits into a small machine's memory
	numbersWide = 64      // of the numbers
	numbersTall = 36
)

// frameWish is a command line that was read and not yet held against a card.
type frameWish struct {
	second, setting, ring float64
	filter                string
	exposure              plan.Exposure
	bare, half, asJSON    bool
	zebra                 bool
	hasSetting, hasRing   bool
	w, h                  int // 0: the default
	out, bag, takeOff     string
}

func frameCommand(e *env, a *manual.Asked) int {
	q := frameWish{
		second: a.Number("second"), setting: a.Number("setting"), ring: a.Number("ring"), filter: a.Text("filter"),
		exposure: exposures[a.Text("exposed")], bare: a.On("bare"), half: a.On("half"), asJSON: e.asJSON, zebra: a.On("zebra"),
		hasSetting: a.Given("setting"), hasRing: a.Given("ring"), out: a.Text("o"), bag: a.Text("bag"), takeOff: a.Text("take-off"),
	}
	switch {
	case len(a.Rest) != 1:
		return usageError(e, "name one card, or - for standard input")
	case !a.Given("second"):
		return usageError(e, "--second is needed: seconds of flight time, one take a leg and no transit")
	case q.out == "" && !q.asJSON:
		return usageError(e, "say where the picture goes with -o FILE.png or FILE.jpg, or ask for the numbers with --json")
	case !pictureKind(q.out).known:
		return usageError(e, "-o %s: a picture is written as .png, exact, or as .jpg, smaller", nameOf(q.out))
	case q.out == "-" && q.asJSON:
		return usageError(e, "--json has standard output already: give -o the name of a file")
	case q.bare && (a.Given("filter") || q.hasSetting || q.hasRing || q.half):
		return usageError(e, "--bare leaves the filter off: drop it, or --filter, --setting, --ring and --half")
	}
	if a.Given("size") {
		var err error
		if q.w, q.h, err = pixels(a.Text("size")); err != nil {
			return usageError(e, "--size: %v", err)
		}
	}
	r, _, err := plainFile(e, a.Rest[0], q.bag, q.takeOff)
	if err != nil {
		return failure(e, err)
	}
	if err := inFlight(r, q.second); err != nil {
		return usageError(e, "%v", err)
	}
	glass, err := q.glass(r)
	if err != nil {
		return usageError(e, "%v", err)
	}
	return q.draw(e, r, glass)
}

// pixels reads WxH.
func pixels(text string) (w, h int, err error) {
	a, b, _ := strings.Cut(text, "x")
	w, err1 := strconv.Atoi(a)
	h, err2 := strconv.Atoi(b)
	switch {
	case err1 != nil || err2 != nil:
		return 0, 0, fmt.Errorf("%q is not a size: write 1920x1080", text)
	case w < 1 || h < 1 || w > frameMost || h > frameMost || w*h > framePixels:
		return 0, 0, fmt.Errorf("%q: each side goes from 1 to %d, and %d pixels is the most", text, frameMost, framePixels)
	}
	return w, h, nil
}

// draw makes the picture, the numbers, or both.
func (q *frameWish) draw(e *env, r *plan.Report, g glass) int {
	if q.out != "" {
		w, h := q.w, q.h
		if w == 0 {
			w, h = frameSize(r, q.second)
		}
		data, err := q.encode(r, g, w, h)
		if err != nil {
			return failure(e, err)
		}
		if q.out == "-" {
			e.raw.Write(data) // a write that fails is said at the end of every command
			return exitDone
		}
		if err := writeOutput(q.out, data); err != nil {
			return failure(e, err)
		}
		if !q.asJSON {
			fmt.Fprintln(e.out, frameLine(q, r, g, w, h))
		}
	}
	if !q.asJSON {
		return exitDone
	}
	w, h := q.w, q.h
	if w == 0 {
		w, h = numbersWide, numbersTall
	}
	p, err := r.Frame(g.options(q.second, w, h))
	if err != nil {
		return failure(e, err)
	}
	return writeFrameJSON(e, r, g, q.second, p)
}

// frameSize is the default size of a picture: the shape of the camera's frame at that second.
func frameSize(r *plan.Report, second float64) (w, h int) {
	leg := r.Shot.Legs[r.Shot.MomentAt(second).Leg]
	hw, hh := shot.HalfField(r.Shot.Camera, leg.Mode, leg.Purpose != shot.Video)
	return frameWide, min(frameMost, max(1, int(math.Round(frameWide*hh/hw))))
}

// exposureWords are the words of --exposed, and exposures what they mean; the first holds without it.
var exposureWords = []string{"one", "own", "call"}

var exposures = map[string]plan.Exposure{"one": plan.OneExposure, "own": plan.OwnExposure, "call": plan.CallExposure}

// jpegQuality keeps the sky free of blocks and edges free of halos, at a third of the size of a PNG (ours).
const jpegQuality = 95

// kind is the format of a picture.
type kind struct{ known, jpeg bool }

// pictureKind tells it by the name of the file. What has no ending (a device, standard output) gets a PNG.
func pictureKind(out string) kind {
	switch strings.ToLower(filepath.Ext(out)) {
	case ".jpg", ".jpeg":
		return kind{true, true}
	case ".png", "":
		return kind{known: true}
	}
	return kind{}
}

// encode draws and develops the frame and gives it as PNG or JPEG.
func (q *frameWish) encode(r *plan.Report, g glass, w, h int) ([]byte, error) {
	o := g.options(q.second, w, h)
	p, err := r.Frame(o)
	if err != nil {
		return nil, err
	}
	part := plan.AllFiltered
	if q.half {
		part = plan.HalfFiltered
	}
	d, err := r.Development(o, p, q.exposure, part)
	if err != nil {
		return nil, err
	}
	rgb := p.Develop(d, nil)
	if q.zebra {
		p.Hatch(rgb, p.Marks(d, nil))
	}
	img := image.NewNRGBA(image.Rect(0, 0, p.W, p.H))
	for i, k := 0, 0; k < len(rgb); i, k = i+4, k+3 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = rgb[k], rgb[k+1], rgb[k+2], 255
	}
	var b bytes.Buffer
	if pictureKind(q.out).jpeg {
		if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: jpegQuality}); err != nil {
			return nil, fmt.Errorf("cannot encode the picture: %w", err)
		}
		return b.Bytes(), nil
	}
	enc := png.Encoder{CompressionLevel: png.BestSpeed} // a fifth larger than the default, four times as fast
	if err := enc.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("cannot encode the picture: %w", err)
	}
	return b.Bytes(), nil
}

// frameLine says what was drawn, in the pilot's units.
func frameLine(q *frameWish, r *plan.Report, g glass, w, h int) string {
	m := r.Shot.MomentAt(q.second)
	size := fmt.Sprintf("%s: %d by %d", nameOf(q.out), w, h)
	if pictureKind(q.out).jpeg {
		size += fmt.Sprintf(", JPEG of quality %d", jpegQuality)
	}
	parts := []string{
		size,
		fmt.Sprintf("second %g of %g", q.second, r.Shot.FlightSeconds()),
		fmt.Sprintf("heading %.0f°, pitch %.0f°", m.HeadingDeg, m.PitchDeg),
	}
	if g.bare() {
		parts = append(parts, "bare")
	} else {
		parts = append(parts, "through "+words.FilterTitle(g.filter.Name, g.setting))
		if g.filter.Polarises() {
			parts = append(parts, "mark at "+kit.Clock(g.ring))
		}
	}
	return strings.Join(parts, " · ")
}
