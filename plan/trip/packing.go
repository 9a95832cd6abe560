package trip

import (
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/words"
)

// Packing is what to take along, by the names of the bags.
type Packing struct {
	Used  []string // some shot is flown with it
	Spare []string // second best for some shot, and nearly as good
	Leave []string
	// Missing are densities that no bag has, those that serve most shots first.
	Missing   []Missing
	Batteries int
	Unknown   []string // files of the cards whose batteries are not known
}

// Missing is a filter that would hold shots that are held badly.
type Missing struct {
	Kind       kit.Kind
	Stops      float64
	WouldServe []string // files
}

// What is missing is looked for among these densities, whole stops as they are sold (common practice, no source), and no
// more of them are named (ours).
const (
	lightest    = 1
	heaviest    = 10
	mostMissing = 3
	badlyHeld   = 0.5 // stops that shutter and ISO cost a call (ours)
)

func packed(cards []Card) Packing {
	var p Packing
	used, spare, all := map[string]bool{}, map[string]bool{}, []string{}
	for i := range cards {
		c := &cards[i]
		if p.Batteries += c.batteries(); c.batteries() == 0 {
			p.Unknown = append(p.Unknown, c.File)
		}
		for k := range c.Bag.Filters {
			if name := c.Bag.Filters[k].Name; !slices.Contains(all, name) {
				all = append(all, name)
			}
		}
		if c.Worked == nil {
			continue
		}
		for _, f := range c.filters() {
			used[f] = true
		}
		if list := c.Report.Ranking(); len(list) > 1 && list[1].Feasible && list[1].Score < list[0].Score+words.CloseStops {
			spare[list[1].Filter] = true
		}
	}
	for _, name := range all {
		switch {
		case used[name]:
			p.Used = append(p.Used, name)
		case spare[name]:
			p.Spare = append(p.Spare, name)
		default:
			p.Leave = append(p.Leave, name)
		}
	}
	p.Missing = missing(cards)
	return p
}

// missing looks for the density that serves most of the shots that no filter of their bag serves, then for the one that
// serves most of the rest.
func missing(cards []Card) []Missing {
	var badly []*Card
	for i := range cards {
		if c := &cards[i]; c.heldBadly() {
			badly = append(badly, c)
		}
	}
	var list []Missing
	for len(badly) > 0 && len(list) < mostMissing {
		var best Missing
		for d := float64(lightest); d <= heaviest; d++ {
			var serves []string
			for _, c := range badly {
				if c.Least <= d && d <= c.Most {
					serves = append(serves, c.File)
				}
			}
			if len(serves) > len(best.WouldServe) {
				best = Missing{kit.Density, d, serves}
			}
		}
		if len(best.WouldServe) == 0 {
			break
		}
		list = append(list, best)
		badly = slices.DeleteFunc(badly, func(c *Card) bool { return slices.Contains(best.WouldServe, c.File) })
	}
	return list
}

// heldBadly tells that a shot needs a density which its bag has not: what is called costs shutter or ISO, light has to be
// held back, and no plain density at hand would do it.
func (c *Card) heldBadly() bool {
	if c.Worked == nil || c.Lamps || c.Least <= 0 || math.IsInf(c.Most, 1) || c.Most < c.Least || len(c.Report.Candidates) == 0 {
		return false
	}
	if c.Shot.Filter != "auto" && c.Shot.Filter != "" { // the card has chosen
		return false
	}
	best := &c.Report.Candidates[0]
	var stops float64
	for _, l := range best.Lines {
		if l.Name == "iso" || l.Name == "shutter" || l.Name == "angle" {
			stops += l.Stops
		}
	}
	if best.Feasible && stops < badlyHeld {
		return false
	}
	for i := range c.Bag.Filters {
		f := &c.Bag.Filters[i]
		if d := f.TotalStops(0); f.Kind == kit.Density && c.Least <= d && d <= c.Most {
			return false
		}
	}
	return true
}
