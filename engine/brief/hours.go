package brief

import (
	"fmt"
	"slices"
	"time"

	"glassbrief/lang"
)

// onDays are the days of a shot.
type onDays struct{ dates []lang.Date }

// DecodeArgs reads dates with "or" between.
func (o *onDays) DecodeArgs(args *lang.Args) {
	for {
		o.dates = append(o.dates, args.Date())
		if !args.Skip("or") {
			return
		}
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
