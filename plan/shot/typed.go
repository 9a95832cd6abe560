package shot

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"example.org/skywedge/kit"
)

// Typed returns what a person typed for a path as the card has it, which is stricter: a time of day is on the
// day of the card, "+10" counts from now, a word may be cut short where only one begins so, and numbers are
// read as [field.Spec.Plain] has it. Where something was turned into something else, said says what was
// understood. What it does not understand comes back as it is, for the card to judge.
func (c *Card) Typed(path, text string, bag *kit.Bag, now time.Time) (plain, said string) {
	text = strings.TrimSpace(text)
	row := c.Doc.SpecAt(path)
	switch {
	case row == nil || text == "":
		return text, ""
	case IsPlace(path):
		return text, saidPlace(path, text) // [Card.Set] takes it in every notation
	case row.Key == "take_off" || row.Key == "when":
		return typedTime(text, c.Doc.At(path).Text(), now, c.zone())
	}
	if word := begun(c.Choices(path, bag), text); word != "" {
		return word, ""
	}
	return row.Plain(text)
}

// begun returns the one word that begins with a text, large or small; "" where several do, or one is meant
// to the letter.
func begun(words []string, text string) string {
	found := ""
	for _, w := range words {
		switch {
		case w == text:
			return w
		case len(w) < len(text) || !strings.EqualFold(w[:len(text)], text):
		case found != "":
			return exactly(words, text)
		default:
			found = w
		}
	}
	return found
}

// exactly returns the word that is a text but for large and small letters.
func exactly(words []string, text string) string {
	for _, w := range words {
		if strings.EqualFold(w, text) {
			return w
		}
	}
	return ""
}

var (
	timeOfDay = regexp.MustCompile(`^([01]?[0-9]|2[0-3])[:.]([0-5][0-9])$`)
	fromNow   = regexp.MustCompile(`^(?:now)?\s*([+-][0-9]{1,4})(?:\s*min)?$`)
	dayAlone  = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
)

// typedTime reads a date and time as a person types it over the one that stands there: "20:10" on the same
// day, "2026-09-19" at the same time, "+10" or "now". A time from now is the last whole minute, so that ten
// minutes are not eleven.
func typedTime(text, was string, now time.Time, zone *time.Location) (plain, said string) {
	date, clock, offset := now.In(zone).Format(time.DateOnly), "", ""
	if m := takeOffForm.FindStringSubmatch(was); m != nil {
		date, clock = was[:10], m[4]+":"+m[5]
		if at, err := parseTakeOffTime(was, zone); err == nil && m[7] != "" && !sameOffset(at, offsetOf(m[7]), zone) {
			offset = m[7] // another clock than the place's own, by choice
		}
	}
	small := strings.ToLower(text)
	if small == "now" {
		small = "+0"
	}
	if m := fromNow.FindStringSubmatch(small); m != nil {
		at, err := ParseTakeOff("now"+m[1], now, zone)
		if err != nil {
			return text, ""
		}
		at = at.Truncate(time.Minute)
		said = m[1][1:] + " min from now"
		switch {
		case strings.Trim(m[1], "+-0") == "":
			said = "now"
		case m[1][0] == '-':
			said = m[1][1:] + " min ago"
		}
		return FormatTakeOff(at, zone), said + ", " + at.Format("15:04")
	}
	if m := timeOfDay.FindStringSubmatch(text); m != nil {
		return fmt.Sprintf("%sT%02s:%s", date, m[1], m[2]) + offset, "on " + date
	}
	if dayAlone.MatchString(text) && clock != "" {
		return text + "T" + clock + offset, "at " + clock
	}
	return text, ""
}
