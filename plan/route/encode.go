package route

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"strings"
	"time"

	"example.org/skywedge/kit/field"
)

// Encode writes the path in a format. Heights are those of the card, above take-off; each format gets them as it counts
// them, where that is known: see the three writers.
func (d *Drawn) Encode(f Format) []byte {
	var b bytes.Buffer
	switch f {
	case GPX:
		d.toGPX(&b)
	case KML:
		d.toKML(&b)
	case GeoJSON:
		d.toGeoJSON(&b)
	}
	return b.Bytes()
}

// degrees writes a latitude or longitude to a centimetre.
func degrees(v float64) string { return field.Figure(v, 7) }

func metres(v float64) string { return field.Figure(v, 2) }

// moments are written in UTC, to the millisecond.
func written(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.999Z07:00") }

// clean is a text as it may stand in XML. What XML 1.0 forbids becomes the replacement character.
func clean(text string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(text)) // never fails: the builder takes all
	return b.String()
}

// words writes the values of a pair as a text.
func (p *pair) words() string {
	if p.text != "" {
		return p.text
	}
	var list []string
	for _, v := range p.values {
		list = append(list, field.Figure(v, 4))
	}
	return strings.Join(list, " ")
}

// toGPX follows the order of the schema (GPX 1.1, gpx.xsd: metadata, wpt, trk; ele, time, name, extensions). Its ele is
// above the sea, so that it is written only where the card says how high take-off is. A track for each leg.
func (d *Drawn) toGPX(b *bytes.Buffer) {
	fmt.Fprintf(b, `<?xml version="1.0" encoding="UTF-8"?>
<gpx xmlns="%s" xmlns:card="%s" version="1.1" creator="skywedge">
`, gpxSpace, ownSpace)
	fmt.Fprintf(b, "  <metadata>\n    <name>%s</name>\n  </metadata>\n", clean(d.Name))
	own := func(indent string, pairs []pair) {
		if len(pairs) == 0 {
			return
		}
		fmt.Fprintf(b, "%s<extensions>\n", indent)
		for _, p := range pairs {
			fmt.Fprintf(b, "%s  <card:%s>%s</card:%s>\n", indent, p.name, clean(p.words()), p.name)
		}
		fmt.Fprintf(b, "%s</extensions>\n", indent)
	}
	point := func(indent, tag string, p Point, name string, pairs []pair) {
		fmt.Fprintf(b, "%s<%s lat=\"%s\" lon=\"%s\">", indent, tag, degrees(p.LatDeg), degrees(p.LonDeg))
		if p.HasHeight && d.ElevationM != nil {
			fmt.Fprintf(b, "<ele>%s</ele>", metres(p.HeightM+*d.ElevationM))
		}
		if !p.Time.IsZero() {
			fmt.Fprintf(b, "<time>%s</time>", written(p.Time))
		}
		if name != "" {
			fmt.Fprintf(b, "<name>%s</name>", clean(name))
		}
		if len(pairs) > 0 {
			b.WriteByte('\n')
			own(indent+"  ", pairs)
			b.WriteString(indent)
		}
		fmt.Fprintf(b, "</%s>\n", tag)
	}
	for _, m := range d.Marks {
		point("  ", "wpt", m.Point, m.Name, d.markPairs(&m))
	}
	for _, l := range d.Lines {
		fmt.Fprintf(b, "  <trk>\n    <name>%s</name>\n", clean(l.Name))
		own("    ", l.Looks.pairs())
		b.WriteString("    <trkseg>\n")
		for _, p := range l.Points {
			point("      ", "trkpt", p, "", nil)
		}
		b.WriteString("    </trkseg>\n  </trk>\n")
	}
	b.WriteString("</gpx>\n")
}

// markPairs is what a mark has beside its place.
func (d *Drawn) markPairs(m *Mark) []pair {
	out := []pair{{name: "height_m", values: []float64{m.HeightM}}}
	if m.Name != homeName {
		return out
	}
	if d.ElevationM != nil {
		out = append(out, pair{name: "elevation_m", values: []float64{*d.ElevationM}})
	}
	return append(out, pair{name: "zone", text: d.Zone})
}

