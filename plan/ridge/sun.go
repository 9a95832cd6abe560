package ridge

import (
	"time"

	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/words"
	"example.org/skywedge/sun"
)

// Sun is what a skyline does to the sun of a day.
type Sun struct {
	Spans           []shot.SunSpan // over which its centre is seen
	Sunrise, Sunset time.Time      // of the almanac, on a level horizon; zero where there is none
}

// SunOver returns when the sun of a shot's day stands above a skyline.
func SunOver(s *shot.Shot, skyline [][2]float64) Sun {
	z := *s
	z.Skyline = skyline
	y, m, d := s.Local(s.TakeOff).Date()
	day := sun.DayOf(y, m, d, s.Zone, s.LatDeg, s.LonDeg)
	return Sun{z.SunSpans(s.TakeOff), day.Sunrise, day.Sunset}
}

// Leaves returns when the sun is seen last on that day; ok is false where it is not seen at all, or stays over midnight.
func (u *Sun) Leaves() (t time.Time, ok bool) {
	if len(u.Spans) == 0 {
		return time.Time{}, false
	}
	t = u.Spans[len(u.Spans)-1].To
	return t, !midnight(t)
}

// midnight tells whether a time is the edge of a day, where the sun neither comes nor goes.
func midnight(t time.Time) bool { return t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 }

// Comes returns when it is seen first; ok is false where it is not seen at all, or was before midnight.
func (u *Sun) Comes() (t time.Time, ok bool) {
	if len(u.Spans) == 0 {
		return time.Time{}, false
	}
	t = u.Spans[0].From
	return t, !midnight(t)
}

// LeavesEarlyMin is how many minutes before sunset it is seen last, and ComesLateMin how many after sunrise first; ok is
// false where one of the two is not.
func (u *Sun) LeavesEarlyMin() (minutes float64, ok bool) {
	t, ok := u.Leaves()
	return u.Sunset.Sub(t).Minutes(), ok && !u.Sunset.IsZero()
}

// ComesLateMin is the same of the morning.
func (u *Sun) ComesLateMin() (minutes float64, ok bool) {
	t, ok := u.Comes()
	return t.Sub(u.Sunrise).Minutes(), ok && !u.Sunrise.IsZero()
}

// nearMin is how near to sunset the ridge may hide the sun for nothing to be said of it (ours): the centre of a sun on a
// level horizon is a minute or two before its upper edge there, by which an almanac counts.
const nearMin = 4

// Words say it: "the sun comes at 09:12, 50 min after sunrise", "the sun leaves at 18:42, 40 min before sunset", and when
// it is hidden between.
func (u *Sun) Words(s *shot.Shot) []string {
	if len(u.Spans) == 0 {
		return []string{"the sun is not seen on this day"}
	}
	_, comes := u.Comes()
	if _, leaves := u.Leaves(); len(u.Spans) == 1 && !comes && !leaves {
		return []string{"the sun is seen all day"}
	}
	var list []string
	say := func(what string, t time.Time, known bool, minutes float64, ok bool, early, late, event string) {
		switch {
		case !known:
		case ok && minutes >= nearMin:
			list = append(list, what+" at "+s.OnTheClock(t)+", "+words.Span(int(minutes+0.5))+" "+early+" "+event)
		case !ok: // it does not set, or does not rise: a ridge alone hides it
			list = append(list, what+" at "+s.OnTheClock(t))
		case minutes <= -nearMin:
			list = append(list, what+" at "+s.OnTheClock(t)+", "+words.Span(int(-minutes+0.5))+" "+late+" "+event)
		default:
			list = append(list, what+" at "+s.OnTheClock(t)+", as on a level horizon")
		}
	}
	t, known := u.Comes()
	minutes, ok := u.ComesLateMin()
	say("the sun comes", t, known, minutes, ok, "after", "before", "sunrise")
	for i := range u.Spans[1:] {
		list = append(list, "hidden from "+s.OnTheClock(u.Spans[i].To)+" to "+s.OnTheClock(u.Spans[i+1].From))
	}
	t, known = u.Leaves()
	minutes, ok = u.LeavesEarlyMin()
	say("the sun leaves", t, known, minutes, ok, "before", "after", "sunset")
	return list
}
