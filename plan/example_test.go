package plan_test

import (
	"context"
	"fmt"
	"time"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
	"example.org/skywedge/plan"
	"example.org/skywedge/plan/hours"
	"example.org/skywedge/plan/shot"
)

// demo reads a card of the demo trip and its bag.
func demo(name string) (*shot.Shot, *kit.Bag) {
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	if len(faults) > 0 {
		panic(faults)
	}
	card, faults := shot.ReadCard(name, examples.Card(name))
	if len(faults) > 0 {
		panic(faults)
	}
	s, faults := card.Shot(bag, time.Time{})
	if len(faults) > 0 {
		panic(faults)
	}
	return s, bag
}

// The harbour at dusk, whose reflections are to be kept: a weak density gives blur while the light lasts, and by how
// little is said.
func ExampleSolve() {
	s, bag := demo("6-harbour")
	r := plan.Solve(s, bag, plan.Options{})
	fmt.Println("filter:", r.Call.Filter)
	fmt.Println("motion blur wanted:", r.Call.BlurNeeded)
	fmt.Println("how sure:", r.Call.Confidence)
	// Output:
	// filter: ND8
	// motion blur wanted: true
	// how sure: depends
}

// The same flight at other times of its day: for a second of surf the sun must be low.
func ExampleHoursOf() {
	s, bag := demo("7-surf")
	h, err := plan.HoursOf(context.Background(), s, bag, hours.OverDay, plan.HoursOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	good := 0
	for i := range h.Cells {
		if h.Cells[i].State == hours.Good {
			good++
		}
	}
	fmt.Printf("%d of %d take-offs, every %v, have light that the camera can expose\n", good, len(h.Cells), hours.Step)
	// Output:
	// 28 of 144 take-offs, every 10m0s, have light that the camera can expose
}
