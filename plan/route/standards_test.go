package route

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
)

// said is what was read, in a line: lines with their points, marks, what was left out.
func said(d *Drawn) string {
	var b strings.Builder
	for _, l := range d.Lines {
		fmt.Fprintf(&b, "line %q %d:", l.Name, l.Datum)
		for _, p := range l.Points {
			fmt.Fprintf(&b, " %g,%g", p.LonDeg, p.LatDeg)
			if p.HasHeight {
				fmt.Fprintf(&b, ",%g", p.HeightM)
			}
			if !p.Time.IsZero() {
				fmt.Fprintf(&b, "@%s", p.Time.UTC().Format("15:04:05"))
			}
		}
		b.WriteString("; ")
	}
	for _, m := range d.Marks {
		fmt.Fprintf(&b, "mark %q %g,%g; ", m.Name, m.LonDeg, m.LatDeg)
	}
	if len(d.Left) > 0 {
		fmt.Fprintf(&b, "left %s", strings.Join(d.Left, ", "))
	}
	return strings.TrimSuffix(b.String(), "; ")
}

// The standards' own examples, word for word as far as a path needs them.
func TestExamplesOfTheStandards(t *testing.T) {
	for _, c := range []struct{ from, text, want string }{
		{"RFC 7946, section 1.5", `{
       "type": "FeatureCollection",
       "features": [{
           "type": "Feature",
           "geometry": {"type": "Point", "coordinates": [102.0, 0.5]},
           "properties": {"prop0": "value0"}
       }, {
           "type": "Feature",
           "geometry": {"type": "LineString", "coordinates": [[102.0, 0.0], [103.0, 1.0], [104.0, 0.0], [105.0, 1.0]]},
           "properties": {"prop0": "value0", "prop1": 0.0}
       }, {
           "type": "Feature",
           "geometry": {"type": "Polygon", "coordinates": [[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]]]},
           "properties": {"prop0": "value0", "prop1": {"this": "that"}}
       }]
   }`, `line "" 0: 102,0 103,1 104,0 105,1; mark "" 102,0.5; left a polygon, line 13`},
		{"RFC 7946, A.1", `{"type": "Point", "coordinates": [100.0, 0.0]}`, `mark "" 100,0`},
		{"RFC 7946, A.2", `{"type": "LineString", "coordinates": [[100.0, 0.0], [101.0, 1.0]]}`, `line "" 0: 100,0 101,1`},
		{"RFC 7946, A.3, with a hole", `{"type": "Polygon", "coordinates": [
			[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]],
			[[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]]}`, `left a polygon, line 1`},
		{"RFC 7946, A.4", `{"type": "MultiPoint", "coordinates": [[100.0, 0.0], [101.0, 1.0]]}`, `mark "" 100,0; mark "" 101,1`},
		{"RFC 7946, A.5", `{"type": "MultiLineString", "coordinates": [[[100.0, 0.0], [101.0, 1.0]], [[102.0, 2.0], [103.0, 3.0]]]}`,
			`line "" 0: 100,0 101,1; line "" 0: 102,2 103,3`},
		{"RFC 7946, A.6", `{"type": "MultiPolygon", "coordinates": [
			[[[102.0, 2.0], [103.0, 2.0], [103.0, 3.0], [102.0, 3.0], [102.0, 2.0]]],
			[[[100.0, 0.0], [101.0, 0.0], [101.0, 1.0], [100.0, 1.0], [100.0, 0.0]],
			 [[100.2, 0.2], [100.2, 0.8], [100.8, 0.8], [100.8, 0.2], [100.2, 0.2]]]]}`, `left a multipolygon, line 1`},
		{"RFC 7946, A.7", `{"type": "GeometryCollection", "geometries": [{"type": "Point", "coordinates": [100.0, 0.0]},
			{"type": "LineString", "coordinates": [[101.0, 0.0], [102.0, 1.0]]}]}`, `line "" 0: 101,0 102,1; mark "" 100,0`},
		{"RFC 7946, section 3.1.9: one line, cut at the antimeridian", `{"type": "MultiLineString", "coordinates": [
			[[170.0, 45.0], [180.0, 45.0]], [[-180.0, 45.0], [-170.0, 45.0]]]}`, `line "" 0: 170,45 180,45 -170,45`},
		{"OGC 07-147r2, section 10.7.4", `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2">
<Document>
  <name>LineString.kml</name>
  <open>1</open>
  <LookAt>
    <longitude>-122.36415</longitude><latitude>37.824553</latitude><altitude>0</altitude>
    <range>150</range><tilt>50</tilt><heading>0</heading>
  </LookAt>
  <Placemark>
    <name>unextruded</name>
    <LineString>
      <extrude>0</extrude><tessellate>1</tessellate>
      <coordinates>
        -122.364383,37.824664,0 -122.364152,37.824322,0
      </coordinates>
    </LineString>
  </Placemark>
  <Placemark>
    <name>extruded</name>
    <LineString>
      <extrude>1</extrude><tessellate>1</tessellate>
      <altitudeMode>relativeToGround</altitudeMode>
      <coordinates>
        -122.364167,37.824787,50 -122.363917,37.824423,50
      </coordinates>
    </LineString>
  </Placemark>
</Document>
</kml>`, `line "unextruded" 0: -122.364383,37.824664,0 -122.364152,37.824322,0; line "extruded" 2: -122.364167,37.824787,50 -122.363917,37.824423,50`},
		{"OGC 07-147r2, section 10.5.4: a ring is no path", `<kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><name>LinearRing.kml</name><Polygon><outerBoundaryIs><LinearRing>
  <coordinates>
    -122.365662,37.826988,0 -122.365202,37.826302,0 -122.364581,37.82655,0 -122.365038,37.827237,0 -122.365662,37.826988,0
  </coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></kml>`, `left a polygon, line 1`},
		{"a track as OGC 12-007r2 (KML 2.3, section 14) has it: moments first, then as many places", `<kml xmlns="http://www.opengis.net/kml/2.3"><Folder><Placemark><Track>
      <when>2010-05-28T02:02:09Z</when>
      <when>2010-05-28T02:02:35Z</when>
      <coord>-122.207881 37.371915 156.000000</coord>
      <coord>-122.205712 37.373288 152.000000</coord>
</Track></Placemark></Folder></kml>`, `line "" 0: -122.207881,37.371915,156@02:02:09 -122.205712,37.373288,152@02:02:35`},
		{"GPX 1.1, gpx.xsd: one of each of the elements that hold points, in the schema's order", `<?xml version="1.0"?>
<gpx version="1.1" creator="by hand" xmlns="http://www.topografix.com/GPX/1/1">
  <metadata><name>All of it</name><author><name>nobody</name></author><bounds minlat="1" minlon="2" maxlat="3" maxlon="4"/></metadata>
  <wpt lat="1.5" lon="2.5"><ele>3</ele><time>2026-01-02T03:04:05Z</time><magvar>1</magvar><geoidheight>40</geoidheight><name>rock</name>
    <link href="https://example.org"><text>more</text><type>text/html</type></link><fix>3d</fix><sat>9</sat></wpt>
  <rte><name>planned</name><number>1</number><rtept lat="1" lon="2"/><rtept lat="1.001" lon="2"><ele>5</ele></rtept></rte>
  <trk><name>flown</name><trkseg><trkpt lat="1" lon="2"><ele>5</ele><time>2026-01-02T03:04:05Z</time></trkpt>
    <trkpt lat="1.001" lon="2"><ele>6</ele><time>2026-01-02T03:04:15.5Z</time></trkpt></trkseg><trkseg/></trk>
  <extensions><x xmlns="urn:other"><trkpt lat="99"/></x></extensions>
</gpx>`, `line "planned" 0: 2,1 2,1.001,5; line "flown" 3: 2,1,5@03:04:05 2,1.001,6@03:04:15; mark "rock" 2.5,1.5`},
	} {
		d, err := Read("x", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.from, err)
			continue
		}
		if got := said(d); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.from, got, c.want)
		}
	}
}

