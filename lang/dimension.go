package lang

import (
	"strconv"
	"strings"
)

// A Dimension says what kind of quantity a number measures, as exponents over the
// bases that the language tells apart. The zero value is a plain number: a count, a
// ratio, a share. Two dimensions are the same when they are equal as Go values.
//
// Angles, stops and f-numbers have no dimension in physics. They are bases here
// because mixing them up is a mistake: nobody means f/4 plus 4 degrees.
type Dimension struct {
	length, mass, time, angle, light, stops, aperture, money, latitude, longitude int8
}

// The dimensions that quantities have, with the unit in which values are held.
var (
	Plain        = Dimension{}                    // 1
	Length       = Dimension{length: 1}           // m
	Mass         = Dimension{mass: 1}             // kg
	Time         = Dimension{time: 1}             // s
	Angle        = Dimension{angle: 1}            // rad
	Illuminance  = Dimension{light: 1}            // lx
	Stops        = Dimension{stops: 1}            // doublings of light
	Aperture     = Dimension{aperture: 1}         // f-number or T-number
	Money        = Dimension{money: 1}            // units of one currency
	Speed        = Dimension{length: 1, time: -1} // m/s
	AngularSpeed = Dimension{angle: 1, time: -1}  // rad/s
	Rate         = Dimension{time: -1}            // 1/s
	Inertia      = Dimension{mass: 1, length: 2}  // kg m²
	Moment       = Dimension{mass: 1, length: 1}  // kg m
	Latitude     = Dimension{latitude: 1}         // rad, north positive
	Longitude    = Dimension{longitude: 1}        // rad, east positive
)

var dimensionNames = []struct {
	dim  Dimension
	name string
}{
	{Plain, "a plain number"}, {Length, "a length"}, {Mass, "a mass"}, {Time, "a time"},
	{Angle, "an angle"}, {Illuminance, "an amount of light"}, {Stops, "a number of stops"},
	{Aperture, "an f-number or T-number"}, {Money, "an amount of money"}, {Speed, "a speed"},
	{AngularSpeed, "a speed of turning"}, {Rate, "a rate"}, {Inertia, "a moment of inertia"},
	{Moment, "a moment of mass"}, {Latitude, "a latitude"}, {Longitude, "a longitude"},
}

// Mul gives the dimension of a product.
func (d Dimension) Mul(o Dimension) Dimension { return d.combine(o, 1) }

// Div gives the dimension of a quotient.
func (d Dimension) Div(o Dimension) Dimension { return d.combine(o, -1) }

func (d Dimension) combine(o Dimension, sign int8) Dimension {
	return Dimension{
		d.length + sign*o.length, d.mass + sign*o.mass, d.time + sign*o.time, d.angle + sign*o.angle,
		d.light + sign*o.light, d.stops + sign*o.stops, d.aperture + sign*o.aperture, d.money + sign*o.money,
		d.latitude + sign*o.latitude, d.longitude + sign*o.longitude,
	}
}

// String gives the dimension as a phrase with its article: "a length", "a speed", and
// for those without a name the formula, as "a quantity in length^2·time".
func (d Dimension) String() string {
	for _, known := range dimensionNames {
		if known.dim == d {
			return known.name
		}
	}
	var parts []string
	for _, base := range []struct {
		exponent int8
		name     string
	}{
		{d.length, "length"}, {d.mass, "mass"}, {d.time, "time"}, {d.angle, "angle"},
		{d.light, "light"}, {d.stops, "stops"}, {d.aperture, "f-number"}, {d.money, "money"},
		{d.latitude, "latitude"}, {d.longitude, "longitude"},
	} {
		switch base.exponent {
		case 0:
		case 1:
			parts = append(parts, base.name)
		default:
			parts = append(parts, base.name+"^"+strconv.Itoa(int(base.exponent)))
		}
	}
	return "a quantity in " + strings.Join(parts, "·")
}
