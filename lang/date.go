package lang

import (
	"fmt"
	"time"
)

// A Date is a day of the calendar, as "2027-05-03". Its zero value is unknown.
type Date struct {
	Value time.Time // its midnight, in UTC
	Span  Span
}

// Known reports whether the date was given.
func (d Date) Known() bool { return !d.Value.IsZero() }

// String writes the date as a file does.
func (d Date) String() string { return d.Value.Format(time.DateOnly) }

// DecodeArgs reads a date, as [Args.Date].
func (d *Date) DecodeArgs(args *Args) { *d = args.Date() }

// Dates are the days from one to another, both included. An end that is left out is unknown.
type Dates struct {
	From, To Date
	Span     Span
}

// Known reports whether the dates were given.
func (d Dates) Known() bool { return d.From.Known() || d.To.Known() }

// Hold reports whether a day lies within the dates.
func (d Dates) Hold(day time.Time) bool {
	return !(d.From.Known() && day.Before(d.From.Value)) && !(d.To.Known() && day.After(d.To.Value))
}

// DecodeArgs reads "2027-04-28..2027-05-31", with either end left out, or a single date.
func (d *Dates) DecodeArgs(args *Args) { *d = args.Dates() }

const wantedDate = `a date, as "2027-05-03"`

// Date takes a date.
func (a *Args) Date() Date {
	part, ok := a.single(WordPart, func() (string, string) { return wantedDate, "Write year, month and day." })
	if !ok {
		return Date{}
	}
	return a.checkDate(part)
}

func (a *Args) checkDate(part Part) Date {
	day, err := time.Parse(time.DateOnly, part.Text)
	if err != nil || part.Kind != WordPart {
		a.Report(Diagnostic{
			Severity: Error, Code: WrongKind, Span: part.Span,
			Summary: fmt.Sprintf("%s is no date", shown(part.Span)), Detail: "Write year, month and day, as \"2027-05-03\".",
		})
		return Date{}
	}
	return Date{Value: day, Span: part.Span}
}

// Dates takes "a..b", "a..", "..b" or a single date.
func (a *Args) Dates() Dates {
	value, ok := a.take(wantedDate + ", or two with \"..\" between")
	if !ok {
		return Dates{}
	}
	if value.Form != Single && value.Form != IntervalOf {
		a.wrong(value, wantedDate, "Write year, month and day, and \"..\" between two dates.")
		return Dates{}
	}
	dates, parts := Dates{Span: value.Span}, value.Parts
	if parts[0].Kind != Absent {
		dates.From = a.checkDate(parts[0])
	}
	if last := parts[len(parts)-1]; last.Kind != Absent {
		dates.To = a.checkDate(last)
	}
	if a.failed {
		return Dates{}
	}
	if dates.From.Known() && dates.To.Known() && dates.To.Value.Before(dates.From.Value) {
		a.Report(Diagnostic{
			Severity: Error, Code: BadInterval, Span: value.Span,
			Summary: fmt.Sprintf("%q runs backwards", value.Span.Text()), Detail: "Write the earlier date first.",
			Instead: dates.To.Span.Text() + ".." + dates.From.Span.Text(), Spelling: true,
		})
		return Dates{}
	}
	return dates
}

// Zone takes a time zone by its name in the time zone database, a word or quoted.
func (a *Args) Zone() (*time.Location, Span) {
	span := a.Rest()
	var name string
	if a.PeekText() {
		name = a.Text().Value
	} else {
		name = a.Word().Value
	}
	if a.failed {
		return nil, span
	}
	zone, err := time.LoadLocation(name)
	if err != nil || name == "" || name == "Local" {
		a.Report(Diagnostic{
			Severity: Error, Code: UnknownName, Span: span,
			Summary: fmt.Sprintf("the time zone %q is not known", name),
			Detail:  "Write its name in the time zone database, as Europe/Amsterdam, or UTC.",
		})
		return nil, span
	}
	return zone, span
}
