package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/skywedge/cmd/skywedge/internal/manual"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/sun"
	"gonum.org/v1/gonum/spatial/r3"
)

// skyJSON is the contract of "sky --json" in one direction; the table is a list of them.
type skyJSON struct {
	AzimuthDeg    float64 `json:"azimuth_deg"`
	AltitudeDeg   float64 `json:"altitude_deg"`
	Luminance     float64 `json:"luminance_cd_m2"`
	Degree        float64 `json:"degree_of_polarisation"`
	DegreeLow     float64 `json:"degree_low"`
	DegreeHigh    float64 `json:"degree_high"`
	EVectorDeg    float64 `json:"e_vector_deg"`
	ScatteringDeg float64 `json:"scattering_angle_deg"`
}

// skyView is a sky to ask, and the sun in it.
type skyView struct {
	pattern sun.Pattern
	sky     *sun.Sky
	sun     sun.Position
	air     sun.Air
	nm      float64
}

func skyCommand(e *env, q *manual.Asked) int {
	cloud, visibility, aod, albedo, nm := q.Number("cloud"), q.Number("visibility"), q.Number("aod"), q.Number("albedo"), q.Number("nm")
	switch {
	case q.Given("sun") == (q.Given("at") || q.Given("when")):
		return usageError(e, "give either --sun AZ,ALT or --at LAT,LON with --when TIME")
	case !q.Given("sun") && !(q.Given("at") && q.Given("when")):
		return usageError(e, "--at LAT,LON and --when TIME go together")
	case q.Given("visibility") && q.Given("aod"):
		return usageError(e, "--visibility and --aod say the same thing: give one of them")
	case q.Given("ground") && q.Given("albedo"):
		return usageError(e, "--ground and --albedo say the same thing: give one of them")
	case !(cloud >= 0 && cloud <= 100):
		return usageError(e, "--cloud %g: give a percentage from 0 to 100", cloud)
	case !(nm >= 400 && nm <= 700):
		return usageError(e, "--nm %g: give a wavelength from 400 to 700", nm)
	case !(visibility >= 1 && visibility <= 300):
		return usageError(e, "--visibility %g: give kilometres from 1 to 300", visibility)
	case q.Given("aod") && !(aod >= 0 && aod <= 2):
		return usageError(e, "--aod %g: give a depth at 550 nm from 0 to 2", aod)
	case q.Given("albedo") && !(albedo >= 0 && albedo <= 1):
		return usageError(e, "--albedo %g: give a fraction from 0 to 1", albedo)
	}
	a := sun.ClearAir(visibility, 0)
	a.Kind, _ = shot.AirByName(q.Text("air")) // the table of commands has its names
	a.Cloud = sun.SettingState(cloud/100, sun.ShineAuto)
	if q.Given("aod") {
		a.AOD, a.DepthGiven = aod, true
	}
	if q.Given("albedo") {
		a.Albedo = albedo
	} else {
		a.Albedo, _ = light.AlbedoByName(q.Text("ground"))
	}
	var v skyView
	if q.Given("sun") {
		az, alt, err := bearing(q.Text("sun"), -18)
		if err != nil {
			return usageError(e, "--sun: %v", err)
		}
		// a sun that is placed by hand stands where it is placed; only its light comes the bent way
		bent := sun.Position{GeometricDeg: alt, AltitudeDeg: alt + sun.Refraction(alt, sun.StandardHPa, sun.StandardTempC), AzimuthDeg: az}
		moonless := sun.Moon{Position: sun.Position{GeometricDeg: -90, AltitudeDeg: -90}}
		v = newSkyView(sun.Position{GeometricDeg: alt, AltitudeDeg: alt, AzimuthDeg: az}, sun.LightAt(bent, moonless, a), a, nm)
	} else {
		lat, lon, err := placed(q.Text("at"))
		if err != nil {
			return usageError(e, "--at %v", err)
		}
		t, err := instant(q.Text("when"), q.Text("zone"), e.now())
		if err != nil {
			return usageError(e, "%v", err)
		}
		p := sun.At(t, lat, lon)
		v = newSkyView(p, sun.LightAt(p, sun.MoonAt(t, lat, lon), a), a, nm)
	}
	if q.Text("toward") != "" {
		az, alt, err := bearing(q.Text("toward"), 0)
		if err != nil {
			return usageError(e, "--toward: %v", err)
		}
		j := v.look(az, alt)
		if e.asJSON {
			return writeJSON(e, struct {
				Schema int `json:"schema"`
				skyJSON
			}{schema, j})
		}
		fmt.Fprint(e.out, v.lookText(j))
		return exitDone
	}
	if e.asJSON {
		return writeJSON(e, struct {
			Schema      int       `json:"schema"`
			SunAzimuth  float64   `json:"sun_azimuth_deg"`
			SunAltitude float64   `json:"sun_altitude_deg"`
			Directions  []skyJSON `json:"directions"`
		}{schema, v.sun.AzimuthDeg, v.sun.AltitudeDeg, v.table()})
	}
	fmt.Fprint(e.out, v.tableText())
	return exitDone
}

