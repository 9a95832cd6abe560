package main

import (
	"math"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
)

// The types of this file are the contract of "card --json": other programs rely on these names.
// Keys may be added, none is renamed. A pair is [min, max] and exact; what was not measured is null.

type cardJSON struct {
	Schema      int          `json:"schema"`
	File        string       `json:"file"`
	Bag         *string      `json:"bag"`
	Name        string       `json:"name"`
	TakeOff     string       `json:"take_off"`
	Call        callJSON     `json:"call"`
	Legs        []legJSON    `json:"legs"`
	LightChange *float64     `json:"light_change_stops"`
	FlightMin   float64      `json:"flight_min"`
	Batteries   int          `json:"batteries"`
	LightLeft   *float64     `json:"light_left_min"`
	Flights     []flightJSON `json:"flights"`
	RunnersUp   []runnerJSON `json:"runners_up"`
	LatestStart *string      `json:"latest_take_off"`
	Sureness    *sureJSON    `json:"sureness"`
	Want        wantJSON     `json:"want"`
	ZoneCaution *string      `json:"zone_caution"`
}

type callJSON struct {
	Filter       string   `json:"filter"`
	Setting      *float64 `json:"setting_stops"`
	RingDeg      *float64 `json:"ring_deg"`
	RingClock    *string  `json:"ring_clock"`
	PassAxisDeg  *float64 `json:"pass_axis_deg"`
	ShutterS     float64  `json:"shutter_s"`
	ShutterAngle *float64 `json:"shutter_angle_deg"`
	ISO          float64  `json:"iso"`
	Aperture     float64  `json:"aperture"`
	WBK          float64  `json:"wb_k"`
	BlurNeeded   bool     `json:"blur_needed"`
	Reasons      []string `json:"reasons"`

	ReasonsSigned []reasonJSON `json:"reasons_signed"`

	Cautions      []string `json:"cautions"`
	Ladder        []string `json:"ladder"`
	RingHelp      []string `json:"ring_help"`
	Confidence    string   `json:"confidence"`
	ConfidenceWhy string   `json:"confidence_why"`
}

type legJSON struct {
	Move        shot.Move       `json:"move"`
	Purpose     shot.Purpose    `json:"purpose"`
	FromS       float64         `json:"from_s"`
	ToS         float64         `json:"to_s"`
	Heading     [2]float64      `json:"heading_deg"`
	Pitch       [2]float64      `json:"pitch_deg"`
	SunRelative [2]float64      `json:"sun_relative_deg"`
	Strength    *[2]float64     `json:"polarisation_strength_stops"`
	Effect      *[2]float64     `json:"effect_stops"`
	Swing       *[2]float64     `json:"effect_swing_stops"`
	Unevenness  *[2]float64     `json:"unevenness_stops"`
	GlareCut    *[2]float64     `json:"glare_cut"`
	HazeCut     *[2]float64     `json:"haze_cut"`
	LandEV      *[2]float64     `json:"land_ev100"`
	SkyEV       *[2]float64     `json:"sky_ev100"`
	FrameEV     *[2]float64     `json:"frame_ev100"`
	WBK         float64         `json:"wb_k"`
	MeterStops  float64         `json:"meter_stops"`
	ClippedPct  float64         `json:"clipped_pct"`
	BuriedPct   float64         `json:"buried_pct"`
	Drift       float64         `json:"drift_stops"`
	Feasible    bool            `json:"feasible"`
	ShortStops  float64         `json:"short_stops"`
	SunState    string          `json:"sun_state"`
	OtherState  *stateJSON      `json:"other_state"`
	ISO         *[2]float64     `json:"iso"`
	Shutter     *[2]float64     `json:"shutter_s"`
	Band        plan.MotionBand `json:"motion_band"`
	Step        *[2]float64     `json:"step_arcmin"`
	BlurPx      *[2]float64     `json:"blur_px"`

	BlurWanted    bool        `json:"blur_wanted"`
	SubjectStep   *[2]float64 `json:"subject_step_arcmin"`
	Judder        *float64    `json:"judder"`
	SafeShutter   *float64    `json:"safe_shutter_s"`
	KeepOne       *float64    `json:"frames_to_keep_one"`
	BurstFrames   *float64    `json:"burst_frames"`
	BurstShutterS *float64    `json:"burst_shutter_s"`
	Facing        string      `json:"light_from"`
	OwnRing       *float64    `json:"own_best_ring_deg"`
	OwnEffect     *float64    `json:"own_best_effect_stops"`
	OwnGlare      *float64    `json:"own_best_glare_cut"`
	OwnMissed     *float64    `json:"own_best_missed_stops"`
	Notes         []string    `json:"notes"`
}

// reasonJSON is a reason that speaks for the call (+), or what the call costs (-).
type reasonJSON struct {
	Sign  string  `json:"sign"`
	Stops float64 `json:"stops"`
	Text  string  `json:"text"`
}

