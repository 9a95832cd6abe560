package route

import (
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"example.org/skywedge/kit/field"
)

const gpxHead = `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1">`

func gpxRoute(points ...string) string {
	return gpxHead + "<rte>" + strings.Join(points, "") + "</rte></gpx>"
}

func kmlLine(coordinates string) string {
	return `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><LineString><coordinates>` + coordinates + `</coordinates></LineString></Placemark></kml>`
}

func kmlTrack(in string) string {
	return "<kml><Placemark><Track>" + in + "</Track></Placemark></kml>"
}

func utf16Text(text string, order binary.ByteOrder, mark bool) string {
	units := utf16.Encode([]rune(text))
	if mark {
		units = append([]uint16{0xfeff}, units...)
	}
	out := make([]byte, 2*len(units))
	for i, u := range units {
		order.PutUint16(out[2*i:], u)
	}
	return string(out)
}

// hostile are files that are refused, each with what is said of it. They are seeds of the fuzz targets too.
var hostile = []struct{ what, text, says string }{
	{"nothing", "", "x:1:1: file: found nothing; allowed: a path as GPX, KML or GeoJSON"},
	{"blanks", " \n\t", "file: found nothing"},
	{"a card", "skywedge: 1\n", `file: found "skywedge: 1"; allowed: a path as GPX, KML or GeoJSON`},
	{"a zip", "PK\x03\x04rest", "file: found a zip archive"},
	{"an entity bomb", `<!DOCTYPE gpx [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>` + gpxRoute(), "file: found a document type"},
	{"a file from outside", `<!DOCTYPE gpx SYSTEM "file:///etc/passwd">` + gpxRoute(), "file: found a document type"},
	{"an entity of its own", gpxHead + "<rte><name>&b;</name></rte></gpx>", "file: found invalid character entity &b;; allowed: well-formed XML"},
	{"a document type inside", gpxHead + "<!DOCTYPE x></gpx>", "file: found a document type"},
	{"an open element", gpxHead + "<rte>", "file: found unexpected EOF"},
	{"crossed elements", gpxHead + "<rte></trk></gpx>", "closed by </trk>"},
	{"another XML", "<svg/>", "file: found <svg>; allowed: <gpx> (GPX 1.1) or <kml> (KML 2.2)"},
	{"another version of XML", `<?xml version="0"?><gpx/>`, `file: found unsupported version "0"`},
	{"only a comment", "<!-- x -->", "file: found no element"},
	{"more behind", gpxHead + "</gpx><!DOCTYPE x>", "file: found a document type"},
	{"an older GPX", `<gpx version="1.0"/>`, `version: found "1.0"; allowed: 1.1`},
	{"no version", `<gpx/>`, `version: found nothing`},
	{"too deep", gpxHead + strings.Repeat("<a>", 70) + strings.Repeat("</a>", 70) + "</gpx>", "file: found elements more than 64 deep"},
	{"a place without a latitude", gpxRoute(`<rtept lon="2"/>`), "latitude: found nothing; allowed: a number from -90 to 90°"},
	{"no number", gpxRoute(`<rtept lat="NaN" lon="2"/>`), `latitude: found "NaN"`},
	{"no end", gpxRoute(`<rtept lat="1" lon="Inf"/>`), `longitude: found "Inf"`},
	{"too great for a number", gpxRoute(`<rtept lat="1" lon="1e999"/>`), `longitude: found "1e999"`},
	{"hexadecimal", gpxRoute(`<rtept lat="0x1p3" lon="1"/>`), `latitude: found "0x1p3"`},
	{"out of the earth", gpxRoute("\n", `<rtept lat="90.01" lon="2"/>`), `x:2:1: latitude: found "90.01"; allowed: a number from -90 to 90°`},
	{"beyond the antimeridian", gpxRoute(`<rtept lat="1" lon="-180.5"/>`), `longitude: found "-180.5"`},
	{"a height that is none", gpxRoute(`<rtept lat="1" lon="2"><ele>high</ele></rtept>`), `height: found "high"`},
	{"a height out of the air", gpxRoute(`<rtept lat="1" lon="2"><ele>400000</ele></rtept>`), `height: found "400000"`},
	{"a time that is none", gpxRoute(`<rtept lat="1" lon="2"><time>yesterday</time></rtept>`), `time: found "yesterday"; allowed: a date and time as 2026-09-18T17:40:00Z`},
	{"too many places", gpxRoute(strings.Repeat(`<rtept lat="1" lon="2"/>`, MaxPoints+1)), "points: found more than 100000"},
	{"a line of one place", gpxHead + `<rte><rtept lat="1" lon="2"/></rte></gpx>`, ""},
	{"an encoding that is not known", `<?xml version="1.0" encoding="KOI8-R"?>` + gpxRoute(), `encoding: found "KOI8-R"; allowed: UTF-8, UTF-16 or ISO-8859-1`},
	{"Latin-1 that is not declared", gpxHead + "<rte><name>\xe9t\xe9</name></rte></gpx>", "text: found the byte 0xE9, which is no UTF-8"},
	{"a zero byte", gpxHead + "<rte>\x00</rte></gpx>", "text: found a zero byte"},
	{"half a unit of UTF-16", utf16Text(gpxHead, binary.LittleEndian, true) + "x", "unexpected EOF"},
	{"KML without coordinates", kmlLine(""), "coordinates: found nothing"},
	{"KML with blanks in a place", kmlLine("1, 2 3, 4"), `coordinates: found "1,"`},
	{"KML with four numbers", kmlLine("1,2,3,4 1,2"), `coordinates: found "1,2,3,4"`},
	{"KML, the second line", kmlLine("1,2\n 1,200"), `x:2:2: latitude: found "200"`},
	{"a KML point of two", `<kml><Placemark><Point><coordinates>1,2 3,4</coordinates></Point></Placemark></kml>`, "coordinates: found 2 points"},
	{"a KML line of one", kmlLine("1,2"), "line: found one point; allowed: a line of two points at least"},
	{"a KML track without its times", `<kml><Placemark><Track><when>2026-01-01T00:00:00Z</when></Track></Placemark></kml>`, "when: found 1 moments for 0 places"},
	{"KML too deep", "<kml>" + strings.Repeat("<Folder>", 70), "elements more than 64 deep"},
	{"JSON that breaks off", `{"type": "LineString", "coordinates": [[1, 2]`, "file: found "},
	{"JSON with a comma too many", `{"type": "Point", "coordinates": [1, 2,]}`, "file: found invalid character"},
	{"JSON, two objects", `{"type": "Point", "coordinates": [1, 2]}{}`, "more behind the end of the object"},
	{"JSON too deep", `{"x":` + strings.Repeat("[", 70) + strings.Repeat("]", 70) + "}", "arrays and objects more than 64 deep"},
	{"JSON coordinates too deep", `{"type":"LineString","coordinates":` + strings.Repeat("[", 70) + strings.Repeat("]", 70) + "}", "arrays and objects more than 64 deep"},
	{"JSON of brackets", `{"type":"LineString","coordinates":[` + strings.Repeat("[],", MaxPoints+1) + "[]]}", "points: found more than 100000"},
	{"JSON of objects", `{"type":"FeatureCollection","features":[` + strings.Repeat("{},", mostObjects) + "{}]}", "more than 400000 objects"},
	{"GeoJSON of no type", `{"coordinates": [1, 2]}`, "type: found nothing"},
	{"GeoJSON of another type", `{"type": "Circle"}`, `type: found "Circle"`},
	{"GeoJSON without coordinates", `{"type": "LineString"}`, "coordinates: found nothing"},
	{"GeoJSON with an empty line", `{"type": "LineString", "coordinates": []}`, "coordinates: found an empty array"},
	{"GeoJSON, a line for a point", `{"type": "Point", "coordinates": [[1, 2], [3, 4]]}`, "coordinates: found an array of another depth"},
	{"GeoJSON, words for numbers", `{"type": "Point", "coordinates": ["1", "2"]}`, `coordinates: found "1"`},
	{"GeoJSON, one number", `{"type": "Point", "coordinates": [1]}`, "coordinates: found one number"},
	{"GeoJSON, latitude first", `{"type": "Point", "coordinates": [43, -182]}`, `latitude: found "-182"`},
	{"GeoJSON, numbers and arrays", `{"type": "LineString", "coordinates": [1, [2, 3]]}`, "numbers and arrays side by side"},
	{"GeoJSON on another grid", `{"type": "FeatureCollection", "crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::25829"}}, "features": []}`, "crs: found "},
	{"GeoJSON, a card's word that is none", `{"type": "Feature", "properties": {"heading_deg": "north"}, "geometry": {"type": "LineString", "coordinates": [[1, 2], [1, 2.1]]}}`,
		`heading_deg: found "north"; allowed: one number, from -360 to 360`},
	{"GeoJSON, a list", `[{"type": "Point", "coordinates": [1, 2]}]`, "file: found "},
	{"GeoJSON, coordinates as a text", `{"type": "Point", "coordinates": "1, 2"}`, "coordinates: found 1, 2; allowed: an array"},
	{"GeoJSON, a list of words for features", `{"type": "FeatureCollection", "features": ["x"]}`, "features: found no object; allowed: an array of objects"},
	{"GeoJSON, a wrong feature of several", `{"type": "FeatureCollection", "features": [{"type": "Point", "coordinates": [1, 2]},` + "\n" + `{"type": "Feature", "geometry": {"type": "Circle"}}]}`, `x:2:33: type: found "Circle"`},
	{"GeoJSON, a wrong geometry of several", `{"type": "GeometryCollection", "geometries": [{"type": "Point", "coordinates": [[1, 2]]}]}`, "coordinates: found an array of another depth"},
	{"GeoJSON, a line for lines", `{"type": "MultiLineString", "coordinates": [[1, 2], [1, 3]]}`, "coordinates: found an array of another depth; allowed: an array of lines"},
	{"GeoJSON, a place for lines", `{"type": "MultiLineString", "coordinates": [1, 2]}`, "coordinates: found an array of another depth; allowed: an array of lines"},
	{"GeoJSON, lines for a line", `{"type": "LineString", "coordinates": [[[1, 2], [1, 3]]]}`, "coordinates: found an array of another depth; allowed: an array of positions"},
	{"GeoJSON that breaks off in its properties", `{"type": "Feature", "properties": {"name": "x"`, "file: found an end in the middle"},
	{"GeoJSON that breaks off in what nobody reads", `{"type": "Feature", "id": [1, {"x": `, "file: found an end in the middle"},
	{"GeoJSON that breaks off on another grid", `{"type": "Feature", "crs": {"type": ["x", `, "file: found an end in the middle"},
	{"GeoJSON on another grid in a list", `{"type": "LineString", "crs": {"x": ["EPSG:25829", 1]}, "coordinates": [[1, 2], [1, 3]]}`, `crs: found "EPSG:25829"`},
	{"a subject that flies back", `{"type": "Feature", "properties": {"heading_deg": 1, "subject_speed_ms": -2}, "geometry": {"type": "LineString", "coordinates": [[1, 2], [1, 2.1]]}}`,
		`subject_speed_ms: found "-2"; allowed: a speed from 0 to 100 m/s`},
	{"a take-off under the sea", `{"type": "Feature", "properties": {"name": "take-off", "elevation_m": -500}, "geometry": {"type": "Point", "coordinates": [1, 2]}}`,
		`elevation_m: found "-500"; allowed: a number from -430 to 6000 m`},
	{"a pitch of three", `{"type": "Feature", "properties": {"pitch_deg": [1, 2, 3]}, "geometry": {"type": "LineString", "coordinates": [[1, 2], [1, 2.1]]}}`,
		`pitch_deg: found "1 2 3"; allowed: one number, or two: at the start and at the end, from -90 to 90`},
	{"a KML track with a place of one number", kmlTrack("<when>2026-01-01T00:00:00Z</when><coord>1</coord>"), `coord: found "1"; allowed: longitude, latitude and height with blanks between them`},
	{"a KML track beyond the pole", kmlTrack("<when>2026-01-01T00:00:00Z</when><coord>1 95 3</coord>"), `latitude: found "95"`},
	{"a KML track that breaks off", "<kml><Placemark><Track><when>2026-01-01T00:00:00Z", "file: found unexpected EOF"},
	{"GPX that breaks off in a place", gpxHead + `<wpt lat="1" lon="2"><ele>`, "file: found unexpected EOF"},
	{"a GPX mark out of the earth", gpxHead + `<wpt lat="91" lon="2"/></gpx>`, `latitude: found "91"`},
	{"GeoJSON, no zone", `{"type": "Feature", "properties": {"name": "take-off", "zone": "Mars/One"}, "geometry": {"type": "Point", "coordinates": [1, 2]}}`, `zone: found "Mars/One"`},
}

