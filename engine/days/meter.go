package days

import "context"

// A meter counts what a search looks at, and says when it must end.
type meter struct {
	ctx   context.Context
	limit int // 0 for none
	nodes int
	ended bool
	tell  func() // from time to time
}

// often is how many nodes lie between two looks at the context.
const often = 1 << 12

// step counts a node, and reports whether the search may go on.
func (m *meter) step() bool {
	m.nodes++
	if m.nodes%often == 0 {
		if m.ctx.Err() != nil {
			m.ended = true
		}
		if m.tell != nil {
			m.tell()
		}
	}
	if m.limit > 0 && m.nodes > m.limit {
		m.ended = true
	}
	return !m.ended
}