// stateJSON is a leg in the other state of the sun, under broken cloud.
type stateJSON struct {
	LandEV     *[2]float64 `json:"land_ev100"`
	FrameEV    *[2]float64 `json:"frame_ev100"`
	ISO        float64     `json:"iso"`
	ShutterS   float64     `json:"shutter_s"`
	Feasible   bool        `json:"feasible"`
	ShortStops float64     `json:"short_stops"`
}

type flightJSON struct {
	Legs      []int    `json:"legs"` // counted from 0, as in the list of legs
	Filter    string   `json:"filter"`
	Setting   *float64 `json:"setting_stops"`
	RingDeg   *float64 `json:"ring_deg"`
	Gain      float64  `json:"gain_stops"`
	ShutterS  float64  `json:"shutter_s"`
	ISO       float64  `json:"iso"`
	Aperture  float64  `json:"aperture"`
	WBK       float64  `json:"wb_k"`
	LightLeft *float64 `json:"light_left_min"`
	Reasons   []string `json:"reasons"`
	Change    string   `json:"change"`
}

type runnerJSON struct {
	Filter  string   `json:"filter"`
	Setting *float64 `json:"setting_stops"`
	RingDeg *float64 `json:"ring_deg"`
	Score   float64  `json:"score"`
	WhyNot  string   `json:"why_not"`
}

// sureJSON is what little errors would change: in how many of the changes tried the same filter wins,
// and the band of each number over all of them.
type sureJSON struct {
	Same    int           `json:"same"`
	Tried   int           `json:"tried"`
	Shutter *[2]float64   `json:"shutter_s"`
	ISO     *[2]float64   `json:"iso"`
	RunOut  *[2]float64   `json:"light_left_min"`
	Runs    []sureRunJSON `json:"runs"`
	Legs    []sureLegJSON `json:"legs"`
}

type sureRunJSON struct {
	What   string  `json:"what"`
	Filter string  `json:"filter"`
	Same   bool    `json:"same"`
	Lead   float64 `json:"lead_stops"`
}

type sureLegJSON struct {
	Effect     *[2]float64 `json:"effect_stops"`
	Unevenness *[2]float64 `json:"unevenness_stops"`
	GlareCut   *[2]float64 `json:"glare_cut"`
	ISO        *[2]float64 `json:"iso"`
	Shutter    *[2]float64 `json:"shutter_s"`
}

func sureToJSON(s *plan.Sureness) *sureJSON {
	if s == nil {
		return nil
	}
	j := &sureJSON{
		Same: s.Same, Tried: s.Tried, Shutter: minMax(s.ShutterS), ISO: minMax(s.ISO), RunOut: minMax(s.RunOutMin),
		Runs: []sureRunJSON{}, Legs: []sureLegJSON{},
	}
	for _, r := range s.Runs {
		j.Runs = append(j.Runs, sureRunJSON{r.What, r.Filter, r.Same, r.Lead})
	}
	for _, l := range s.Legs {
		j.Legs = append(j.Legs, sureLegJSON{minMax(l.Effect), minMax(l.Unevenness), minMax(l.GlareCut), minMax(l.ISO), minMax(l.Shutter)})
	}
	return j
}