func TestHostileFilesAreRefused(t *testing.T) {
	for _, c := range hostile {
		start := time.Now()
		_, err := Read("x", []byte(c.text))
		if took := time.Since(start); took > 20*time.Second {
			t.Errorf("%s: %s", c.what, took)
		}
		var faults field.Faults
		switch {
		case c.says == "" && err == nil:
		case c.says == "":
			t.Errorf("%s: %v", c.what, err)
		case err == nil || !strings.Contains(err.Error(), c.says):
			t.Errorf("%s: says %v, not %s", c.what, err, c.says)
		case !errors.As(err, &faults) || len(faults) != 1 || faults[0].Line < 1 || faults[0].Column < 1 || strings.ContainsAny(err.Error(), "\n\x1b"):
			t.Errorf("%s: no fault on a line: %v", c.what, err)
		}
	}
	big := []byte(gpxRoute())
	big = append(big, make([]byte, MaxBytes)...)
	if _, err := Read("x", big); err == nil || !strings.Contains(err.Error(), "more than 32 MiB") {
		t.Errorf("too big: %v", err)
	}
}

// Every encoding that a path may have gives the same line.
func TestEncodings(t *testing.T) {
	plain := gpxHead + `<rte><name>été</name><rtept lat="1" lon="2"/><rtept lat="1.001" lon="2"/></rte></gpx>`
	latin := strings.ReplaceAll(plain, "é", "\xe9")
	for what, text := range map[string]string{
		"UTF-8": plain, "UTF-8 with its mark": "\ufeff" + plain,
		"UTF-8, declared":               `<?xml version="1.0" encoding="utf-8"?>` + plain,
		"UTF-16 little":                 utf16Text(plain, binary.LittleEndian, true),
		"UTF-16 big":                    utf16Text(`<?xml version="1.0" encoding="UTF-16"?>`+plain, binary.BigEndian, true),
		"UTF-16 little, without a mark": utf16Text(`<?xml version="1.0" encoding="UTF-16"?>`+plain, binary.LittleEndian, false),
		"UTF-16 big, without a mark":    utf16Text(plain, binary.BigEndian, false),
		"Latin-1":                       `<?xml version="1.0" encoding='ISO-8859-1'?>` + latin,
	} {
		d, err := Read("x", []byte(text))
		if err != nil || said(d) != `line "été" 0: 2,1 2,1.001` {
			t.Errorf("%s: %v", what, err)
			if d != nil {
				t.Error(said(d))
			}
		}
	}
}

