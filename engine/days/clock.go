package days

// after gives when work of so many half minutes ends that begins at a time: it stands still
// during the break.
func (d *Day) after(from, minutes int) int {
	if minutes == 0 || d.Break.To == 0 || from >= d.Break.To || from+minutes <= d.Break.From {
		return from + minutes
	}
	return d.Break.To + minutes - max(0, d.Break.From-from)
}

// start gives the earliest time from which a shot can be done on a day, not before a time, or
// false when there is none.
func (d *Day) start(shot *Shot, from int) (int, bool) {
	at := max(from, d.Start)
	for {
		if d.Break.To != 0 && at < d.Break.To && at+shot.Takes > d.Break.From {
			at = d.Break.To
		}
		if at+shot.Takes > d.End {
			return 0, false
		}
		next, open := 0, len(shot.Windows) == 0
		for _, w := range shot.Windows {
			if w.To-shot.Takes < at {
				continue
			}
			if w.From <= at {
				open = true
				break
			}
			if next == 0 || w.From < next {
				next = w.From
			}
		}
		if open {
			return at, true
		}
		if next == 0 {
			return 0, false
		}
		at = next
	}
}

// mayStand reports whether a shot could be done on a day if it were alone.
func (p *Problem) mayStand(shot *Shot, t int) bool {
	if shot.Days != nil {
		allowed := false
		for _, k := range shot.Days {
			allowed = allowed || k == t
		}
		if !allowed {
			return false
		}
	}
	_, ok := p.Days[t].start(shot, p.Days[t].Start)
	return ok
}

// available reports whether a lens can be had on a date.
func (l *Lens) available(date int) bool {
	if l.Available == nil {
		return true
	}
	for _, d := range l.Available {
		if d.From <= date && date <= d.To {
			return true
		}
	}
	return false
}
