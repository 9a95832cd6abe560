package plan

// Ranked is one filter of the bag on this flight: at its best setting and ring, and at its others.
type Ranked struct {
	Candidate
	Others []Candidate // the same filter at its other settings, best first
}

// Ranking returns every filter of the bag and the bare lens once, best first. The call's own comes
// first, also where the card asks for it and others would do better. With several flights each filter
// is judged as if it had to serve them all.
func (r *Report) Ranking() []Ranked {
	var list []Ranked
	at := map[string]int{}
	for _, c := range r.Candidates {
		if i, ok := at[c.Filter]; ok {
			list[i].Others = append(list[i].Others, c)
			continue
		}
		at[c.Filter] = len(list)
		list = append(list, Ranked{Candidate: c})
	}
	return list
}
