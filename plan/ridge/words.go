package ridge

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/plan/shot"
)

// sectors are the points of the compass that a line is told by.
const sectors = 16

// Sector is the highest part of the land towards a point of the compass.
type Sector struct{ BearingDeg, Deg, Km float64 }

// Sectors returns the highest of the line around each of sixteen points, from north by east, and the highest of all.
func (l *Line) Sectors() (list [sectors]Sector, highest Sector) {
	highest.Deg = -90
	for i, deg := range l.Deg {
		at := float64(i) / perDegree
		k := int(math.Round(at*sectors/360)) % sectors
		x := Sector{at, deg, l.Km[i]}
		if list[k] == (Sector{}) || deg > list[k].Deg {
			list[k] = x
		}
		if deg > highest.Deg {
			highest = x
		}
	}
	return list, highest
}

// What a tile is trusted with (ours; what was flown with radar is off by 4.7 to 9.8 m against what lies around, by
// continent, at nine posts of ten: "SRTM Data Validation and Applications", as cited on the page of SRTM1-Global): heights
// of the ground close by are off by so much, and where that is so wide, a pair of eyes knows better.
const (
	postErrorM = 5
	doubtDeg   = 0.5
)

// elevationOffM is how far the card's own elevation may lie from the tiles' (ours).
const elevationOffM = 30

// Cautions say what to doubt of a line, in a pilot's words. cardM is the height of the place by the card, nil where it has none.
func (l *Line) Cautions(cardM *float64) []string {
	var list []string
	if n := len(l.Missing); n > 0 {
		list = append(list, fmt.Sprintf("%s taken for the sea: %s. Land %d m high there could stand at up to %s",
			counted(n, "tile is missing and", "tiles are missing and"), unknowns(l.Missing), MissingRiseM, upTo(l.Missing)))
	}
	if len(l.Voids) > 0 {
		list = append(list, fmt.Sprintf("voids in %s: nobody measured there. What stands %d m above the land beside it could reach up to %s",
			unknowns(l.Voids), VoidRiseM, upTo(l.Voids)))
	}
	if l.Mixed {
		list = append(list, "tiles of both sizes are mixed: beyond a seam to a coarse one a sharp ridge comes out lower")
	}
	if l.OnVoid {
		list = append(list, "the tile has a void at the take-off: its height is the card's")
	} else if cardM != nil && math.Abs(l.GroundM-*cardM) > elevationOffM {
		list = append(list, fmt.Sprintf("the card has the place at %.0f m, the tiles at %.0f: see that it is the right one", *cardM, l.GroundM))
	}
	if near := l.near(); near != "" {
		list = append(list, near)
	}
	return list
}

// near says where the line is made by ground so close that an error of the tiles shows.
func (l *Line) near() string {
	var found []int
	off, closest := 0.0, math.Inf(1)
	for i, deg := range l.Deg {
		if e := math.Atan(postErrorM/(1000*l.Km[i])) * 180 / math.Pi; deg > doubtDeg && e > doubtDeg {
			found = append(found, i)
			if l.Km[i] < closest {
				off, closest = e, l.Km[i]
			}
		}
	}
	if len(found) == 0 {
		return ""
	}
	return fmt.Sprintf("towards %s it is ground close by, from %s on: %d m of error in the tiles are %.1f° there, so look for yourself", pointsOf(found), Distance(closest), postErrorM, off)
}

// pointsOf names directions by the points of the compass, those that follow one another as a stretch: "SE to SW, N".
func pointsOf(steps []int) string {
	var in [sectors]bool
	for _, i := range steps {
		in[int(math.Round(float64(i)/perDegree*sectors/360))%sectors] = true
	}
	name := func(k int) string { return shot.Compass(float64(k) * 360 / sectors) }
	var parts []string
	for k := range in {
		if !in[k] || in[(k+sectors-1)%sectors] {
			continue
		}
		to := k
		for in[(to+1)%sectors] {
			to++
		}
		if text := name(k); to == k {
			parts = append(parts, text)
		} else {
			parts = append(parts, text+" to "+name(to))
		}
	}
	if parts == nil {
		return "all sides"
	}
	return strings.Join(parts, ", ")
}

// mostNamed is how many tiles are named in a sentence.
const mostNamed = 4

func unknowns(list []Unknown) string {
	var parts []string
	for _, u := range list[:min(len(list), mostNamed)] {
		parts = append(parts, fmt.Sprintf("%s (from %s, towards %s)", u.Tile, Distance(u.Km), arc(u.From, u.To)))
	}
	if more := len(list) - mostNamed; more > 0 {
		parts = append(parts, fmt.Sprintf("and %d more from %s on", more, Distance(list[mostNamed].Km)))
	}
	return strings.Join(parts, ", ")
}

func upTo(list []Unknown) string {
	most := list[0].UpToDeg
	for _, u := range list {
		most = max(most, u.UpToDeg)
	}
	if most >= 45 {
		return "the zenith"
	}
	return fmt.Sprintf("%.1f°", most)
}

// Distance writes one: in metres close by.
func Distance(km float64) string {
	switch {
	case km < 0.095:
		return fmt.Sprintf("%.0f m", 1000*km)
	case km < 9.95:
		return fmt.Sprintf("%.1f km", km)
	}
	return fmt.Sprintf("%.0f km", km)
}

// arc says the directions from one clockwise to another.
func arc(from, to float64) string {
	a, b := shot.Compass(from), shot.Compass(to)
	switch first, last := fmt.Sprintf("%.0f", from), fmt.Sprintf("%.0f°", to); {
	case math.Mod(to-from+360, 360) > 359:
		return "all sides"
	case first+"°" == last:
		return last + " (" + a + ")"
	case a == b:
		return first + " to " + last + " (" + a + ")"
	default:
		return first + " to " + last + " (" + a + " to " + b + ")"
	}
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
