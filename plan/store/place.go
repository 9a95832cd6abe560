package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
)

// Place is where the card that was saved last lies: a new one begins there.
type Place struct {
	LatDeg float64 `json:"lat"`
	LonDeg float64 `json:"lon"`
	Zone   string  `json:"zone"` // IANA name
}

const placeFile = "place.json"

// RememberPlace keeps the place in the state folder.
func RememberPlace(p Place) error {
	b, err := json.Marshal(p)
	if err != nil {
		return fmt.Errorf("cannot remember the place: %w", err)
	}
	file, err := stateFile("", placeFile)
	if err == nil {
		err = save(file, append(b, '\n'), 0o600, false)
	}
	if err != nil {
		return fmt.Errorf("cannot remember the place: %w", err)
	}
	return nil
}

// LastPlace returns the place that was remembered. A file that is missing or spoilt counts as none: it is a
// convenience and no work is lost.
func LastPlace() (Place, bool) {
	dir, err := StateDir()
	if err != nil {
		return Place{}, false
	}
	b, err := os.ReadFile(filepath.Join(dir, placeFile))
	if err != nil {
		return Place{}, false
	}
	p, err := parsePlace(b)
	return p, err == nil
}

func parsePlace(b []byte) (Place, error) {
	var p Place
	if err := json.Unmarshal(b, &p); err != nil {
		return Place{}, err
	}
	if !(math.Abs(p.LatDeg) <= 90) || !(math.Abs(p.LonDeg) <= 180) || p.Zone == "" {
		return Place{}, errors.New("no place on earth")
	}
	return p, nil
}
