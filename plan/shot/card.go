package shot

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// Card is a shot as it is written down. Edits go through the document and give new ones.
type Card struct {
	Doc *field.Doc

	laidOnce sync.Once // of what follows from it
	laidLegs []*Leg
}

// ReadCard reads a card. The faults are those that the text alone shows; what contradicts itself
// or does not fit the bag, [Card.Shot] finds, and it repeats these. The Card is nil when the text
// cannot be taken for a card at all, or is of a newer format: such a file must not be written.
func ReadCard(file string, data []byte) (*Card, field.Faults) {
	doc, faults := field.Read(file, data, cardTable)
	if doc == nil {
		return nil, faults
	}
	if f, bad := versionFault(doc); bad {
		return nil, field.Faults{f}
	}
	return &Card{Doc: doc}, faults
}

// versionFault refuses a format that this program does not know. What else the text holds cannot
// be judged then.
func versionFault(doc *field.Doc) (field.Fault, bool) {
	v := doc.At("skywedge")
	n := v.Float(version)
	if far, err := strconv.Atoi(v.Text()); errors.Is(err, strconv.ErrRange) {
		n = float64(far) // the nearest number there is: more digits than any number here can have
	}
	if n == version {
		return field.Fault{}, false
	}
	allowed := "1, the only format there is"
	if n > version {
		allowed = "1, the newest format this program knows: take a newer program, this one leaves the file alone"
	}
	return v.Fault(field.Quoted(v.Text()), allowed), true
}

// Bytes writes the card as it stands in its file.
func (c *Card) Bytes() []byte { return c.Doc.Bytes() }

// Shot checks the whole card against itself and the bag, and works everything out. All faults come
// at once, in the order of the lines; the Shot is nil when there is one. The time now is what a
// take-off of "now" counts from, which a program may set and a file may not hold.
func (c *Card) Shot(bag *kit.Bag, now time.Time) (*Shot, field.Faults) {
	table := c.Doc.Faults()
	b := &builder{root: c.Doc.Root(), bag: bag, table: table, shot: &Shot{Settings: bag.Settings}}
	b.head(now)
	b.legs()
	b.log()
	faults := append(slices.Clone(table), b.found...)
	if len(faults) > 0 {
		slices.SortStableFunc(faults, func(x, y field.Fault) int {
			if x.Line != y.Line {
				return x.Line - y.Line
			}
			return x.Column - y.Column
		})
		return nil, faults
	}
	b.finish()
	return b.shot, nil
}

// builder makes a shot of a document.
type builder struct {
	root  field.Value
	bag   *kit.Bag
	table field.Faults // what the table of fields refused
	found field.Faults // what contradicts
	shot  *Shot
	used  map[string]bool // the card's shutter keys that some leg takes
}

// fault notes a contradiction, but not one that follows from a fault that the table found in the
// same place, nor the same one twice.
func (b *builder) fault(v field.Value, found, allowed string) {
	if b.faulty(v.Path()) {
		return
	}
	f := v.Fault(clip(found), allowed)
	if !slices.Contains(b.found, f) {
		b.found = append(b.found, f)
	}
}

// faulty tells whether the table refused what stands at a path or below it.
func (b *builder) faulty(path string) bool {
	for _, f := range b.table {
		if rest, in := strings.CutPrefix(f.Field, path); in && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return true
		}
	}
	return false
}

// clip keeps a message to a line.
func clip(text string) string {
	if r := []rune(text); len(r) > 120 {
		return string(r[:119]) + "…"
	}
	return text
}

// head reads everything but the legs and the log.
func (b *builder) head(now time.Time) {
	s, root := b.shot, b.root
	s.Name, s.Notes = root.Get("name").Word(""), root.Get("notes").Word("")
	place := root.Get("place")
	s.LatDeg, s.LonDeg = place.Get("lat").Float(0), place.Get("lon").Float(0)
	s.ElevationM = place.Get("elevation_m").Float(0)
	s.Zone = time.UTC
	if z, err := LoadZone(place.Get("zone").Word("UTC")); err == nil {
		s.Zone = z
	}
	if off := root.Get("take_off"); off.Exists() {
		t, err := ParseTakeOff(off.Text(), now, s.Zone)
		if err != nil {
			b.fault(off, field.Quoted(off.Text()), err.Error())
		}
		s.TakeOff = t
	}
	b.gear()
	light := root.Get("light")
	s.Light = Weather{
		CloudPct:     light.Get("cloud_pct").Float(10),
		Sun:          shines[light.Get("sun").Word("auto")],
		VisibilityKm: light.Get("visibility_km").Float(30),
		Air:          airs[light.Get("air").Word("auto")],
		WindMS:       light.Get("wind_ms").Float(4),
		WindFromDeg:  bearingOf(light.Get("wind_from_deg"), 250),
		AirC:         light.Get("air_c").Float(14),
	}
	flight := root.Get("flight")
	s.TransitS, s.ResetS = flight.Get("transit_s").Float(180), flight.Get("reset_s").Float(45)
	s.Takes = int(flight.Get("takes").Float(3))
	if v := root.Get("declination_deg"); v.Exists() {
		d := v.Float(0)
		s.DeclinationDeg = &d
	}
	b.skyline()
	b.want()
}

// gear finds the camera and the filter in the bag.
func (b *builder) gear() {
	s, v := b.shot, b.root.Get("camera")
	var names []string
	for _, c := range b.bag.Cameras {
		names = append(names, c.Name)
		if c.Name == v.Text() {
			s.Camera = c
		}
	}
	if v.Exists() && s.Camera.Name == "" {
		b.fault(v, field.Quoted(v.Text()), "a camera of the bag: "+field.Choice(v.Text(), names))
	}
	v = b.root.Get("filter")
	s.Filter = v.Word("auto")
	names = []string{"auto", "none"}
	for _, f := range b.bag.Filters {
		names = append(names, f.Name)
	}
	if !slices.Contains(names, s.Filter) {
		b.fault(v, field.Quoted(s.Filter), "auto, none or a filter of the bag: "+field.Choice(s.Filter, names[2:]))
	}
	v = b.root.Get("ring_deg")
	s.RingAuto = v.Word("auto") == "auto"
	if !s.RingAuto {
		s.RingDeg = angle.Axis180(v.Float(0))
	}
}

// skyline reads the ridge and sorts it by bearing.
func (b *builder) skyline() {
	v := b.root.Get("skyline")
	line := v.PairList()
	for i, p := range line {
		line[i][0] = angle.Wrap360(p[0])
		for _, q := range line[:i] {
			if q[0] == line[i][0] {
				b.fault(v, "the bearing "+field.Figure(p[0], 3)+" a second time", "each bearing once")
			}
		}
	}
	slices.SortFunc(line, func(p, q [2]float64) int {
		if p[0] < q[0] {
			return -1
		}
		return 1
	})
	if len(line) > 0 {
		b.shot.Skyline = line
	}
}
