package tui

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/store"
)

// mostNewShots is how many shots without a file may be begun before one is saved.
const mostNewShots = 9

// newShotPath is the name under which the n-th shot without a file is kept: the same from any folder.
func newShotPath(n int) string { return filelessPath(newFolder, fmt.Sprintf("new-shot-%d.yaml", n)) }

// newShot opens a card with nothing but the four answers: the place of the card on the screen, or where
// the last card was saved; now, or at night when the light is usable next; video; north. It has no file until it is
// saved.
func (m *model) newShot() {
	begun := 0
	for _, s := range m.cards {
		if s.fileless && s.unwritten {
			begun++
		}
	}
	if begun >= mostNewShots {
		m.say("save one of the new shots first")
		return
	}
	data, whose, night := m.startHere(m.card().kit())
	m.addShot(m.freeShot(), data)
	m.showCard(len(m.cards) - 1)
	m.show(viewShot)
	m.focus = paneShot // on the latitude
	m.say(newShotSaid("s asks for its file", whose, night))
}

// freeShot returns the name under which another shot without a file is kept.
func (m *model) freeShot() string {
	for n := 1; ; n++ {
		if path := newShotPath(n); !m.hasCard(path) {
			return path
		}
	}
}

func (m *model) hasCard(path string) bool {
	for _, s := range m.cards {
		if s.file == path {
			return true
		}
	}
	return false
}

func (m *model) addShot(path string, data []byte) {
	m.addCard(Source{Path: path, Data: data, Demo: true, New: true})
}

// owner is whose place a new shot begins at.
type owner uint8

const (
	own    owner = iota // a place of the pilot's: of the card on the screen, or of the last that was saved
	demos               // none is known but the demo's
	nobody              // none is known
)

// newShotSaid says what a new shot is and how it gets its file, where its place is not one of the pilot's own, and of
// one that is begun at night when it takes off; night is that take-off, the zero time by day.
func newShotSaid(file string, whose owner, night time.Time) string {
	what := "a new shot"
	switch {
	case whose == demos:
		what = "a new shot at the demo's place: Enter, then paste yours"
	case whose == nobody:
		what = "a new shot without its place: Enter, then paste it"
	case night.IsZero():
		what = "a new shot, here and now: set place, take-off, purpose and heading"
	}
	if !night.IsZero() {
		what += "; it is night: take-off at the next low sun, " + night.Format("2 Jan 15:04")
		if whose != own {
			return what // it fills the line; how it is saved can wait until there is something to save
		}
	}
	return what + "; " + file
}

// lent tells whether a place is that of a card of the demo.
func (m *model) lent(p store.Place) bool {
	for _, o := range m.cards {
		if o.lent == p && p.Zone != "" {
			return true
		}
	}
	return false
}

// startHere fills in what is known, and says whose place it took. next is the take-off of a shot that is begun at
// night, else the zero time.
func (m *model) startHere(bag *kit.Bag) (data []byte, whose owner, next time.Time) {
	start := shot.Start{TakeOff: m.opt.Now().Truncate(time.Minute), Purpose: shot.Video}
	place, known := store.LastPlace()
	known = known && !m.lent(place) // saved with a card of the demo, it is still nobody's own
	if !known {
		whose = nobody
	}
	if len(m.cards) > 0 {
		s := m.card()
		start.Camera = s.text("camera")
		switch p, ok := s.place(); {
		case ok && !m.lent(p):
			place, whose = p, own
		case ok && !known: // rather than the demo's where there is another
			place, whose = p, demos
		}
	}
	start.LatDeg, start.LonDeg, start.Zone = place.LatDeg, place.LonDeg, place.Zone
	if _, ok := bag.CameraByName(start.Camera); !ok && len(bag.Cameras) > 0 {
		start.Camera = bag.Cameras[0].Name
	}
	if at, ok := hours.NextLight(start.LatDeg, start.LonDeg, start.TakeOff); ok {
		next = at
		if zone, err := shot.LoadZone(start.Zone); err == nil {
			next = at.In(zone)
		}
		start.TakeOff = next
	}
	return shot.NewCard(start), whose, next
}

// place reads the place of a card; ok is false while it is not written out.
func (o *openCard) place() (p store.Place, ok bool) {
	if o.current != nil {
		p.LatDeg, p.LonDeg, p.Zone, ok = o.current.Place()
	}
	return p, ok
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
