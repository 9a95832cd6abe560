package tui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/store"
)

// mostNewShots is how many shots without a file may lie open, and be kept, at a time.
const mostNewShots = 9

// newShotPath is the name under which the n-th shot without a file is kept: the same from any folder.
func newShotPath(n int) string {
	dir, err := store.StateDir()
	if err != nil {
		dir = os.TempDir()
	}
	return filepath.Join(dir, "new", fmt.Sprintf("new-shot-%d.yaml", n))
}

// newShot opens a card with nothing but the four answers: the place of the card on the screen, or where
// the last card was saved; now; video; north. It has no file until it is saved.
func (m *model) newShot() {
	for n := 1; n <= mostNewShots; n++ {
		path := newShotPath(n)
		if m.hasSheet(path) {
			continue
		}
		m.addShot(path, m.startHere())
		m.openCard(len(m.sheets) - 1 - m.at)
		m.say("a new shot, here and now: set place, take-off, purpose and heading; s asks for its file")
		return
	}
	m.say("save one of the new shots first")
}

func (m *model) hasSheet(path string) bool {
	for _, s := range m.sheets {
		if s.src.Path == path {
			return true
		}
	}
	return false
}

func (m *model) addShot(path string, data []byte) *sheet {
	s := m.openSheet(Source{Path: path, Data: data, Demo: true, New: true})
	m.keeper.open(s)
	return s
}

// startHere fills in what is known.
func (m *model) startHere() []byte {
	start := plan.Start{TakeOff: m.opt.Now().Truncate(time.Minute), Purpose: plan.Video}
	bag := m.opt.Bag
	last, remembered := store.LastPlace()
	if len(m.sheets) == 0 {
		if remembered {
			start.LatDeg, start.LonDeg, start.Zone = last.LatDeg, last.LonDeg, last.Zone
		}
	} else {
		s := m.sheet()
		bag = s.bag
		start.Camera = s.text("camera")
		p := store.Place{Zone: s.text("place.zone")}
		_, lat := fmt.Sscan(s.text("place.lat"), &p.LatDeg)
		_, lon := fmt.Sscan(s.text("place.lon"), &p.LonDeg)
		if lat == nil && lon == nil {
			start.LatDeg, start.LonDeg, start.Zone = p.LatDeg, p.LonDeg, p.Zone
		}
		if remembered && s.src.Demo && !s.src.New { // rather than the demo's
			start.LatDeg, start.LonDeg, start.Zone = last.LatDeg, last.LonDeg, last.Zone
		}
	}
	if _, ok := bag.CameraByName(start.Camera); !ok && len(bag.Cameras) > 0 {
		start.Camera = bag.Cameras[0].Name
	}
	return plan.NewCard(start)
}

// keptShots brings back the shots without a file that an earlier run left behind; each is offered.
func (m *model) keptShots() {
	for n := 1; n <= mostNewShots; n++ {
		path := newShotPath(n)
		if _, ok, err := store.ReadRecovery(path); !ok && err == nil {
			continue
		}
		m.addShot(path, m.startHere())
		m.at = len(m.sheets) - 1
	}
}

// rememberPlace keeps the place of a card that was saved.
func (m *model) rememberPlace(s *sheet) {
	p := store.Place{Zone: s.text("place.zone")}
	_, lat := fmt.Sscan(s.text("place.lat"), &p.LatDeg)
	_, lon := fmt.Sscan(s.text("place.lon"), &p.LonDeg)
	if lat == nil && lon == nil {
		_ = store.RememberPlace(p) // a convenience; the card itself is saved
	}
}

// fileName makes a file's name of a card's.
func fileName(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.TrimSuffix(b.String(), "-") + ".yaml"
}