// What cannot be flown is refused when it is drafted, at its line.
func TestWhatCannotBeFlown(t *testing.T) {
	timed := func(points ...string) string {
		var b strings.Builder
		for _, p := range points {
			at, when, _ := strings.Cut(p, " ")
			fmt.Fprintf(&b, "\n<trkpt lat=\"%s\" lon=\"2\"><time>2026-01-02T03:%sZ</time></trkpt>", at, when)
		}
		return gpxHead + "<trk><trkseg>" + b.String() + "</trkseg></trk></gpx>"
	}
	for _, c := range []struct{ what, text, says string }{
		{"no line", gpxHead + "</gpx>", "line: found no line"},
		{"one point", gpxHead + `<wpt lat="1" lon="2"/></gpx>`, "line: found one point and no line"},
		{"only a polygon", `{"type": "Polygon", "coordinates": [[[0,0],[1,0],[1,1],[0,0]]]}`, "line: found no line, but a polygon, line 1"},
		{"times that go back", timed("1 00:00", "1.0001 00:10", "1.0002 00:05"), "x:4:1: time: found 2026-01-02T03:00:05Z; allowed: times that do not go back: the point before has 2026-01-02T03:00:10Z"},
		{"too fast", timed("1 00:00", "1.01 00:10", "1.02 00:20"), "speed_ms: found 111 m/s up to this point; allowed: at most 60 m/s"},
		{"too far", gpxRoute(`<rtept lat="1" lon="2"/>`, "\n", `<rtept lat="1.5" lon="2"/>`), "x:2:1: line: found a point 55.3 km from the first; allowed: a path within 20 km"},
		{"at the pole", gpxRoute(`<rtept lat="89.9999" lon="2"/>`, `<rtept lat="90" lon="2"/>`), "latitude: found 89.9999; allowed: a path within 89° of the equator"},
		{"for years", strings.Replace(timed("1 00:00", "1.0001 00:10"), "2026", "1026", 1), "hours after the start of the line; allowed: a flight of at most 24 hours"},
		{"no way at all", gpxRoute(strings.Repeat(`<rtept lat="1" lon="2"/>`, 3)), ""},
		{"a time twice", timed("1 00:00", "1.0001 00:10", "1.0001 00:10", "1.0002 00:20"), ""},
		{"all at one time", timed("1 00:00", "1.0001 00:00"), ""},
	} {
		d, err := Read("x", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		_, err = d.Draft(Wish{Now: time.Unix(1e9, 0), Camera: "c"})
		if (c.says == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: says %v, not %s", c.what, err, c.says)
		}
	}
}

func fuzz(f *testing.F, format Format) {
	for _, c := range hostile {
		if len(c.text) < 4096 {
			f.Add([]byte(c.text))
		}
	}
	f.Add([]byte(gpxRoute(`<rtept lat="1" lon="2"><ele>5</ele></rtept>`, `<rtept lat="1.001" lon="2"><ele>9</ele></rtept>`)))
	f.Add([]byte(kmlLine("179.9999,2,5 -179.9999,2,9")))
	f.Add([]byte(`{"type":"LineString","coordinates":[[1,2,3],[1,2.001,4],[1.001,2.001]]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r := &reader{text: data, out: Drawn{File: "x"}, seenLine: 1}
		err := r.decode()
		switch {
		case err != nil:
		case format == GeoJSON:
			err = r.readJSON()
		default:
			err = r.readXML()
		}
		var faults field.Faults
		if err != nil && (!errors.As(err, &faults) || len(faults) != 1) {
			t.Fatalf("no fault: %v", err)
		}
		if err != nil {
			return
		}
		draft, err := r.out.Draft(Wish{Now: time.Unix(1e9, 0), Camera: "c"})
		var wish *WishError
		switch {
		case err != nil && !errors.As(err, &wish) && !errors.As(err, &faults):
			t.Fatalf("no fault: %v", err)
		case err == nil && (draft.Legs < 1 || draft.Legs > mostLegs || draft.OffM > draft.WithinM+0.1):
			t.Fatalf("%d legs, %g m off within %g\n%s", draft.Legs, draft.OffM, draft.WithinM, draft.Card)
		}
	})
}

func FuzzGPX(f *testing.F)     { fuzz(f, GPX) }
func FuzzKML(f *testing.F)     { fuzz(f, KML) }
func FuzzGeoJSON(f *testing.F) { fuzz(f, GeoJSON) }
