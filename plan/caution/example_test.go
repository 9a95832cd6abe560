package caution_test

import (
	"fmt"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan/caution"
	"example.org/skywedge/plan/shot"
)

// Cautions are facts of the flight, each with a pointer to the rules; they judge nothing.
func Example() {
	bag, _ := kit.ReadBag(examples.BagName, examples.Bag())
	card, _ := shot.ReadCard("3-estuary", examples.Card("3-estuary"))
	s, faults := card.Shot(bag, time.Time{})
	if len(faults) > 0 {
		panic(faults)
	}
	s.Legs[0].Height = [2]float64{150, 150}
	fmt.Println(caution.Of(s, shot.Path(s, 8), 0)[0])
	// Output:
	// Planned height 150 m is above the 120 m that many countries allow. Check the rules, airspace and permissions for your place and date; this program does not know them.
}
