package strip

import (
	"math"
	"testing"
)

// A scale holds what it is for, is never more than about twice as large, and is said with its unit.
func TestScale(t *testing.T) {
	sky, head, cut := &All[0], &All[2], &All[3]
	for _, c := range []struct {
		st     *Strip
		lo, hi float64
		want   string
	}{
		{sky, 0, 0, "0 to −½ stop"},
		{sky, -.4, 0, "0 to −½ stop"},
		{sky, -1.2, -.1, "0 to −2 stops"},
		{sky, -.9, .3, "+½ to −1 stop"},
		{head, 1.8, 5.1, "0 to 6 stops"},
		{head, -.6, 1, "−1 to 1 stop"},
		{head, .1, .54, "0 to ½ stop"}, // written as 0.5
		{head, -2.4, -1.2, "−3 to ½ stop"},
		{cut, 0, 4, "0 to 5 %"},
		{cut, 20, 51, "0 to 100 %"},
		{&All[6], 3, 30, "0 to 50 arcmin a frame"},
	} {
		foot, top := c.st.Scale(c.lo, c.hi)
		if got := c.st.ScaleWords(foot, top, true); got != c.want {
			t.Errorf("%s, %g to %g: %q, want %q", c.st.Name, c.lo, c.hi, got, c.want)
		}
	}
	for v := .0; v < 20; v += .07 {
		_, top := head.Scale(0, v)
		if v > top+.05 || top > .5 && top > 2.01*math.Max(v, .25)+.1 {
			t.Errorf("%g on a scale to %g", v, top)
		}
	}
	if _, top := All[6].Scale(0, 1e6); top != 2000 {
		t.Errorf("more than there is: %g", top)
	}
}
