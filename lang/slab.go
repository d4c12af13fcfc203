package lang

// A slab hands out places one after another, and makes more of them each time it runs out:
// what is read from a file is small, and much of it lives as long.
type slab[T any] struct {
	free []T
	made int // the last time
}

const maxSlab = 64

// take gives n places with zero values.
func (s *slab[T]) take(n int) []T {
	if n > len(s.free) {
		s.made = min(max(4, 2*s.made), maxSlab)
		s.free = make([]T, max(n, s.made))
	}
	taken := s.free[:n:n]
	s.free = s.free[n:]
	return taken
}
