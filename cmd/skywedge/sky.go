package main

import (
	"fmt"
	"math"
	"strings"

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

func skyCommand(e *env, args []string) int {
	f := newFlags("sky")
	at := f.String("at", "", "")
	when := f.String("when", "", "")
	zone := f.String("zone", "", "")
	sunAt := f.String("sun", "", "")
	toward := f.String("toward", "", "")
	cloud := f.Float64("cloud", 0, "")
	visibility := f.Float64("visibility", 40, "")
	aod := f.Float64("aod", -1, "")
	airKind := f.String("air", "auto", "")
	ground := f.String("ground", "grass", "")
	albedo := f.Float64("albedo", -1, "")
	nm := f.Float64("nm", 550, "")
	asJSON := f.Bool("json", false, "")
	rest, code, ok := parsed(e, f, args)
	if !ok {
		return code
	}
	given := flagsGiven(f)
	switch {
	case len(rest) > 0:
		return usageError(e, "sky: %q is not expected here", rest[0])
	case given["sun"] == (given["at"] || given["when"]):
		return usageError(e, "sky: give either --sun AZ,ALT or --at LAT,LON with --when TIME")
	case !given["sun"] && !(given["at"] && given["when"]):
		return usageError(e, "sky: --at LAT,LON and --when TIME go together")
	case given["visibility"] && given["aod"]:
		return usageError(e, "sky: --visibility and --aod say the same thing: give one of them")
	case given["ground"] && given["albedo"]:
		return usageError(e, "sky: --ground and --albedo say the same thing: give one of them")
	case !(*cloud >= 0 && *cloud <= 100):
		return usageError(e, "sky: --cloud %g: give a percentage from 0 to 100", *cloud)
	case !(*nm >= 400 && *nm <= 700):
		return usageError(e, "sky: --nm %g: give a wavelength from 400 to 700", *nm)
	case !(*visibility >= 1 && *visibility <= 300):
		return usageError(e, "sky: --visibility %g: give kilometres from 1 to 300", *visibility)
	case given["aod"] && !(*aod >= 0 && *aod <= 2):
		return usageError(e, "sky: --aod %g: give a depth at 550 nm from 0 to 2", *aod)
	case given["albedo"] && !(*albedo >= 0 && *albedo <= 1):
		return usageError(e, "sky: --albedo %g: give a fraction from 0 to 1", *albedo)
	}
	a := sun.ClearAir(*visibility, 0)
	if a.Kind, ok = shot.AirByName(*airKind); !ok {
		return usageError(e, "sky: --air %q: give one of %s", *airKind, strings.Join(shot.AirNames(), ", "))
	}
	a.Cloud = sun.SettingState(*cloud/100, sun.ShineAuto)
	if given["aod"] {
		a.AOD, a.DepthGiven = *aod, true
	}
	if given["albedo"] {
		a.Albedo = *albedo
	} else {
		rho, ok := light.AlbedoByName(*ground)
		if !ok {
			return usageError(e, "sky: --ground %q: give one of %s", *ground, strings.Join(shot.GroundNames(), ", "))
		}
		a.Albedo = rho
	}
	var v skyView
	if given["sun"] {
		az, alt, err := bearing(*sunAt, -18)
		if err != nil {
			return usageError(e, "sky: --sun: %v", err)
		}
		// a sun that is placed by hand stands where it is placed; only its light comes the bent way
		bent := sun.Position{GeometricDeg: alt, AltitudeDeg: alt + sun.Refraction(alt, sun.StandardHPa, sun.StandardTempC), AzimuthDeg: az}
		moonless := sun.Moon{Position: sun.Position{GeometricDeg: -90, AltitudeDeg: -90}}
		v = newSkyView(sun.Position{GeometricDeg: alt, AltitudeDeg: alt, AzimuthDeg: az}, sun.LightAt(bent, moonless, a), a, *nm)
	} else {
		lat, lon, err := place(*at)
		if err != nil {
			return usageError(e, "sky: --at: %v", err)
		}
		t, err := instant(*when, *zone, e.now())
		if err != nil {
			return usageError(e, "sky: %v", err)
		}
		p := sun.At(t, lat, lon)
		v = newSkyView(p, sun.LightAt(p, sun.MoonAt(t, lat, lon), a), a, *nm)
	}
	if *toward != "" {
		az, alt, err := bearing(*toward, 0)
		if err != nil {
			return usageError(e, "sky: --toward: %v", err)
		}
		j := v.look(az, alt)
		if *asJSON {
			return writeJSON(e, j)
		}
		fmt.Fprint(e.out, v.lookText(j))
		return exitDone
	}
	if *asJSON {
		return writeJSON(e, struct {
			SunAzimuth  float64   `json:"sun_azimuth_deg"`
			SunAltitude float64   `json:"sun_altitude_deg"`
			Directions  []skyJSON `json:"directions"`
		}{v.sun.AzimuthDeg, v.sun.AltitudeDeg, v.table()})
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
