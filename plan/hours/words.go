package hours

import (
	"fmt"
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// CallWords names the filter of an hour and where its mark stands.
func (h *Hour) CallWords() string {
	if h.Filter == "" {
		return ""
	}
	text := words.FilterTitle(h.Filter, h.SettingStops)
	if h.HasRing {
		text += ", mark at " + kit.Clock(h.RingDeg)
	}
	return text
}

// StateWords says why an hour has no value by a measure, "" when it has one.
func (h *Hour) StateWords(m Measure) string {
	if _, ok := h.Value(m); ok {
		return ""
	}
	switch h.State {
	case Skipped:
		return "the clocks skip this time"
	case Unfit:
		return "the card does not fit together then: " + h.Why
	case Night:
		return "night: the sun stays below −12°"
	case Dark:
		return "too dark: " + h.Why
	case Bright:
		return "too bright: " + h.Why
	}
	switch m {
	case Sky, Strength, Unevenness:
		return "too little sky in the frame"
	case Glare:
		return "nothing in the frame mirrors the sky"
	case Haze:
		return "haze is not what this card is about"
	}
	return "nothing to measure"
}

// Words says a value of a measure as a pilot would, without decimals. The score is told by how far an
// hour lies behind the best of them all.
func (h *Hours) Words(m Measure, v float64) string {
	switch m {
	case Score:
		least, _, ok := h.ends(m)
		if !ok || v-least < words.ReasonStops {
			return "the best of the " + h.Over.String()
		}
		return words.AboutStops(v-least) + " short of the best"
	case Sky:
		switch {
		case math.Abs(v) < 1.0/6:
			return "sky as it is"
		case v < 0:
			return "sky " + words.AboutStops(v) + " lighter"
		}
		return "sky " + words.AboutStops(v) + " darker"
	case Strength:
		if v < 1.0/6 {
			return "no ring changes the sky"
		}
		return words.AboutStops(v) + " from ring to ring"
	case Unevenness:
		return "sky " + words.Evenness(v)
	case Glare:
		return gone("glare", v)
	case Haze:
		return gone("haze", v)
	case Light:
		return "EV " + wholeNumber(v) + " on the land"
	case Headroom:
		switch {
		case v < -1.0/6:
			return words.AboutStops(v) + " short of a clean ISO"
		case v < 1.0/6:
			return "just at the clean ISO"
		}
		return words.AboutStops(v) + " to spare"
	case Left:
		switch {
		case math.IsInf(v, 1):
			return "the light is not running out"
		case v < 1:
			return "no clean-ISO light"
		case v >= 120:
			return fmt.Sprintf("clean-ISO light for %.0f hours", math.Floor(v/60))
		}
		return fmt.Sprintf("clean-ISO light for %.0f minutes", v)
	case Sun:
		return "sun " + wholeNumber(v) + "°"
	}
	return ""
}

func gone(what string, v float64) string {
	switch {
	case v < -0.08:
		return what + " stronger by " + words.Fraction(v)
	case v < 0.08:
		return what + " as it is"
	}
	return words.Fraction(v) + " of the " + what + " gone"
}

// WantWords says how the light of an hour differs from the light that the card is for; "" for an hour that is
// not judged.
func (h *Hour) WantWords() string {
	switch {
	case h.State != Good:
		return ""
	case h.AsWanted():
		return "light as wanted"
	}
	return h.OffWhy
}

// CellWords says everything about one hour in a line: when, the sun, the value, the light wanted, the call.
func (h *Hours) CellWords(m Measure, i int) string {
	c := &h.Cells[i]
	if c.TakeOff.IsZero() {
		return c.StateWords(m)
	}
	text := h.When(i) + ": " + sunWords(c)
	if turn := h.Shot.SunTurnWords(c.TakeOff); turn != "" {
		text += "; " + turn
	}
	if _, ok := c.Value(m); !ok {
		text += "; " + c.StateWords(m)
	} else if m != Sun {
		text += "; " + h.ValueWords(m, c)
	}
	if c.State == Good {
		text += "; " + c.WantWords() + "; " + c.CallWords()
	}
	return text
}

// ValueWords is [Hours.Words] of an hour's own value, with the clock where there is one.
func (h *Hours) ValueWords(m Measure, c *Hour) string {
	v := c.Values[m]
	if m == Left && !math.IsInf(v, 1) && v >= 1 {
		out := c.TakeOff.Add(time.Duration(v * float64(time.Minute)))
		if out.YearDay() == c.TakeOff.YearDay() {
			return "clean-ISO light until " + out.Format("15:04")
		}
	}
	return h.Words(m, v)
}

// BestWords says what the best hour of a window is like: its value, what its light lacks of the light wanted, the call.
func (h *Hours) BestWords(m Measure, w *Window) string {
	c := &h.Cells[w.Best]
	text := h.ValueWords(m, c)
	if off := c.WantWords(); off != "" && !c.AsWanted() {
		text += "; " + off
	}
	return text + "; " + c.CallWords()
}

// wholeNumber writes a whole number with the sign of mathematics.
func wholeNumber(x float64) string {
	text := fmt.Sprintf("%.0f", math.Abs(x))
	if x < 0 && text != "0" {
		text = "−" + text
	}
	return text
}

func sunWords(c *Hour) string {
	text := "sun " + wholeNumber(c.Sun.AltitudeDeg) + "° at " + shot.Compass(c.Sun.AzimuthDeg)
	if c.Behind {
		text += ", behind the ridge"
	}
	return text
}

// When names an hour: the time of a day, the day and the time of a year.
func (h *Hours) When(i int) string {
	t := h.Cells[i].TakeOff
	if h.Over == OverYear {
		return t.Format("2 Jan 15:04")
	}
	return t.Format("15:04")
}

// WindowWords names a window: from when to when, and when it is best.
func (h *Hours) WindowWords(w *Window) string {
	first, last := w.Cells[0], w.Cells[len(w.Cells)-1]
	if first == last {
		return h.When(first)
	}
	if h.Over == OverDay {
		return h.When(first) + " to " + h.When(last) + ", best " + h.When(w.Best)
	}
	a, b, early, late := w.box(h)
	text := h.When(w.Best) + ", good "
	if a != b {
		text += "from " + h.date(a) + " to " + h.date(b)
	} else {
		text += "on that day"
	}
	if early != late {
		text += fmt.Sprintf(" between %02d:00 and %02d:00", early, late)
	}
	return text
}

// date names a column of a year.
func (h *Hours) date(col int) string {
	for r := range h.Rows {
		if t := h.At(col, r).TakeOff; !t.IsZero() {
			return t.Format("2 Jan")
		}
	}
	return "?"
}

// Note says in a sentence what there is to know of the whole, "" for nothing: that the sun does not rise,
// that no hour can be exposed, that all are alike.
func (h *Hours) Note(m Measure) string {
	var good, dark, bright, night, unfit, values int
	for i := range h.Cells {
		c := &h.Cells[i]
		switch c.State {
		case Good:
			good++
		case Dark:
			dark++
		case Bright:
			bright++
		case Night:
			night++
		case Unfit:
			unfit++
		}
		if _, ok := c.Value(m); ok && c.State == Good {
			values++
		}
	}
	span := h.Over.String()
	switch {
	case good == 0 && dark+bright+unfit == 0:
		return "night all " + span + ": the sun stays below −12°"
	case good == 0 && dark >= bright && dark >= unfit:
		return "too dark all " + span + " for any filter and setting"
	case good == 0 && bright >= unfit:
		return "too bright all " + span + " for any filter and setting"
	case good == 0:
		return "the headings that follow the sun contradict the card all " + span
	case values == 0:
		for i := range h.Cells {
			if c := &h.Cells[i]; c.State == Good {
				return c.StateWords(m)
			}
		}
	}
	if a, b, ok := h.ends(m); ok && m != Sun && b-a < 1e-6 {
		return "all hours are alike by this measure"
	}
	return ""
}
