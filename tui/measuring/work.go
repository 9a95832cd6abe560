package measuring

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/measure"
	"example.org/skywedge/tui/panel"
	tea "github.com/charmbracelet/bubbletea"
)

// want is what a measurement is worked out from. Two equal wants have the same answer.
type want struct {
	bag    *kit.Bag
	filter string
	camera string
	kelvin float64
	on     string // the day
	gens   string // of the pictures, in their places
}

// found is what the pictures tell.
type found struct {
	of     want
	notes  [sheetCount][]measure.Note
	result *measure.Result
	sets   []int // the place of the picture through the filter, of each set of the result
	mark   *measure.Mark
	edits  []measure.Edit
	failed string
}

// readMsg brings a picture.
type readMsg struct {
	gen   int
	pic   *measure.Picture
	wrong string
}

// want returns what is to be known of the page as it is.
func (p *Page) want(b panel.Bench) want {
	var gens strings.Builder
	for _, sheet := range p.places {
		for i := range sheet {
			n := sheet[i].gen
			if sheet[i].pic == nil {
				n = 0
			}
			fmt.Fprint(&gens, n, " ")
		}
	}
	return want{bag: b.Bag(), filter: p.filter, camera: b.CardText("camera"), kelvin: p.kelvin, on: b.Now().Format("2006-01-02"), gens: gens.String()}
}

// busy tells whether a picture is still to be read, or to be measured.
func (p *Page) busy() bool { return p.working || p.unread() != nil }

// unread returns the first picture that is still to be read.
func (p *Page) unread() *place {
	for s := range p.places {
		for i := range p.places[s] {
			if at := &p.places[s][i]; at.path != "" && !at.read {
				return at
			}
		}
	}
	return nil
}

// Kick starts the work that is due: the next picture is read, and when all are, they are measured.
func (p *Page) Kick(b panel.Bench) tea.Cmd {
	if !p.open {
		return nil
	}
	if at := p.unread(); at != nil {
		if p.reading != 0 {
			return nil
		}
		p.reading = at.gen
		gen, path, name := at.gen, at.path, p.nameOf(at)
		return b.InBackground("the picture could not be read", func() tea.Msg {
			pic, err := readFile(name, path)
			if err != nil {
				return readMsg{gen: gen, wrong: why(err)}
			}
			return readMsg{gen: gen, pic: pic}
		}, func(said string) tea.Msg { return readMsg{gen: gen, wrong: said} })
	}
	w := p.want(b)
	if p.working || w == p.asked || w.bag == nil {
		return nil
	}
	p.working, p.asked = true, w
	job := p.job()
	return b.InBackground("that could not be measured", func() tea.Msg {
		f := job()
		f.of = w
		return f
	}, func(said string) tea.Msg { return found{of: w, failed: said} })
}

// Take takes an answer and tells whether the message was one.
func (p *Page) Take(b panel.Bench, msg tea.Msg) bool {
	switch msg := msg.(type) {
	case readMsg:
		if p.reading == msg.gen {
			p.reading = 0
		}
		for s := range p.places {
			for i := range p.places[s] {
				if at := &p.places[s][i]; at.path != "" && at.gen == msg.gen {
					at.read, at.pic, at.wrong = true, msg.pic, msg.wrong
				}
			}
		}
	case found:
		if msg.of != p.asked {
			return true
		}
		p.working, p.got = false, msg
		if msg.failed != "" {
			b.Say(msg.failed)
		}
	default:
		return false
	}
	return true
}

// nameOf is what a picture is called; with its folder where another one is called the same.
func (p *Page) nameOf(at *place) string {
	name := filepath.Base(at.path)
	for s := range p.places {
		for i := range p.places[s] {
			if o := &p.places[s][i]; o != at && o.path != at.path && filepath.Base(o.path) == name {
				return at.path
			}
		}
	}
	return name
}

// readFile reads a picture's file.
func readFile(name, path string) (*measure.Picture, error) {
	st, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case st.IsDir():
		return nil, errors.New("a folder; give a picture in it")
	case !st.Mode().IsRegular(): // a pipe would be waited for
		return nil, errors.New("not a file; give the JPEG that the camera wrote")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return measure.Read(name, f)
}

// why says an error of a picture's file so that it helps.
func why(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file; check its name and folder"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it; change its permissions"
	}
	if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
		return "cannot be read: " + pe.Err.Error()
	}
	return err.Error()
}

// job returns the work of measuring what is given, on copies.
func (p *Page) job() func() found {
	w := p.asked
	at := slices.IndexFunc(w.bag.Filters, func(f kit.Filter) bool { return f.Name == w.filter })
	if at < 0 {
		return func() found { return found{} }
	}
	f := w.bag.Filters[at]
	camera, _ := w.bag.CameraByName(w.camera)
	places := [sheetCount][]place{slices.Clone(p.places[wall]), slices.Clone(p.places[glare])}
	return func() (out found) {
		out.wall(f, camera, places[wall], w.kelvin)
		out.glare(places[glare])
		if out.result == nil && out.mark == nil {
			return out
		}
		edits, faults := measure.Edits(w.bag, w.filter, out.result, out.mark, w.on)
		if len(faults) > 0 {
			out.failed = faults.Error()
		}
		out.edits = edits
		return out
	}
}

// wall measures the pictures of the wall, or says what is wrong with those there are.
func (f *found) wall(filter kit.Filter, camera kit.Camera, places []place, kelvin float64) {
	bare, darker := places[bareAt].pic, places[darkerAt].pic
	var sets []measure.Set
	for i := range places[throughAt:] {
		if at := &places[throughAt+i]; at.pic != nil {
			sets = append(sets, measure.Set{Bare: bare, Darker: darker, Through: at.pic, SettingStops: at.setting})
			f.sets = append(f.sets, throughAt+i)
		}
	}
	if bare == nil || len(sets) == 0 {
		if len(sets) == 0 {
			sets = []measure.Set{{Bare: bare, Darker: darker}}
		}
		for i, s := range sets {
			faults, warnings := measure.Check(i, s)
			f.note(wall, faults, warnings)
		}
		return
	}
	o := measure.Options{WhiteBalanceK: kelvin}
	if field, ok := measure.FieldOf(bare, camera); ok {
		o.Field = field
	}
	r, faults := measure.Measure(filter, sets, o)
	if r == nil {
		f.note(wall, faults)
		return
	}
	f.note(wall, r.Warnings)
	f.result = r
}

// glare finds the mark, once there are positions enough.
func (f *found) glare(places []place) {
	var turns []measure.Turn
	for _, at := range places {
		if at.pic != nil {
			turns = append(turns, measure.Turn{RingDeg: at.ring, Picture: at.pic})
		}
	}
	if len(turns) < leastTurns {
		return
	}
	m, warnings, faults := measure.MeasureMark(turns)
	if len(faults) > 0 {
		f.note(glare, faults)
		return
	}
	f.note(glare, warnings)
	f.mark = &m
}

// leastTurns is from how many positions on the mark is looked for.
const leastTurns = 4

// note adds what is wrong, each thing once.
func (f *found) note(sheet int, lists ...[]measure.Note) {
	for _, list := range lists {
		for _, n := range list {
			if !slices.ContainsFunc(f.notes[sheet], func(o measure.Note) bool { return o.Picture == n.Picture && o.Text == n.Text }) {
				f.notes[sheet] = append(f.notes[sheet], n)
			}
		}
	}
}
