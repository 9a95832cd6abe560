package words_test

import (
	"fmt"

	"example.org/skywedge/plan/words"
)

// A pilot reads thirds of a stop and plain parts, not decimals.
func Example() {
	fmt.Println(words.AboutStops(1.37))
	fmt.Println("the meter shows", words.Signed(2.3))
	fmt.Println(words.Share(0.12), "of the frame goes white")
	fmt.Println(words.Shutters(0.3, 1.0/5))
	fmt.Println(words.Fraction(0.62), "of the glare")
	fmt.Println(words.Evenness(0.8), "sky")
	fmt.Println(words.FilterTitle("variable light", 3))
	fmt.Println(words.Legs([]string{"1", "2", "4"}))
	// Output:
	// 1⅓ stops
	// the meter shows +2⅓
	// an eighth of the frame goes white
	// 0.3 s to 1/5 s
	// two thirds of the glare
	// graded sky
	// variable light at 3 stops
	// legs 1, 2 and 4
}
