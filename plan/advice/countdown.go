package advice

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/words"
)

// How near the take-off is before it is counted, and how long past the latest one that is still said, minutes (ours).
const (
	countFromMin = 180
	lateForMin   = 30
)

// Countdown is how far off the take-off is, and the latest one with which the last take still has clean-ISO light. It
// counts to what the pilot can still do, never to an event of the sun.
type Countdown struct {
	Long, Short string // "" where there is nothing to count
	Late        bool   // begun now, or as it is kept, the last take would have no clean light
	News        string // what is said once when it becomes too late
}

// Start is how the take-off stands to the clock.
type Start struct {
	Now     time.Time
	Kept    bool // it is kept at so many minutes from now, whatever the card says
	FromNow int
	Flying  bool // the first leg is flown: there is nothing left to count
}

// Count counts down. Minutes are those between two readings of a clock without a second hand, so that they agree with
// the times on the screen.
func Count(r *plan.Report, s Start) Countdown {
	off := minutesTo(r.Shot.TakeOff, s.Now)
	latest, known := LatestStart(r)
	left := math.MaxInt
	if known {
		left = minutesTo(latest, s.Now)
	}
	switch {
	case s.Flying && s.Kept:
		at := r.Shot.OnTheClock(r.Shot.TakeOff)
		return Countdown{Long: "take-off kept at " + at + ", not written", Short: "kept at " + at}
	case s.Flying:
		return Countdown{}
	case s.Kept:
		return s.countKept(r, left)
	}
	until := r.FlightMin // how long past the take-off there is still something to say
	if known {
		until = max(until, min(float64(left-off)+lateForMin, countFromMin))
	}
	switch {
	case off > countFromMin || float64(-off) > until:
		return Countdown{}
	case left < 0:
		late := words.Span(-left) + " too late"
		return Countdown{Long: late + " for clean light", Short: late, Late: true, News: "too late since " + r.Shot.OnTheClock(latest) + lastTake}
	case left <= off && left == 0:
		return Countdown{Long: "take off now at the latest", Short: "latest off now"}
	case left < off:
		return Countdown{Long: "take off in " + words.Span(left) + " at the latest", Short: "latest off in " + bare(left)}
	}
	var c Countdown
	switch {
	case off > 0:
		c = Countdown{Long: "take off in " + words.Span(off), Short: "off in " + short(off)}
	case off == 0:
		c = Countdown{Long: "take off now", Short: "off now"}
	default:
		c = Countdown{Long: words.Span(-off) + " past take-off", Short: short(-off) + " past"}
	}
	return c.atTheLatest(left)
}

// lastTake says what is wrong with a start that is too late.
const lastTake = ": no clean light for the last take"

// countKept counts a take-off that is kept at so many minutes from now.
func (s *Start) countKept(r *plan.Report, left int) Countdown {
	at, short := "now", "off "+r.Shot.OnTheClock(r.Shot.TakeOff)+", now"
	if s.FromNow > 0 {
		at, short = at+" + "+words.Span(s.FromNow), short+" + "+bare(s.FromNow)
	}
	if late := s.FromNow - left; late > 0 {
		return Countdown{
			Long: "take-off kept at " + at + ": " + words.Span(late) + " too late", Short: short + ": " + bare(late) + " too late",
			Late: true, News: "too late at " + at + lastTake,
		}
	}
	c := Countdown{Long: "take-off kept at " + at, Short: short}
	return c.atTheLatest(left)
}

// atTheLatest adds until when the take-off can wait, where that is near.
func (c Countdown) atTheLatest(left int) Countdown {
	switch {
	case left > countFromMin:
	case left == 0:
		c.Long, c.Short = c.Long+", at the latest now", c.Short+", latest now"
	default:
		c.Long, c.Short = c.Long+", at the latest in "+bare(left), c.Short+", latest in "+bare(left)
	}
	return c
}

// LatestStart returns the latest take-off with which every take still has clean-ISO light. It is not known where the
// light does not run out, and where it had at the card's take-off already.
func LatestStart(r *plan.Report) (time.Time, bool) {
	if math.IsInf(r.LatestStartMin, 0) || math.IsNaN(r.LatestStartMin) {
		return time.Time{}, false
	}
	for i := range r.Flights {
		if r.Flights[i].LightLeftMin <= 0 {
			return time.Time{}, false
		}
	}
	return r.Shot.TakeOff.Add(time.Duration(r.LatestStartMin * float64(time.Minute))), true
}

// minutesTo returns how many times the minute changes on a clock until a moment; negative: since then.
func minutesTo(t, now time.Time) int {
	return int(t.Truncate(time.Minute).Sub(now.Truncate(time.Minute)) / time.Minute)
}

// bare is a span whose last unit goes without saying: "41", "1 h 41".
func bare(minutes int) string { return strings.TrimSuffix(words.Span(minutes), " min") }

// short is a span in little room: "14 min", "1 h 14".
func short(minutes int) string {
	if minutes < 60 {
		return fmt.Sprintf("%d min", minutes)
	}
	return bare(minutes)
}
