package brief

import (
	"fmt"
	"slices"
	"time"

	"glassbrief/lang"
)

// A Day is a day of the shoot. Its times are minutes from the start of the first day, on one
// axis over midnight and over changes of the clock.
type Day struct {
	Date       time.Time // its midnight, in UTC
	Open, Shut float64
	Break      Window // when nothing is shot; empty for never
	Keep       bool   // it is shot or published: what is said to be on it is done in the order as written, and nothing else
	Span       lang.Span
}

// A Window lies from one time up to another, in minutes from the start of the first day.
type Window struct{ From, To float64 }

// A clock is a time of day.
type clock struct {
	hour, minute int
	span         lang.Span
}

func readClock(args *lang.Args) clock {
	c := clock{span: args.Rest()}
	c.hour, c.minute = args.Clock()
	return c
}

func (c clock) minutes() int { return 60*c.hour + c.minute }

// dayLine is a "day" statement.
type dayLine struct {
	date     lang.Date
	from, to clock
	pause    lang.Quantity // unknown for none
	at       clock         // where the pause begins
	keep     bool
}

// DecodeArgs reads "2027-05-03 from 08:00 to 18:00 break 45min at 13:00 keep".
func (d *dayLine) DecodeArgs(args *lang.Args) {
	d.date = args.Date()
	args.Word("from")
	d.from = readClock(args)
	args.Word("to")
	d.to = readClock(args)
	for args.More() && !args.Failed() {
		word := args.Word("break", "keep")
		switch {
		case word.Value == "keep":
			d.keep = true
		case d.pause.Known():
			args.Report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateField, Span: word.Span,
				Summary: "a day has one break", Detail: "Keep the longest, and write the hours of the shots around another with \"between\".",
			})
		default:
			d.pause = args.Quantity(lang.Time)
			args.Word("at")
			d.at = readClock(args)
		}
	}
}

// zoneName is the value of "zone".
type zoneName struct {
	of   *time.Location
	span lang.Span
}

// DecodeArgs reads the value of "zone".
func (z *zoneName) DecodeArgs(args *lang.Args) { z.of, z.span = args.Zone() }

// onDays are the days of a shot.
type onDays struct{ dates []lang.Date }

// DecodeArgs reads dates with "or" between.
func (o *onDays) DecodeArgs(args *lang.Args) {
	for {
		o.dates = append(o.dates, args.Date())
		if !args.PeekWord("or") || args.Failed() {
			return
		}
		args.Word("or")
	}
}

// betweenLine is a "between" statement.
type betweenLine struct {
	from, to clock
	on       lang.Date // unknown for every day
	span     lang.Span
}

// DecodeArgs reads "17:00 and 18:20 on 2027-05-03".
func (b *betweenLine) DecodeArgs(args *lang.Args) {
	b.from = readClock(args)
	args.Word("and")
	b.to = readClock(args)
	b.span = b.from.span.To(b.to.span)
	if args.More() && !args.Failed() {
		args.Word("on")
		b.on = args.Date()
		b.span = b.span.To(b.on.Span)
	}
}

// mostDays bounds the days of a scenario: a block of shooting is planned at once, not a year.
const mostDays = 60

// days resolves the days of the scenario, the earliest first.
func (l *loader) days(s *Scenario) {
	h := &l.doc.Scenario
	if s.Zone = h.Zone.of; s.Zone == nil {
		s.Zone = l.zoneOfSun()
	}
	for i := range h.Days {
		d := &h.Days[i]
		if !d.date.Known() || !d.from.span.Known() || !d.to.span.Known() {
			continue // reported
		}
		s.Days = append(s.Days, Day{Date: d.date.Value, Keep: d.keep, Span: d.date.Span})
	}
	if len(s.Days) > mostDays {
		l.outOfRange(s.Days[mostDays].Span, fmt.Sprintf("there are more than %d days", mostDays), "Split the scenario by weeks or blocks.")
		s.Days = nil
		return
	}
	slices.SortStableFunc(s.Days, func(a, b Day) int { return a.Date.Compare(b.Date) })
	var first time.Time
	for i := range s.Days {
		day := &s.Days[i]
		line := h.Days[slices.IndexFunc(h.Days, func(d dayLine) bool { return d.date.Span == day.Span })]
		if i > 0 && day.Date.Equal(s.Days[i-1].Date) {
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateName, Span: day.Span,
				Summary: fmt.Sprintf("the day %s is given twice", day.date()), Detail: "Keep one of the two.",
				Related: []lang.Related{{Span: s.Days[i-1].Span, Note: "it is given here first"}},
			})
			continue
		}
		if i == 0 {
			first = l.moment(s, day.Date, line.from)
		}
		on := func(c clock) float64 { return l.moment(s, day.Date, c).Sub(first).Minutes() }
		day.Open, day.Shut = on(line.from), on(line.to)
		if line.to.minutes() <= line.from.minutes() {
			day.Shut = l.moment(s, day.Date.AddDate(0, 0, 1), line.to).Sub(first).Minutes()
		}
		l.pause(s, day, &line, first)
		if long := day.Shut - day.Open; long > usualDay {
			l.report(lang.Diagnostic{
				Severity: lang.Warning, Code: lang.Improbable, Span: line.from.span.To(line.to.span),
				Summary: fmt.Sprintf("a day of %.0f hours is long", long/60), Detail: "Check its start and its end: an end before the start is after midnight.",
			})
		}
		if i > 0 && day.Open < s.Days[i-1].Shut {
			l.contradiction(day.Span, fmt.Sprintf("the day %s begins before the one before it ends", day.date()),
				"Check the hours of both.", s.Days[i-1].Span, "the day before is here")
		}
	}
	s.start = first
}

// usualDay is beyond what crews work on one day, in minutes (common practice).
const usualDay = 16 * 60

func (d *Day) date() string { return d.Date.Format(time.DateOnly) }

// pause resolves when nothing is shot on a day.
func (l *loader) pause(s *Scenario, day *Day, line *dayLine, first time.Time) {
	if !line.pause.Known() || !line.at.span.Known() {
		return
	}
	from := l.onDay(s, day, line.at, first)
	day.Break = Window{from, from + line.pause.Value/60}
	if day.Break.From < day.Open || day.Break.To > day.Shut {
		l.contradiction(line.at.span, fmt.Sprintf("the break at %q lies outside the hours of the day", line.at.span.Text()),
			"Put it between the start and the end.", line.from.span.To(line.to.span), "the hours are here")
	}
}

// moment gives the moment of a time of day in the zone of the scenario, or reports that clocks
// leave it out.
func (l *loader) moment(s *Scenario, date time.Time, c clock) time.Time {
	zone := s.zone()
	when := clockOn(date, c.hour, c.minute, zone)
	if when.Hour() != c.hour || when.Minute() != c.minute {
		l.report(noSuchClock(c.span, zone, c.hour, c.minute))
	}
	return when
}

// onDay gives a time of day in minutes from the start of the first day: behind midnight where
// the day goes on until then.
func (l *loader) onDay(s *Scenario, day *Day, c clock, first time.Time) float64 {
	at := l.moment(s, day.Date, c).Sub(first).Minutes()
	if at < day.Open {
		if next := clockOn(day.Date.AddDate(0, 0, 1), c.hour, c.minute, s.zone()).Sub(first).Minutes(); next <= day.Shut {
			return next
		}
	}
	return at
}

// zone gives the time zone of the days, UTC where there is none: it has no changes of the clock.
func (s *Scenario) zone() *time.Location {
	if s.Zone == nil {
		return time.UTC
	}
	return s.Zone
}

// At gives the moment that lies so many minutes behind the start of the first day.
func (s *Scenario) At(minutes float64) time.Time {
	return s.start.Add(time.Duration(minutes * float64(time.Minute)))
}

// zoneOfSun gives the zone of the first light from the sun.
func (l *loader) zoneOfSun() *time.Location {
	for i := range l.doc.Shots {
		for _, r := range l.doc.Shots[i].Light.readings {
			if r.Sun != nil {
				return r.Sun.Time.Location()
			}
		}
	}
	return nil
}

