package advice

import (
	"testing"

	"example.org/skywedge/plan"
)

// What stands first decided the call; beside it the one that moved the result most.
func TestStrongest(t *testing.T) {
	why := func(list ...float64) *plan.Call {
		c := &plan.Call{}
		for _, s := range list {
			c.ReasonsSigned = append(c.ReasonsSigned, plan.Reason{Sign: 1, Stops: s})
		}
		return c
	}
	for _, c := range []struct{ of, want []float64 }{
		{nil, nil}, {[]float64{0}, []float64{0}}, {[]float64{0, .2}, []float64{0, .2}},
		{[]float64{0, 0, .1, .7, .3}, []float64{0, .7}}, {[]float64{.5, 0, 0}, []float64{.5, 0}},
	} {
		got := Strongest(why(c.of...))
		if len(got) != len(c.want) {
			t.Fatalf("%v: %v", c.of, got)
		}
		for i := range got {
			if got[i].Stops != c.want[i] {
				t.Errorf("%v: %v", c.of, got)
			}
		}
	}
}
