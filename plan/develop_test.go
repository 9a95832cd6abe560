package plan

import (
	"math"
	"testing"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/light"
	"example.org/skywedge/plan/picture"
	"example.org/skywedge/plan/shot"
)

// One exposure opens the filtered part up by what the filter takes; at its own, both parts meter the
// same; as the call sets it, the land is middle grey but for the bias.
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

// What the call sets is for the darker take. A picture of the other take is exposed with the light, as the
// pilot would: by as many stops as the land is brighter there.
func TestDevelopmentFollowsTheTake(t *testing.T) {
	r := seaShot(shot.Grass, 350, 0)
	s := r.Shot
	s.TakeOff = s.TakeOff.Add(90 * time.Minute) // the sun is about to set
	s.Takes, s.ResetS = 6, 180
	r = Solve(s, r.Bag, Options{SkipSureness: true})
	ev := func(last bool) (set, land float64) {
		o := FrameOptions{Second: 5, LastTake: last, Ring: math.NaN(), W: 16, H: 9}
		p, err := r.Frame(o)
		if err != nil {
			t.Fatal(err)
		}
		d, err := r.Development(o, p, CallExposure, AllFiltered)
		if err != nil {
			t.Fatal(err)
		}
		m := s.MomentAt(5)
		take := 0
		if last {
			take = 1
		}
		lit := light.SceneAt(s, m, take).Light
		return d.Filtered.EV100, light.LandEV100(lit, m.HeadingDeg, m.PitchDeg, light.GroundAlbedo(shot.Grass))
	}
	firstSet, firstLand := ev(false)
	lastSet, lastLand := ev(true)
	if fell := firstLand - lastLand; fell < 0.5 || math.Abs(firstSet-lastSet-fell) > 0.05 {
		t.Errorf("the land lost %.2f stops from take to take, the exposure follows by %.2f", fell, firstSet-lastSet)
	}
	// The last take is the darker one: its picture is at the settings themselves.
	k := r.measureAt(5)
	settings := math.Log2(r.Call.Aperture*r.Call.Aperture/k.ShutterS) + math.Log2(100/k.ISO)
	if math.Abs(lastSet-settings) > 0.05 {
		t.Errorf("the last take is exposed for EV %.2f, the settings are EV %.2f", lastSet, settings)
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
