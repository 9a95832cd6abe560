package plan

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
func (h *Hour) StateWords(m HourMeasure) string {
	if _, ok := h.Value(m); ok {
		return ""
	}
	switch h.State {
	case HourSkipped:
		return "the clocks skip this time"
	case HourUnfit:
		return "the card does not fit together then: " + h.Why
	case HourNight:
		return "night: the sun stays below −12°"
	case HourDark:
		return "too dark: " + h.Why
	case HourBright:
		return "too bright: " + h.Why
	}
	switch m {
	case HourSky, HourStrength, HourUnevenness:
		return "too little sky in the frame"
	case HourGlare:
		return "nothing in the frame mirrors the sky"
	case HourHaze:
		return "haze is not what this card is about"
	}
	return "nothing to measure"
}

// Words says a value of a measure as a pilot would, without decimals. The score is told by how far an
// hour lies behind the best of them all.
func (h *Hours) Words(m HourMeasure, v float64) string {
	switch m {
	case HourScore:
		least, _, ok := h.ends(m)
		if !ok || v-least < words.ReasonStops {
			return "the best of the " + h.Over.String()
		}
		return words.AboutStops(v-least) + " short of the best"
	case HourSky:
		switch {
		case math.Abs(v) < 1.0/6:
			return "sky as it is"
		case v < 0:
			return "sky " + words.AboutStops(v) + " lighter"
		}
		return "sky " + words.AboutStops(v) + " darker"
	case HourStrength:
		if v < 1.0/6 {
			return "no ring changes the sky"
		}
		return words.AboutStops(v) + " from ring to ring"
	case HourUnevenness:
		return "sky " + words.Evenness(v)
	case HourGlare:
		return gone("glare", v)
	case HourHaze:
		return gone("haze", v)
	case HourLight:
		return "EV " + wholeNumber(v) + " on the land"
	case HourHeadroom:
		switch {
		case v < -1.0/6:
			return words.AboutStops(v) + " short of a clean ISO"
		case v < 1.0/6:
			return "just at the clean ISO"
		}
		return words.AboutStops(v) + " to spare"
	case HourLeft:
		switch {
		case math.IsInf(v, 1):
			return "the light is not running out"
		case v < 1:
			return "no clean-ISO light"
		case v >= 120:
			return fmt.Sprintf("clean-ISO light for %.0f hours", math.Floor(v/60))
		}
		return fmt.Sprintf("clean-ISO light for %.0f minutes", v)
	case HourSun:
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
	case h.State != HourGood:
		return ""
	case h.AsWanted():
		return "light as wanted"
	}
	return h.OffWhy
}

// CellWords says everything about one hour in a line: when, the sun, the value, the light wanted, the call.
func (h *Hours) CellWords(m HourMeasure, i int) string {
	c := &h.Cells[i]
	if c.TakeOff.IsZero() {
		return c.StateWords(m)
	}
	text := h.When(i) + ": " + sunWords(c)
	if _, ok := c.Value(m); !ok {
		text += "; " + c.StateWords(m)
	} else if m != HourSun {
		text += "; " + h.ValueWords(m, c)
	}
	if c.State == HourGood {
		text += "; " + c.WantWords() + "; " + c.CallWords()
	}
	return text
}

// ValueWords is [Hours.Words] of an hour's own value, with the clock where there is one.
func (h *Hours) ValueWords(m HourMeasure, c *Hour) string {
	v := c.Values[m]
	if m == HourLeft && !math.IsInf(v, 1) && v >= 1 {
		out := c.TakeOff.Add(time.Duration(v * float64(time.Minute)))
		if out.YearDay() == c.TakeOff.YearDay() {
			return "clean-ISO light until " + out.Format("15:04")
		}
	}
	return h.Words(m, v)
}

// BestWords says what the best hour of a window is like: its value, what its light lacks of the light wanted, the call.
func (h *Hours) BestWords(m HourMeasure, w *HourWindow) string {
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
		text += ", behind the skyline"
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
func (h *Hours) WindowWords(w *HourWindow) string {
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
func (h *Hours) Note(m HourMeasure) string {
	var good, dark, bright, night, unfit, values int
	for i := range h.Cells {
		c := &h.Cells[i]
		switch c.State {
		case HourGood:
			good++
		case HourDark:
			dark++
		case HourBright:
			bright++
		case HourNight:
			night++
		case HourUnfit:
			unfit++
		}
		if _, ok := c.Value(m); ok && c.State == HourGood {
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
			if c := &h.Cells[i]; c.State == HourGood {
				return c.StateWords(m)
			}
		}
	}
	if a, b, ok := h.ends(m); ok && m != HourSun && b-a < 1e-6 {
		return "all hours are alike by this measure"
	}
	return ""
}
