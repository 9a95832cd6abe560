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
	"example.org/skywedge/plan/taken"
	"example.org/skywedge/tui/panel"
)

// MostNewShots is how many shots without a file may be begun before one is saved.
const MostNewShots = 9

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
	if begun >= MostNewShots {
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
	start, whose := m.startNow(bag)
	if at, ok := hours.NextLight(start.LatDeg, start.LonDeg, start.TakeOff); ok {
		next = at
		if zone, err := shot.LoadZone(start.Zone); err == nil {
			next = at.In(zone)
		}
		start.TakeOff = next
	}
	return shot.NewCard(start), whose, next
}

// startNow is where a shot begins, now, and whose place that is.
func (m *model) startNow(bag *kit.Bag) (start shot.Start, whose owner) {
	start = shot.Start{TakeOff: m.opt.Now().Truncate(time.Minute), Purpose: shot.Video}
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
	return start, whose
}

// addTaken opens a new shot that begins from a picture.
func (m *model) addTaken(p *taken.Picture) {
	start, whose := m.startNow(m.opt.Bag)
	here := taken.Here{Start: start, Lent: whose == demos, Now: m.opt.Now()}
	for _, src := range m.opt.Cards {
		if c, _ := shot.ReadCard(src.Path, src.Data); src.Picture == nil && c != nil && c.Doc != nil {
			here.Cards = append(here.Cards, c)
		}
	}
	shot, err := taken.Begin(p, here)
	if err != nil {
		m.log(err.Error())
		return
	}
	m.addShot(m.freeShot(), shot.Card.Bytes())
	s := m.cards[len(m.cards)-1]
	if s.taken = &shot; !shot.Instant {
		s.begun = "" // in another zone its clock shows the same
	}
}

// tellTaken says what of the shot on the screen is from a picture, as long as it is as it was begun.
func (m *model) tellTaken(lead string) {
	if s := m.card(); s.fromPicture() {
		m.say(lead + s.taken.Said)
		m.offerTaken()
	}
}

// fromPicture tells whether a card is just as it was begun from a picture.
func (o *openCard) fromPicture() bool { return o.taken != nil && !o.unsaved && o.unwritten }

// offerTaken offers once to plan a shot from a picture for the next time that the light is the same. Kept work comes first:
// its list has keys of its own.
func (m *model) offerTaken() {
	s := m.card()
	if !s.fromPicture() || s.offered || !m.kept.known || m.kept.on || m.ask.on || m.edit.on || m.list.On {
		return
	}
	s.offered = true
	m.offerAgain(s.taken)
}

// longAgo is from when on a picture's moment is past, and the shot rather one for another day (ours).
const longAgo = time.Hour

// offerAgain offers the moments at which the light of a picture comes again, where it is long gone.
func (m *model) offerAgain(p *taken.Shot) {
	was, zone, ok := p.Card.TakeOff()
	at, placed := p.Card.Point()
	now := m.opt.Now()
	if !ok || !placed || !p.Placed || p.Taken.IsZero() || now.Sub(was) < longAgo {
		return
	}
	then, again := taken.Again(at, was, now)
	q := panel.Question{
		Text: fmt.Sprintf("Taken %s, with the sun %s. Plan it for that light again?", taken.Ago(now.Sub(was)), then.Words()),
		Esc:  "keep " + was.In(zone).Format("2 Jan 2006 15:04"),
	}
	for i, l := range again {
		moment := l.At.In(zone)
		q.Choices = append(q.Choices, panel.Choice{
			Key: fmt.Sprint(i + 1), Words: moment.Format("Mon 2 Jan 2006 15:04") + ", sun " + l.Words(),
			Do: func(b panel.Bench) {
				if b.SetCard(panel.Change{Path: "take_off", Text: shot.FormatTakeOff(l.At, zone)}) {
					b.Say("take-off " + moment.Format("2 Jan 15:04") + "; u takes it back")
				}
			},
		})
	}
	if len(again) > 0 {
		m.Ask(q)
	}
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
