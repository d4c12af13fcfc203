package sun

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

const (
	referenceRows    = "../../testdata/sun/libnova.csv"
	referenceProgram = "../../testdata/sun/libnova.c"
	accuracy         = 0.015 // degrees
)

func TestPositionAgreesWithLibnova(t *testing.T) {
	file, err := os.Open(referenceRows)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 300 {
		t.Fatalf("got %d rows, want at least 300", len(rows))
	}
	for _, row := range rows[1:] {
		var in [5]float64
		for i, text := range row {
			if in[i], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(err)
			}
		}
		altitude, azimuth := Position(time.Unix(int64(in[0]), 0), in[1]*degree, in[2]*degree)
		if off := altitude/degree - in[3]; math.Abs(off) > accuracy {
			t.Errorf("%v: altitude: got %.4f, want %.4f", row[:3], altitude/degree, in[3])
		}
		// Near the zenith a small way is a large angle of azimuth.
		off := math.Remainder(azimuth/degree-in[4], 360) * math.Cos(altitude)
		if math.Abs(off) > accuracy {
			t.Errorf("%v: azimuth: got %.4f, want %.4f", row[:3], azimuth/degree, in[4])
		}
	}
}

// The reference rows are what the program beside them prints.
func TestReferenceIsThatOfLibnova(t *testing.T) {
	program := filepath.Join(t.TempDir(), "reference")
	built, err := exec.Command("cc", referenceProgram, "-o", program, "-lnova", "-lm").CombinedOutput()
	if err != nil {
		langtest.Lacking(t, fmt.Sprintf("libnova to build against (package libnova-dev): %v: %s", err, built))
	}
	got, err := exec.Command(program).Output()
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(referenceRows)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what %s prints: run it again", referenceRows, referenceProgram)
	}
}

func drawMoment(t *rapid.T) time.Time {
	return time.Unix(rapid.Int64Range(-631152000, 2524608000).Draw(t, "unix time"), 0) // 1950 to 2050
}

func TestSunNeverRisesAboveItsHighest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := drawMoment(t)
		latitude := rapid.Float64Range(-math.Pi/2, math.Pi/2).Draw(t, "latitude")
		longitude := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "longitude")
		altitude, azimuth := Position(now, latitude, longitude)
		const drift = 0.25 * degree
		if highest := Highest(now, latitude); altitude > highest+drift {
			t.Errorf("got %g above the horizon, want at most %g", altitude, highest)
		}
		if !(azimuth >= 0 && azimuth < 2*math.Pi) {
			t.Errorf("azimuth: got %g, want from 0 to a full turn", azimuth)
		}
	})
}

// Seasons and times of day as everybody knows them.
func TestSunWhereItIsKnownToStand(t *testing.T) {
	amsterdam := [2]float64{52.37 * degree, 4.90 * degree}
	for _, c := range []struct {
		name          string
		at            time.Time
		place         [2]float64
		low, high     float64 // of the altitude, in degrees
		first, second float64 // of the azimuth, in degrees
	}{
		{"noon in summer", time.Date(2027, 6, 21, 11, 42, 0, 0, time.UTC), amsterdam, 60.9, 61.2, 178, 182},
		{"noon in winter", time.Date(2027, 12, 21, 11, 38, 0, 0, time.UTC), amsterdam, 14.0, 14.4, 178, 182},
		{"evening in May", time.Date(2027, 5, 3, 16, 40, 0, 0, time.UTC), amsterdam, 20, 26, 265, 280},
		{"midnight sun", time.Date(2027, 6, 21, 22, 45, 0, 0, time.UTC), [2]float64{69.65 * degree, 18.96 * degree}, 2, 5, 355, 365},
		{"equinox on the equator", time.Date(2027, 3, 20, 12, 7, 0, 0, time.UTC), [2]float64{0, 0}, 89, 90, 0, 360},
	} {
		altitude, azimuth := Position(c.at, c.place[0], c.place[1])
		if got := altitude / degree; got < c.low || got > c.high {
			t.Errorf("%s: altitude: got %.2f, want %g to %g", c.name, got, c.low, c.high)
		}
		got := azimuth / degree
		if got < c.first-1e-9 {
			got += 360
		}
		if got > c.second {
			t.Errorf("%s: azimuth: got %.2f, want %g to %g", c.name, got, c.first, c.second)
		}
	}
}

func TestOutsideTheDomainIsNaN(t *testing.T) {
	now := time.Date(2027, 5, 3, 12, 0, 0, 0, time.UTC)
	beyond, _ := Position(now, 1.6, 0)
	around, _ := Position(now, 0.9, 3.2)
	unknown, _ := Position(now, math.NaN(), 0)
	for name, got := range map[string]float64{
		"beyond the pole":            beyond,
		"more than half way round":   around,
		"unknown place":              unknown,
		"highest beyond the pole":    Highest(now, -1.6),
		"light by night":             Light(-7*degree, 100, Clear),
		"light of an unknown sun":    Light(math.NaN(), 100, Shade),
		"light under no sky":         Light(0.5, 100, Sky(9)),
		"light through negative air": DirectNormal(128e3, -1),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}
