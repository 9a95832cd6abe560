package shot

import (
	"strings"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/exposure"
)

// Holds returns what holds at a path: what is written there, or else, on a leg, what the card says for
// all its legs, or else the default. written tells the first from the others.
func (c *Card) Holds(path string) (text string, written bool) {
	if text := c.Doc.At(path).Text(); text != "" {
		return text, true
	}
	row := c.Doc.SpecAt(path)
	if row == nil {
		return "", false
	}
	if _, key, ok := legKey(path); ok && row.Default == "" {
		if shared := c.Doc.SpecAt(key); shared != nil {
			if text := c.Doc.At(key).Text(); text != "" {
				return text, false
			}
			return shared.Default, false
		}
	}
	return row.Default, false
}

// Choices returns the words that may stand at a path: those of the table, or the names in the bag.
// None, where a person types something of their own.
func (c *Card) Choices(path string, bag *kit.Bag) []string {
	row := c.Doc.SpecAt(path)
	if row == nil {
		return nil
	}
	if bag == nil {
		bag = &kit.Bag{}
	}
	var names []string
	switch path {
	case "camera":
		for _, camera := range bag.Cameras {
			names = append(names, camera.Name)
		}
		return names
	case "filter":
		names = []string{"auto", "none"}
		for _, f := range bag.Filters {
			names = append(names, f.Name)
		}
		return names
	}
	if row.Key == "mode" {
		if camera, ok := bag.CameraByName(c.Doc.At("camera").Text()); ok {
			for _, m := range camera.Modes {
				names = append(names, m.Name)
			}
		}
		return names
	}
	if row.Kind == field.Bool {
		return []string{"false", "true"}
	}
	return row.Words
}

// Nudge returns the card with the value at a path moved by n steps: a number by its step, a shutter along
// the times that cameras mark, a direction by degrees, a take-off by minutes, a name to the next in the
// bag. What no longer means anything goes, as with [Card.Set]. Where nothing can move the same card comes
// back.
func (c *Card) Nudge(path string, n int, bag *kit.Bag) (*Card, field.Faults) {
	e := c.edit()
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Nudge(path, n, c.steps(bag)) })
	e.dropFor(path)
	return e.card()
}

// NudgeText returns what a text that is being typed for a path becomes n steps on, and whether such a
// value can move at all.
func (c *Card) NudgeText(path, text string, n int, bag *kit.Bag) (next string, moved bool) {
	return c.Doc.NudgeText(path, text, n, c.steps(bag))
}

// steps is what the table of fields does not know of its rows' steps.
func (c *Card) steps(bag *kit.Bag) *field.Steps {
	return &field.Steps{
		Move:  c.move,
		Words: func(path string, _ *field.Spec) []string { return c.wordsAt(path, bag) },
		Start: func(path string, _ *field.Spec) string { text, _ := c.Holds(path); return text },
	}
}

// wordsAt returns the names that the table of fields does not have.
func (c *Card) wordsAt(path string, bag *kit.Bag) []string {
	if row := c.Doc.SpecAt(path); row != nil && row.Kind == field.Text {
		return c.Choices(path, bag)
	}
	return nil
}

// move is how the values of a card move whose steps are not even.
func (c *Card) move(_ string, row *field.Spec, text string, n int) (next string, known bool) {
	switch {
	case row.Key == "skywedge":
		return "", true // the version of the format
	case row.Key == "take_off" || row.Key == "when":
		next, _ = nudgeTime(text, n, c.zone())
		return next, true
	case row.Kind == field.Custom && row.Unit == "°":
		if text == "" {
			text = "0"
		}
		next, err := nudgeHeading(strings.Replace(text, "−", "-", 1), float64(n)*row.Step)
		if err != nil {
			return "", true
		}
		return next, true
	case row.Kind == field.Seconds:
		return nudgeShutter(text, row, n), true
	}
	return "", false
}

// Where an empty shutter starts from (ours): the video shutter of 25 frames a second at 180°, and for a
// long exposure a second.
const startShutter, startExposure = "1/50", "1"

// nudgeShutter moves an exposure time along the marked ones; one beyond them comes back, or stays.
func nudgeShutter(text string, row *field.Spec, n int) string {
	if text == "" {
		text = startShutter
		if row.Key == "exposure_s" {
			text = startExposure
		}
	}
	v, ok := row.Float(text)
	series := exposure.ShuttersOf(row.Min, row.Max, true)
	if !ok || v <= 0 || len(series) == 0 {
		return ""
	}
	first, last := series[0].Value, series[len(series)-1].Value
	switch {
	case n > 0 && v > last || n < 0 && v < first:
		return text
	case v > last:
		n++ // the mark below it is the last one
	case v < first:
		n--
	}
	return strings.TrimSuffix(exposure.Nudge(series, v, n).Label, " s")
}

// zone returns the zone of the card's place; UTC where that is not written.
func (c *Card) zone() *time.Location {
	if z, err := LoadZone(c.Doc.At("place.zone").Text()); err == nil {
		return z
	}
	return time.UTC
}