func cardToJSON(r *plan.Report) cardJSON {
	c := r.Call
	j := cardJSON{
		Schema: schema, Name: r.Shot.Name, TakeOff: stamp(r.Shot.TakeOff),
		LightChange: finite(r.LightChangeStops), FlightMin: r.FlightMin, Batteries: r.Batteries, LightLeft: finite(r.LightLeftMin),
		Call: callJSON{
			Filter: c.Filter, Setting: when(c.SettingStops > 0, c.SettingStops),
			RingDeg: when(c.HasRing, c.RingDeg), RingClock: clockJSON(c.HasRing, c.RingDeg), PassAxisDeg: when(c.HasRing, c.PassAxisDeg),
			ShutterS: c.ShutterS, ShutterAngle: when(c.ShutterAngleDeg > 0, c.ShutterAngleDeg), ISO: c.ISO, Aperture: c.Aperture, WBK: c.WBK,
			BlurNeeded: c.BlurNeeded, Reasons: list(c.Reasons), ReasonsSigned: signed(&c), Cautions: list(c.Cautions), Ladder: list(c.Ladder),
			RingHelp: list(c.RingHelp), Confidence: c.Confidence, ConfidenceWhy: c.ConfidenceWhy,
		},
		Legs: []legJSON{}, Flights: []flightJSON{}, RunnersUp: []runnerJSON{},
	}
	j.Sureness = sureToJSON(r.Sure)
	j.Want.Fits, j.Want.Why = hours.WantFits(r.Shot, r.Path)
	if doubt := caution.Zone(r.Shot); doubt != "" {
		j.ZoneCaution = &doubt
	}
	if m := r.LatestStartMin; !math.IsInf(m, 0) && !math.IsNaN(m) {
		at := stamp(r.Shot.TakeOff.Add(time.Duration(m * float64(time.Minute))))
		j.LatestStart = &at
	}
	for _, l := range r.Legs {
		j.Legs = append(j.Legs, legJSON{
			Move: l.Move, Purpose: l.Purpose, FromS: l.FromS, ToS: l.ToS, Heading: l.Heading, Pitch: l.Pitch, SunRelative: l.SunRelative,
			Strength: minMax(l.Strength), Effect: minMax(l.Effect), Swing: minMax(l.Swing), Unevenness: minMax(l.Unevenness),
			GlareCut: minMax(l.GlareCut), HazeCut: minMax(l.HazeCut), LandEV: minMax(l.LandEV), SkyEV: minMax(l.SkyEV),
			FrameEV: minMax(l.FrameEV), WBK: l.WBK, MeterStops: l.MeterStops, ClippedPct: 100 * l.Clipped, BuriedPct: 100 * l.Buried,
			Drift: l.DriftStops, Feasible: l.Feasible, ShortStops: l.ShortStops,
			SunState: sunState(l.SunShines), OtherState: otherState(l.Other),
			ISO: minMax(l.ISO), Shutter: minMax(l.Shutter), Band: l.Band, Step: minMax(l.Step), BlurPx: minMax(l.BlurPx),
			BlurWanted: l.BlurWanted, SubjectStep: minMax(l.SubjectStep), Judder: when(l.Judder.OK, l.Judder.Min),
			SafeShutter: when(l.SafeShutterS > 0 && !math.IsInf(l.SafeShutterS, 1), l.SafeShutterS),
			KeepOne:     when(l.FramesToKeepOne > 0, float64(l.FramesToKeepOne)),
			BurstFrames: when(l.BurstFrames > 0, float64(l.BurstFrames)), BurstShutterS: when(l.BurstFrames > 0, l.BurstShutterS),
			Facing: l.Facing, Notes: list(l.Notes),
		})
	}
	for i, l := range r.Legs {
		if o := l.OwnBest; o != nil {
			k := &j.Legs[i]
			k.OwnRing, k.OwnMissed = &o.RingDeg, &o.Missed
			k.OwnEffect, k.OwnGlare = when(l.Strength.OK, o.Effect), when(l.GlareCut.OK, o.GlareCut)
		}
	}
	for _, f := range r.Flights {
		j.Flights = append(j.Flights, flightJSON{
			Legs: f.Legs, Filter: f.Filter, Setting: when(f.SettingStops > 0, f.SettingStops), RingDeg: when(f.HasRing, f.RingDeg), Gain: f.GainStops,
			ShutterS: f.Set.ShutterS, ISO: f.Set.ISO, Aperture: f.Set.Aperture, WBK: f.Set.WBK, LightLeft: finite(f.LightLeftMin),
			Reasons: list(f.Set.Reasons), Change: f.Change,
		})
	}
	for _, k := range r.Candidates {
		if k.WhyNot != "" {
			j.RunnersUp = append(j.RunnersUp, runnerJSON{k.Filter, when(k.SettingStops > 0, k.SettingStops), when(k.HasRing, k.RingDeg), k.Score, k.WhyNot})
		}
	}
	return j
}

// signed returns the reasons with what each did to the result.
func signed(c *plan.Call) []reasonJSON {
	out := []reasonJSON{}
	for _, s := range c.ReasonsSigned {
		sign := "+"
		if s.Sign < 0 {
			sign = "-"
		}
		out = append(out, reasonJSON{sign, s.Stops, s.Text})
	}
	return out
}

func sunState(shines bool) string {
	if shines {
		return "shining"
	}
	return "hidden"
}

func otherState(o *plan.OtherState) *stateJSON {
	if o == nil {
		return nil
	}
	return &stateJSON{minMax(o.LandEV), minMax(o.FrameEV), o.ISO, o.ShutterS, o.Feasible, o.ShortStops}
}

// finite returns null for what JSON cannot say.
func finite(v float64) *float64 { return when(!math.IsInf(v, 0) && !math.IsNaN(v), v) }

func when(ok bool, v float64) *float64 {
	if !ok {
		return nil
	}
	return &v
}

// clockJSON returns where a mark stands on the clock.
func clockJSON(ok bool, ringDeg float64) *string {
	if !ok {
		return nil
	}
	clock := kit.Clock(ringDeg)
	return &clock
}

func minMax(r plan.Range) *[2]float64 {
	if !r.OK || math.IsNaN(r.Min) || math.IsNaN(r.Max) || math.IsInf(r.Min, 0) || math.IsInf(r.Max, 0) {
		return nil
	}
	return &[2]float64{r.Min, r.Max}
}

// list returns [] instead of null for an empty list.
func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
