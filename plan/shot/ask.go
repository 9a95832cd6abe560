package shot

import (
	"fmt"
	"strings"

	"example.org/skywedge/kit/field"
)

// questions ask a pilot for what a leg lacks, by its key.
var questions = map[string]string{
	"move":              "what does the aircraft do?",
	"heading_deg":       "where does the camera look?",
	"seconds":           "how many seconds long?",
	"speed_ms":          "how fast?",
	"to":                "to the left or to the right, seen from behind the camera?",
	"target":            "how far is the subject?",
	"target.distance_m": "how far is the subject?",
	"target.speed_ms":   "how fast does the subject move?",
}

// turningQuestions are asked instead where the move needs two values.
var turningQuestions = map[string]string{
	"heading_deg": "from which heading to which?",
	"height_m":    "from which height to which?",
	"pitch_deg":   "from which pitch to which?",
}

// placeQuestions are those of the card itself.
var placeQuestions = map[string]string{
	"name": "what is the shot called?", "take_off": "when is take-off?", "camera": "with which camera?",
	"place": "where is take-off?", "place.lat": "at which latitude is take-off?", "place.lon": "at which longitude is take-off?",
	"place.zone": "in which time zone is take-off?", "legs": "what is flown?",
}

// Ask says a fault of the card in a pilot's words: what is missing as a question ("leg 1, orbit: how far is
// the subject?"), anything else as what was found and what is allowed. Legs count from 1. label names a key
// for people; nil keeps the key.
func (c *Card) Ask(f field.Fault, label func(key string) string) string {
	if label == nil {
		label = func(key string) string { return key }
	}
	leg, key, ofLeg := legKey(f.Field)
	at := c.Doc.At(f.Field)
	if !ofLeg {
		if q := placeQuestions[f.Field]; q != "" && !at.Exists() {
			return q
		}
		return spoken(label(lastKey(f.Field)), f)
	}
	move := Move(c.Doc.At(LegPath(leg, "move")).Text())
	who := fmt.Sprintf("leg %d", leg+1)
	if move != "" {
		who += ", " + string(move)
	}
	q := questions[key]
	refused := strings.HasPrefix(f.Found, `"`) // something was typed there that is no value
	switch {
	case move.uses(key) == changing && !at.IsPair():
		q = turningQuestions[key]
	case at.Exists() && !strings.HasPrefix(key, "target"):
		q = ""
	}
	if q != "" && !refused {
		return who + ": " + q
	}
	return spoken(who+": "+label(lastKey(key)), f)
}

// spoken says what was found and what is allowed; of what is missing only the second.
func spoken(what string, f field.Fault) string {
	if f.Found == "nothing" || f.Found == "" {
		return what + ": " + f.Allowed
	}
	return what + ": found " + f.Found + "; allowed: " + f.Allowed
}

func lastKey(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }
