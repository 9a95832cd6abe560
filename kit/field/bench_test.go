package field

import (
	"strings"
	"testing"
)

// fullCard has eight legs, comments and all blocks.
func fullCard(b *testing.B) string {
	card := fixture(b, "card.yaml")
	leg := "  - {move: orbit, heading_deg: [285, 15], seconds: 40, speed_ms: 4, height_m: [40, 60], pitch_deg: -5, target: {distance_m: 90, speed_ms: 3}}   # slowly\n"
	return strings.Replace(card, "  # foot of the legs\n", strings.Repeat(leg, 4), 1)
}

func BenchmarkRead(b *testing.B) {
	text := []byte(fullCard(b))
	b.ReportAllocs()
	for b.Loop() {
		if _, faults := Read("card.yaml", text, testSpec); faults != nil {
			b.Fatal(faults)
		}
	}
}

func BenchmarkSet(b *testing.B) {
	d := read(b, fullCard(b))
	b.ReportAllocs()
	for b.Loop() {
		if _, faults := d.Set("legs[6].height_m", "50 70"); faults != nil {
			b.Fatal(faults)
		}
	}
}

func BenchmarkNudge(b *testing.B) {
	d := read(b, fullCard(b))
	for b.Loop() {
		if _, faults := d.Nudge("legs[6].height_m", 1, nil); faults != nil {
			b.Fatal(faults)
		}
	}
}

func BenchmarkSwap(b *testing.B) {
	d := read(b, fullCard(b))
	for b.Loop() {
		if _, faults := d.Swap("legs", 1, 6); faults != nil {
			b.Fatal(faults)
		}
	}
}

// The worst that fits: a list of 130,000 numbers on one line.
func BenchmarkReadLongLine(b *testing.B) {
	text := []byte(valid + "marks: [" + strings.Repeat("1,", (MaxBytes-len(valid))/2-10) + "]\n")
	for b.Loop() {
		if d, _ := Read("card.yaml", text, testSpec); d == nil {
			b.Fatal("not read")
		}
	}
}
