package lens

import (
	"fmt"
	"strings"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/tui/cells"
)

// exposureWords say how the pictures are exposed.
var exposureWords = [plan.Exposures]struct{ short, long string }{
	plan.OneExposure:  {"", "bare and filtered at one exposure and white balance: what differs is what the filter does"},
	plan.OwnExposure:  {"own exposure", "bare and filtered each at its own exposure and white balance"},
	plan.CallExposure: {"as set", "the picture as the call sets shutter, ISO and white balance"},
}

// NextExposure changes how the pictures are exposed and says to what.
func (d *Display) NextExposure() string {
	d.Exposure = (d.Exposure + 1) % plan.Exposures
	return exposureWords[d.Exposure].long
}

// SwitchZebra shows or hides the marks of clipping and noise and says what they mean.
func (d *Display) SwitchZebra() string {
	if d.Zebra = !d.Zebra; d.Zebra {
		return fmt.Sprintf("marked in the picture: %c clips, %c is noisy at an ISO above the clean one", clipSign, noiseSign)
	}
	return ""
}

// About says what is special about the pictures; "" for nothing. The shares are those of the filtered one, where
// there are two.
func (s *Shown) About() string {
	var phrases []string
	if w := exposureWords[s.Ask.Exposure].short; w != "" {
		phrases = append(phrases, w)
	}
	if s.Ask.Zebra && len(s.views) > 0 {
		bad := s.views[len(s.views)-1].bad
		share := func(k picture.PixelMark, sign rune, word string) {
			if v := picture.Share(bad, k); v > 0 {
				phrases = append(phrases, fmt.Sprintf("%c %s %s", sign, percent(v), word))
			}
		}
		share(picture.Clipped, clipSign, "clips")
		share(picture.Noisy, noiseSign, "noisy")
		if picture.Share(bad, picture.Fine) == 1 {
			phrases = append(phrases, "nothing clips")
		}
	}
	return strings.Join(phrases, " · ")
}

// percent says a share of the picture.
func percent(v float64) string {
	if v < .01 {
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}

// legend says what is drawn into the pictures, as fully as so many columns allow.
func (s *Shown) legend(cols int, letters bool) string {
	p := &s.Frame.Places
	var lines, bar [3]string // from the fullest to the shortest
	switch {
	case p.AcrossM > 0:
		across := fmt.Sprintf("%.0f m", p.AcrossM)
		if p.AcrossM < 10 {
			across = fmt.Sprintf("%.1f m", p.AcrossM)
		}
		lines = [3]string{"the frame is " + across + " wide on the ground", across + " wide on the ground", across + " wide"}
	case len(p.Ranges) > 0:
		lines = [3]string{"lines: metres over the ground", "lines: on the ground", "lines: ground"}
	}
	if b := &p.Subject; b.In {
		tall := fmt.Sprintf("%.0f m tall", b.TallM)
		size := tall
		if b.Taken {
			size = "taken as " + tall
		}
		bar = [3]string{fmt.Sprintf("bar: subject at %.0f m, %s", b.AwayM, size), fmt.Sprintf("bar: subject at %.0f m, %s", b.AwayM, tall), "bar: subject, " + tall}
		if _, in := s.views[0].col(b.Foot.X, s.Frame.W); !in {
			bar = [3]string{"the subject is in the other half", "subject in the other half", "subject in other half"}
		}
	} else if b.TallM > 0 {
		bar = [3]string{"the subject is out of the frame", "subject out of the frame", "subject out of frame"}
	}
	crest := ""
	for i := range s.Frame.W {
		if _, ok := s.Frame.Crest(i); ok && letters {
			crest = "^ ridge"
		}
	}
	with := func(a, b string) string {
		if a != "" && b != "" {
			return a + " · " + b
		}
		return a + b
	}
	pairs := [][2]string{{bar[0], lines[0]}, {bar[0], lines[1]}, {bar[1], lines[1]}, {bar[1], lines[2]}, {bar[2], lines[2]}, {"", bar[0]}, {"", bar[2]}, {"", lines[0]}}
	for _, lead := range []string{crest, ""} { // a ridge that only letters show is told first
		for _, t := range pairs {
			if text := with(lead, with(t[0], t[1])); text != "" && cells.Width(text) <= cols {
				return text
			}
		}
	}
	return ""
}
