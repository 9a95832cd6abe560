package main

import (
	"time"

	"example.org/skywedge/plan/ridge"
	"example.org/skywedge/plan/shot"
)

// The contract of "skyline --json".
type skylineJSON struct {
	Schema   int           `json:"schema"`
	File     string        `json:"file"`
	Bag      *string       `json:"bag"`
	Name     string        `json:"name"`
	GroundM  float64       `json:"ground_m"`
	HeightM  float64       `json:"height_m"`
	Points   []pointJSON   `json:"skyline"`
	Within   float64       `json:"within_deg"`
	Sectors  []pointKmJSON `json:"sectors"`
	Highest  pointKmJSON   `json:"highest"`
	Sun      skySunJSON    `json:"sun"`
	Before   skySunJSON    `json:"sun_before"`
	High     *float64      `json:"highest_leg_m"`
	HighSun  skySunJSON    `json:"sun_at_highest_leg"`
	FarKm    float64       `json:"looked_km"`
	Tiles    []string      `json:"tiles"`
	Missing  []unknownJSON `json:"missing"`
	Voids    []unknownJSON `json:"voids"`
	Cautions []string      `json:"cautions"`
	Written  bool          `json:"written"`
	NotWhy   *string       `json:"not_written"`
}

type pointJSON struct {
	Bearing  float64 `json:"bearing_deg"`
	Altitude float64 `json:"altitude_deg"`
}

type pointKmJSON struct {
	pointJSON
	Km float64 `json:"km"`
}

type skySunJSON struct {
	Sunrise *string    `json:"sunrise"`
	Sunset  *string    `json:"sunset"`
	Comes   *string    `json:"comes"`
	Leaves  *string    `json:"leaves"`
	Late    *float64   `json:"comes_late_min"`
	Early   *float64   `json:"leaves_early_min"`
	Spans   []spanJSON `json:"spans"`
}

type spanJSON struct {
	From string `json:"from"`
	To   string `json:"to"`
}

type unknownJSON struct {
	Tile string  `json:"tile"`
	Km   float64 `json:"from_km"`
	From float64 `json:"from_deg"`
	To   float64 `json:"to_deg"`
	UpTo float64 `json:"up_to_deg"`
}

func skylineToJSON(f *foundLine) skylineJSON {
	l := f.line
	j := skylineJSON{
		Schema: schema, File: nameOf(f.path), Bag: f.bag.json(), Name: f.s.Name, GroundM: l.GroundM, HeightM: f.height, Points: []pointJSON{},
		Within: f.within, Sun: skySun(f.s, &f.sun), Before: skySun(f.s, &f.before), FarKm: l.FarKm, Tiles: list(l.Tiles),
		Missing: unknownsJSON(l.Missing), Voids: unknownsJSON(l.Voids), Cautions: list(l.Cautions(f.cardM)), Written: f.written,
	}
	for _, p := range f.points {
		j.Points = append(j.Points, pointJSON{p[0], p[1]})
	}
	sectors, top := l.Sectors()
	for _, x := range sectors {
		j.Sectors = append(j.Sectors, pointKmJSON{pointJSON{x.BearingDeg, x.Deg}, x.Km})
	}
	j.Highest = pointKmJSON{pointJSON{top.BearingDeg, top.Deg}, top.Km}
	j.High, j.HighSun = when(f.high > 0, f.high), skySun(f.s, &f.highSun)
	if f.why != "" {
		j.NotWhy = &f.why
	}
	return j
}

func skySun(s *shot.Shot, u *ridge.Sun) skySunJSON {
	text := func(t time.Time, ok bool) *string {
		if !ok || t.IsZero() {
			return nil
		}
		x := stamp(s.Local(t))
		return &x
	}
	j := skySunJSON{Sunrise: text(u.Sunrise, true), Sunset: text(u.Sunset, true), Comes: text(u.Comes()), Leaves: text(u.Leaves()), Spans: []spanJSON{}}
	late, ok := u.ComesLateMin()
	j.Late = when(ok, late)
	early, ok := u.LeavesEarlyMin()
	j.Early = when(ok, early)
	for _, x := range u.Spans {
		j.Spans = append(j.Spans, spanJSON{stamp(s.Local(x.From)), stamp(s.Local(x.To))})
	}
	return j
}

func unknownsJSON(list []ridge.Unknown) []unknownJSON {
	out := []unknownJSON{}
	for _, u := range list {
		out = append(out, unknownJSON{u.Tile, u.Km, u.From, u.To, u.UpToDeg})
	}
	return out
}