// times resolves on which days and between which hours a shot may be done.
func (l *loader) times(s *Scenario, b *shotBlock, shot *Shot) {
	shot.Takes = minutesOf(b.Takes, l.doc.Scenario.Takes)
	asks := slices.Clone(b.On.dates)
	said := lang.Span{} // where it asks for a time at all
	for i := range b.Between {
		if said = b.Between[i].span; b.Between[i].on.Known() {
			asks = append(asks, b.Between[i].on)
		}
	}
	if len(asks) > 0 {
		said = asks[0].Span
	}
	if len(s.Days) == 0 {
		if said.Known() && len(l.doc.Scenario.Days) == 0 {
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.MissingField, Span: said,
				Summary: "the scenario has no days, and a shot asks for one",
				Detail:  "Add a line to \"scenario\" for each day, as \"day 2027-05-03 from 08:00 to 18:00\".",
			})
		}
		return
	}
	for _, date := range asks {
		if date.Known() && s.dayOf(date.Value) < 0 {
			var known []string
			for i := range s.Days {
				known = append(known, s.Days[i].date())
			}
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.UnknownName, Span: date.Span,
				Summary: fmt.Sprintf("%s is no day of the scenario", date), Detail: fmt.Sprintf("Its days are %s.", lang.Quoted(known)),
				Instead: lang.Nearest(date.String(), known),
			})
			return
		}
	}
	shot.Windows = make([]*Window, len(s.Days))
	some := false
	for t := range s.Days {
		if shot.Windows[t] = l.windowOn(s, b, t); shot.Windows[t] != nil {
			some = true
		}
	}
	shot.Pinned = b.dated()
	if !some {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: b.ID.Span,
			Summary: fmt.Sprintf("no day is left for shot %q", b.ID.Value), Detail: "Check its lines \"on\" and \"between\", and the days that are kept.",
		})
		return
	}
	l.daylight(s, b, shot)
	l.roomFor(s, b, shot)
}

// minutesOf gives a time in minutes, the second where the first is not given; NaN where neither is.
func minutesOf(own, other lang.Quantity) float64 { return own.Or(other.OrNaN()) / 60 }

// dayOf gives the place of a date among the days, or -1.
func (s *Scenario) dayOf(date time.Time) int {
	return slices.IndexFunc(s.Days, func(d Day) bool { return d.Date.Equal(date) })
}

// windowOn gives when a shot may be done on a day, nil for never.
func (l *loader) windowOn(s *Scenario, b *shotBlock, t int) *Window {
	day := &s.Days[t]
	is := func(date lang.Date) bool { return date.Known() && date.Value.Equal(day.Date) }
	said := slices.ContainsFunc(b.On.dates, is)
	w := Window{day.Open, day.Shut}
	var of *betweenLine
	for i := range b.Between {
		line := &b.Between[i]
		said = said || is(line.on)
		if of == nil && !line.on.Known() || is(line.on) {
			of = line
		}
	}
	switch {
	case (b.dated() || day.Keep) && !said:
		return nil
	case of != nil && of.span.Known():
		from, to := l.onDay(s, day, of.from, s.start), l.onDay(s, day, of.to, s.start)
		if to <= from {
			to += 24 * 60
		}
		w = Window{max(w.From, from), min(w.To, to)}
	}
	return &w
}

// Kept reports whether a shot can only be on days that are kept, and so stays where it is.
func (s *Scenario) Kept(shot *Shot) bool {
	kept := false
	for t, w := range shot.Windows {
		if w != nil && !s.Days[t].Keep {
			return false
		}
		kept = kept || w != nil
	}
	return kept
}

// FreedWindows gives when a shot may be done if its day were not said: on every day that is not kept, in
// all hours of those for which it says none. The light of the sun still holds it.
func (s *Scenario) FreedWindows(shot *Shot) []*Window {
	if shot.BySun || !shot.Pinned || s.Kept(shot) {
		return shot.Windows
	}
	all := make([]*Window, len(s.Days))
	for t := range s.Days {
		day := &s.Days[t]
		switch w := shot.Windows[t]; {
		case w != nil:
			all[t] = w
		case !day.Keep:
			all[t] = &Window{day.Open, day.Shut}
		}
	}
	return all
}

// dated reports whether the shot says its days: those that it is on, or else those of its hours
// where all of these have one.
func (b *shotBlock) dated() bool {
	undated := slices.ContainsFunc(b.Between, func(line betweenLine) bool { return !line.on.Known() })
	return len(b.On.dates) > 0 || len(b.Between) > 0 && !undated
}

// sunTolerance is how far from the time of its light a shot by the sun may be, in minutes. Around
// sunset it is more than a stop of light; by day it is little.
const sunTolerance = 30

