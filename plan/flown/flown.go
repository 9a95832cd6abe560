// Package flown makes lines of a card's log: of what the plan has set, and of what stands beside a picture.
//
// The one hard idea: a line keeps the plan as it was. A card, a bag and this program change afterwards, and what a flight
// teaches is how far the light was from what was planned for it then.
package flown

import (
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/kit/photo"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/place"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
)

// Planned returns the line that says a leg was flown as planned.
func Planned(r *plan.Report, leg int) shot.Flown {
	f := shot.Flown{Leg: leg}
	if leg < 0 || leg >= len(r.Legs) {
		return f
	}
	l := &r.Legs[leg]
	f.ShutterS, f.ISO, f.Confidence, f.OffsetStops = l.Shutter.Max, l.ISO.Max, r.Call.Confidence, r.OwnOffset(leg)
	if ev, ok := r.PlannedEV100(leg); ok {
		meter := l.MeterStops
		f.PlannedEV100, f.PlannedMeter = &ev, &meter
	}
	if flight := r.FlightOf(leg); flight != nil {
		f.Filter, f.Aperture = flight.Filter, flight.Set.Aperture
		if flight.HasRing {
			ring := flight.RingDeg
			f.RingDeg = &ring
		}
	}
	return f
}

// sameDay is how long after it a flight is written down as one of its plan (ours).
const sameDay = 24 * time.Hour

// When returns when a leg was flown that is written down now, without anything that tells: as planned, where that was within a
// day. Else nobody knows, and the time is zero.
func When(r *plan.Report, leg int, now time.Time) time.Time {
	start := Start(r, leg)
	if since := now.Sub(start); since >= 0 && since < sameDay {
		return start
	}
	return time.Time{}
}

// Start returns when the first take of a leg begins, by the plan; zero for a leg that it has not.
func Start(r *plan.Report, leg int) time.Time {
	for i := range r.Path {
		if r.Path[i].Leg == leg {
			return r.Path[i].Time[0].Truncate(time.Second)
		}
	}
	return time.Time{}
}

// With returns a planned line of a flight with another filter on the lens: what the plan would have set through that. Of a
// variable filter, and of one that the bag has not, nobody knows it.
func With(f shot.Flown, r *plan.Report, filter string) shot.Flown {
	if filter == f.Filter {
		return f
	}
	planned := 0.0
	if flight := r.FlightOf(f.Leg); flight != nil {
		planned = stopsOf(r.Bag, flight.Filter, flight.SettingStops)
	}
	other, own := math.NaN(), r.Shot.Camera.OffsetStops
	if k, ok := r.Bag.FilterByName(filter); filter == words.Bare || ok && k.Kind != kit.Variable {
		other = stopsOf(r.Bag, filter, 0)
		own += k.OffsetStops
	}
	was := f.PlannedEV100
	f.Filter, f.RingDeg, f.Confidence, f.PlannedEV100, f.PlannedMeter = filter, nil, "", nil, nil
	if was != nil && !math.IsNaN(other) {
		ev := *was - f.OffsetStops + planned - other + own
		f.PlannedEV100 = &ev
	}
	if f.OffsetStops = 0; f.PlannedEV100 != nil {
		f.OffsetStops = own
	}
	return f
}

func stopsOf(bag *kit.Bag, name string, setting float64) float64 {
	if f, ok := bag.FilterByName(name); ok {
		return f.TotalStops(setting)
	}
	return 0
}

// Of returns a planned line with what stands beside a picture in the place of what was planned. What the picture does not
// tell is not known.
func Of(f shot.Flown, p *photo.Picture, at time.Time, name string) shot.Flown {
	value := func(x *float64) float64 {
		if x == nil {
			return 0
		}
		return *x
	}
	f.When, f.Picture = at, name
	f.ShutterS, f.ISO, f.Aperture = value(p.ShutterS), value(p.ISO), value(p.Aperture)
	f.Auto = p.AutoExposure != nil && *p.AutoExposure
	return f
}

// How far a picture may be from a leg, and still be of it (ours): pilots are a minute early or late, and hold a heading as
// well as the wind lets them.
const (
	Slack      = time.Minute
	headingOff = 25.0
)

// FarM is how far from take-off a picture may be taken and still be of the flight, metres (ours).
const FarM = 5000.0

// Fit is a leg that a picture can be of.
type Fit struct{ Leg, Take int } // the leg counted from 0, the take from 1

// Legs returns the legs that were flown when a picture was taken, by the times of the plan. Where there are several and
// the heading of the picture is known, those that look there; headings count from true north.
func Legs(r *plan.Report, at time.Time, headingDeg *float64) []Fit {
	var all, looking []Fit
	for leg := range r.Legs {
		first, last := -1, -1
		for i := range r.Path {
			if r.Path[i].Leg == leg {
				if first < 0 {
					first = i
				}
				last = i
			}
		}
		if first < 0 {
			continue
		}
		begin, end := r.Path[first].Time, r.Path[last].Time
		if at.Before(begin[0].Add(-Slack)) || at.After(end[1].Add(Slack)) {
			continue
		}
		fit := Fit{leg, 1}
		if n := r.Shot.Takes; n > 1 {
			every := begin[1].Sub(begin[0]) / time.Duration(n-1)
			fit.Take = 1 + max(0, min(n-1, int(math.Floor(float64(at.Sub(begin[0]))/float64(every)))))
		}
		all = append(all, fit)
		if headingDeg != nil && looks(&r.Shot.Legs[leg], *headingDeg) {
			looking = append(looking, fit)
		}
	}
	if len(looking) > 0 {
		return looking
	}
	return all
}

// looks tells whether a leg looks somewhere at some time.
func looks(l *shot.Leg, headingDeg float64) bool {
	turned := math.Mod(headingDeg-l.Heading.From, 360) // from the start, −360 to 360
	for _, d := range []float64{turned - 360, turned, turned + 360} {
		if d >= min(0, l.Heading.By)-headingOff && d <= max(0, l.Heading.By)+headingOff {
			return true
		}
	}
	return false
}

// Heading returns a picture's heading from true north; nil where it is not known.
func Heading(p *photo.Picture, s *shot.Shot) *float64 {
	if p.HeadingDeg == nil || p.MagneticNorth && s.DeclinationDeg == nil {
		return nil
	}
	h := *p.HeadingDeg
	if p.MagneticNorth {
		h += *s.DeclinationDeg
	}
	return &h
}

// AwayM returns how far from take-off a picture was taken, in metres; ok is false where it does not tell.
func AwayM(p *photo.Picture, s *shot.Shot) (metres float64, ok bool) {
	if p.LatDeg == nil {
		return 0, false
	}
	from := place.Point{LatDeg: s.LatDeg, LonDeg: s.LonDeg}
	return 1000 * from.KmTo(place.Point{LatDeg: *p.LatDeg, LonDeg: *p.LonDeg}), true
}
