package sheet

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/trip"
)

var update = flag.Bool("update", false, "write the golden files anew")

// demoTrip is the demo's trip, worked out once for all tests.
var demoTrip = sync.OnceValues(func() ([]trip.Card, error) {
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		return nil, faults
	}
	var list []trip.Card
	for _, name := range examples.Cards() {
		card, _ := shot.ReadCard(name, examples.Card(name))
		s, faults := card.Shot(bag, time.Time{})
		if len(faults) > 0 {
			return nil, faults
		}
		list = append(list, trip.Card{File: name, Shot: s, Bag: bag})
	}
	return trip.WorkAll(context.Background(), list, 2, nil)
})

func demo(t *testing.T) []trip.Card {
	t.Helper()
	list, err := demoTrip()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

var demoSheet = sync.OnceValues(func() (*Sheet, error) {
	cards, err := demoTrip()
	if err != nil {
		return nil, err
	}
	return Of(trip.Of(cards), "Trip: examples", "bag.yaml, beside the card")
})

// whole is the demo's sheet, single that of one of its shots.
func whole(t *testing.T) *Sheet {
	t.Helper()
	s, err := demoSheet()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func single(t *testing.T, name string) *Sheet {
	t.Helper()
	s := whole(t)
	for i := range s.Shots {
		if strings.HasPrefix(s.Shots[i].Name, name) {
			return &Sheet{Title: s.Shots[i].Name, Bag: s.Bag, Shots: s.Shots[i : i+1]}
		}
	}
	t.Fatalf("the demo has no shot %q", name)
	return nil
}

// element is one element of a page.
type element struct {
	name string
	attr map[string]string
	text string // but for that of the elements in it
}

// elements reads a page as the XML that it is (encoding/xml, strict), and fails where it is not well-formed.
func elements(t *testing.T, page []byte) []element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	var all []*element
	var open []*element
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("the page is not well-formed: %v", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := &element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			all, open = append(all, e), append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if n := len(open); n > 0 {
				open[n-1].text += string(x)
			}
		}
	}
	out := make([]element, len(all))
	for i := range all {
		out[i] = *all[i]
	}
	return out
}

// allowed are the elements that a sheet is made of. Of these none runs anything, loads anything or sends anything, but
// for img, whose address is looked at.
var allowed = strings.Fields("html head meta title style body main footer header section article h1 h2 h3 p ul ol li a b br small span figure figcaption img table thead tbody tr th td div svg circle rect text path")

// checkPage holds a page against what every sheet must be, whatever its cards are called.
func checkPage(t *testing.T, page []byte) []element {
	t.Helper()
	list := elements(t, page)
	ids := map[string]bool{}
	level := 0
	for _, e := range list {
		if !strings.Contains(" "+strings.Join(allowed, " ")+" ", " "+e.name+" ") {
			t.Errorf("an element <%s>", e.name)
		}
		for name, value := range e.attr {
			switch {
			case strings.HasPrefix(strings.ToLower(name), "on"), name == "style", name == "srcset", name == "action":
				t.Errorf("<%s %s=%q>", e.name, name, value)
			case name == "src" && !strings.HasPrefix(value, "data:image/png;base64,"), name == "href" && !strings.HasPrefix(value, "#shot-"):
				t.Errorf("<%s %s=%q> leads out of the page", e.name, name, value)
			case name == "id":
				if ids[value] {
					t.Errorf("two elements have the id %q", value)
				}
				ids[value] = true
			}
		}
		switch e.name {
		case "html":
			if e.attr["lang"] != "en" {
				t.Errorf("language %q", e.attr["lang"])
			}
		case "img":
			if len(e.attr["alt"]) < 20 {
				t.Errorf("a picture is described as %q", e.attr["alt"])
			}
		case "svg":
			if e.attr["role"] != "img" || len(e.attr["aria-label"]) < 10 {
				t.Errorf("a drawing is described as %q", e.attr["aria-label"])
			}
		case "th":
			if e.attr["scope"] == "" {
				t.Error("a head of a table says not of what it is the head")
			}
		case "h1", "h2", "h3":
			n := int(e.name[1] - '0')
			if n > level+1 || strings.TrimSpace(e.text) == "" {
				t.Errorf("heading %q of level %d under one of level %d", e.text, n, level)
			}
			level = n
		}
	}
	for _, e := range list {
		if e.name == "a" && !ids[strings.TrimPrefix(e.attr["href"], "#")] {
			t.Errorf("%q leads nowhere", e.attr["href"])
		}
	}
	return list
}

