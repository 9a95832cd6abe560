package advice

import "example.org/skywedge/plan"

// Strongest returns the two reasons of a call that weigh most: the one that stands first, which decided it and may
// have no figure, and of the others the one that moved the result most.
func Strongest(c *plan.Call) []plan.Reason {
	list := c.ReasonsSigned
	if len(list) < 2 {
		return list
	}
	most := 1
	for i := range list[1:] {
		if list[1+i].Stops > list[most].Stops {
			most = 1 + i
		}
	}
	return []plan.Reason{list[0], list[most]}
}