// order is what stands inside an element, in which order, by the schemas: gpx.xsd of GPX 1.1, and ogckml22.xsd of OGC
// 07-147r2.
var order = map[string][]string{
	"gpx": {"metadata", "wpt", "rte", "trk", "extensions"}, "metadata": {"name"}, "wpt": {"ele", "time", "name", "extensions"},
	"trkpt": {"ele", "time"}, "trk": {"name", "extensions", "trkseg"}, "trkseg": {"trkpt"},
	"kml": {"Document"}, "Document": {"name", "Placemark"}, "Placemark": {"name", "TimeSpan", "TimeStamp", "ExtendedData", "Point", "LineString"},
	"TimeSpan": {"begin", "end"}, "TimeStamp": {"when"}, "ExtendedData": {"Data"}, "Data": {"value"},
	"Point": {"altitudeMode", "coordinates"}, "LineString": {"altitudeMode", "coordinates"},
}

// inOrder tells what of an XML text stands where its schema has no place for it.
func inOrder(t *testing.T, text []byte) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(string(text)))
	type open struct {
		name string
		next int
	}
	var stack []open
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			if n := len(stack); n > 0 && stack[n-1].name != "extensions" {
				up := &stack[n-1]
				for up.next < len(order[up.name]) && order[up.name][up.next] != x.Name.Local {
					up.next++
				}
				if up.next == len(order[up.name]) {
					t.Fatalf("<%s> is out of its order in <%s>", x.Name.Local, up.name)
				}
				if x.Name.Space != gpxSpace && x.Name.Space != kmlSpace {
					t.Fatalf("<%s> is of the namespace %s", x.Name.Local, x.Name.Space)
				}
			} else if n > 0 && x.Name.Space != ownSpace {
				t.Fatalf("extension <%s> is of the namespace %s", x.Name.Local, x.Name.Space)
			}
			stack = append(stack, open{x.Name.Local, 0})
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		}
	}
}

