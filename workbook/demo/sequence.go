package demo

// sequence is a fixed arithmetic sequence that stands in for chance: the same
// start gives the same scenario on every machine.
//
// It is the linear congruence x' = 6364136223846793005·x + 1442695040888963407
// modulo 2⁶⁴, of which the upper bits are used.
//
// Source: common practice, no source.
type sequence uint64

func (s *sequence) next() uint64 {
	*s = *s*6364136223846793005 + 1442695040888963407
	return uint64(*s) >> 11
}

// share is a number from 0 to below 1.
func (s *sequence) share() float64 { return float64(s.next()) / (1 << 53) }

// between is a number in a range.
func (s *sequence) between(low, high float64) float64 { return low + (high-low)*s.share() }

// below is a whole number from 0 to below n.
func (s *sequence) below(n int) int { return int(s.next() % uint64(n)) }

// scatter is a number around 0, bell-shaped with a spread of 1 and never over
// 6: the sum of twelve shares less 6.
func (s *sequence) scatter() float64 {
	sum := -6.0
	for range 12 {
		sum += s.share()
	}
	return sum
}
