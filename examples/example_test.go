package examples_test

import (
	"fmt"

	"example.org/skywedge/examples"
	"example.org/skywedge/kit"
)

// The demo's bag is valid, and its cards come in the order of the trip.
func ExampleCards() {
	bag, faults := kit.ReadBag(examples.BagName, examples.Bag())
	fmt.Println(len(bag.Cameras), "camera,", len(faults), "faults")
	for _, name := range examples.Cards() {
		fmt.Println(name)
	}
	// Output:
	// 1 camera, 0 faults
	// 1-breakwater.yaml
	// 2-lighthouse.yaml
	// 3-estuary.yaml
	// 4-forest-road.yaml
	// 5-sea-stacks.yaml
	// 6-harbour.yaml
	// 7-surf.yaml
}
