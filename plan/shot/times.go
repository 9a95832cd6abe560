package shot

import (
	"math"
	"time"
)

// LegTimes is when one leg is flown.
type LegTimes struct {
	First, FirstEnd time.Time // the first take
	Last, LastEnd   time.Time // the last take; the same as the first when there is one
	OccupiedS       float64   // all takes with the reset after each of them
}

// FlightTimes is the clock of a flight: half of the transit, then every leg in turn with its takes
// and resets, then the other half of the transit.
type FlightTimes struct {
	TakeOff, Landing time.Time
	Legs             []LegTimes
	Minutes          float64
	BatteryMin       float64 // of one battery, reserve and cold taken off; 0: the camera states no endurance
	Batteries        int     // 0: unknown, or one battery does not even last out and home
}

// Cold takes from a battery 1 % of its endurance for each degree below 10 °C, at most 30 %.
// Lithium cells give less in the cold; the numbers are ours.
const (
	ColdBelowC    = 10
	coldPerDegree = 0.01
	coldAtMost    = 0.30
)

// ColdShare is the share of a battery's endurance that is left at an air temperature.
func ColdShare(airC float64) float64 {
	return 1 - math.Min(math.Max(0, (ColdBelowC-airC)*coldPerDegree), coldAtMost)
}

// Times works out when everything happens. A flight of more than one battery pays the transit
// again for each; the pauses on the ground are not part of it.
func (s *Shot) Times() FlightTimes {
	takes := max(s.Takes, 1)
	t := FlightTimes{TakeOff: s.TakeOff, Legs: make([]LegTimes, len(s.Legs))}
	at := s.TransitS / 2
	for i, l := range s.Legs {
		first := s.TakeOff.Add(Seconds(at))
		last := first.Add(Seconds(float64(takes-1) * (l.Seconds + s.ResetS)))
		length := Seconds(l.Seconds)
		occupied := float64(takes) * (l.Seconds + s.ResetS)
		t.Legs[i] = LegTimes{First: first, FirstEnd: first.Add(length), Last: last, LastEnd: last.Add(length), OccupiedS: occupied}
		at += occupied
	}
	total := at + s.TransitS/2
	t.Landing = s.TakeOff.Add(Seconds(total))
	t.Minutes = total / 60
	t.BatteryMin = s.Camera.EnduranceMin * ColdShare(s.Light.AirC) * (1 - s.Settings.ReservePct/100)
	t.Batteries = BatteriesFor(total/60, s.TransitS/60, t.BatteryMin)
	return t
}

// BatteriesFor counts what a flight needs when each battery has to fly out and home.
func BatteriesFor(flightMin, transitMin, batteryMin float64) int {
	switch {
	case batteryMin <= 0:
		return 0
	case flightMin <= batteryMin:
		return 1
	case batteryMin <= transitMin:
		return 0
	}
	return int(math.Ceil((flightMin - transitMin) / (batteryMin - transitMin)))
}

// Seconds makes a duration of a count of seconds.
func Seconds(s float64) time.Duration { return time.Duration(math.Round(s * float64(time.Second))) }
