package plan

import (
	"context"
	"testing"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/internal/plantest"
	"example.org/skywedge/plan/shot"
)

// A day and a year of a flight of eight legs with the generic bag, of the most that is judged as closely
// as a call is, and of one, on the cores there are; and the day on one.
func BenchmarkHours(b *testing.B) {
	bag := kit.Generic()
	four := eightLegs()
	four.Legs = four.Legs[:hourFewLegs]
	for _, s := range []struct {
		name string
		shot *shot.Shot
	}{{"8legs", eightLegs()}, {"4legs", four}, {"1leg", plantest.Flight(16, 20, plantest.Push(285, 5, 30))}} {
		for _, o := range []hours.Span{hours.OverDay, hours.OverYear} {
			b.Run(s.name+"/"+o.String(), func(b *testing.B) {
				for range b.N {
					if _, err := HoursOf(context.Background(), s.shot, bag, o, HoursOptions{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
		b.Run(s.name+"/day-1core", func(b *testing.B) {
			for range b.N {
				if _, err := HoursOf(context.Background(), s.shot, bag, hours.OverDay, HoursOptions{Workers: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
