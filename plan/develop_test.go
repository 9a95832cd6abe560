package plan

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
	"gonum.org/v1/gonum/spatial/r3"
)

// One exposure opens the filtered part up by what the filter takes; at its own, both parts meter the
// same; as the call sets it, the settings are what counts.
func TestDevelopment(t *testing.T) {
	r := seaShot(shot.Grass, 350, 0)
	f := kit.Filter{Name: "soft warm", Kind: kit.Hybrid, Stops: 3, LossStops: 1.5, CastMired: 12, Tint: 3, Grade: "1/2"}
	r.Bag.Filters = append(r.Bag.Filters, f)
	r.Shot.Filter = f.Name
	r = Solve(r.Shot, r.Bag, Options{SkipSureness: true})
	if r.Call.Filter != f.Name {
		t.Fatalf("the call is %s", r.Call.Filter)
	}
	o := FrameOptions{Second: 5, Ring: math.NaN(), W: 32, H: 18}
	p, err := r.Frame(o)
	if err != nil {
		t.Fatal(err)
	}
	stops := f.TotalStops(0)
	get := func(e Exposure, part Part) picture.DevelopOptions {
		d, err := r.Development(o, p, e, part)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	one := get(OneExposure, HalfFiltered)
	if one.FromX != 16 || one.Bare.EV100 != p.MeterEV() || math.Abs(one.Bare.EV100-stops-one.Filtered.EV100) > 1e-9 {
		t.Errorf("one exposure: %+v", one)
	}
	if one.CastMired != 12 || one.Tint != 3 || one.Scatter != picture.Scatter("1/2") || one.Bare.WBK != one.Filtered.WBK {
		t.Errorf("one exposure shows the cast at one white balance: %+v", one)
	}
	own := get(OwnExposure, AllFiltered)
	if own.FromX != 0 || math.Abs(own.Filtered.EV100-(p.MeterEV()-p.MeanLoss())) > 1e-9 {
		t.Errorf("own exposure: %+v", own)
	}
	if math.Abs(own.Filtered.WBK-r.Call.WBK) > 1e-6 || math.Abs(1e6/own.Filtered.WBK-1e6/own.Bare.WBK-12) > 1e-9 {
		t.Errorf("white balance: bare %.0f K, filtered %.0f K, the call %.0f K", own.Bare.WBK, own.Filtered.WBK, r.Call.WBK)
	}
	call := get(CallExposure, AllBare)
	k := r.measureAt(5)
	settings := math.Log2(r.Call.Aperture*r.Call.Aperture/k.ShutterS) + math.Log2(100/k.ISO)
	if call.FromX != p.W || math.Abs(call.Filtered.EV100-settings) > .1 {
		t.Errorf("as the call sets it: EV %.2f behind the filter, the settings are EV %.2f", call.Filtered.EV100, settings)
	}
	if want := math.Log2(k.ISO / 400); math.Abs(call.Filtered.OverClean-want) > 1e-9 || math.Abs(call.Bare.OverClean-(want-stops)) > 1e-9 {
		t.Errorf("ISO %.0f is %.2f stops over the clean 400, bare %.2f", k.ISO, call.Filtered.OverClean, call.Bare.OverClean)
	}
	if math.Abs(call.Bare.EV100-call.Filtered.EV100-stops) > 1e-9 {
		t.Errorf("the bare part is exposed as if %.2f stops were off, the filter takes %.2f", call.Bare.EV100-call.Filtered.EV100, stops)
	}
	o.Filter = "none"
	if d := get(OneExposure, AllFiltered); d.FromX != p.W {
		t.Error("without a filter all is bare")
	}
}

// A pilot locks the exposure, so a picture of the last take is exposed as the first was: for what the settings make
// middle grey. The light that is lost shows.
func TestDevelopmentIsLocked(t *testing.T) {
	r := seaShot(shot.Grass, 350, 0)
	s := r.Shot
	s.TakeOff = s.TakeOff.Add(90 * time.Minute) // the sun is about to set
	s.Takes, s.ResetS = 6, 180
	r = Solve(s, r.Bag, Options{SkipSureness: true})
	get := func(last bool) (set, meter float64) {
		o := FrameOptions{Second: 5, LastTake: last, Ring: math.NaN(), W: 16, H: 9}
		p, err := r.Frame(o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := r.Development(o, p, CallExposure, AllFiltered)
		if err != nil {
			t.Fatal(err)
		}
		return d.Filtered.EV100, p.MeterEV()
	}
	firstSet, firstMeter := get(false)
	lastSet, lastMeter := get(true)
	if firstMeter-lastMeter < .5 || firstSet != lastSet {
		t.Errorf("the frame lost %.2f stops from take to take, the exposure went from EV %.2f to %.2f", firstMeter-lastMeter, firstSet, lastSet)
	}
	l := &r.Legs[0]
	settings := math.Log2(r.Call.Aperture*r.Call.Aperture/l.Shutter.Min) + math.Log2(100/l.ISO.Min)
	if math.Abs(lastSet-settings) > 1e-9 {
		t.Errorf("exposed for EV %.2f, the settings are EV %.2f", lastSet, settings)
	}
}

// What is marked as clipped in the picture is what the leg says is white: the same share of the frame but for the sun,
// at the exposure that is locked. Through a dark density the bare part is asked, which is exposed the same but for the
// filter's plain stops: the longer way through the glass at the frame's edges is not in the meter.
func TestMarksAgreeWithTheLeg(t *testing.T) {
	const w, h = 160, 90
	for _, c := range []struct {
		name                    string
		ground                  shot.Ground
		filter                  string
		sunAlt, off, pitch      float64
		expose                  shot.Expose
		highlights, bias, least float64
		missed                  float64 // by how much the 2 % that are asked for are missed
	}{
		{"into a low sun, for the land", shot.Grass, "none", 8, 30, -5, shot.ExposeLand, 0, 0, .2, 0},
		{"the same through a density", shot.Grass, "ND8", 5, 10, -5, shot.ExposeMiddle, 0, .7, .02, 0},
		{"the same through a polariser", shot.Grass, "CPL", 8, 70, -5, shot.ExposeLand, 0, 0, .01, 0},
		{"the same with more highlights", shot.Grass, "none", 8, 30, -5, shot.ExposeLand, 3.5, 0, .05, .005}, // .023: a sample of the sky is nearly 1 % of the frame
		{"water under the sun", shot.Water, "none", 25, 0, -30, shot.ExposeMiddle, 0, 1, .02, 0},
		{"the sun in the frame", shot.Grass, "none", 5, 10, -5, shot.ExposeMiddle, 0, .7, .02, 0},
		{"away from the sun", shot.Forest, "none", 30, 180, -10, shot.ExposeMiddle, 0, 0, 0, 0},
	} {
		r := seaShot(c.ground, 0, 0)
		s := r.Shot
		plantest.TurnedFromSun(t, s, c.sunAlt, c.off, c.pitch)
		l := &s.Legs[0]
		l.Expose, l.BiasStops, l.Seconds = c.expose, c.bias, 6
		l.Mode.HighlightStops = c.highlights
		s.Filter, s.RingAuto, s.RingDeg = c.filter, false, 45
		r = Solve(s, r.Bag, Options{SkipSureness: true})
		leg := &r.Legs[0]
		if leg.DriftStops > .05 {
			t.Fatalf("%s: the light drifts by %.2f stops", c.name, leg.DriftStops)
		}
		o := FrameOptions{Second: 3, Ring: math.NaN(), W: w, H: h}
		p, err := r.Frame(o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := r.Development(o, p, CallExposure, AllFiltered)
		if err != nil {
			t.Fatal(err)
		}
		// The leg is reckoned at the exact exposure, the picture at the marked settings.
		locked := leg.FrameEV.Max - c.bias
		if off := d.Filtered.EV100 - locked; math.Abs(off) > setting.StepSlack+.05 {
			t.Errorf("%s: exposed for EV %.2f, the leg for %.2f", c.name, d.Filtered.EV100, locked)
		}
		d.Bare.EV100, d.Filtered.EV100 = d.Bare.EV100+locked-d.Filtered.EV100, locked
		m := s.MomentAt(o.Second)
		v := shot.NewView(s.Camera, l.Mode, false, m.HeadingDeg, m.PitchDeg)
		var kept, clipped int
		for k, mark := range p.Marks(d, nil) {
			x, y := (2*float64(k%w)+1-w)/w, (h-2*float64(k/w)-1)/h
			if r3.Dot(v.Ray(x, y), m.Sun[0].Direction()) > math.Cos(5*math.Pi/180) {
				continue
			}
			kept++
			if mark == picture.Clipped {
				clipped++
			}
		}
		share := float64(clipped) / float64(kept)
		t.Logf("%s: %.1f %% of the picture, %.1f %% of the leg", c.name, 100*share, 100*leg.Clipped)
		if math.Abs(share-leg.Clipped) > .02+c.missed || share < c.least || c.least == 0 && share > .02 {
			t.Errorf("%s: %.1f %% of the picture is marked, the leg says %.1f %%", c.name, 100*share, 100*leg.Clipped)
		}
		f, err := r.FrameMeter(o)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(f.FrameEV100-leg.FrameEV.Max) > .06 || math.Abs(f.MeterStops-leg.MeterStops) > setting.StepSlack+.1 {
			t.Errorf("%s: the frame asks for EV %.2f with the meter at %+.2f, the leg for %.2f with %+.2f", c.name, f.FrameEV100, f.MeterStops, leg.FrameEV.Max, leg.MeterStops)
		}
	}
}

// A leg's number of kelvin is locked whatever is on the lens; daylight goes with the filter's cast, so the evening
// stays as warm as it is.
func TestWhiteBalanceOfThePicture(t *testing.T) {
	warm := kit.Filter{Name: "warm", Kind: kit.Density, Stops: 3, CastMired: 12}
	for _, c := range []struct {
		white    shot.WhiteBalance
		bare, in float64 // kelvin
	}{
		{shot.WhiteBalance{}, 5500, 5150},
		{shot.WhiteBalance{Kind: shot.WBKelvin, Kelvin: 4200}, 4200, 4200},
	} {
		r := seaShot(shot.Grass, 260, 0)
		plantest.SunAt(t, r.Shot, 3)
		r.Bag.Filters = append(r.Bag.Filters, warm)
		r.Shot.Filter, r.Shot.Legs[0].WhiteBalance = warm.Name, c.white
		r = Solve(r.Shot, r.Bag, Options{SkipSureness: true})
		o := FrameOptions{Second: 5, Ring: math.NaN(), W: 8, H: 5}
		p, err := r.Frame(o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := r.Development(o, p, CallExposure, HalfFiltered)
		if err != nil {
			t.Fatal(err)
		}
		// settable kelvin go in steps of 50
		if math.Abs(d.Bare.WBK-c.bare) > 30 || math.Abs(d.Filtered.WBK-c.in) > 1e-6 {
			t.Errorf("%+v: bare %.0f K, through the filter %.0f K; want %.0f and %.0f", c.white, d.Bare.WBK, d.Filtered.WBK, c.bare, c.in)
		}
	}
}

// BenchmarkDevelop is a picture of the workbench; asked is what leaves a repaint quick, half a millisecond.
func BenchmarkDevelop(b *testing.B) {
	r := seaShot(shot.Water, 260, 0)
	for _, c := range []struct {
		name    string
		scatter float64
	}{{"plain", 0}, {"halo", .04}} {
		b.Run(c.name, func(b *testing.B) {
			p := drawn(b, r, "CPL", 45, 100, 56)
			o := picture.DevelopOptions{FromX: 50, Scatter: c.scatter}
			o.Bare.EV100 = p.MeterEV()
			o.Filtered.EV100 = o.Bare.EV100 - 1.5
			var buf []uint8
			for b.Loop() {
				buf = p.Develop(o, buf)
			}
		})
	}
}
