package days

// A hireState says for each hired lens, by its number, how it stands after a day: never hired yet,
// taken back, or how many days are paid.
type hireState [2]uint64

const (
	neverHired = 0
	takenBack  = 255

	// mostCarried bounds the lenses of all bags, mostHired those of them whose hire is chosen, and longestShoot
	// the calendar days of a shoot.
	mostCarried  = 64
	mostHired    = 16
	longestShoot = 250
)

func (s hireState) of(h int) int { return int(s[h>>3] >> (h & 7 * 8) & 255) }

func (s hireState) with(h, state int) hireState {
	s[h>>3] = s[h>>3]&^(255<<(h&7*8)) | uint64(state)<<(h&7*8)
	return s
}

// stand goes through all ways in which the hired lenses can stand after a step of a day, each with the
// cents that come on top.
func (s *shoot) stand(before hireState, st *step, t int, closed set, yield func(hireState, int64)) {
	gap := 0
	if t > 0 {
		gap = s.g.p.Days[t].Date - s.g.p.Days[t-1].Date
	}
	open := s.open.minus(closed)
	// Most lenses have one way to stand; those with two are taken by turns.
	type ways struct {
		h, kept int
		cost    int64
		back    int
		again   int64
	}
	var two [mostHired]ways
	n := 0
	state, cents := before, int64(0)
	for h := range s.hired {
		paid := before.of(h)
		used := st.use>>h&1 == 1
		on := paid != neverHired && paid != takenBack
		if !used && !on {
			continue
		}
		lens := &s.g.p.Lenses[s.lenses[s.hired[h]]]
		hire := lens.Hire
		keep := on && (used || s.uses[h].meets(open)) && (gap == 0 || lens.throughout(s.g.p.Days[t-1].Date, s.g.p.Days[t].Date))
		w := ways{h: h, kept: -1, back: -1}
		if keep {
			w.kept, w.cost = hire.count(paid+gap), hire.period(paid+gap)-hire.period(paid)
		}
		switch {
		case used && (!on || gap > 1 || !keep) && !(hire.Once && paid != neverHired):
			w.back, w.again = hire.count(1), hire.period(1)
		case !used && !(keep && hire.Once && s.whole && s.requires[h].meets(open)):
			w.back = takenBack
		}
		switch {
		case w.kept >= 0 && w.back >= 0:
			two[n] = w
			n++
		case w.kept >= 0:
			state, cents = state.with(h, w.kept), cents+w.cost
		case w.back >= 0:
			state, cents = state.with(h, w.back), cents+w.again
		default:
			return
		}
	}
	for choice := range 1 << n {
		state, cents := state, cents
		for k, w := range two[:n] {
			if choice>>k&1 == 0 {
				state, cents = state.with(w.h, w.kept), cents+w.cost
			} else {
				state, cents = state.with(w.h, w.back), cents+w.again
			}
		}
		yield(state, cents)
	}
}

// count gives the days paid as far as they matter for what further days cost.
func (h *Hire) count(paid int) int {
	if h.Week == 0 {
		return min(paid, max(1, h.Least))
	}
	return paid
}

// idle gives the cents of a day of hire of a lens that is in a bag and never used.
func (l *Lens) idle(days []Day) int64 {
	if len(l.dates(days)) == 0 {
		return never
	}
	return l.Hire.period(1)
}
