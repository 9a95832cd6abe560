package shot

import (
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
	"example.org/skywedge/plan/internal/angle"
)

// Flown is one line of the card's log: what was flown, how it was exposed, and whether it worked as planned. It keeps the
// plan as it was, because a card is changed afterwards. Nil and empty values were not written down.
type Flown struct {
	When         time.Time // zero when it was not written
	Leg          int       // index into Shot.Legs; −1: the whole flight
	Take         int       // counted from 1; 0 not said
	Filter       string    // none for bare
	RingDeg      *float64
	ShutterS     float64
	ISO          float64
	Aperture     float64
	PlannedEV100 *float64 // that the plan set, at ISO 100, through the filter, with OffsetStops in it
	OffsetStops  float64  // one's own offset, of camera and filter together, that the plan had used
	PlannedMeter *float64 // what the plan expected the camera's meter to show, stops over
	MeterStops   *float64 // what it showed
	OffStops     *float64 // by how much brighter it should have been, negative darker
	Auto         bool     // the camera chose the exposure
	Worked       string   // yes | partly | no; "" not said
	Confidence   string   // how sure the plan was of its call: holds | close | depends
	Sky, Glare   string   // as planned | less | more; "" not said
	Picture      string   // the name of its file
	Saw          string
}

// The words of the log: did it work, and what a filter did to sky and glare against the plan.
const (
	WorkedYes    = "yes"
	WorkedPartly = "partly"
	WorkedNo     = "no"
	AsPlanned    = "as planned"
	LessThan     = "less"
	MoreThan     = "more"
)

var (
	workedWords  = []string{WorkedYes, WorkedPartly, WorkedNo}
	verdictWords = []string{AsPlanned, LessThan, MoreThan}
	sureWords    = []string{"holds", "close", "depends"}
)

func flownFields() []field.Spec {
	stops := func(key, help string) field.Spec {
		return field.Spec{Key: key, Kind: field.Number, Unit: "stops", Min: -10, Max: 10, Step: 1.0 / 3, Help: help}
	}
	return []field.Spec{
		{Key: "when", Kind: field.Custom, Help: "date and time, local to the zone", Check: checkTakeOff},
		{Key: "leg", Kind: field.Integer, Min: 1, Max: maxLegs, Help: "which leg, counted from 1; left out, the whole flight"},
		{Key: "take", Kind: field.Integer, Min: 1, Max: 999, Help: "which take, counted from 1"},
		{Key: "filter", Kind: field.Text, Help: "what was on the lens; none for bare"},
		{Key: "ring_deg", Kind: field.Number, Unit: "°", Min: 0, Max: 360, Step: 15, Help: "where the mark stood"},
		{Key: "shutter_s", Kind: field.Seconds, Unit: "s", Min: 1.0 / 64000, Max: 120, Help: "shutter used"},
		{Key: "iso", Kind: field.Number, Min: 1, Max: 1e6, Help: "ISO used"},
		{Key: "aperture", Kind: field.Number, Min: 0.7, Max: 64, Help: "f-number used"},
		{Key: "planned_ev100", Kind: field.Number, Min: -20, Max: 30, Help: "the exposure that the plan set, as an EV at ISO 100 through the filter"},
		stops("offset_stops", "your own offset that the plan had used; it is in planned_ev100"),
		stops("planned_meter_stops", "what the plan expected the camera's meter to show"),
		stops("meter_stops", "what the camera's meter showed"),
		stops("off_stops", "by how much brighter it should have been; darker is negative"),
		{Key: "auto_exposure", Kind: field.Bool, Help: "the camera chose the exposure"},
		{Key: "worked", Kind: field.Word, Words: workedWords, Help: "did it work as planned"},
		{Key: "confidence", Kind: field.Word, Words: sureWords, Help: "how sure the plan was of its call"},
		{Key: "sky", Kind: field.Word, Words: verdictWords, Help: "what the filter did to the sky, against the plan"},
		{Key: "glare", Kind: field.Word, Words: verdictWords, Help: "what the filter took of the glare, against the plan"},
		{Key: "picture", Kind: field.Text, Help: "a picture of it"},
		{Key: "saw", Kind: field.Text, Lines: true, Help: "what it looked like"},
	}
}

