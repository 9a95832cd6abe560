package plan

// Cautions, later.
func Cautions(s *Shot, path []Moment) []string { return nil }