// pictures are the bytes of pictures in a page, in which any letters may follow one another.
var pictures = regexp.MustCompile(`data:image/png;base64,[A-Za-z0-9+/=]*`)

// The demo's sheet needs nothing beside itself, is small enough, and has every leg of every card.
func TestDemoTrip(t *testing.T) {
	t.Parallel()
	cards := demo(t)
	s := whole(t)
	page := s.HTML()
	list := checkPage(t, page)
	for _, not := range []string{"<script", "http", "url(", "@import", "://"} {
		if bytes.Contains(bytes.ToLower(pictures.ReplaceAll(page, nil)), []byte(not)) {
			t.Errorf("there is %q on the page", not)
		}
	}
	if most := 300_000 * len(cards); len(page) > most {
		t.Errorf("%d bytes, %d are the most", len(page), most)
	}
	var rows, images, rings int
	for _, e := range list {
		switch {
		case e.name == "tr":
			rows++
		case e.name == "img":
			images++
		case e.name == "circle":
			rings++
		}
	}
	legs, tables, wanted, turned := 0, 0, 0, 0
	text := string(s.Markdown())
	for i := range cards {
		r := cards[i].Report
		legs += len(r.Legs)
		tables += len(r.Flights)
		for k := range r.Flights {
			if wanted++; r.Flights[k].Filter != "none" {
				wanted++
			}
			if r.Flights[k].HasRing {
				turned++
			}
		}
		one := single(t, cards[i].Shot.Name)
		if page := one.HTML(); len(page) > 300_000 {
			t.Errorf("%s: %d bytes", cards[i].File, len(page))
		} else {
			checkPage(t, page)
		}
		for k := range r.Legs {
			want := fmt.Sprintf("| %d %s", k+1, r.Legs[k].Move)
			if !bytes.Contains(one.Markdown(), []byte(want)) || !strings.Contains(text, want) {
				t.Errorf("%s: leg %d is not in the text", cards[i].File, k+1)
			}
		}
		for _, c := range r.Call.Cautions {
			if !bytes.Contains(one.HTML(), []byte(c)) || !bytes.Contains(one.Markdown(), []byte(c)) || !bytes.Contains(page, []byte(c)) || !strings.Contains(text, c) {
				t.Errorf("%s: no caution %q", cards[i].File, c)
			}
		}
	}
	if rows != legs+tables || images != wanted || rings != turned || turned == 0 {
		t.Errorf("%d rows for %d legs in %d tables, %d pictures for %d, %d rings for %d", rows, legs, tables, images, wanted, rings, turned)
	}
}

// A leg's row has its headings, what to lock and what the meter will show; magnetic north lies 1.2° west of true north
// on the first card, so that headings from it are larger.
func TestLegs(t *testing.T) {
	t.Parallel()
	s := single(t, "Breakwater")
	got := s.Shots[0].Flights[0].Legs[1]
	if got.True != "330° to 60°" || got.Magnetic != "331° to 61°" || !strings.Contains(got.Lock, "ISO 100") || got.Meter == "" {
		t.Errorf("%+v", got)
	}
}