// rightGeoJSON holds a text against RFC 7946: the members that each object must have, positions with the longitude
// first, lines of two positions and more that do not step over the antimeridian.
func rightGeoJSON(t *testing.T, text []byte) {
	t.Helper()
	var doc struct {
		Type     string
		Features []struct {
			Type       string
			Properties map[string]any
			Geometry   struct {
				Type        string
				Coordinates json.RawMessage
			}
		}
	}
	if err := json.Unmarshal(text, &doc); err != nil || doc.Type != "FeatureCollection" || len(doc.Features) == 0 {
		t.Fatalf("%v\n%s", err, text)
	}
	for _, f := range doc.Features {
		if f.Type != "Feature" || f.Properties == nil {
			t.Fatalf("no feature: %+v", f)
		}
		var lines [][][]float64
		var err error
		switch f.Geometry.Type {
		case "Point":
			var p []float64
			err = json.Unmarshal(f.Geometry.Coordinates, &p)
			lines = [][][]float64{{p, p}}
		case "LineString":
			lines = make([][][]float64, 1)
			err = json.Unmarshal(f.Geometry.Coordinates, &lines[0])
		case "MultiLineString":
			err = json.Unmarshal(f.Geometry.Coordinates, &lines)
		default:
			t.Fatalf("a %s", f.Geometry.Type)
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range lines {
			if len(l) < 2 {
				t.Fatalf("a line of %d", len(l))
			}
			for i, p := range l {
				if len(p) != 2 || p[0] < -180 || p[0] > 180 || p[1] < -90 || p[1] > 90 || i > 0 && (p[0]-l[i-1][0] > 180 || p[0]-l[i-1][0] < -180) {
					t.Fatalf("position %v in %v", p, l)
				}
			}
		}
	}
}

// What a file has beside its path is left alone: words of other programs, other spaces, a fourth number, a place without a
// geometry. What it says of the path in a way that is allowed is read.
func TestWhatIsLeftAlone(t *testing.T) {
	const line = `"type": "LineString", "coordinates": [[1, 2], [1, 3]]`
	for what, c := range map[string]struct{ text, want string }{
		"GeoJSON, a fourth number":             {`{"type": "LineString", "coordinates": [[1, 2, 30, 99], [1, 3, 40, 99]]}`, `line "" 4: 1,2,30 1,3,40`},
		"GeoJSON, the usual grid by name":      {`{"crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}}, ` + line + `}`, `line "" 0: 1,2 1,3`},
		"GeoJSON, no grid":                     {`{"crs": null, ` + line + `}`, `line "" 0: 1,2 1,3`},
		"GeoJSON, a grid that says nothing":    {`{"crs": "x", ` + line + `}`, `line "" 0: 1,2 1,3`},
		"GeoJSON, a feature without a place":   {`{"type": "FeatureCollection", "features": [{"type": "Feature", "geometry": null, "properties": null}, {` + line + `}]}`, `line "" 0: 1,2 1,3`},
		"GeoJSON, a word for geometries":       {`{"geometries": "none", ` + line + `}`, `line "" 0: 1,2 1,3`},
		"GeoJSON, what others write":           {`{"bbox": [1, 2, 1, 3], "x": {"y": [null, true, {"z": 1}]}, ` + line + `}`, `line "" 0: 1,2 1,3`},
		"GPX, another space":                   {gpxHead + `<o:rte xmlns:o="other"><o:rtept lat="9" lon="9"/></o:rte><rte><rtept lat="2" lon="1"/><rtept lat="3" lon="1"/></rte></gpx>`, `line "" 0: 1,2 1,3`},
		"GPX, extensions of others":            {gpxHead + `<rte><extensions><o:speed xmlns:o="other">5</o:speed></extensions><rtept lat="2" lon="1"/><rtept lat="3" lon="1"/></rte></gpx>`, `line "" 0: 1,2 1,3`},
		"GPX, extensions of a segment":         {gpxHead + `<trk><trkseg><trkpt lat="2" lon="1"/><extensions><x/></extensions><trkpt lat="3" lon="1"/></trkseg></trk></gpx>`, `line "" 0: 1,2 1,3`},
		"GPX, an empty segment":                {gpxHead + `<trk><trkseg/><trkseg><trkpt lat="2" lon="1"/><trkpt lat="3" lon="1"/></trkseg></trk></gpx>`, `line "" 0: 1,2 1,3`},
		"KML, several geometries":              {`<kml><Placemark><name>x</name><MultiGeometry><Point><coordinates>5,6</coordinates></Point><LineString><coordinates>1,2 1,3</coordinates></LineString></MultiGeometry></Placemark></kml>`, `line "x" 0: 1,2 1,3; mark "x" 5,6`},
		"KML, the end and the start of a line": {`<kml><Placemark><TimeSpan><begin>2026-09-18T17:00:00Z</begin><end>2026-09-18T17:01:00Z</end></TimeSpan><LineString><coordinates>1,2 1,3</coordinates></LineString></Placemark></kml>`, `line "" 0: 1,2@17:00:00 1,3@17:01:00`},
		"KML, days are no moments":             {`<kml><Placemark><TimeSpan><begin>2026-09-18</begin><end>2026-09-19</end></TimeSpan><LineString><coordinates>1,2 1,3</coordinates></LineString></Placemark></kml>`, `line "" 0: 1,2 1,3`},
		"KML, a track above the ground":        {kmlTrack("<altitudeMode>relativeToGround</altitudeMode><when>2026-09-18T17:00:00Z</when><when>2026-09-18T17:00:09Z</when><coord>1 2 30</coord><coord>1 3 40</coord>"), `line "" 2: 1,2,30@17:00:00 1,3,40@17:00:09`},
		"KML, data of others":                  {`<kml><Placemark><ExtendedData><SchemaData><SimpleData>x</SimpleData></SchemaData><Data name="heading_deg"><displayName>x</displayName><value>20</value></Data></ExtendedData><LineString><coordinates>1,2 1,3</coordinates></LineString></Placemark></kml>`, `line "" 0: 1,2 1,3`},
	} {
		d, err := Read("x", []byte(c.text))
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		if got := said(d); got != c.want {
			t.Errorf("%s: %s, want %s", what, got, c.want)
		}
		if what == "KML, data of others" && (d.Lines[0].Looks == nil || d.Lines[0].Looks.HeadingDeg != 20) {
			t.Errorf("%s: %+v", what, d.Lines[0].Looks)
		}
	}
}