// daylight holds a shot by the light of the sun to the time of that light.
func (l *loader) daylight(s *Scenario, b *shotBlock, shot *Shot) {
	for _, r := range b.Light.readings {
		if r.Sun == nil {
			continue
		}
		at := r.Sun.Time.Sub(s.start).Minutes()
		some := false
		for t, w := range shot.Windows {
			if w == nil {
				continue
			}
			held := Window{max(w.From, at-sunTolerance), min(w.To, at+sunTolerance)}
			if held.From < held.To {
				shot.Windows[t], some = &held, true
			} else {
				shot.Windows[t] = nil
			}
		}
		if !some {
			local := r.Sun.Time.In(s.zone())
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: b.Light.span,
				Summary: fmt.Sprintf("shot %q cannot be done when its light is: %s", b.ID.Value, local.Format("2006-01-02 15:04")),
				Detail:  "The sun moves: a shot by its light is held within half an hour of that time. Correct the time, the day or the hours, or write the light as lux.",
			})
			shot.Windows = nil
			return
		}
		shot.Pinned, shot.BySun = true, true
	}
}

// roomFor reports a shot that takes longer than every window that it has.
func (l *loader) roomFor(s *Scenario, b *shotBlock, shot *Shot) {
	longest := 0.0
	for t, w := range shot.Windows {
		if w != nil {
			longest = max(longest, s.Days[t].longest(*w))
		}
	}
	if shot.Windows == nil || !(shot.Takes > longest) { // reported, or not too long
		return
	}
	span := b.Takes.Span
	if !span.Known() {
		span = b.ID.Span
	}
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: span,
		Summary: fmt.Sprintf("shot %q takes %.0f minutes, and the longest time for it is %.0f", b.ID.Value, shot.Takes, max(0, longest)),
		Detail:  "Check its hours, the break and the hours of the day.",
	}
	if shot.BySun {
		d.Detail += " A shot by the light of the sun is held within half an hour of the time of that light: split it, or write the light as lux."
	}
	if len(b.Between) > 0 {
		d.Related = []lang.Related{{Span: b.Between[0].span, Note: "its hours are here"}}
	}
	l.report(d)
}

// longest gives the longest time within a window that the break does not interrupt.
func (d *Day) longest(w Window) float64 {
	if d.Break.From >= d.Break.To {
		return w.To - w.From
	}
	return max(min(d.Break.From, w.To)-w.From, w.To-max(w.From, d.Break.To))
}

// after resolves which shots come after which, and reports those that wait for each other.
func (l *loader) after(s *Scenario) {
	ids := make([]string, len(s.Shots))
	for i, shot := range s.Shots {
		ids[i] = shot.ID
	}
	for i, shot := range s.Shots {
		for _, name := range l.doc.Shots[i].After {
			at := slices.Index(ids, name.Value)
			switch {
			case !name.Span.Known():
			case at < 0:
				l.report(unknownShot(name, ids))
			case at == i:
				l.report(lang.Diagnostic{
					Severity: lang.Error, Code: lang.Contradiction, Span: name.Span,
					Summary: fmt.Sprintf("shot %q cannot come after itself", name.Value), Detail: "Name the shot that it waits for.",
				})
			case !slices.Contains(shot.After, at):
				shot.After = append(shot.After, at)
			}
		}
	}
	l.circles(s)
}

// circles reports shots that wait for each other, each circle once.
func (l *loader) circles(s *Scenario) {
	const fresh, open, done = 0, 1, 2
	state := make([]int, len(s.Shots))
	var way []int
	var visit func(i int)
	visit = func(i int) {
		state[i] = open
		way = append(way, i)
		for _, j := range s.Shots[i].After {
			switch state[j] {
			case fresh:
				visit(j)
			case open:
				var names []string
				for _, k := range way[slices.Index(way, j):] {
					names = append(names, s.Shots[k].ID)
				}
				l.report(lang.Diagnostic{
					Severity: lang.Error, Code: lang.Contradiction, Span: l.doc.Shots[i].After[0].Span,
					Summary: fmt.Sprintf("the shots %s wait for each other", lang.QuotedAll(names)), Detail: "Take out one of their lines \"after\".",
				})
			}
		}
		way = way[:len(way)-1]
		state[i] = done
	}
	for i := range s.Shots {
		if state[i] == fresh {
			visit(i)
		}
	}
}

// unknownShot says that there is no shot of a name.
func unknownShot(name lang.Text, ids []string) lang.Diagnostic {
	return lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: name.Span,
		Summary: fmt.Sprintf("there is no shot %q", name.Value),
		Detail:  fmt.Sprintf("The shots are %s.", lang.Quoted(ids)),
		Instead: lang.Nearest(name.Value, ids),
	}
}
