package stroke

func check(p *Problem) *Failure { return nil }

func cautions(s *Stroke) []string { return nil }
