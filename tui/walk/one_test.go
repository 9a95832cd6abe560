package walk

import (
	"strings"
	"testing"

	"example.org/skywedge/plan"
	"example.org/skywedge/plan/shot"
	"example.org/skywedge/plan/walk"
	"example.org/skywedge/tui/internal/paneltest"
)

var windows = [][2]int{{60, 20}, {80, 24}, {120, 36}, {200, 60}}

func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

// One leg at a time, in every window: what to lock, what to watch and to mind, and the ring where there is one to set;
// big type only where there is room.
func TestOneLegAtATime(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 20, nil)
	for card := range 3 {
		b.Load(card)
		for _, size := range windows {
			b.Resize(size[0], size[1])
			b.PlayTo(0)
			b.View.(*View).one = true
			n := 0
			for i, f := range walk.Of(b.R) {
				for _, l := range f.Legs {
					n++
					text := b.Text()
					move, _, _ := strings.Cut(l.Move, ",")
					want := []string{"Leg " + string(rune('0'+n)) + " of ", l.Start.Format("15:04"), move, "caution", "home with 25 % left", f.Filter, "expect"}
					if len(l.LookOut) > 0 {
						want = append(want, "watch", l.LookOut[0])
					}
					if size[0] < largeCols {
						want = append(want, l.Shutter+" · ISO "+l.ISO)
					}
					for _, w := range want {
						if !strings.Contains(flat(text), w) && (w != "home with 25 % left" || !strings.Contains(flat(text), "Turn for home while 25 %")) {
							t.Errorf("card %d, leg %d at %v lacks %q:\n%s", card+1, n, size, w, text)
						}
					}
					if big := strings.Contains(text, "▀▀▀ ▀▀▀"); big != (size[0] >= largeCols) {
						t.Errorf("card %d at %v: big type %v", card+1, size, big)
					}
					ring := strings.Contains(text, "█▄█") || strings.Contains(text, "█▄▄▄█")
					if ring != b.R.Flights[i].HasRing {
						t.Errorf("card %d at %v: a ring %v, one to set %v:\n%s", card+1, size, ring, b.R.Flights[i].HasRing, text)
					}
					if strings.Contains(text, "facing") != ring {
						t.Errorf("card %d at %v does not say how to look at the ring:\n%s", card+1, size, text)
					}
					b.Press("right")
				}
			}
		}
	}
}

// Space ticks the leg off and goes on, with the playhead; Left goes back, Del takes the tick away. Another card has its
// own, and a leg that was changed since is not flown.
func TestTickingOff(t *testing.T) {
	b := paneltest.Open(t, New(), 80, 24, nil)
	v := b.View.(*View)
	at := func(want string) {
		t.Helper()
		if text := b.Text(); !strings.Contains(text, want) {
			t.Errorf("no %q:\n%s", want, text)
		}
	}
	at("▸1") // among all legs
	b.Press("space")
	if b.S != b.R.Legs[1].FromS {
		t.Errorf("the playhead is at %g", b.S)
	}
	at("✓1")
	at("▸2")
	b.Press("a")
	at("✓1 push   ▸2 orbit    3 hold")
	at("Leg 2 of 3")
	b.Press("left")
	at("Leg 1 of 3 · 19:41 · ✓ flown")
	b.Press("right", "space", "space")
	if b.Said != "all legs are flown" {
		t.Errorf("said %q", b.Said)
	}
	at("✓1 push   ✓2 orbit   ▸3 hold")
	at("Leg 3 of 3 · 19:49 · ✓ flown")
	b.Press("delete", "left")
	at("✓1 push   ▸2 orbit    3 hold")
	b.Press("right")
	anew(b, func(r *plan.Report) {
		legs := append([]shot.Leg(nil), r.Shot.Legs...)
		legs[0].Seconds += 10
		r.Shot.Legs = legs
	})
	at(" 1 push   ✓2 orbit   ▸3 hold")
	b.Press("a")
	if text := b.Text(); strings.Count(text, "✓") != 1 || strings.Contains(text, "Leg 3 of 3") {
		t.Errorf("all legs:\n%s", text)
	}
	if !v.ticked(b, &v.list[0].Legs[1]) {
		t.Error("leg 2 is flown")
	}
	b.Load(1)
	if text := b.Text(); strings.Contains(text, "✓") {
		t.Errorf("another card:\n%s", text)
	}
}

