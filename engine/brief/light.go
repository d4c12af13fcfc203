package brief

import (
	"fmt"
	"math"
	"time"

	"glassbrief/engine/exposure"
	"glassbrief/engine/sun"
	"glassbrief/lang"
)

// A Reading is the light that falls on the subject at one place of a shot.
type Reading struct {
	Lux  float64
	Text string    // as the scenario has it: "320lx", "office", "sun at …"
	Sun  *Daylight // nil unless the light is estimated from the sun's height
}

// Daylight is what an estimate of light from the sun was made of. It is good to about one
// stop: see package sun.
type Daylight struct {
	Time              time.Time
	Altitude, Azimuth float64 // rad
	Sky               sun.Sky
}

// lightLevels is the light of a shot: one reading, or one for each place that the move
// passes.
type lightLevels struct {
	readings []Reading
	span     lang.Span // of the first
}

// DecodeArgs reads the values of "light": quantities, levels of the published tables by
// name, and "sun at LATITUDE LONGITUDE on DATE TIME ZONE SKY".
func (l *lightLevels) DecodeArgs(args *lang.Args) {
	l.span = args.Rest()
	for ok := true; ok; ok = args.More() {
		reading, read := readLight(args)
		if !read {
			l.readings = nil
			return
		}
		l.readings = append(l.readings, reading)
	}
}

func readLight(args *lang.Args) (Reading, bool) {
	if args.PeekKind() != lang.WordPart {
		lux := args.Quantity(lang.Illuminance)
		return Reading{Lux: lux.OrNaN(), Text: lux.Span.Text()}, !args.Failed()
	}
	word := args.Word(exposure.LevelNames()...)
	if word.Value == "sun" && args.PeekWord("at") {
		return readSun(args, word.Span)
	}
	level, known := exposure.NamedLevel(word.Value)
	return Reading{Lux: level.Lux, Text: word.Value}, known
}

// readSun reads what stands behind "sun".
func readSun(args *lang.Args, start lang.Span) (Reading, bool) {
	args.Word("at")
	latitude, longitude := args.Quantity(lang.Latitude), args.Quantity(lang.Longitude)
	args.Word("on")
	when, zone := readMoment(args)
	word := args.Word(sun.Skies()...)
	if args.Failed() {
		return Reading{}, false
	}
	sky, _ := sun.ParseSky(word.Value)
	day := &Daylight{Time: when, Sky: sky}
	day.Altitude, day.Azimuth = sun.Position(when, latitude.Value, longitude.Value)
	if math.IsNaN(day.Altitude) {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutOfRange, Span: latitude.Span.To(longitude.Span),
			Summary: fmt.Sprintf("there is no place \"%s %s\"", latitude.Span.Text(), longitude.Span.Text()),
			Detail:  "Latitudes go to 90N and 90S, longitudes to 180E and 180W.",
		})
		return Reading{}, false
	}
	reportZone(args, longitude, when, zone)
	span := start.To(word.Span)
	lux := sun.Light(day.Altitude, when.YearDay(), sky)
	if math.IsNaN(lux) {
		args.Report(noSun(span, day, sun.Highest(when, latitude.Value)))
		return Reading{}, false
	}
	return Reading{Lux: lux, Text: span.Text(), Sun: day}, true
}

// noSun says that the sun gives no light to shoot by, and what to write instead.
func noSun(span lang.Span, day *Daylight, highest float64) lang.Diagnostic {
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: span,
		Summary: fmt.Sprintf("the sun stands %.0f degrees below the horizon there and then, and gives no light to shoot by", -day.Altitude*180/math.Pi),
		Detail:  "Write the light that will be there, as \"90lx\", or another time of day.",
	}
	if highest < sun.Horizon {
		d.Detail = "It is polar night: the sun does not rise there on that day. Write the light that will be there, as \"90lx\"."
	}
	return d
}

// readMoment reads a date, a time of day and a time zone, which is a word or quoted.
func readMoment(args *lang.Args) (when time.Time, zone lang.Span) {
	date := args.Date()
	hour, minute := args.Clock()
	place, zone := args.Zone()
	if args.Failed() {
		return time.Time{}, zone
	}
	when = clockOn(date.Value, hour, minute, place)
	if when.Hour() != hour || when.Minute() != minute {
		args.Report(noSuchClock(date.Span.To(zone), place, hour, minute))
	}
	return when, zone
}

// clockOn gives the moment at which the clocks of a zone show a time on a day.
func clockOn(day time.Time, hour, minute int, zone *time.Location) time.Time {
	return time.Date(day.Year(), day.Month(), day.Day(), hour, minute, 0, 0, zone)
}

// noSuchClock says that clocks are put forward past a time.
func noSuchClock(span lang.Span, zone *time.Location, hour, minute int) lang.Diagnostic {
	return lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: span,
		Summary: fmt.Sprintf("no clock in %s shows %d:%02d on that day: it is put forward past it", zone, hour, minute),
		Detail:  "Write a time before or after the change.",
	}
}

// reportZone warns when the clock of the zone is far from the sun's: it is then more
// likely that east and west are mixed up than that people live by such a clock.
func reportZone(args *lang.Args, longitude lang.Quantity, when time.Time, zone lang.Span) {
	_, offset := when.Zone()
	byClock, bySun := float64(offset)/3600, longitude.Value*180/math.Pi/15
	if apart := math.Abs(math.Remainder(byClock-bySun, 24)); apart > 4 {
		args.Report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: longitude.Span.To(zone),
			Summary: fmt.Sprintf("the clock of this zone is %.0f hours off the sun at %q", apart, longitude.Span.Text()),
			Detail:  "Check east and west, and the zone.",
		})
	}
}

// worst gives the light that governs: the least, for there the most ISO is needed; NaN
// when there is no reading.
func (l lightLevels) worst() float64 {
	least := math.NaN()
	for i, r := range l.readings {
		if i == 0 || r.Lux < least {
			least = r.Lux
		}
	}
	return least
}