// A card alone has its own name over it, and nothing of a trip.
func TestOneCard(t *testing.T) {
	t.Parallel()
	s, err := Of(trip.Of(demo(t)[1:2]), "", "bag.yaml")
	if err != nil || s.Title != "Lighthouse, side-lit at noon" || s.Days != nil || s.Pack != nil || len(s.Shots) != 1 {
		t.Errorf("%v, %+v", err, s)
	}
}

// The text of one card as it is: read the difference as a pilot would, then write it anew (-update).
func TestMarkdownOfOneCard(t *testing.T) {
	t.Parallel()
	const golden = "testdata/2-lighthouse.md"
	got := single(t, "Lighthouse").Markdown()
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("it says something else now:\n%s", got)
	}
}

// The mark stands on the ring as on a clock that one looks at: at 12 above, at 3 on the right.
func TestTheMarkStandsAsOnAClock(t *testing.T) {
	for deg, want := range map[float64]string{
		0: `x="51.0" y="5.0"`, 90: `x="97.0" y="51.0"`, 180: `x="51.0" y="97.0"`, 270: `x="5.0" y="51.0"`, 45: `x="83.5" y="18.5"`,
	} {
		p := new(page)
		p.mark("full", deg)
		if got := p.b.String(); !strings.Contains(got, want) {
			t.Errorf("at %g°: %s, want %s", deg, got, want)
		}
	}
}

// sheetOf is the sheet of the demo's first card with lines of it changed.
func sheetOf(t *testing.T, lines ...string) *Sheet {
	t.Helper()
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	text := string(examples.Card("1-breakwater"))
	for _, line := range lines {
		key, _, _ := strings.Cut(line, ":")
		old := regexp.MustCompile(`(?m)^` + key + `:.*$`)
		if !old.MatchString(text) {
			t.Fatalf("the card has no %s", key)
		}
		text = old.ReplaceAllLiteralString(text, line)
	}
	card, _ := shot.ReadCard("card.yaml", []byte(text))
	s, faults := card.Shot(bag, time.Time{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	cards, err := trip.WorkAll(context.Background(), []trip.Card{{File: "card.yaml", Shot: s, Bag: bag}}, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := Of(trip.Of(cards), "", "bag.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// A leg that is too dark has nothing to lock and nothing to meter: its row says so, and by how much, on the page and as text.
func TestALegThatCannotBeExposed(t *testing.T) {
	t.Parallel()
	s := sheetOf(t, "take_off: 2026-09-18T23:30")
	leg := s.Shots[0].Flights[0].Legs[0]
	if leg.Lock != "" || leg.Meter != "" || len(leg.LookOut) == 0 || !strings.HasPrefix(leg.LookOut[0], "cannot be exposed: ") {
		t.Errorf("%+v", leg)
	}
	if text := string(s.Markdown()); !strings.Contains(text, "| cannot be exposed | none |") || !strings.Contains(text, leg.LookOut[0]) {
		t.Errorf("as text it is said as\n%s", text)
	}
	html := s.HTML()
	checkPage(t, html)
	if !strings.Contains(string(html), `<b><span class="whole">cannot be exposed</span></b></td><td>none</td>`) || !strings.Contains(string(html), leg.LookOut[0]) {
		t.Errorf("the page does not say %q", leg.LookOut[0])
	}
}

// Who plans too late reads until when it would have been time; a declination has its side.
func TestTooLateAndEast(t *testing.T) {
	t.Parallel()
	s := sheetOf(t, "take_off: 2026-09-18T20:35", "declination_deg: 1.2").Shots[0]
	latest := ""
	for _, row := range s.Times {
		if row.Name == "Latest take-off" {
			latest = row.Value
		}
	}
	if !strings.HasSuffix(latest, ", before the planned one") {
		t.Errorf("the latest take-off is said as %q in %v", latest, s.Times)
	}
	if want := "Magnetic headings with a declination of 1.2° east, as the card has it."; s.Magnetic != want {
		t.Errorf("%q, want %q", s.Magnetic, want)
	}
}
