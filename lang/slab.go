package lang

// A slab allocates values in blocks, which costs less than one by one. Blocks grow from a
// few values on, so that a small file wastes little. A block is freed as a whole, which
// suits the nodes of one file.
type slab[T any] struct {
	free []T
	made int // the last time
}

const maxSlab = 64

// take gives n zero values.
func (s *slab[T]) take(n int) []T {
	if n > len(s.free) {
		s.made = min(max(4, 2*s.made), maxSlab)
		s.free = make([]T, max(n, s.made))
	}
	taken := s.free[:n:n]
	s.free = s.free[n:]
	return taken
}
