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

// lower ends a part of the search after so many nodes; [meter.resume] comes after it.
func (m *meter) lower(nodes int) {
	if m.limit == 0 || m.nodes+nodes < m.limit {
		m.limit = m.nodes + nodes
	}
}

// resume puts a limit back after a lower one has ended a part of the search.
func (m *meter) resume(limit int) {
	m.limit = limit
	m.ended = m.ctx.Err() != nil || limit > 0 && m.nodes > limit
}
