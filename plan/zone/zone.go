// Package zone knows which time zones are kept near a place, from the table of the time zone database.
//
// The one hard idea is that the table holds one town for each zone and no borders: the nearest town may lie across
// one. So three of them are asked, and a zone is doubted only when none of the three keeps its offset.
package zone

import (
	_ "embed"
	"math"
	"strings"
	"sync"
	"time"
	_ "time/tzdata" // the offsets, wherever the program runs

	"example.org/skywedge/plan/place"
)

// Release is the release of the time zone database (IANA; public domain) that the table is from, and Date its day.
// Both are from the News of the system's package; the offsets are those of the system, or of Go's own copy.
const (
	Release = "2025b"
	Date    = "2025-03-22"
)

// table is zone.tab of that release, as it came.
//
//go:embed zone.tab
var table string

// Town is the place that stands for a zone in the table.
type Town struct {
	Zone string // IANA name
	At   place.Point
	unit [3]float64 // the same as a direction from the middle of the earth
}

// Towns returns the rows of the table, in its order.
var Towns = sync.OnceValue(func() []Town {
	var all []Town
	for row := range strings.Lines(table) {
		cols := strings.Split(strings.TrimRight(row, "\r\n"), "\t")
		if strings.HasPrefix(row, "#") || len(cols) < 3 {
			continue
		}
		if at, ok := packed(cols[1]); ok {
			all = append(all, Town{cols[2], at, unit(at)})
		}
	}
	return all
})

// packed reads a place as the table writes it, ISO 6709 as ±DDMM±DDDMM or with seconds. The table is read at every start,
// and [place.Parse], which looks for a dozen notations, takes thirty times as long for it.
func packed(text string) (p place.Point, ok bool) {
	cut := strings.LastIndexAny(text, "+-")
	if cut < 1 {
		return p, false
	}
	lat, okLat := packedDeg(text[:cut], 2)
	lon, okLon := packedDeg(text[cut:], 3)
	return place.Point{LatDeg: lat, LonDeg: lon}, okLat && okLon
}

// packedDeg reads a sign, so many digits of degrees, two of minutes, and two of seconds or none.
func packedDeg(text string, digits int) (deg float64, ok bool) {
	var parts [3]float64
	at := 1
	for i, n := range [...]int{digits, 2, 2} {
		if i == 2 && at == len(text) {
			break
		}
		if at+n > len(text) {
			return 0, false
		}
		for _, c := range []byte(text[at : at+n]) {
			if c < '0' || c > '9' {
				return 0, false
			}
			parts[i] = 10*parts[i] + float64(c-'0')
		}
		at += n
	}
	deg = parts[0] + parts[1]/60 + parts[2]/3600
	if text[0] == '-' {
		deg = -deg
	}
	return deg, at == len(text)
}

func unit(p place.Point) [3]float64 {
	sinLat, cosLat := math.Sincos(p.LatDeg * math.Pi / 180)
	sinLon, cosLon := math.Sincos(p.LonDeg * math.Pi / 180)
	return [3]float64{cosLat * cosLon, cosLat * sinLon, sinLat}
}

// locations are the zones that were loaded: a system may read a file each time.
var locations sync.Map

func located(name string) *time.Location {
	if l, ok := locations.Load(name); ok {
		return l.(*time.Location)
	}
	l, err := time.LoadLocation(name)
	if err != nil {
		return nil // a name that an older system does not know
	}
	locations.Store(name, l)
	return l
}

// Near is a zone that is kept near a place.
type Near struct {
	Zone   string         // IANA name
	Km     float64        // to the town that stands for it
	In     *time.Location //
	Offset time.Duration  // from UTC at the moment that was asked about, east positive
}

// Asked is how many of the nearest towns are asked.
const Asked = 3

// Nearest returns the zones of the nearest towns, the nearest first, with their offsets at a moment.
func Nearest(p place.Point, at time.Time) []Near {
	here := unit(p)
	var best [Asked]*Town
	var along [Asked]float64 // the cosine of the angle to it
	for i := range along {
		along[i] = math.Inf(-1)
	}
	for i, towns := 0, Towns(); i < len(towns); i++ {
		t := &towns[i]
		c := here[0]*t.unit[0] + here[1]*t.unit[1] + here[2]*t.unit[2]
		for k := range best {
			if c > along[k] {
				best[k], t, along[k], c = t, best[k], c, along[k]
			}
		}
	}
	var out []Near
	for _, t := range best {
		if in := located(t.Zone); in != nil {
			out = append(out, Near{Zone: t.Zone, Km: p.KmTo(t.At), In: in, Offset: OffsetOf(in, at)})
		}
	}
	return out
}

// OffsetOf returns a zone's offset from UTC at a moment, east positive.
func OffsetOf(in *time.Location, at time.Time) time.Duration {
	_, s := at.In(in).Zone()
	return time.Duration(s) * time.Second
}

// Sign writes an offset as clocks and cards do: "+02:00".
func Sign(offset time.Duration) string {
	return time.Time{}.In(time.FixedZone("", int(offset/time.Second))).Format("-07:00")
}

// Fits tells whether one of the nearest zones keeps the offset that a zone has at a moment. Names do not matter:
// clocks that show the same are the same.
func Fits(near []Near, in *time.Location, at time.Time) bool {
	for _, n := range near {
		if n.Offset == OffsetOf(in, at) {
			return true
		}
	}
	return len(near) == 0
}
