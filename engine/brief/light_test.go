package brief

import (
	"math"
	"strings"
	"testing"
	_ "time/tzdata"

	"glassbrief/lang"
)

func readLightLine(t *testing.T, line string) (lightLevels, lang.Diagnostics) {
	t.Helper()
	src, ds := lang.NewSource("test", []byte("light "+line))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	file, found := lang.Parse(src)
	var got struct {
		Light lightLevels `lang:"light"`
	}
	found = append(found, lang.Decode(file, &got)...)
	return got.Light, found
}

func TestLightOfSeveralPlaces(t *testing.T) {
	for _, c := range []struct {
		line  string
		want  float64
		texts string
	}{
		{"320lx", 320, "320lx"},
		{"320lx 90lx office", 90, "320lx|90lx|office"},
		{"30fc", 30 * 10.7639104, "30fc"},
		{"EV7", 320, "EV7"},
		{"sun", 81920, "sun"},
		{"office sun", 400, "office|sun"},
	} {
		got, ds := readLightLine(t, c.line)
		if len(ds) > 0 {
			t.Errorf("%q: %v", c.line, ds)
		}
		if w := got.worst(); math.Abs(w/c.want-1) > 1e-6 {
			t.Errorf("%q: got %g lx, want %g", c.line, w, c.want)
		}
		var texts []string
		for _, r := range got.readings {
			texts = append(texts, r.Text)
		}
		if text := strings.Join(texts, "|"); text != c.texts {
			t.Errorf("%q: got the readings %q, want %q", c.line, text, c.texts)
		}
	}
	if w := (lightLevels{}).worst(); !math.IsNaN(w) {
		t.Errorf("no reading: got %g lx, want NaN", w)
	}
}

func TestLightOfTheSun(t *testing.T) {
	got, ds := readLightLine(t, "sun at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amsterdam overcast")
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	day := got.readings[0].Sun
	const degree = math.Pi / 180
	if altitude := day.Altitude / degree; altitude < 20 || altitude > 25 {
		t.Errorf("altitude: got %g degrees, want 20 to 25 in the early evening", altitude)
	}
	if azimuth := day.Azimuth / degree; azimuth < 265 || azimuth > 280 {
		t.Errorf("azimuth: got %g degrees, want about west", azimuth)
	}
	if lux := got.worst(); lux < 5e3 || lux > 12e3 {
		t.Errorf("got %g lx, want some thousands under cloud", lux)
	}
}

func TestLightFaults(t *testing.T) {
	for _, c := range []struct {
		name, line string
		code       lang.Code
		words      string // in the summary or the detail
	}{
		{"a level not known", "gloomy", lang.UnknownWord, "gloomy"},
		{"a second one not known", "320lx gloomy", lang.UnknownWord, "gloomy"},
		{"a length", "3m", lang.WrongDimension, "3m"},
		{"night", "sun at 52.37N 4.90E on 2027-05-03 23:40 Europe/Amsterdam clear", lang.Contradiction, "another time of day"},
		{"polar night", "sun at 78.2N 15.6E on 2027-12-21 12:00 Arctic/Longyearbyen clear", lang.Contradiction, "polar night"},
		{"beyond the pole", "sun at 92N 4.90E on 2027-05-03 18:40 UTC clear", lang.OutOfRange, "no place"},
		{"places mixed up", "sun at 4.90E 52.37N on 2027-05-03 18:40 UTC clear", lang.WrongDimension, "a latitude is wanted"},
		{"no such day", "sun at 52.37N 4.90E on 2027-02-30 18:40 UTC clear", lang.WrongKind, "no date"},
		{"no such time", "sun at 52.37N 4.90E on 2027-05-03 25:40 UTC clear", lang.WrongKind, "hours from 0 to 23"},
		{"no such zone", "sun at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amstedam clear", lang.UnknownName, "Europe/Amstedam"},
		{"the zone of the machine", "sun at 52.37N 4.90E on 2027-05-03 18:40 Local clear", lang.UnknownName, "Local"},
		{"an hour that is skipped", "sun at 52.37N 4.90E on 2027-03-28 02:30 Europe/Amsterdam clear", lang.Contradiction, "put forward"},
		{"no sky", "sun at 52.37N 4.90E on 2027-05-03 18:40 UTC", lang.MissingValue, "overcast"},
		{"west for east", "sun at 52.37N 100E on 2027-05-03 18:40 America/New_York clear", lang.Improbable, "Check east and west"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, ds := readLightLine(t, c.line)
			for _, d := range ds {
				if d.Code == c.code && strings.Contains(d.Summary+d.Detail, c.words) {
					return
				}
			}
			t.Errorf("%q: got %v, want %q with %q", c.line, ds, c.code, c.words)
		})
	}
}
