package days

// A hireState says for each hired lens, by its number, how it stands after a day: never hired yet,
// taken back, or how many days are paid.
type hireState [2]uint64

const (
	neverHired = 0
	takenBack  = 255

	// mostHired bounds the lenses of a bag and the hired lenses of all, and longestShoot the calendar days of a shoot.
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
	var choose func(h int, state hireState, cents int64)
	choose = func(h int, state hireState, cents int64) {
		if h == len(s.hired) {
			yield(state, cents)
			return
		}
		lens := &s.g.p.Lenses[s.lenses[s.hired[h]]]
		hire := lens.Hire
		paid := before.of(h)
		used := st.use>>h&1 == 1
		on := paid != neverHired && paid != takenBack
		keep := on && (gap == 0 || lens.throughout(s.g.p.Days[t-1].Date, s.g.p.Days[t].Date))
		wanted := used || s.uses[h].meets(open)
		if keep && wanted {
			choose(h+1, state.with(h, hire.count(paid+gap)), cents+hire.period(paid+gap)-hire.period(paid))
		}
		switch {
		case used && (!on || gap > 1 || !keep) && !(hire.Once && paid != neverHired):
			choose(h+1, state.with(h, hire.count(1)), cents+hire.period(1))
		case !used && !on:
			choose(h+1, state.with(h, paid), cents)
		case !used && !(keep && hire.Once && s.whole && s.requires[h].meets(open)):
			choose(h+1, state.with(h, takenBack), cents)
		}
	}
	choose(0, hireState{}, 0)
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
