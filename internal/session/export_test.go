package session

// Valued gives the slots whose values windows may follow from now.
func (s *Session) Valued() []int {
	var out []int
	for _, v := range s.values {
		out = append(out, v.slot)
	}
	return out
}
