package days

import "math"

// never is a cost that cannot be paid.
const never = math.MaxInt64 / 4

// period gives the cents of hire for so many calendar days in one go.
func (h *Hire) period(n int) int64 {
	n = max(n, h.Least)
	best := int64(n) * h.Day
	if h.Week > 0 {
		for weeks := 1; weeks <= (n+6)/7; weeks++ {
			best = min(best, int64(weeks)*h.Week+int64(max(0, n-7*weeks))*h.Day)
		}
	}
	return h.Fetch + best
}

// periods gives the cheapest way to hire a lens for the dates on which it is used, which ascend:
// kept over the dates between or taken back and fetched again. Of equal ways it is the one with
// fewer periods, and the cost is [never] where there is no way.
func (l *Lens) periods(used []int) (periods []Dates, cost int64) {
	if l.Hire == nil || len(used) == 0 {
		return nil, 0
	}
	best := make([]int64, len(used)+1) // for the dates before
	from := make([]int, len(used)+1)   // the first date of the last period
	for end := 1; end <= len(used); end++ {
		best[end] = never
		for begin := end - 1; begin >= 0; begin-- {
			if !l.available(used[begin]) || begin < end-1 && !l.throughout(used[begin], used[begin+1]) {
				break
			}
			if l.Hire.Once && begin > 0 {
				continue
			}
			if cost := best[begin] + l.Hire.period(used[end-1]-used[begin]+1); cost <= best[end] {
				best[end], from[end] = cost, begin
			}
		}
		best[end] = min(best[end], never)
	}
	if best[len(used)] >= never {
		return nil, never
	}
	for end := len(used); end > 0; end = from[end] {
		periods = append([]Dates{{used[from[end]], used[end-1]}}, periods...)
	}
	return periods, best[len(used)]
}

// throughout reports whether a lens can be had on all dates from one to another.
func (l *Lens) throughout(from, to int) bool {
	for date := from; date <= to; date++ {
		if !l.available(date) {
			return false
		}
	}
	return true
}
