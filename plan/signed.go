package plan

import (
	"math"
	"slices"
	"strings"
)

// SignedReason is a reason of the call with what it did to the result.
type SignedReason struct {
	Sign  int     // 1: it speaks for the call; -1: it is what the call costs
	Stops float64 // by which it moved the result, never negative; 0 for a reason that is not counted
	Text  string
}

// SignedReasons returns the reasons of a call that was made in this report.
func (r *Report) SignedReasons(c *Call) []SignedReason {
	list := make([]SignedReason, 0, len(c.Reasons))
	for _, text := range c.Reasons {
		s := SignedReason{Sign: 1, Text: text}
		if strings.HasPrefix(text, "nothing allowed here") {
			s.Sign = -1
		}
		for i := range r.Candidates {
			k := &r.Candidates[i]
			if k.Filter != c.Filter || k.SettingStops != c.SettingStops {
				continue
			}
			if j := slices.IndexFunc(k.Lines, func(l ScoreLine) bool { return l.Words == text }); j >= 0 {
				if s.Stops = math.Abs(k.Lines[j].Stops); k.Lines[j].Stops > 0 {
					s.Sign = -1
				}
				break
			}
		}
		list = append(list, s)
	}
	return list
}