func newSkyView(p sun.Position, light sun.Light, a sun.Air, nm float64) skyView {
	return skyView{
		pattern: sun.NewPattern(p.AzimuthDeg, p.AltitudeDeg, a, nm),
		sky:     sun.NewSky(p.AzimuthDeg, p.AltitudeDeg, a, nm, light.SkyLx),
		sun:     p, air: a, nm: nm,
	}
}

func (v skyView) look(az, alt float64) skyJSON {
	d := sun.Direction(az, alt)
	ray := v.sky.At(d)
	low, high := v.pattern.DegreeRange(d)
	c := r3.Dot(d, v.sun.Direction())
	return skyJSON{
		AzimuthDeg: az, AltitudeDeg: alt, Luminance: ray.Luminance, Degree: ray.Degree, DegreeLow: low, DegreeHigh: high,
		EVectorDeg: sun.EVectorDeg(d, ray.E), ScatteringDeg: math.Acos(max(-1, min(1, c))) * 180 / math.Pi,
	}
}

// table looks at the sky every 30° of azimuth from the sun and at six altitudes.
func (v skyView) table() []skyJSON {
	var out []skyJSON
	for _, alt := range []float64{5, 15, 30, 45, 60, 90} {
		for rel := -180.0; rel < 180; rel += 30 {
			az := math.Mod(v.sun.AzimuthDeg+rel+720, 360)
			out = append(out, v.look(az, alt))
			if alt == 90 {
				break
			}
		}
	}
	return out
}

func (v skyView) lookText(j skyJSON) string {
	var b strings.Builder
	row := func(name, format string, a ...any) {
		fmt.Fprintf(&b, "%-14s "+format+"\n", append([]any{name}, a...)...)
	}
	row("sun", "%.1f° at %.1f° (%s)", v.sun.AltitudeDeg, v.sun.AzimuthDeg, shot.Compass(v.sun.AzimuthDeg))
	row("looking", "%.1f° at %.1f° (%s), %.0f° from the sun", j.AltitudeDeg, j.AzimuthDeg, shot.Compass(j.AzimuthDeg), j.ScatteringDeg)
	row("luminance", "%s cd/m²", thousands(j.Luminance))
	row("polarised", "%.0f %% (from %.0f to %.0f %%)", 100*j.Degree, 100*j.DegreeLow, 100*j.DegreeHigh)
	row("E vector", "%+.0f° from the vertical, anticlockwise positive", j.EVectorDeg)
	if v.air.Cloud.Cover >= .9 {
		row("note", "under this much cloud a polariser has no useful effect on the sky")
	}
	return b.String()
}

func (v skyView) tableText() string {
	var b strings.Builder
	fmt.Fprintf(&b, "sun %.1f° at %.1f°, %g nm; azimuths count from the sun, clockwise seen from above\n", v.sun.AltitudeDeg, v.sun.AzimuthDeg, v.nm)
	fmt.Fprintf(&b, "each cell: luminance in cd/m², degree of polarisation in %%, E from the vertical\n\n")
	rows := map[float64][]skyJSON{}
	for _, j := range v.table() {
		rows[j.AltitudeDeg] = append(rows[j.AltitudeDeg], j)
	}
	fmt.Fprintf(&b, "%6s", "alt")
	for rel := -180; rel < 180; rel += 60 {
		fmt.Fprintf(&b, " %18s", fmt.Sprintf("%+d°", rel))
	}
	b.WriteString("\n")
	for _, alt := range []float64{90, 60, 45, 30, 15, 5} {
		fmt.Fprintf(&b, "%5.0f°", alt)
		for i, j := range rows[alt] {
			if i%2 == 0 {
				fmt.Fprintf(&b, " %18s", fmt.Sprintf("%s %3.0f%% %+4.0f°", thousands(j.Luminance), 100*j.Degree, j.EVectorDeg))
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}
