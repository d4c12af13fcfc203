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

// mostDays bounds the days of a scenario, and mostSpan how far they lie apart: a block of shooting is
// planned at once, not a year.
const (
	mostDays = 60
	mostSpan = 250
)

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
	if n := len(s.Days); n > 0 && s.Days[n-1].Date.After(s.Days[0].Date.AddDate(0, 0, mostSpan)) {
		l.outOfRange(s.Days[n-1].Span, fmt.Sprintf("the day %s lies more than %d days behind the first", s.Days[n-1].date(), mostSpan), "Check the year, or split the scenario.")
		s.Days = nil
		return
	}
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