// What to do when the meter disagrees is of the exposure it names: a leg locked at another does not show it.
func TestTheLadderIsOfItsLeg(t *testing.T) {
	b := paneltest.Open(t, New(), 120, 36, nil)
	b.Press("a")
	first := b.R.Legs[0].Shutter.Min == b.R.Call.ShutterS && b.R.Legs[1].Shutter.Min != b.R.Call.ShutterS
	if !first {
		t.Fatal("the legs of the first card are locked alike")
	}
	if text := flat(b.Text()); !strings.Contains(text, "adjust meter a stop over that: ") || !strings.Contains(text, "time clean-ISO light until ") {
		t.Errorf("leg 1: %s", text)
	}
	b.Press("right")
	if text := flat(b.Text()); strings.Contains(text, "a stop over") || !strings.Contains(text, "time clean-ISO light until ") {
		t.Errorf("leg 2: %s", text)
	}
}

// What to set when a cloud comes is each leg's own.
func TestTheCloudIsOfItsLeg(t *testing.T) {
	b := paneltest.Open(t, New(), 120, 36, nil)
	b.Load(2)
	b.Press("a")
	seen := map[string]bool{}
	for i := range b.R.Legs {
		own := b.R.Legs[i].Other
		if own == nil || own.Words == "" {
			t.Fatalf("leg %d of the third card has one state of the sun", i+1)
		}
		seen[own.Words] = true
		text := flat(b.Text())
		for words := range seen {
			if strings.Contains(text, words) != (words == own.Words) {
				t.Errorf("leg %d, %q: %s", i+1, words, text)
			}
		}
		b.Press("right")
	}
	if len(seen) < 2 {
		t.Error("all legs are alike: nothing is tested")
	}
}

// A rise says from where to where, and a cautious line stays where the rest scrolls.
func TestARiseAndATightWindow(t *testing.T) {
	b := paneltest.Open(t, New(), 60, 20, nil)
	b.Press("a")
	anew(b, func(r *plan.Report) {
		legs := append([]shot.Leg(nil), r.Shot.Legs...)
		legs[0].Move, legs[0].Height = shot.Rise, [2]float64{5, 55}
		r.Shot.Legs, r.Legs[0].Move = legs, shot.Rise
		r.Legs[0].LookOut = []string{strings.Repeat("it is a long story ", 30)}
	})
	for _, key := range []string{"home", "end"} {
		b.Press(key)
		text := b.Text()
		if key == "home" && !strings.Contains(text, "rise, 330°, 5 to 55 m up") {
			t.Errorf("both heights:\n%s", text)
		}
		if !strings.Contains(text, "CAUTION: home with 25 % left") || !strings.Contains(text, "▸1 ") {
			t.Errorf("after %s:\n%s", key, text)
		}
	}
	b.Pen().ASCII = true
	for _, r := range b.Text() {
		if r >= 0x80 {
			t.Fatalf("%q is not ASCII", r)
		}
	}
}

// Where the list of all legs leaves room, the large ring stands beside it and covers none of its words.
func TestTheRingBesideAllLegs(t *testing.T) {
	b := paneltest.Open(t, New(), 120, 36, nil)
	b.Load(1)
	for _, size := range windows {
		b.Resize(size[0], size[1])
		text := b.Text()
		if ring := strings.Contains(text, "█▄▄▄█"); ring != (size[0] >= 120) {
			t.Errorf("%v: a ring %v:\n%s", size, ring, text)
		}
		for _, l := range walk.Of(b.R)[0].Legs {
			for _, want := range append([]string{l.Move}, l.Expect...) {
				words := strings.Fields(want)
				for _, w := range words {
					if !strings.Contains(text, w) {
						t.Errorf("%v: %q of %q is covered:\n%s", size, w, want, text)
					}
				}
			}
		}
	}
}

// What to set when the meter disagrees is reckoned from shutter and ISO of the call: a leg that has another of either has
// no use for it.
func TestTheLadderIsForTheSettingsOfTheCall(t *testing.T) {
	r := &plan.Report{Call: plan.Call{ShutterS: 1. / 50, ISO: 100, Ladder: []string{"meter a stop over: 1/100", "turn for home by 20:00"}}}
	just := func(x float64) plan.Range { return plan.Range{Min: x, Max: x, OK: true} }
	r.Legs = []plan.LegReport{{Shutter: just(1. / 50), ISO: just(100)}, {Shutter: just(1. / 50), ISO: just(200)}, {Shutter: just(1. / 60), ISO: just(100)}}
	for leg, want := range []int{1, 0, 0} {
		o := &one{r: r, l: &walk.WalkLeg{Leg: leg}}
		if meter, times := o.ladder(); len(meter) != want || len(times) != 1 {
			t.Errorf("leg %d: %q and %q", leg+1, meter, times)
		}
	}
}