// log reads what was flown.
func (b *builder) log() {
	list := b.root.Get("flown")
	for i := range list.Len() {
		v := list.Index(i)
		number := func(key string) *float64 {
			if !v.Get(key).Exists() {
				return nil
			}
			x := v.Get(key).Float(0)
			return &x
		}
		f := Flown{
			Leg: int(v.Get("leg").Float(0)) - 1, Take: int(v.Get("take").Float(0)), Filter: v.Get("filter").Word(""),
			ShutterS: v.Get("shutter_s").Float(0), ISO: v.Get("iso").Float(0), Aperture: v.Get("aperture").Float(0),
			PlannedEV100: number("planned_ev100"), OffsetStops: v.Get("offset_stops").Float(0),
			PlannedMeter: number("planned_meter_stops"), MeterStops: number("meter_stops"), OffStops: number("off_stops"),
			Auto: v.Get("auto_exposure").Word("false") == "true", Worked: v.Get("worked").Word(""), Confidence: v.Get("confidence").Word(""),
			Sky: v.Get("sky").Word(""), Glare: v.Get("glare").Word(""), Picture: v.Get("picture").Word(""), Saw: v.Get("saw").Word(""),
		}
		if n := b.root.Get("legs").Len(); f.Leg >= n {
			b.fault(v.Get("leg"), field.Quoted(v.Get("leg").Text()), "a leg of this card, 1 to "+strconv.Itoa(n))
		}
		if w := v.Get("when"); w.Exists() {
			t, err := parseTakeOffTime(w.Text(), b.shot.Zone)
			if err != nil {
				b.fault(w, field.Quoted(w.Text()), err.Error())
			}
			f.When = t
		}
		if f.RingDeg = number("ring_deg"); f.RingDeg != nil {
			*f.RingDeg = angle.Axis180(*f.RingDeg)
		}
		b.shot.Flown = append(b.shot.Flown, f)
	}
}

// texts returns what a line of the log says, as a card has it, in the table's order; what is not said is "".
func (f *Flown) texts(zone *time.Location) [][2]string {
	number := func(x *float64, places int) string {
		if x == nil {
			return ""
		}
		return field.Figure(*x, places)
	}
	some := func(x float64, places int) string {
		if x == 0 {
			return ""
		}
		return field.Figure(x, places)
	}
	list := [][2]string{
		{"when", ""}, {"leg", some(float64(f.Leg+1), 0)}, {"take", some(float64(f.Take), 0)}, {"filter", f.Filter},
		{"ring_deg", number(f.RingDeg, 1)}, {"shutter_s", ""}, {"iso", some(f.ISO, 0)}, {"aperture", some(f.Aperture, 2)},
		{"planned_ev100", number(f.PlannedEV100, 2)}, {"offset_stops", some(f.OffsetStops, 2)},
		{"planned_meter_stops", number(f.PlannedMeter, 2)}, {"meter_stops", number(f.MeterStops, 2)}, {"off_stops", number(f.OffStops, 2)},
		{"auto_exposure", ""}, {"worked", f.Worked}, {"confidence", f.Confidence}, {"sky", f.Sky}, {"glare", f.Glare},
		{"picture", f.Picture}, {"saw", strings.TrimSpace(f.Saw)},
	}
	if !f.When.IsZero() {
		list[0][1] = FormatTakeOff(f.When, zone)
	}
	if f.ShutterS > 0 {
		list[5][1] = shutterText(f.ShutterS)
	}
	if f.Auto {
		list[13][1] = "true"
	}
	return list
}

// shutterText writes a shutter as it is marked, and exactly where it is no mark.
func shutterText(seconds float64) string {
	if n := math.Round(1 / seconds); seconds < 0.4 && math.Abs(1/seconds-n) < 1e-6*n {
		return "1/" + strconv.Itoa(int(n))
	}
	return field.Figure(seconds, 6)
}

// AddFlown returns the card with a line more at the end of its log, and the index of that line.
func (c *Card) AddFlown(f Flown) (card *Card, at int, faults field.Faults) {
	e := c.edit()
	at = c.Doc.At("flown").Len()
	e.doesFly(f.Leg)
	// A line begins with something that needs no quotation marks; everything else is set one by one, as it is typed.
	first := "worked: " + WorkedYes
	for _, kv := range f.texts(c.zone()) {
		if kv[1] != "" && kv[0] != "filter" && kv[0] != "picture" && kv[0] != "saw" {
			first = kv[0] + ": " + kv[1]
			break
		}
	}
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Insert("flown", at, "{"+first+"}") })
	e.write(at, &f)
	card, faults = e.card()
	return card, at, faults
}

// SetFlown returns the card with a line of its log that says what it is given, and nothing else.
func (c *Card) SetFlown(at int, f Flown) (*Card, field.Faults) {
	e := c.edit()
	if n := c.Doc.At("flown").Len(); at < 0 || at >= n {
		e.refuse("flown", "line "+strconv.Itoa(at+1), "a line of the log, 1 to "+strconv.Itoa(n))
	}
	e.doesFly(f.Leg)
	e.write(at, &f)
	return e.card()
}

// RemoveFlown returns the card without a line of its log.
func (c *Card) RemoveFlown(at int) (*Card, field.Faults) {
	e := c.edit()
	e.do(func(d *field.Doc) (*field.Doc, field.Faults) { return d.Remove("flown[" + strconv.Itoa(at) + "]") })
	return e.card()
}

// doesFly refuses a leg that the card has not; −1 is the whole flight.
func (e *edit) doesFly(leg int) {
	if leg != -1 {
		e.mustHave(leg)
	}
}

// write sets a line of the log. What it says anew comes first: a line is never empty meanwhile.
func (e *edit) write(at int, f *Flown) {
	list := f.texts(e.from.zone())
	for _, empty := range []bool{false, true} {
		for _, kv := range list {
			path := "flown[" + strconv.Itoa(at) + "]." + kv[0]
			if (kv[1] == "") == empty && (!empty || e.doc.At(path).Exists()) {
				e.set(path, kv[1])
			}
		}
	}
}
