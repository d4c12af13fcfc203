package sun

import (
	"math"
	"time"
)

const degree = math.Pi / 180

// j2000 is the Julian date of noon on 1 January 2000, from which the series count.
const j2000 = 2451545.0

// unixEpoch is the Julian date at which Unix time begins.
const unixEpoch = 2440587.5

// clockLag is how far dynamical time, in which the series run, is ahead of clock time, in
// days: 69 s, as about 2020. It has moved by half a minute in forty years, and the sun
// moves a hundredth of a degree in fifteen.
const clockLag = 69.0 / 86400

// JulianDate gives the Julian date of a moment by the clock.
func JulianDate(t time.Time) float64 {
	return unixEpoch + float64(t.Unix())/86400 + float64(t.Nanosecond())/86400e9
}

// A Place is where the sun stands as seen from the middle of the Earth.
type Place struct {
	Longitude      float64 // true ecliptic longitude, rad
	Distance       float64 // astronomical units
	RightAscension float64 // apparent, rad
	Declination    float64 // apparent, rad
}

// At gives the place of the sun at a Julian date of dynamical time.
//
// Source: "Astronomical Algorithms", 2nd ed., chapter 25, low accuracy, as far as its
// worked example shows.
func At(julianDate float64) Place {
	t := (julianDate - j2000) / 36525
	mean := 280.46646 + t*(36000.76983+t*0.0003032)
	anomaly := (357.52911 + t*(35999.05029-t*0.0001537)) * degree
	eccentricity := 0.016708634 - t*(0.000042037+t*0.0000001267)
	centre := (1.914602-t*(0.004817+t*0.000014))*math.Sin(anomaly) +
		(0.019993-t*0.000101)*math.Sin(2*anomaly) + 0.000289*math.Sin(3*anomaly)

	longitude := (mean + centre) * degree
	node := nodeOf(t)
	apparent := longitude - (0.00569+0.00478*math.Sin(node))*degree
	tilt := obliquity(t) + 0.00256*degree*math.Cos(node)
	return Place{
		Longitude:      turn(longitude),
		Distance:       1.000001018 * (1 - eccentricity*eccentricity) / (1 + eccentricity*math.Cos(anomaly+centre*degree)),
		RightAscension: turn(math.Atan2(math.Cos(tilt)*math.Sin(apparent), math.Cos(apparent))),
		Declination:    math.Asin(math.Sin(tilt) * math.Sin(apparent)),
	}
}

// nodeOf gives the longitude of the moon's ascending node, which nutation follows.
func nodeOf(t float64) float64 { return (125.04 - 1934.136*t) * degree }

// obliquity gives the mean tilt of the Earth's axis.
func obliquity(t float64) float64 {
	const arcsecond = degree / 3600
	return 23*degree + 26*60*arcsecond + (21.448-t*(46.8150+t*(0.00059-t*0.001813)))*arcsecond
}

// siderealTime gives the apparent sidereal time at Greenwich, as an angle, at a Julian
// date of clock time.
//
// Source: as for [At], chapter 12.
func siderealTime(julianDate float64) float64 {
	days := julianDate - j2000
	t := days / 36525
	mean := 280.46061837 + 360.98564736629*days + t*t*(0.000387933-t/38710000)
	nutation := -0.00478 * math.Sin(nodeOf(t)) * math.Cos(obliquity(t))
	return (mean + nutation) * degree
}

// Position gives how high the sun stands above the horizon and in which direction, from
// north over east, at a moment and a place on Earth, whose longitude is positive to the
// east. All in radians. Air lifts the sun's image above the altitude given here: by a
// sixtieth of a degree at 45 degrees, by half a degree at the horizon.
func Position(t time.Time, latitude, longitude float64) (altitude, azimuth float64) {
	if !(math.Abs(latitude) <= math.Pi/2 && math.Abs(longitude) <= math.Pi) {
		return math.NaN(), math.NaN()
	}
	now := JulianDate(t)
	sun := At(now + clockLag)
	hour := siderealTime(now) + longitude - sun.RightAscension
	sinLatitude, cosLatitude := math.Sincos(latitude)
	sinHour, cosHour := math.Sincos(hour)
	sinDeclination, cosDeclination := math.Sincos(sun.Declination)
	altitude = math.Asin(sinLatitude*sinDeclination + cosLatitude*cosDeclination*cosHour)
	azimuth = math.Atan2(-sinHour*cosDeclination, sinDeclination*cosLatitude-cosDeclination*sinLatitude*cosHour)
	return altitude, turn(azimuth)
}

// Highest gives the altitude, in radians, that the sun reaches at a latitude on the day
// of a moment, to within its drift in declination over half a day, which is less than a
// quarter of a degree. Below [Horizon] it does not rise that day.
func Highest(t time.Time, latitude float64) float64 {
	if !(math.Abs(latitude) <= math.Pi/2) {
		return math.NaN()
	}
	return math.Pi/2 - math.Abs(latitude-At(JulianDate(t)+clockLag).Declination)
}

// Horizon is the altitude of the sun's middle, in radians, at which its upper edge is
// seen at a level horizon: half its width below, and lifted by air.
//
// Source: encyclopaedia, "Atmospheric refraction": 34' of refraction and 16' of half the sun's width.
const Horizon = -0.8333 * degree

// turn brings an angle to 0 up to a full turn.
func turn(angle float64) float64 {
	angle = math.Mod(angle, 2*math.Pi)
	if angle < 0 {
		angle += 2 * math.Pi
	}
	return angle
}