// toKML follows the order of the schema (OGC 07-147r2: name, time, ExtendedData, geometry; altitudeMode, coordinates).
// Heights are absolute, above the sea, where the card says how high take-off is, and else above the ground below.
func (d *Drawn) toKML(b *bytes.Buffer) {
	fmt.Fprintf(b, `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="%s">
  <Document>
    <name>%s</name>
`, kmlSpace, clean(d.Name))
	own := func(pairs []pair) {
		if len(pairs) == 0 {
			return
		}
		b.WriteString("      <ExtendedData>\n")
		for _, p := range pairs {
			fmt.Fprintf(b, "        <Data name=\"%s\"><value>%s</value></Data>\n", p.name, clean(p.words()))
		}
		b.WriteString("      </ExtendedData>\n")
	}
	mode, up := "relativeToGround", 0.0
	if d.ElevationM != nil {
		mode, up = "absolute", *d.ElevationM
	}
	tuple := func(p Point, ground float64) string {
		if d.ElevationM != nil {
			ground = 0
		}
		return degrees(p.LonDeg) + "," + degrees(p.LatDeg) + "," + metres(p.HeightM+up-ground)
	}
	for _, m := range d.Marks {
		fmt.Fprintf(b, "    <Placemark>\n      <name>%s</name>\n", clean(m.Name))
		if !m.Time.IsZero() {
			fmt.Fprintf(b, "      <TimeStamp><when>%s</when></TimeStamp>\n", written(m.Time))
		}
		own(d.markPairs(&m))
		fmt.Fprintf(b, "      <Point>\n        <altitudeMode>%s</altitudeMode>\n        <coordinates>%s</coordinates>\n      </Point>\n    </Placemark>\n",
			mode, tuple(m.Point, 0))
	}
	for _, l := range d.Lines {
		fmt.Fprintf(b, "    <Placemark>\n      <name>%s</name>\n", clean(l.Name))
		fmt.Fprintf(b, "      <TimeSpan><begin>%s</begin><end>%s</end></TimeSpan>\n", written(l.Points[0].Time), written(last(l.Points).Time))
		own(l.Looks.pairs())
		fmt.Fprintf(b, "      <LineString>\n        <altitudeMode>%s</altitudeMode>\n        <coordinates>\n", mode)
		for i, p := range l.Points {
			share := float64(i) / float64(len(l.Points)-1)
			fmt.Fprintf(b, "          %s\n", tuple(p, l.Looks.GroundM[0]+(l.Looks.GroundM[1]-l.Looks.GroundM[0])*share))
		}
		b.WriteString("        </coordinates>\n      </LineString>\n    </Placemark>\n")
	}
	b.WriteString("  </Document>\n</kml>\n")
}

// toGeoJSON writes positions of two numbers: the third would be a height above the ellipsoid of WGS 84 (RFC 7946, section
// 3.1.1), which a card does not know. The heights above take-off stand in the properties. A line over the antimeridian is
// cut there (section 3.1.9).
func (d *Drawn) toGeoJSON(b *bytes.Buffer) {
	position := func(p Point) string { return "[" + degrees(p.LonDeg) + ", " + degrees(p.LatDeg) + "]" }
	properties := func(name string, begin, end time.Time, pairs []pair) string {
		out := `"name": ` + quoted(name)
		if !begin.IsZero() && end.IsZero() {
			out += `, "time": ` + quoted(written(begin))
		} else if !begin.IsZero() {
			out += `, "begin": ` + quoted(written(begin)) + `, "end": ` + quoted(written(end))
		}
		for _, p := range pairs {
			var list []string
			for _, v := range p.values {
				list = append(list, field.Figure(v, 4))
			}
			value := strings.Join(list, ", ")
			switch {
			case p.text != "":
				value = quoted(p.text)
			case len(list) > 1:
				value = "[" + value + "]"
			}
			out += `, "` + p.name + `": ` + value
		}
		return "{" + out + "}"
	}
	var features []string
	feature := func(kind, coordinates, properties string) {
		features = append(features, fmt.Sprintf("    {\"type\": \"Feature\", \"properties\": %s,\n     \"geometry\": {\"type\": %q, \"coordinates\": %s}}", properties, kind, coordinates))
	}
	for _, m := range d.Marks {
		feature("Point", position(m.Point), properties(m.Name, m.Time, time.Time{}, d.markPairs(&m)))
	}
	for _, l := range d.Lines {
		parts := cutAtAntimeridian(l.Points)
		var lines []string
		for _, part := range parts {
			var list []string
			for _, p := range part {
				list = append(list, position(p))
			}
			lines = append(lines, "["+strings.Join(list, ", ")+"]")
		}
		words := properties(l.Name, l.Points[0].Time, last(l.Points).Time, l.Looks.pairs())
		if len(lines) == 1 {
			feature("LineString", lines[0], words)
		} else {
			feature("MultiLineString", "["+strings.Join(lines, ", ")+"]", words)
		}
	}
	fmt.Fprintf(b, "{\"type\": \"FeatureCollection\", \"name\": %s,\n  \"features\": [\n%s\n  ]}\n", quoted(d.Name), strings.Join(features, ",\n"))
}

func quoted(text string) string {
	t, _ := json.Marshal(text) // of a string it never fails
	return string(t)
}

// cutAtAntimeridian cuts a line where it steps over ±180° of longitude.
func cutAtAntimeridian(points []Point) [][]Point {
	parts := [][]Point{nil}
	for i, p := range points {
		n := len(parts) - 1
		if i > 0 {
			if a := points[i-1]; p.LonDeg-a.LonDeg > 180 || p.LonDeg-a.LonDeg < -180 {
				side := 180.0
				if a.LonDeg < 0 {
					side = -180
				}
				share := 0.5
				if step := p.LonDeg - a.LonDeg + 2*side; step != 0 {
					share = (side - a.LonDeg) / step
				}
				edge := Point{LatDeg: a.LatDeg + (p.LatDeg-a.LatDeg)*share, LonDeg: side}
				parts[n] = append(parts[n], edge) // also where it is the point before once more: a line has two positions
				edge.LonDeg = -side
				parts = append(parts, []Point{edge})
				n++
			}
		}
		parts[n] = append(parts[n], p)
	}
	return parts
}
