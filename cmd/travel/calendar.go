package travel

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"glassbrief/cmd/wording"
	"glassbrief/engine/schedule"
	"glassbrief/lang"
)

// Calendar writes a plan of days as iCalendar (RFC 5545): an event for each shot and one for each
// hire. The names of events stay the same when the plan is made anew, so that a calendar moves them
// and does not have them twice. A scenario without days has no events; one without a zone has
// times of the place where they are read.
func Calendar(w io.Writer, a *schedule.Answer, now time.Time) error {
	c := &calendar{w: bufio.NewWriter(w), of: a, now: now.UTC().Format(utcTime)}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//glassbrief//days//EN")
	c.text("X-WR-CALNAME", a.Scenario.Name)
	if len(a.Scenario.Days) > 0 {
		c.zone()
		for i := range a.Plan.Days {
			for r := range a.Plan.Days[i].Runs {
				c.run(&a.Plan.Days[i].Runs[r])
			}
		}
		c.hires()
	}
	c.line("END", "VCALENDAR")
	return c.w.Flush()
}

const (
	utcTime   = "20060102T150405Z"
	localTime = "20060102T150405"
	allDay    = "20060102"
)

type calendar struct {
	w   *bufio.Writer
	of  *schedule.Answer
	now string
}

// foldAt is how many bytes a line has at most.
const foldAt = 75

// line writes a line, folded between characters. An error is kept by the writer.
func (c *calendar) line(name, value string) {
	text := name + ":" + value
	for first := true; ; first = false {
		most := foldAt
		if !first {
			fmt.Fprint(c.w, " ")
			most--
		}
		if len(text) <= most {
			break
		}
		cut := most
		for !utf8.RuneStart(text[cut]) {
			cut--
		}
		fmt.Fprint(c.w, text[:cut], "\r\n")
		text = text[cut:]
	}
	fmt.Fprint(c.w, text, "\r\n")
}

// text writes a line whose value is text.
func (c *calendar) text(name, value string) {
	value = strings.Map(func(r rune) rune {
		if r != '\n' && lang.Steers(r) {
			return ' '
		}
		return r
	}, value)
	c.line(name, strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(value))
}

// named reports whether times are of a zone that is described.
func (c *calendar) named() bool { return c.of.Scenario.Zone != nil && c.of.Scenario.Zone != time.UTC }

// zone describes the zone of the days: each offset that holds between their first start and last end.
func (c *calendar) zone() {
	if !c.named() {
		return
	}
	s := c.of.Scenario
	c.line("BEGIN", "VTIMEZONE")
	c.line("TZID", s.Zone.String())
	last := s.At(s.Days[len(s.Days)-1].Shut)
	for at := s.At(0); ; {
		from, until := at.ZoneBounds()
		name, offset := at.Zone()
		before := offset
		if from.IsZero() {
			from = time.Date(1970, 1, 1, 0, 0, 0, 0, s.Zone)
		} else {
			_, before = from.Add(-time.Second).Zone()
		}
		kind := "STANDARD"
		if at.IsDST() {
			kind = "DAYLIGHT"
		}
		c.line("BEGIN", kind)
		c.line("DTSTART", from.UTC().Add(time.Duration(before)*time.Second).Format(localTime)) // by the clock that ends
		c.line("TZOFFSETFROM", offsetText(before))
		c.line("TZOFFSETTO", offsetText(offset))
		c.text("TZNAME", name)
		c.line("END", kind)
		if until.IsZero() || !until.Before(last) {
			break
		}
		at = until
	}
	c.line("END", "VTIMEZONE")
}

func offsetText(seconds int) string {
	sign := '+'
	if seconds < 0 {
		sign, seconds = '-', -seconds
	}
	return fmt.Sprintf("%c%02d%02d", sign, seconds/3600, seconds/60%60)
}

// run writes the shots of a unit on a day.
func (c *calendar) run(run *schedule.Run) {
	s := c.of.Scenario
	for i := range run.Stops {
		stop := &run.Stops[i]
		shot := s.Shots[stop.Shot]
		summary := shot.ID + " " + stop.Lens
		if unit := c.of.Units[run.Unit].Name; unit != "" {
			summary += " (unit " + unit + ")"
		}
		c.begin("shot", shot.ID)
		c.time("DTSTART", stop.Start)
		if !math.IsNaN(stop.End) {
			c.time("DTEND", stop.End)
		}
		c.text("SUMMARY", summary)
		if shot.Where >= 0 {
			c.text("LOCATION", s.Places[shot.Where].Name)
		}
		about := shot.Title
		if before := wording.Before(stop); before != "" {
			about += "\nBefore it: " + before
		}
		c.text("DESCRIPTION", strings.TrimPrefix(about, "\n"))
		c.line("END", "VEVENT")
	}
}

// hires writes what is hired, whole days.
func (c *calendar) hires() {
	times := map[string]int{}
	for i := range c.of.Hire {
		h := &c.of.Hire[i]
		if h.From.IsZero() {
			continue // nobody knows its price, and so no dates are reckoned
		}
		times[h.Lens]++
		c.begin("hire", h.Lens, fmt.Sprint(times[h.Lens]))
		c.line("DTSTART;VALUE=DATE", h.From.Format(allDay))
		c.line("DTEND;VALUE=DATE", h.To.AddDate(0, 0, 1).Format(allDay)) // the first day without it
		c.text("SUMMARY", "Hire: "+h.Lens)
		c.line("TRANSP", "TRANSPARENT")
		c.line("END", "VEVENT")
	}
}

// begin begins an event that is known by the scenario and some names.
func (c *calendar) begin(names ...string) {
	sum := sha256.Sum256([]byte(strings.Join(append([]string{c.of.Scenario.Name}, names...), "\x00")))
	c.line("BEGIN", "VEVENT")
	c.line("UID", hex.EncodeToString(sum[:12])+"@glassbrief")
	c.line("DTSTAMP", c.now)
}

// time writes a time of the axis of the scenario.
func (c *calendar) time(name string, minutes float64) {
	at := c.of.Scenario.At(minutes)
	switch {
	case c.named():
		c.line(name+";TZID="+c.of.Scenario.Zone.String(), at.Format(localTime))
	case c.of.Scenario.Zone != nil:
		c.line(name, at.Format(utcTime))
	default:
		c.line(name, at.Format(localTime))
	}
}
