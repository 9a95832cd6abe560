package shot

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
)

// Start is the little that a new card needs; everything else has a default.
type Start struct {
	Name           string // "" gives "New shot"
	LatDeg, LonDeg float64
	Zone           string // IANA name; "" gives UTC
	TakeOff        time.Time
	Camera         string // a name from the bag
	Purpose        Purpose
	Heading        string // as a card has it: "285", "NW", "sun+90"; "" gives 0
}

// NewCard writes a card with one leg, a hold, from the four answers that every shot needs: place,
// time, purpose and heading.
func NewCard(s Start) []byte {
	if strings.TrimSpace(s.Name) == "" {
		s.Name = "New shot"
	}
	if s.Purpose == "" {
		s.Purpose = Video
	}
	zone, err := LoadZone(s.Zone)
	if err != nil {
		zone = time.UTC
	}
	if _, err := parseHeading(s.Heading); err != nil {
		s.Heading = "0"
	}
	return fmt.Appendf(nil, `skywedge: %d
name: %s
place: {lat: %s, lon: %s, zone: %s}
take_off: %s
camera: %s
purpose: %s
legs:
  - {move: hold, heading_deg: %s, seconds: 10}
`, version, plainOrQuoted(s.Name), degrees(s.LatDeg), degrees(s.LonDeg), zone, FormatTakeOff(s.TakeOff, zone),
		plainOrQuoted(s.Camera), s.Purpose, s.Heading)
}

// degrees writes a latitude or longitude to a tenth of a metre.
func degrees(x float64) string {
	return field.Figure(x, 6)
}

var plainText = regexp.MustCompile(`^\pL[\pL\pN .,/+-]*[\pL\pN]$`)

// plainOrQuoted writes a text for YAML, without quotation marks where it cannot be taken for
// anything else.
func plainOrQuoted(text string) string {
	reserved := []string{"true", "false", "yes", "no", "on", "off", "null", "y", "n"}
	if plainText.MatchString(text) && !slices.Contains(reserved, strings.ToLower(text)) {
		return text
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}
