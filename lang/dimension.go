package lang

import (
	"slices"
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
	exponents [len(baseNames)]int8 // in the order of baseNames
}

var baseNames = [...]string{
	"length", "mass", "time", "angle", "light", "stops", "f-number", "money", "latitude", "longitude",
}

// base gives the dimension that one base has.
func base(name string) (d Dimension) {
	d.exponents[slices.Index(baseNames[:], name)] = 1
	return d
}

// The dimensions that quantities have, with the unit in which values are held.
var (
	Plain        = Dimension{}        // 1
	Length       = base("length")     // m
	Mass         = base("mass")       // kg
	Time         = base("time")       // s
	Angle        = base("angle")      // rad
	Illuminance  = base("light")      // lx
	Stops        = base("stops")      // doublings of light
	Aperture     = base("f-number")   // f-number or T-number
	Money        = base("money")      // units of one currency
	Speed        = Length.Div(Time)   // m/s
	AngularSpeed = Angle.Div(Time)    // rad/s
	Rate         = Plain.Div(Time)    // 1/s
	Inertia      = Moment.Mul(Length) // kg m²
	Moment       = Mass.Mul(Length)   // kg m
	Latitude     = base("latitude")   // rad, north positive
	Longitude    = base("longitude")  // rad, east positive
	Wage         = Money.Div(Time)    // units of one currency a second
)

// A dimensionRow is what is known of a dimension that has a name.
type dimensionRow struct {
	dim     Dimension
	tag     string   // what the tag of a struct field calls it; "" if none does
	name    string   // with its article
	example string   // how a quantity is written, to follow "Write it"
	unit    string   // in which one is written when nothing says another
	forms   []string // how it is written other than with a unit of the table
}

var dimensions = []dimensionRow{
	{Plain, "plain", "a plain number", `as a plain number or a share, like "2" or "40%"`, "", nil},
	{Length, "length", "a length", `like "1.6m", "35mm" or "5ft 10in"`, "m", nil},
	{Mass, "mass", "a mass", `like "640g" or "1.2kg"`, "kg", nil},
	{Time, "time", "a time", `like "1/50s" or "2s"`, "s", nil},
	{Angle, "angle", "an angle", `like "180deg"`, "deg", nil},
	{Illuminance, "illuminance", "an amount of light", `like "320lx", "30fc" or "EV7"`, "lx", []string{"EV7"}},
	{Stops, "stops", "a number of stops", `like "2 stops" or "1 1/3 stops"`, "stops", nil},
	{Aperture, "aperture", "an f-number or T-number", `like "f/2.8" or "T3.1"`, "f/", []string{"f/2.8", "T2.8"}},
	{Money, "money", "an amount of money", `like "120 EUR"`, "", []string{"EUR"}},
	{Wage, "wage", "an amount of money for a time", `like "6 EUR/min"`, "", []string{"EUR/min"}},
	{Speed, "speed", "a speed", `like "1.2m/s" or "5km/h"`, "m/s", nil},
	{AngularSpeed, "angular-speed", "a speed of turning", `like "8deg/s"`, "deg/s", nil},
	{Rate, "rate", "a rate", `like "25fps"`, "Hz", nil},
	{Inertia, "inertia", "a moment of inertia", `like "0.12kgm2"`, "kgm2", nil},
	{Moment, "moment", "a moment of mass", `like "0.12kgm"`, "kgm", nil},
	{Latitude, "", "a latitude", `in degrees, like "52.37N" or "33.9S"`, "N", nil},
	{Longitude, "", "a longitude", `in degrees, like "4.90E" or "70.6W"`, "E", nil},
}

// Dimensions lists those that have a name, in the order of the table.
func Dimensions() []Dimension {
	all := make([]Dimension, len(dimensions))
	for i, row := range dimensions {
		all[i] = row.dim
	}
	return all
}

// Example says how a quantity of the dimension is written.
func (d Dimension) Example() string { return d.row().example }

// row gives the table's row of a dimension. A dimension without a name gets a row that
// holds its formula.
func (d Dimension) row() *dimensionRow {
	for i := range dimensions {
		if dimensions[i].dim == d {
			return &dimensions[i]
		}
	}
	name := "a quantity in " + d.formula()
	return &dimensionRow{dim: d, name: name, example: "as " + name}
}

// formula writes a dimension by its bases, as "length^2·time".
func (d Dimension) formula() string {
	var factors []string
	for i, exponent := range d.exponents {
		switch exponent {
		case 0:
		case 1:
			factors = append(factors, baseNames[i])
		default:
			factors = append(factors, baseNames[i]+"^"+strconv.Itoa(int(exponent)))
		}
	}
	return strings.Join(factors, "·")
}

// String gives the dimension as a phrase with its article: "a length", "a speed", or for
// a dimension without a name its formula, "a quantity in length^2·time".
func (d Dimension) String() string { return d.row().name }

// Unit gives the unit in which a quantity is written when nothing says another: "" for
// plain numbers, for money, and for dimensions without a name.
func (d Dimension) Unit() string { return d.row().unit }

// Mul gives the dimension of a product.
func (d Dimension) Mul(o Dimension) Dimension { return d.combine(o, 1) }

// Div gives the dimension of a quotient.
func (d Dimension) Div(o Dimension) Dimension { return d.combine(o, -1) }

func (d Dimension) combine(o Dimension, sign int8) Dimension {
	for i := range d.exponents {
		d.exponents[i] += sign * o.exponents[i]
	}
	return d
}
