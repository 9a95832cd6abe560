package main

import (
	"bufio"
	"encoding/json"
	"strconv"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/picture"
)

// writeFrameJSON is the contract of "frame --json": the numbers behind the picture, row by row from
// the top left. They are written one by one, on few lines: a full frame has millions of them.
func writeFrameJSON(e *env, r *plan.Report, g glass, second float64, p *picture.Picture) int {
	m := r.Shot.MomentAt(second)
	meter, err := r.FrameMeter(g.options(second, p.W, p.H))
	if err != nil {
		return failure(e, err)
	}
	w := bufio.NewWriter(e.raw)
	var buf []byte
	number := func(v float64) {
		buf = strconv.AppendFloat(buf[:0], v, 'g', -1, 64)
		w.Write(buf)
	}
	key := func(first bool, name string) {
		if !first {
			w.WriteString(",\n")
		}
		w.WriteString("  \"" + name + "\": ")
	}
	w.WriteString("{\n")
	for i, f := range []struct {
		name  string
		value float64
	}{
		{"schema", schema}, {"width", float64(p.W)}, {"height", float64(p.H)}, {"second", second},
		{"heading_deg", m.HeadingDeg}, {"pitch_deg", m.PitchDeg},
		{"land_ev100", meter.LandEV100}, {"frame_ev100", meter.FrameEV100}, {"meter_stops", meter.MeterStops},
		{"clipped_pct", 100 * meter.Clipped}, {"buried_pct", 100 * meter.Buried},
	} {
		key(i == 0, f.name)
		number(f.value)
	}
	name, setting, ring := "none", "null", "null"
	if !g.bare() {
		name = g.filter.Name
		if g.setting > 0 {
			setting = strconv.FormatFloat(g.setting, 'g', -1, 64)
		}
		if g.filter.Polarises() {
			ring = strconv.FormatFloat(g.ring, 'g', -1, 64)
		}
	}
	quoted, err := json.Marshal(name)
	if err != nil {
		return failure(e, err)
	}
	key(false, "filter")
	w.Write(escaped(quoted))
	key(false, "setting_stops")
	w.WriteString(setting)
	key(false, "ring_deg")
	w.WriteString(ring)
	array := func(name string, n int, put func(i int)) {
		key(false, name)
		w.WriteByte('[')
		for i := range n {
			if i > 0 {
				w.WriteByte(',')
			}
			put(i)
		}
		w.WriteByte(']')
	}
	array("bare_cd_m2", len(p.Bare), func(i int) { number(p.Bare[i]) })
	array("loss_stops", len(p.Loss), func(i int) { number(p.Loss[i]) })
	array("sky", len(p.Sky), func(i int) { w.WriteString(strconv.FormatBool(p.Sky[i])) })
	w.WriteString("\n}\n")
	w.Flush() // a write that failed is said at the end of every command
	return exitDone
}
